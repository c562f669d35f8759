"""Widths of outlines at levels, by shapely, on polylines fine enough for a hundredth of a millimetre."""

import math
from itertools import pairwise

import numpy as np
import shapely

from crossgrain.kernel.affine import Affine


def dense(path, step=0.4):
    """Points on a path, by its segments' own formula, each segment in even steps of the parameter."""
    out = []
    for segment in path.segments:
        controls = segment.controls
        count = max(2, math.ceil(sum(math.dist(p, q) for p, q in pairwise(controls)) / step))
        out += [segment.point(k / count) for k in range(count)]
    return [*out, path.end]


def upright(piece, path=None):
    """Points of a piece's outline with its grain turned straight down, x across."""
    gx, gy = piece.grain
    frame = Affine(gy, gx, -gx, gy)
    return np.array([frame.of(point) for point in dense(path or piece.line)])


def widths(piece, levels):
    """From the leftmost to the rightmost point of the outline at each level along the grain, mm."""
    ring = shapely.linearrings(upright(piece))
    left, _top, right, _bottom = shapely.bounds(ring)
    rows = [shapely.linestrings([(left - 1.0, y), (right + 1.0, y)]) for y in levels]
    met = shapely.bounds(shapely.intersection(ring, np.array(rows)))
    return met[:, 2] - met[:, 0]


def node_turns(line):
    """The turns at the nodes inside an open line, in degrees."""
    out = []
    for before, after in pairwise(line.segments):
        (x, y), (u, v) = before.end_tangent, after.start_tangent
        out.append(math.degrees(math.atan2(x * v - y * u, x * u + y * v)))
    return out
