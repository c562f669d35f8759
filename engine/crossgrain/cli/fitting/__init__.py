"""``crossgrain fitting``: keep a record of what the fittings found."""

from __future__ import annotations

from typing import Final

import click

from crossgrain.cli.command import Entry, LazyGroup
from crossgrain.cli.program import COMMANDS
from crossgrain.language import _

FITTING_COMMANDS: Final = {
    "add": Entry("crossgrain.cli.fitting.add", _("Add what was basted to a record.")),
    "show": Entry("crossgrain.cli.fitting.show", _("Print what a record holds, and what it adds up to.")),
}


@click.group(
    "fitting",
    cls=LazyGroup,
    table=FITTING_COMMANDS,
    example="crossgrain fitting add record.toml --seam side --at waist=0mm --at hip=7mm --at hem=5mm",
    help=COMMANDS["fitting"].summary
    + "\n\n"
    + _(
        "A record is a file per person and garment. Bastings are only ever added at its end: every earlier version is "
        "its beginning, and crossgrain take-in --from record.toml applies the total."
    ),
)
def command() -> None:
    """Hold the commands; it does nothing itself."""
