"""``crossgrain mark``: name the edges of a bare outline, and say what else a maker knows of the piece."""

from __future__ import annotations

from typing import Any

import click

from crossgrain.cli.amounts import CUT, DART, EDGES, GRAIN, HOLD, NOTCH, SPOT
from crossgrain.cli.change import change
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, changes_piece
from crossgrain.cli.program import COMMANDS
from crossgrain.language import _


@click.command(
    "mark",
    cls=Command,
    example=(
        "crossgrain mark traced.svg -o marked.svg --piece path12 --name front "
        '--edges "waist side hem inseam crotch centre"'
    ),
    help=COMMANDS["mark"].summary
    + "\n\n"
    + _(
        "The edges are named clockwise as seen on the page, from the corner at the upper left. What is not given stays "
        "as it is; notches, darts and holds replace those the piece has."
    ),
)
@changes_piece
@click.option("--name", default="", metavar="NAME", help=_("What you call the piece."))
@click.option("--edges", type=EDGES, default=(), help=_('The names of its edges: "waist side hem inseam".'))
@click.option("--start", type=SPOT, help=_("The corner at which the first edge begins: a share, a node or a point."))
@click.option(
    "--corner",
    "corners",
    type=SPOT,
    multiple=True,
    help=_("A corner where the line hardly turns, in the same form; may be given again."),
)
@click.option("--outline", type=click.Choice(["stitch", "cut"]), help=_("Which line the outline is."))
@click.option("--grain", type=GRAIN, help=_("vertical, horizontal, 15°, along centre, 2° from centre."))
@click.option("--cut", type=CUT, help=_("2 mirrored, 1 on fold centre, 1 stabilised."))
@click.option("--notch", "notches", type=NOTCH, multiple=True, help=_("side=50%, side=120mm double."))
@click.option("--dart", "darts", type=DART, multiple=True, help=_("waist=45% width 20mm depth 110mm."))
@click.option("--hold", "holds", type=HOLD, multiple=True, help=_("centre=5mm, centre=5mm from 0% to 80%."))
def command(job: Job, **marking: Any) -> Exit:
    """Mark one piece."""
    from crossgrain.operations.marking import Marking, mark

    return change(job, lambda pattern: mark(pattern, Marking(piece=job.pieces[0], **marking)))
