"""Pieces without the segments of no length that editors leave in outlines: they have no direction to go by."""

from __future__ import annotations

import math
from dataclasses import replace

from crossgrain.errors import ParameterError
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Segment, ended_at, started_at
from crossgrain.language import _
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Edge, Piece
from crossgrain.tolerances import COINCIDENT


def with_screened_pieces(pattern: Pattern) -> Pattern:
    """Return a pattern whose edges have no segment that is a single point.

    Args:
        pattern: the pieces.

    Returns:
        The pattern; pieces and edges without such segments are the very ones. No corner moves, nothing else by more
        than 1e-6 mm.

    Raises:
        ParameterError: an edge that is a single point altogether.

    >>> from crossgrain.kernel.segment import Line
    >>> lines = Path.polygon([(0, 0), (9, 0), (9, 9), (0, 9)]).segments
    >>> odd = Path((Line((0.0, 0.0), (0.0, 1e-153)), Line((0.0, 1e-153), (9.0, 0.0))))
    >>> edges = (Edge(name="waist", line=odd), Edge(name="rest", line=Path(lines[1:])))
    >>> with_screened_pieces(Pattern(pieces=(Piece(id="p", edges=edges),))).pieces[0].edge("waist").line.segments
    (Line(start=(0.0, 0.0), end=(9.0, 0.0)),)
    """
    return pattern.with_pieces([_screened(piece) for piece in pattern.pieces])


def _screened(piece: Piece) -> Piece:
    edges = tuple(_without_dots(edge, piece) for edge in piece.edges)
    return piece if edges == piece.edges else replace(piece, edges=edges)


def _without_dots(edge: Edge, piece: Piece) -> Edge:
    line = edge.line
    kept = [segment for segment in line.segments if not _is_dot(segment)]
    if len(kept) == len(line.segments):
        return edge
    if not kept:
        raise ParameterError(
            _("A line is a single point."),
            piece=piece.label,
            edge=edge.name,
            position=line.start,
            advice=_("Draw it, or remove the empty path."),
        )
    kept[0] = started_at(kept[0], line.start)
    joined = Path.joined(kept).segments
    return replace(edge, line=Path((*joined[:-1], ended_at(joined[-1], line.end))))


def _is_dot(segment: Segment) -> bool:
    return all(math.dist(segment.start, control) <= COINCIDENT for control in segment.controls)
