"""The edges of a cut line with its corners as if they had not been shaped."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final

from crossgrain.kernel.affine import Point
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment, ended_at, started_at
from crossgrain.model.cutting.sewn_corner import SewnCorner, corner_style
from crossgrain.model.cutting.width import Width
from crossgrain.model.piece import Edge, Piece
from crossgrain.tolerances import COINCIDENT, CORNER_TURN, SMOOTH_TURN, UNMOVED_CORNER, WEAK_CORNER_TURN

_FILL: Final = 6.0
"""What fills a shaped corner is no longer than this many widths, and what is longer is an edge."""

_FILLS: Final = {"blunted": 1, "squared": 1, "stepped": 2}
"""How many lines each style adds at a corner."""


def unsewn(piece: Piece) -> tuple[Edge, ...]:
    """Return the edges of a cut line with each shaped corner brought back to the point of a mitre.

    Args:
        piece: a piece whose outline is the cut line.

    Returns:
        Its edges. Where a corner is blunted, squared or stepped, the short lines beside it that are its shape are
        taken off, and both edges go on straight until they meet. A mirrored corner needs nothing: what is turned up
        has its stitch line, too.

    >>> outline = Path.polygon([(0, 0), (80, 0), (100, 20), (100, 90), (0, 90)])
    >>> sides = {"top": outline.segments[:1], "right": outline.segments[1:3], "rest": outline.segments[3:]}
    >>> edges = tuple(Edge(name=n, line=Path(line), allowance=Width.of(15.0)) for n, line in sides.items())
    >>> blunt = SewnCorner(edges=("top", "right"), way="blunted")
    >>> unsewn(Piece(id="p", edges=edges, outline="cut", corners=(blunt,)))[1].line.start
    (100.0, 0.0)
    """
    lines = [list(edge.line.segments) for edge in piece.edges]
    for k, leaving in enumerate(piece.edges):
        arriving = piece.edges[k - 1]
        style = corner_style(piece, arriving.name, leaving.name)
        if style is None or style.way not in _FILLS or len(piece.edges) < 2:
            continue
        widest = max(_width(arriving).end, _width(leaving).start)
        before, after = list(lines[k - 1]), list(lines[k])
        if style.way == "squared":
            _take_square_end(before, after, style.guide == arriving.name, _guide_width(style, arriving, leaving))
        else:
            for _line in range(_FILLS[style.way]):
                if _is_fill(before[-1], before[-2:-1], widest):
                    before.pop()
                elif _is_fill(after[0].reversed(), [one.reversed() for one in after[1:2]], widest):
                    after.pop(0)
        point = _meeting(before[-1], after[0])
        if point is not None and (len(before), len(after)) != (len(lines[k - 1]), len(lines[k])):
            lines[k - 1], lines[k] = _to(before, point), _from(after, point)
    return tuple(replace(edge, line=Path.joined(line)) for edge, line in zip(piece.edges, lines, strict=True))


def _guide_width(style: SewnCorner, arriving: Edge, leaving: Edge) -> float:
    return _width(arriving).end if style.guide == arriving.name else _width(leaving).start


def _take_square_end(before: list[Segment], after: list[Segment], guide_arrives: bool, width: float) -> None:
    """Take off the line that ends a seam's allowance square: at right angles to it, and as long as it is wide."""
    for line, at in ((before, -1), (after, 0)):
        rest = (before[:-1], after) if line is before else (before, after[1:])
        if not (rest[0] and rest[1]):
            continue
        end, along = line[at], rest[0][-1].end_tangent if guide_arrives else rest[1][0].start_tangent
        across = end.start_tangent
        if not isinstance(end, Line) or across is None or along is None:
            continue
        lean = abs(across[0] * along[0] + across[1] * along[1])
        if lean <= math.sin(SMOOTH_TURN) and abs(math.dist(end.start, end.end) - width) <= UNMOVED_CORNER:
            line.pop(at)
            return


def _width(edge: Edge) -> Width:
    return edge.allowance or Width.of(0.0)


def _is_fill(last: Segment, before: list[Segment], widest: float) -> bool:
    """Tell whether the last line of an edge is no part of its course: short, straight, and at an angle to it."""
    if not before or not isinstance(last, Line) or math.dist(last.start, last.end) > _FILL * widest:
        return False
    one, other = before[0].end_tangent, last.start_tangent
    if one is None or other is None:
        return True
    return (
        abs(math.atan2(one[0] * other[1] - one[1] * other[0], one[0] * other[0] + one[1] * other[1])) > WEAK_CORNER_TURN
    )


def _meeting(arriving: Segment, leaving: Segment) -> Point | None:
    """Return where two lines meet that go straight on from an end and from a start; None for parallel ones."""
    u, v = arriving.end_tangent, leaving.start_tangent
    if u is None or v is None:
        return None
    across = u[0] * v[1] - u[1] * v[0]
    if abs(across) <= math.sin(CORNER_TURN) / 10.0:
        return None
    dx, dy = leaving.start[0] - arriving.end[0], leaving.start[1] - arriving.end[1]
    along = (dx * v[1] - dy * v[0]) / across
    return (arriving.end[0] + along * u[0], arriving.end[1] + along * u[1])


def _to(line: list[Segment], point: Point) -> list[Segment]:
    """Let a line go straight on to a point."""
    last = line[-1]
    if isinstance(last, Line):
        return [*line[:-1], ended_at(last, point)]
    return [*line, Line(last.end, point)] if math.dist(last.end, point) > COINCIDENT else line


def _from(line: list[Segment], point: Point) -> list[Segment]:
    """Let a line come straight from a point."""
    first = line[0]
    if isinstance(first, Line):
        return [started_at(first, point), *line[1:]]
    return [Line(point, first.start), *line] if math.dist(first.start, point) > COINCIDENT else line
