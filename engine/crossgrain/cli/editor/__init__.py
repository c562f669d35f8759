"""``crossgrain editor``: put the menus into the vector editor, take them out, and see whether they work."""

from __future__ import annotations

from typing import Final

import click

from crossgrain.cli.command import Entry, LazyGroup
from crossgrain.cli.program import COMMANDS
from crossgrain.language import _

EDITOR_COMMANDS: Final = {
    "install": Entry("crossgrain.cli.editor.install", _("Put the menus into the editor.")),
    "remove": Entry("crossgrain.cli.editor.remove", _("Take the menus out of the editor again.")),
    "doctor": Entry(
        "crossgrain.cli.editor.doctor", _("See whether the menus can work, and say what stands in the way.")
    ),
    "zip": Entry("crossgrain.cli.editor.pack", _("Pack the menus into one file for the editor's extension manager.")),
}


@click.group(
    "editor",
    cls=LazyGroup,
    table=EDITOR_COMMANDS,
    example="crossgrain editor install",
    help=COMMANDS["editor"].summary,
)
def command() -> None:
    """Hold the commands; it does nothing itself."""
