"""A piece's marks carried along when its edges are drawn anew."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TypeVar

import numpy as np

from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import Place, distance_of, path_length
from crossgrain.kernel.meetings.nearest import nearest_points
from crossgrain.model.marking.dart_lines import aimed
from crossgrain.model.marking.marks import Dart, Hold, Notch
from crossgrain.model.marking.sewing_marks import Button, Buttonhole, Loop, Topstitching
from crossgrain.model.piece import Edge, Piece

M = TypeVar("M", Notch, Loop, Button, Buttonhole)
S = TypeVar("S", Hold, Topstitching)


def with_marks_carried(
    old: Piece, edges: tuple[Edge, ...], place: Callable[[str, float], Point], tip: Callable[[Dart], Point]
) -> Piece:
    """Return a piece with new edges and its marks at the places their points went to.

    Args:
        old: the piece as it was.
        edges: its edges now, of the same names in the same order.
        place: where the point at a share of an edge of the old piece has gone; it need not lie on the new edge exactly.
        tip: where the tip of a dart has gone.

    Returns:
        The piece, without a cut line drawn before, which no longer fits. What lay at an end of an edge still does. A
        crease keeps its share instead: it is pressed with one seam laid on the other, so the middle stays the middle.
    """
    shares: dict[str, dict[float, float]] = {edge.name: {0.0: 0.0, 1.0: 1.0} for edge in edges}
    for edge in edges:
        known = shares[edge.name]
        asked = [share for share in dict.fromkeys(_shares_on(old, edge.name)) if share not in known]
        if asked:
            found = nearest_points(edge.line, np.array([place(edge.name, share) for share in asked]))
            total = path_length(edge.line)
            for share, index, t in zip(asked, found.indices.tolist(), found.t.tolist(), strict=True):
                known[share] = min(1.0, distance_of(edge.line, Place(index, t)) / total)
    return with_marks_at_shares(old, edges, lambda edge, share: shares[edge][share], tip)


def _shares_on(piece: Piece, edge: str) -> Iterator[float]:
    """Return the shares of an edge at which marks lie, begin or end."""
    at: tuple[Notch | Loop | Button | Buttonhole | Dart, ...]
    at = (*piece.notches, *piece.loops, *piece.buttons, *piece.buttonholes, *piece.darts)
    yield from (mark.share for mark in at if mark.edge == edge)
    stretches: tuple[Hold | Topstitching, ...] = (*piece.holds, *piece.topstitching)
    for stretch in stretches:
        if stretch.edge == edge:
            yield from (stretch.start, stretch.end)


def with_marks_at_shares(
    old: Piece, edges: tuple[Edge, ...], share: Callable[[str, float], float], tip: Callable[[Dart], Point]
) -> Piece:
    """Return a piece with new edges and its marks as :func:`with_marks_carried` does, by the shares they now lie at.

    Args:
        old: the piece as it was.
        edges: its edges now, of the same names in the same order.
        share: at which share of the new edge lies what was at a share of the old one.
        tip: where the tip of a dart has gone.
    """
    new = replace(old, edges=edges, counterpart=None, darts=())

    def at_a_place(marks: tuple[M, ...]) -> tuple[M, ...]:
        return tuple(replace(mark, share=share(mark.edge, mark.share)) for mark in marks)

    def from_place_to_place(marks: tuple[S, ...]) -> tuple[S, ...]:
        return tuple(
            replace(mark, start=share(mark.edge, mark.start), end=share(mark.edge, mark.end)) for mark in marks
        )

    darts = tuple(aimed(new, replace(dart, share=share(dart.edge, dart.share)), tip(dart)) for dart in old.darts)
    return replace(
        new,
        darts=darts,
        notches=at_a_place(old.notches),
        loops=at_a_place(old.loops),
        buttons=at_a_place(old.buttons),
        buttonholes=at_a_place(old.buttonholes),
        holds=from_place_to_place(old.holds),
        topstitching=from_place_to_place(old.topstitching),
    )
