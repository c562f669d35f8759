"""The lines by which a piece's marks are seen on it. They say nothing that the piece does not hold."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, Literal

from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.area import centroid, winding
from crossgrain.kernel.length import Place, path_length, place_at, point_at, run
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, between, unit
from crossgrain.model.marks import Dart, Hold, Notch
from crossgrain.model.piece import Piece

MarkKind = Literal["grain", "notch", "dart", "hold"]

NOTCH_DEPTH: Final = 5.0
"""How far a notch reaches inwards, mm: half of the usual 10 mm allowance, so that it shows on no finished
seam."""

NOTCH_GAP: Final = 5.0
"""Between the strokes of a double or triple notch, mm along the edge."""

_ARROW: Final = 8.0
"""Length of the grain's arrowheads, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkLine:
    """One line of a mark, in mm of the drawing."""

    kind: MarkKind
    line: Path


def mark_lines(piece: Piece) -> tuple[MarkLine, ...]:
    """Draw the grain, notches, darts and holds of a piece.

    >>> from crossgrain.model import Edge
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 100), (0, 100)])
    >>> piece = Piece(id="band", edges=(Edge(name="", line=Path(square.segments)),))
    >>> [mark.kind for mark in mark_lines(piece)]
    ['grain', 'grain', 'grain']
    """
    side = float(winding(piece.line))
    out = [MarkLine(kind="grain", line=line) for line in _grain(piece)]
    for notch in piece.notches:
        out += [MarkLine(kind="notch", line=line) for line in _notch(piece, notch, side)]
    out += [MarkLine(kind="dart", line=_polyline(dart_points(piece, dart))) for dart in piece.darts]
    out += [MarkLine(kind="hold", line=_hold(piece, hold, side)) for hold in piece.holds]
    return tuple(out)


def dart_points(piece: Piece, dart: Dart) -> tuple[Point, Point, Point]:
    """Return a dart's first mouth point, its tip and its second mouth point, mm.

    The mouth points lie on the edge, half of the width before and after its middle; the tip lies from the middle of the
    chord between them at the dart's depth, leant from the chord's inward normal.
    """
    line = piece.edge(dart.edge).line
    total = path_length(line)
    middle = dart.share * total
    first = point_at(line, place_at(line, max(middle - dart.width / 2.0, 0.0)))
    last = point_at(line, place_at(line, min(middle + dart.width / 2.0, total)))
    x, y = unit(last[0] - first[0], last[1] - first[1])
    inwards = (-y, x) if winding(piece.line) > 0 else (y, -x)
    # To lean is to turn from the inward normal towards the end of the edge.
    cos, sin = math.cos(dart.lean_rad), math.sin(dart.lean_rad)
    root = between(first, last, 0.5)
    tip = (
        root[0] + dart.depth * (cos * inwards[0] + sin * x),
        root[1] + dart.depth * (cos * inwards[1] + sin * y),
    )
    return first, tip, last


def aimed(piece: Piece, dart: Dart, tip: Point) -> Dart:
    """Return a dart of the same mouth with its tip at a point: the inverse of :func:`dart_points`.

    >>> from crossgrain.model import Edge
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 100), (0, 100)])
    >>> piece = Piece(id="back", edges=(Edge(name="", line=Path(square.segments)),))
    >>> dart = aimed(piece, Dart(edge="", share=0.125, width=20.0, depth=1.0), (50.0, 80.0))
    >>> round(dart.depth, 6), round(dart.lean_rad, 6)
    (80.0, 0.0)
    """
    first, _tip, last = dart_points(piece, dart)
    x, y = unit(last[0] - first[0], last[1] - first[1])
    inwards = (-y, x) if winding(piece.line) > 0 else (y, -x)
    root = between(first, last, 0.5)
    dx, dy = tip[0] - root[0], tip[1] - root[1]
    lean = math.atan2(dx * x + dy * y, dx * inwards[0] + dy * inwards[1])
    return replace(dart, depth=math.hypot(dx, dy), lean_rad=lean)


def _polyline(points: tuple[Point, ...]) -> Path:
    return Path(tuple(Line(p, q) for p, q in pairwise(points)))


def _grain(piece: Piece) -> list[Path]:
    """Draw an arrow with two heads through the middle of the piece, half as long as the piece is."""
    x, y = centroid(piece.line)
    gx, gy = piece.grain
    heights = [node[0] * gx + node[1] * gy for node in piece.line.nodes]
    half = (max(heights) - min(heights)) / 4.0
    first, last = (x - half * gx, y - half * gy), (x + half * gx, y + half * gy)
    head = min(_ARROW, half / 2.0)
    out = [_polyline((first, last))]
    for (tx, ty), way in ((first, 1.0), (last, -1.0)):
        back = (tx + way * head * gx, ty + way * head * gy)
        wing = head / 3.0
        out.append(
            _polyline(
                ((back[0] - wing * gy, back[1] + wing * gx), (tx, ty), (back[0] + wing * gy, back[1] - wing * gx))
            )
        )
    return out


def _notch(piece: Piece, notch: Notch, side: float) -> list[Path]:
    line = piece.edge(notch.edge).line
    total = path_length(line)
    middle = notch.share * total
    out = []
    for number in range(notch.count):
        along = middle + (number - (notch.count - 1) / 2.0) * NOTCH_GAP
        place = place_at(line, min(max(along, 0.0), total))
        x, y = point_at(line, place)
        tx, ty = _tangent(line, place)
        depth = NOTCH_DEPTH if side > 0 else -NOTCH_DEPTH
        out.append(_polyline(((x, y), (x - depth * ty, y + depth * tx))))
    return out


def _tangent(line: Path, place: Place) -> Point:
    """Return the direction of a line at a place; along its chord where it has none."""
    segment = line.segments[place.index]
    dx, dy = segment.derivative(place.t)
    if (dx, dy) == (0.0, 0.0):
        return segment.start_tangent or unit(line.end[0] - line.start[0], line.end[1] - line.start[1])
    return unit(dx, dy)


def _hold(piece: Piece, hold: Hold, side: float) -> Path:
    """Move the held part of the edge inwards across the grain by the hold's width, and close its ends."""
    line = piece.edge(hold.edge).line
    total = path_length(line)
    part = run(line, place_at(line, hold.start * total), place_at(line, hold.end * total))
    gx, gy = piece.grain
    cx, cy = part.end[0] - part.start[0], part.end[1] - part.start[1]
    inwards = (-cy, cx) if side > 0 else (cy, -cx)
    across = hold.width if inwards[0] * gy - inwards[1] * gx >= 0.0 else -hold.width
    moved = part.mapped(Affine.translation(across * gy, -across * gx))
    return Path((Line(part.start, moved.start), *moved.segments, Line(moved.end, part.end)))
