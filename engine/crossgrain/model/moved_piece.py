"""A piece moved by a map of the plane: its edges drawn anew, its marks carried along."""

from __future__ import annotations

from dataclasses import replace

from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import point_at_share
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import started_at
from crossgrain.kernel.warp import Map, moved_point, warped
from crossgrain.model.marking.carried_marks import with_marks_carried
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.piece import Edge, Piece


def moved_edges(piece: Piece, move: Map) -> tuple[Edge, ...]:
    """Return the edges of a piece under a map that is smooth on each segment, each starting where the last one ends."""
    lines = [[part for parts in warped(edge.line.segments, move) for part in parts] for edge in piece.edges]
    return tuple(
        replace(edge, line=Path.joined([started_at(own[0], before[-1].end), *own[1:]]))
        for edge, before, own in zip(piece.edges, [lines[-1], *lines[:-1]], lines, strict=True)
    )


def moved_piece(piece: Piece, move: Map) -> Piece:
    """Return a piece under a map, its notches, darts and holds where their points went to.

    Curves lie within 0.01 mm of the true image; a cut line drawn before is dropped, for it no longer fits.
    """

    def place(edge: str, share: float) -> Point:
        return moved_point(point_at_share(piece.edge(edge).line, share), move)

    return with_marks_carried(
        piece, moved_edges(piece, move), place, lambda dart: moved_point(dart_points(piece, dart)[1], move)
    )
