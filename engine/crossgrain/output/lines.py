"""The few lines of a piece that a reader sees beside its outline: notches, darts, holds, the grain."""

from __future__ import annotations

import math
from typing import Final

from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.length import path_length, point_at_share
from crossgrain.kernel.segment import unit
from crossgrain.model import Dart, Edge, Hold, Notch, Piece

Polyline = tuple[Point, ...]

_TICK: Final = 8.0
_TICK_GAP: Final = 5.0
_NEAR: Final = 0.001
"""The share of an edge over which its direction is taken for a mark that is only looked at."""
_HOLD_STEPS: Final = 24
_GRAIN_SHARE: Final = 0.5


def inwards(piece: Piece, edge: Edge, share: float) -> Point:
    """Return the unit direction to the inside of the piece, at right angles to an edge."""
    along = _direction(edge, share)
    x, y = along
    return (-y, x) if winding(piece.line) > 0 else (y, -x)


def notch_lines(piece: Piece, notch: Notch) -> tuple[Polyline, ...]:
    """Return one short line outwards from the stitch line for each stroke of a notch."""
    edge = piece.edge(notch.edge)
    length = path_length(edge.line)
    lines = []
    for stroke in range(notch.count):
        aside = (stroke - (notch.count - 1) / 2.0) * _TICK_GAP
        share = min(max(notch.share + aside / length, 0.0), 1.0)
        x, y = point_at_share(edge.line, share)
        dx, dy = inwards(piece, edge, share)
        lines.append(((x, y), (x - _TICK * dx, y - _TICK * dy)))
    return tuple(lines)


def dart_line(piece: Piece, dart: Dart) -> Polyline:
    """Return the legs of a dart, from one end of its mouth over the tip to the other."""
    edge = piece.edge(dart.edge)
    half = dart.width / 2.0 / path_length(edge.line)
    first = point_at_share(edge.line, max(dart.share - half, 0.0))
    last = point_at_share(edge.line, min(dart.share + half, 1.0))
    ax, ay = unit(last[0] - first[0], last[1] - first[1])
    nx, ny = (-ay, ax) if winding(piece.line) > 0 else (ay, -ax)
    lean, straight = math.sin(dart.lean_rad), math.cos(dart.lean_rad)
    middle = point_at_share(edge.line, dart.share)
    tip = (
        middle[0] + dart.depth * (straight * nx + lean * ax),
        middle[1] + dart.depth * (straight * ny + lean * ay),
    )
    return (first, tip, last)


def hold_strip(piece: Piece, hold: Hold) -> Polyline:
    """Return the strip of a hold as a closed run of points: along its edge, and back across the grain from it."""
    edge = piece.edge(hold.edge)
    shares = [hold.start + (hold.end - hold.start) * step / _HOLD_STEPS for step in range(_HOLD_STEPS + 1)]
    run = [point_at_share(edge.line, share) for share in shares]
    gx, gy = piece.grain
    ix, iy = inwards(piece, edge, (hold.start + hold.end) / 2.0)
    side = 1.0 if -gy * ix + gx * iy >= 0.0 else -1.0
    dx, dy = -gy * side * hold.width, gx * side * hold.width
    return (*run, *((x + dx, y + dy) for x, y in reversed(run)))


def grain_line(piece: Piece) -> Polyline:
    """Return a line along the grain through the middle of the piece, half as long as the piece is that way."""
    box = bounds(piece.line)
    gx, gy = piece.grain
    reach = _GRAIN_SHARE * min(box.width / abs(gx) if gx else math.inf, box.height / abs(gy) if gy else math.inf)
    x, y = box.centre
    return ((x - gx * reach / 2.0, y - gy * reach / 2.0), (x + gx * reach / 2.0, y + gy * reach / 2.0))


def _direction(edge: Edge, share: float) -> Point:
    before = point_at_share(edge.line, max(share - _NEAR, 0.0))
    after = point_at_share(edge.line, min(share + _NEAR, 1.0))
    if before == after:
        return (1.0, 0.0)
    return unit(after[0] - before[0], after[1] - before[1])
