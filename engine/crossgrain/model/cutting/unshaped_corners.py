"""Corners that take no style: those that turn into the cloth, and turns too slight to be corners."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from crossgrain.kernel.area import winding
from crossgrain.language import _
from crossgrain.model.cutting.sewn_corner import SewnCorner, corner_style
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import Edge, Piece
from crossgrain.tolerances import CORNER_TURN

_SLIGHT: Final = math.radians(0.5)
"""What turns by less is drawn as one smooth line, and nobody asks for a corner there."""


def unshaped_corners(piece: Piece, given: Sequence[SewnCorner]) -> Iterator[Finding]:
    """Yield what to say of corners for which a style was given that is not drawn there.

    Args:
        piece: a piece whose outline is the stitch line, its corners as they are now said to be.
        given: the styles that were asked for. Of those for all corners nothing is said: some take none on any piece.

    >>> from crossgrain.kernel.path import Path
    >>> hook = Path.polygon([(0, 0), (90, 0), (90, 40), (40, 40), (40, 90), (0, 90)]).segments
    >>> edges = tuple(Edge(name=name, line=Path((line,))) for name, line in zip("abcdef", hook))
    >>> blunt = SewnCorner(edges=("c", "d"), way="blunted")
    >>> [one.edge for one in unshaped_corners(Piece(id="p", edges=edges, corners=(blunt,)), (blunt,))]
    ['c/d']
    """
    side = winding(piece.line)
    for k, leaving in enumerate(piece.edges):
        arriving = piece.edges[k - 1]
        style = corner_style(piece, arriving.name, leaving.name)
        if style is None or style not in given or not style.edges or style.way == "mitred":
            continue
        turn = side * _turn(arriving, leaving)
        if turn > CORNER_TURN or (abs(turn) < _SLIGHT and len(style.edges) < 2):
            continue
        yield Finding(
            piece=piece.label,
            edge=f"{arriving.name}/{leaving.name}",
            position=leaving.line.start,
            message=_("The corner turns into the cloth: its cut lines end where they cross, whatever its style.")
            if turn < -CORNER_TURN
            else _("A turn of {angle:.0f}° is no corner to be shaped: the cut lines run on into each other.").format(
                angle=math.degrees(abs(turn))
            ),
            advice=_(
                "Leave its style away, or give it to a corner that turns outwards by more than {angle:.0f}°."
            ).format(angle=math.degrees(CORNER_TURN)),
        )


def _turn(arriving: Edge, leaving: Edge) -> float:
    """Return the turn from the end of one edge to the start of the next, radians, positive clockwise on the page."""
    (ux, uy) = arriving.line.segments[-1].end_tangent or (1.0, 0.0)
    (vx, vy) = leaving.line.segments[0].start_tangent or (1.0, 0.0)
    return math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)
