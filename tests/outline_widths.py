"""Widths of outlines at levels, by shapely, on polylines fine enough for a hundredth of a millimetre."""

import math
from itertools import pairwise

import numpy as np
import shapely


def dense(path, step=0.4):
    """Points on a path by the formula of Bézier’s curves, each segment in even steps of the parameter; (m, 2)."""
    out = []
    for segment in path.segments:
        controls = np.array(segment.controls)
        count = max(2, math.ceil(np.hypot(*np.diff(controls, axis=0).T).sum() / step))
        t = np.arange(count)[:, None] / count
        s = 1.0 - t
        out.append(s**3 * controls[0] + 3 * s * s * t * controls[1] + 3 * s * t * t * controls[2] + t**3 * controls[3])
    return np.concatenate([*out, [path.end]])


def distances(points, path, step=0.4):
    """How far points lie from a path, by shapely, on a polyline of it; shape (m,)."""
    line = dense(path, step)
    tree = shapely.STRtree(shapely.linestrings(np.stack([line[:-1], line[1:]], axis=1)))
    return tree.query_nearest(shapely.points(points), return_distance=True, all_matches=False)[1]


def apart(one, other):
    """How far two paths are apart at most, from dense points of each to the other."""
    return max(distances(dense(one), other).max(), distances(dense(other), one).max())


def upright(piece, path=None):
    """Points of a piece's outline with its grain turned straight down, x across."""
    gx, gy = piece.grain
    return dense(path or piece.line) @ np.array([[gy, gx], [-gx, gy]])


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
