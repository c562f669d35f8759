"""A piece's marks carried along when its edges are drawn anew."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import distance_of, path_length
from crossgrain.kernel.nearest import nearest
from crossgrain.model.mark_lines import aimed
from crossgrain.model.marks import Dart
from crossgrain.model.piece import Edge, Piece


def with_marks_carried(
    old: Piece, edges: tuple[Edge, ...], place: Callable[[str, float], Point], tip: Callable[[Dart], Point]
) -> Piece:
    """Return a piece with new edges and its notches, darts and holds at the places their points went to.

    Args:
        old: the piece as it was.
        edges: its edges now, of the same names in the same order.
        place: where the point at a share of an edge of the old piece has gone; it need not lie on the new edge exactly.
        tip: where the tip of a dart has gone.

    Returns:
        The piece, without a cut line drawn before, which no longer fits. What lay at an end of an edge still does.
    """
    new = replace(old, edges=edges, notches=(), darts=(), holds=(), counterpart=None)

    def share(edge: str, share: float) -> float:
        if share in (0.0, 1.0):
            return share
        line = new.edge(edge).line
        return min(1.0, distance_of(line, nearest(line, place(edge, share)).place) / path_length(line))

    notches = tuple(replace(notch, share=share(notch.edge, notch.share)) for notch in old.notches)
    holds = tuple(
        replace(hold, start=share(hold.edge, hold.start), end=share(hold.edge, hold.end)) for hold in old.holds
    )
    darts = tuple(aimed(new, replace(dart, share=share(dart.edge, dart.share)), tip(dart)) for dart in old.darts)
    return replace(new, notches=notches, holds=holds, darts=darts)
