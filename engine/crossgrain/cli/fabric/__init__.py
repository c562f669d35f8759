"""``crossgrain fabric``: know a cloth by a test at the table, before it is cut.

Each command stands in a module of its own, loaded when it is called.
"""

from __future__ import annotations

from typing import Final

import click

from crossgrain.cli.command import Entry, LazyGroup
from crossgrain.cli.program import COMMANDS
from crossgrain.language import _

FABRIC_COMMANDS: Final = {
    "show": Entry("crossgrain.cli.fabric.show", _("Print stretch, firmness, growth and recovery, and draw the curve.")),
    "compare": Entry("crossgrain.cli.fabric.compare", _("Put two cloths side by side at each level of a body.")),
    "learn": Entry("crossgrain.cli.fabric.learn", _("Add to a cloth what a fitting taught.")),
    "gauge": Entry("crossgrain.cli.fabric.gauge", _("Write the gauge for the strip test, to print at true scale.")),
    "chart": Entry(
        "crossgrain.cli.fabric.chart", _("Write the page that ships with a pattern: take-in by gauge reading.")
    ),
}


@click.group(
    "fabric",
    cls=LazyGroup,
    table=FABRIC_COMMANDS,
    example="crossgrain fabric compare drafted-for.toml new.toml --body body.toml --pattern trousers.svg",
    help=COMMANDS["fabric"].summary
    + "\n\n"
    + _("Know a cloth by a test at the table, before it is cut. What is said of tension and pressure is an estimate."),
)
def command() -> None:
    """Hold the commands; it does nothing itself."""
