"""``crossgrain allow``: draw the cut line beside the stitch line, or strip the allowance off again."""

from __future__ import annotations

from typing import Any

import click

from crossgrain.cli.amounts import EDGE_WIDTH, LENGTH
from crossgrain.cli.change import change
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, changes_drawing
from crossgrain.cli.program import COMMANDS
from crossgrain.language import _


@click.command(
    "allow",
    cls=Command,
    example="crossgrain allow front.svg -o to-cut.svg --width 10mm --edge hem=30mm --edge centre=0mm",
    help=COMMANDS["allow"].summary
    + "\n\n"
    + _(
        "Corners are mitred, up to a limit. Where the outline is the cut line, --strip recovers the stitch line inside "
        "it. Without --piece, all marked pieces get their allowance."
    ),
)
@changes_drawing
@click.option("--width", type=LENGTH, help=_("The width of cloth outside every edge that is not named: 10mm."))
@click.option(
    "--edge",
    "edges",
    type=EDGE_WIDTH,
    multiple=True,
    help=_("The width at one edge: hem=30mm, centre=10mm to 25mm, or seat=10mm at 0%, 10mm at 60%, 25mm at 100%."),
)
@click.option(
    "--limit",
    type=click.FloatRange(1.0, min_open=True),
    help=_("How far the point of a mitred corner may stand out, in widths; longer points are cut off square."),
)
@click.option("--accuracy", type=LENGTH, help=_("How near the new line keeps to its true distance: 0.01mm."))
@click.option("--strip", is_flag=True, help=_("The outline is the cut line: recover the stitch line inside it."))
def command(job: Job, *, strip: bool, **allowance: Any) -> Exit:
    """Add or strip allowances."""
    from crossgrain.operations.allowance import Allowance, allow
    from crossgrain.operations.allowance import strip as stripped

    given = {name: value for name, value in allowance.items() if value is not None}
    return change(job, lambda pattern: (stripped if strip else allow)(pattern, Allowance(**given)))
