"""A dart as points on its piece: the ends of its mouth, and its tip."""

from __future__ import annotations

import math
from dataclasses import replace

from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.length import path_length, place_at, point_at
from crossgrain.kernel.segment import between, unit
from crossgrain.model.marking.marks import Dart
from crossgrain.model.piece import Piece


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

    >>> from crossgrain.kernel.path import Path
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
