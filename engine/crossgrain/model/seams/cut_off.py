"""Darts and holds on the edges beside a moved one, which its new corners would cut off."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import distance_of, path_length, point_at_share
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.language import _
from crossgrain.model.piece import Edge, Piece
from crossgrain.model.seams.side import ENDS, End
from crossgrain.tolerances import COINCIDENT


class CutOff(NamedTuple):
    """A mark that would be cut off.

    Args:
        what: in words, with its article.
        end: at which end of the moved edge, as the piece counts.
        edge: the edge on which the mark lies.
        point: where it begins, mm.
        possible: what share of the way along that edge the corner can go.
    """

    what: str
    end: End
    edge: str
    point: Point
    possible: float


def first_cut_off(piece: Piece, edges: Sequence[Edge], name: str) -> CutOff | None:
    """Find what a moved edge would cut off the edges beside it.

    A hold that reaches the corner goes on reaching it and is cut shorter; it only must not be cut off altogether. A
    dart, or a hold farther along, must be left whole.

    Args:
        piece: the piece as it was.
        edges: its edges now, of the same names in the same order.
        name: the one that was moved.

    Returns:
        What leaves least of the way, or None.
    """
    found = [one for end in ENDS for one in _cut_at(piece, edges, name, end)]
    return min(found, key=lambda one: one.possible, default=None)


def _cut_at(piece: Piece, edges: Sequence[Edge], name: str, end: End) -> Iterator[CutOff]:
    at = piece.edge_names.index(name)
    number = (at + 1) % len(edges) if end == "end" else at - 1
    edge, now = piece.edges[number], edges[number].line
    total = path_length(edge.line)
    corner = now.start if end == "end" else now.end
    lost = distance_of(edge.line, nearest(edge.line, corner).place)
    lost = lost if end == "end" else total - lost
    if lost <= COINCIDENT:
        return
    for what, first, last in _marks(piece, edge.name, total, end):
        must_stay = last if first <= COINCIDENT else first
        if must_stay < lost:
            share = must_stay / total
            point = point_at_share(edge.line, share if end == "end" else 1.0 - share)
            yield CutOff(what, end, edge.name, point, must_stay / lost)


def _marks(piece: Piece, edge: str, total: float, end: End) -> Iterator[tuple[str, float, float]]:
    """Return what must not be cut off an edge, from where to where, mm from the corner with the moved one."""
    marks = [
        *(
            (_("a dart"), dart.share - dart.width / 2.0 / total, dart.share + dart.width / 2.0 / total)
            for dart in piece.darts
            if dart.edge == edge
        ),
        *((_("a hold"), hold.start, hold.end) for hold in piece.holds if hold.edge == edge),
    ]
    for what, first, last in marks:
        near, far = (first, last) if end == "end" else (1.0 - last, 1.0 - first)
        yield what, near * total, far * total
