"""The lines that are pressed or laid on a fold: creases, and the bracket at a fold of the cloth."""

from __future__ import annotations

import math
from typing import Final

from crossgrain.kernel.affine import Point
from crossgrain.kernel.meetings.sections import chords
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model.edge_foot import foot
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.sewing_marks import Crease
from crossgrain.model.piece import Piece
from crossgrain.tolerances import COINCIDENT

FOLD_INSET: Final = 12.0
"""How far inside the fold its bracket runs, mm."""

TIP_REACH: Final = 2.0
"""A crease that passes a dart's tip nearer than this, mm, was meant to lead to it: it ends beside it."""

_FOLD_FROM: Final = 0.15
"""The share of the fold's edge at which the bracket begins, and as far from its end it ends."""

_HEAD: Final = 5.0
"""Length of the arrowheads on a fold's bracket, mm."""


def crease_way(piece: Piece, crease: Crease) -> tuple[Point, Point] | None:
    """Return where a crease starts and the farthest it can go: to the far side or into the first dart.

    Returns:
        Two places, mm; None where the grain does not lead from the edge into the piece.

    >>> from crossgrain.model import Edge
    >>> lines = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)]).segments
    >>> sides = zip(("waist", "side", "hem", "centre"), lines)
    >>> piece = Piece(id="p", edges=tuple(Edge(name=name, line=Path((line,))) for name, line in sides))
    >>> crease_way(piece, Crease(edge="hem"))
    ((50.0, 60.0), (50.0, 0.0))
    """
    x, y = foot(piece, crease.edge, crease.share).point
    gx, gy = piece.grain
    here, level = x * gx + y * gy, y * gx - x * gy
    inside = [
        (abs(one - here), end)
        for start, stop in chords(piece.line, piece.grain, level)
        for one, end in ((start, stop), (stop, start))
    ]
    if not inside:
        return None
    gap, far = min(inside)
    if gap > COINCIDENT:
        return None
    way = 1.0 if far > here else -1.0
    for dart in piece.darts:
        points = dart_points(piece, dart)
        met = [start if way > 0.0 else stop for start, stop in chords(Path.polygon(points), piece.grain, level)]
        tip_x, tip_y = points[1]
        if abs(tip_y * gx - tip_x * gy - level) <= TIP_REACH:
            met.append(tip_x * gx + tip_y * gy)
        for near in met:
            if COINCIDENT < way * (near - here) < way * (far - here):
                far = near
    return (x, y), (x + (far - here) * gx, y + (far - here) * gy)


def crease_line(piece: Piece, crease: Crease) -> Path | None:
    """Return a crease as it is drawn, as far as it reaches; None where there is none to draw."""
    way = crease_way(piece, crease)
    if way is None or math.dist(*way) <= COINCIDENT:
        return None
    line = Line(*way)
    return Path((Line(line.start, line.point(crease.reach)),))


def fold_lines(piece: Piece) -> tuple[Path, ...]:
    """Return the bracket along the edge that is laid on a fold: its ends are arrows that point at the fold."""
    name = piece.cut.on_fold
    if not name or name not in piece.edge_names:
        return ()
    first, last = foot(piece, name, _FOLD_FROM), foot(piece, name, 1.0 - _FOLD_FROM)
    inset = min(FOLD_INSET, math.dist(first.point, last.point) / 4.0)
    head, wing = min(_HEAD, inset / 2.0), min(_HEAD, inset / 2.0) / 2.5
    bracket = Path.joined(
        [
            Line(first.point, first.at(0.0, inset)),
            Line(first.at(0.0, inset), last.at(0.0, inset)),
            Line(last.at(0.0, inset), last.point),
        ]
    )
    arrows = tuple(
        Path((Line(one.at(-wing, head), one.point), Line(one.point, one.at(wing, head)))) for one in (first, last)
    )
    return (bracket, *arrows)
