"""The line stitched beside an opening, and the template along which it is traced."""

from __future__ import annotations

import math
from typing import Final

from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.length import Place, path_length, place_at, run
from crossgrain.kernel.meetings.crossing import path_crossings
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.parallels.line_beside import line_beside
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model.edge_foot import Foot, foot_at, tangent
from crossgrain.model.marking.sewing_marks import Topstitching
from crossgrain.model.piece import Piece
from crossgrain.tolerances import COINCIDENT

BEND: Final = 1.3
"""How far before its end the line begins to leave its width, in widths (style: rounder than a quarter circle)."""

_FULLNESS: Final = 0.6
"""How far the handles of the curve reach towards where its tangents meet: a little fuller than an ellipse, which is
0.55."""


def topstitching_line(piece: Piece, stitching: Topstitching) -> Path:
    """Return the line that is stitched: along the edge at its width, then in a curve to the edge, square to it there.

    Where it begins at a corner it begins on the edge that meets there, wherever its width reaches that.

    Raises:
        CollapseError: the edge bends too tightly for the width.

    >>> from crossgrain.model import Edge
    >>> lines = Path.polygon([(0, 0), (100, 0), (100, 160), (0, 160)]).segments
    >>> sides = zip(("waist", "side", "hem", "centre"), lines)
    >>> piece = Piece(id="p", edges=tuple(Edge(name=name, line=Path((line,))) for name, line in sides))
    >>> fly = topstitching_line(piece, Topstitching(edge="centre", width=35.0, start=1.0, end=0.0))
    >>> fly.nodes
    ((35.0, 0.0), (35.0, 114.5), (0.0, 160.0))
    """
    part, side = _edge_part(piece, stitching)
    total = path_length(part)
    bend = min(BEND * stitching.width, total)
    last = foot_at(part, Place(len(part.segments) - 1, 1.0), side)
    straight = total - bend
    if straight <= COINCIDENT:
        first = foot_at(part, Place(0, 0.0), side)
        return Path((_curve(first.at(0.0, stitching.width), first.along, bend, last, stitching.width),))
    beside = run(part, Place(0, 0.0), place_at(part, straight))
    distance = -side * stitching.width
    moved = line_beside(beside, [0.0, straight], [distance, distance])
    leaving = tangent(moved, Place(len(moved.segments) - 1, 1.0))
    if stitching.start in (0.0, 1.0):
        moved = _from_the_outline(moved, piece.line, stitching.width)
    return Path((*moved.segments, _curve(moved.end, leaving, bend, last, stitching.width)))


def template(piece: Piece, stitching: Topstitching) -> Path:
    """Return what to cut out of card and trace along: the part of the piece between the opening's edge and the line.

    It has no allowances, for it is laid on the finished edge.

    Returns:
        A closed line, made of the piece's own outline and of the stitched line.

    Raises:
        CollapseError: the edge bends too tightly for the width.

    >>> from crossgrain.model import Edge
    >>> lines = Path.polygon([(0, 0), (100, 0), (100, 160), (0, 160)]).segments
    >>> sides = zip(("waist", "side", "hem", "centre"), lines)
    >>> piece = Piece(id="p", edges=tuple(Edge(name=name, line=Path((line,))) for name, line in sides))
    >>> card = template(piece, Topstitching(edge="centre", width=35.0, start=1.0, end=0.0))
    >>> card.nodes
    ((0.0, 160.0), (0.0, 0.0), (35.0, 0.0), (35.0, 114.5))
    """
    line = topstitching_line(piece, stitching)
    outline = piece.line
    first, last = nearest(outline, line.start), nearest(outline, line.end)
    if stitching.start < stitching.end:
        around, back = run(outline, first.place, last.place), line.reversed()
    else:
        around, back = run(outline, last.place, first.place), line
    if first.distance <= COINCIDENT:
        return Path.joined([*around.segments, *back.segments], closed=True)
    across = Line(first.point, line.start)
    if stitching.start < stitching.end:
        return Path.joined([*around.segments, *back.segments, across.reversed()], closed=True)
    return Path.joined([*around.segments, across, *back.segments], closed=True)


def _edge_part(piece: Piece, stitching: Topstitching) -> tuple[Path, float]:
    """Return the part of the edge that is stitched, from its beginning, and on which side the piece lies of it."""
    line, side = piece.edge(stitching.edge).line, float(winding(piece.line))
    start, end = stitching.start, stitching.end
    if start > end:
        line, side, start, end = line.reversed(), -side, 1.0 - start, 1.0 - end
    total = path_length(line)
    return run(line, place_at(line, start * total), place_at(line, end * total)), side


def _curve(start: Point, leaving: Point, bend: float, last: Foot, width: float) -> Cubic:
    """Draw the curve from the line at its width to the edge."""
    first = (start[0] + _FULLNESS * bend * leaving[0], start[1] + _FULLNESS * bend * leaving[1])
    return Cubic(start, first, last.at(0.0, _FULLNESS * width), last.point)


def _from_the_outline(line: Path, outline: Path, reach: float) -> Path:
    """Let a line begin on the outline: cut it there, or let it begin so much earlier."""
    dx, dy = tangent(line, Place(0, 0.0))
    x, y = line.start
    longer = Path.joined([Line((x - reach * dx, y - reach * dy), line.start), *line.segments])
    met = path_crossings(longer, outline)
    if not met:
        return line
    found = min(met, key=lambda one: math.dist(one.point, line.start))
    cut = run(longer, found.a, Place(len(longer.segments) - 1, 1.0))
    first, *rest = cut.segments
    if rest and isinstance(first, Line) and isinstance(rest[0], Line):
        return Path((Line(first.start, rest[0].end), *rest[1:]))
    return cut
