"""``crossgrain mark``: name the edges of a bare outline, and say what else a maker knows of the piece."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from crossgrain.cli.amounts import (
    BUTTON,
    BUTTONHOLE,
    CREASE,
    CUT,
    DART,
    EDGES,
    FOLLOWS,
    GRAIN,
    HOLD,
    LENGTH,
    LOOP,
    NOTCH,
    SPOT,
    TOPSTITCHING,
)
from crossgrain.cli.change import change_drawing
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, changes_piece
from crossgrain.cli.program import COMMANDS
from crossgrain.language import _

if TYPE_CHECKING:
    from crossgrain.model import Outcome, Pattern
    from crossgrain.svg.drawing import Drawing


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
        "as it is; marks replace those of their kind that the piece has."
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
@click.option(
    "--notch", "notches", type=NOTCH, multiple=True, help=_("side=50%, side=120mm double, side=50% V, node 12.")
)
@click.option("--dart", "darts", type=DART, multiple=True, help=_("waist=45% width 20mm depth 110mm."))
@click.option("--hold", "holds", type=HOLD, multiple=True, help=_("centre=5mm, centre=5mm from 0% to 80%."))
@click.option(
    "--drill", type=LENGTH, help=_("How far short of their tips its darts are marked by a drill hole; 0mm for none.")
)
@click.option("--crease", "creases", type=CREASE, multiple=True, help=_("A line to press: hem=50%, hem=50% to 80%."))
@click.option("--loop", "loops", type=LOOP, multiple=True, help=_("A belt loop: waist=25%, waist=25% width 12mm."))
@click.option(
    "--button",
    "buttons",
    type=BUTTON,
    multiple=True,
    help=_("Where on an edge, how wide and thick it is, how far inside: waist=95% 15mm by 3mm from 12mm."),
)
@click.option(
    "--buttonhole",
    "buttonholes",
    type=BUTTONHOLE,
    multiple=True,
    help=_("In the same form; it lies square to the edge, or with along at the end beside it."),
)
@click.option(
    "--topstitch",
    "topstitching",
    type=TOPSTITCHING,
    multiple=True,
    help=_("The line stitched beside an opening, curved to its edge at the end: centre=35mm from 100% to 5%."),
)
@click.option(
    "--follow",
    type=FOLLOWS,
    multiple=True,
    help=_(
        "What an edge is as long as, in order from its start: waist=35mm + left front + back + right front; what it is "
        "drawn after: centre traces front/centre to 80%; or zip along centre."
    ),
)
@click.option(
    "--between",
    type=SPOT,
    multiple=True,
    help=_("One of the two corners of the one edge that is named; give it twice. The other edges stay as they are."),
)
@click.option("--add", is_flag=True, help=_("The marks given are added to those the piece has."))
def command(job: Job, **marking: Any) -> Exit:
    """Mark one piece."""
    from crossgrain.operations.marking import Marking, mark

    def marked(drawing: Drawing, pattern: Pattern) -> Outcome[Pattern]:
        piece = pattern.piece(job.pieces[0])
        return mark(pattern, Marking(piece=piece.id, **_placed(drawing, piece.id, marking)))

    followed = dict.fromkeys(name for one in marking["follow"] for name in one.pieces)
    return change_drawing(replace(job, pieces=(*job.pieces, *followed)), marked)


def _placed(drawing: Drawing, id: str, marking: Mapping[str, Any]) -> dict[str, Any]:
    """Return what was asked, with nodes as the places where they lie: a piece does not know the editor's numbers."""
    from crossgrain.svg.nodes import mark_at_node, spot_at_node

    placed = dict(marking)
    if placed["start"] is not None:
        placed["start"] = spot_at_node(drawing, id, placed["start"])
    for name in ("corners", "between"):
        placed[name] = tuple(spot_at_node(drawing, id, spot) for spot in placed[name])
    for name in ("notches", "darts"):
        placed[name] = tuple(mark_at_node(drawing, id, one) for one in placed[name])
    return placed
