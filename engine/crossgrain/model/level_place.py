"""Where on the drawing a level may be shown."""

from __future__ import annotations

from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import point_at_share
from crossgrain.kernel.meetings.sections import chords
from crossgrain.model.girths import depth_frame
from crossgrain.model.pattern import Pattern


def level_place(pattern: Pattern, depth: float, edge: str = "") -> tuple[str, Point | None]:
    """Return the label of the first piece that reaches a level, and a place on it.

    Args:
        pattern: the pattern; its stabilised pieces are no part of a girth.
        depth: below the upper end of the side seam, mm.
        edge: the name of the edges along which the level runs; empty where it runs straight across.

    Returns:
        The middle of the edge, or the middle of the cloth at the depth; None where no piece reaches it.
    """
    for piece in pattern.pieces:
        if not piece.goes_round:
            continue
        if edge:
            if edge in piece.edge_names:
                return piece.label, point_at_share(piece.edge(edge).line, 0.5)
            continue
        frame = depth_frame(piece)
        inside = chords(piece.line.mapped(frame), (1.0, 0.0), depth)
        if inside:
            start, end = max(inside, key=lambda chord: chord[1] - chord[0])
            return piece.label, frame.inverse().of(((start + end) / 2.0, depth))
    return "", None
