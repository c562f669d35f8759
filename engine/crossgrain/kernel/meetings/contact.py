"""Where two cubics that are nearly parallel touch, cross at a small angle, or run along each other.

The far end of :mod:`crossgrain.kernel.meetings.meeting`, which finds the stretches to look at.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np

from crossgrain.kernel.affine import Point
from crossgrain.kernel.curvature import cusps
from crossgrain.kernel.meetings.nearest import nearest, nearest_points
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic
from crossgrain.tolerances import COINCIDENT, PARAMETER_SETTLED, ROUND_OFF, STANDSTILL, TOUCH_LENGTH

Stretch = tuple[float, float, float, float]
"""From parameter s0 to s1 on the first cubic and from t0 to t1 on the second, s0 below s1."""


def overlaps_of(first: Cubic, second: Cubic) -> list[Stretch]:
    """Return where two cubics run along each other: from s0 to s1 on the first, from t0 to t1 on the second.

    A common run of two cubics ends only where one of them ends, or folds back.
    """
    ends = []
    for s in (0.0, *cusps(first), 1.0):
        foot = nearest(Path((second,)), first.point(s))
        if foot.distance <= COINCIDENT:
            ends.append((s, foot.place.t))
    for t in (0.0, *cusps(second), 1.0):
        foot = nearest(Path((first,)), second.point(t))
        if foot.distance <= COINCIDENT:
            ends.append((foot.place.t, t))
    ends.sort()
    runs: list[Stretch] = []
    for (s0, t0), (s1, t1) in pairwise(ends):
        points = np.array([first.point(s0 + share * (s1 - s0)) for share in (0.1, 0.3, 0.5, 0.7, 0.9)])
        if math.dist(first.point(s0), points[2]) <= COINCIDENT:
            continue
        if nearest_points(Path((second,)), points).distances.max() > COINCIDENT:
            continue
        same_way = bool(runs) and (runs[-1][3] - runs[-1][2]) * (t1 - t0) > 0.0
        if same_way and abs(runs[-1][1] - s0) <= ROUND_OFF and abs(runs[-1][3] - t0) <= ROUND_OFF:
            runs[-1] = (runs[-1][0], s1, runs[-1][2], t1)
        else:
            runs.append((s0, s1, t0, t1))
    return runs


def touches_of(
    first: Cubic, second: Cubic, stretches: list[Stretch], overlaps: list[Stretch]
) -> list[tuple[float, float]]:
    """Return where two cubics meet in stretches where they are straight and nearly parallel.

    Stretches that follow each other too far for a touch are added to the overlaps instead.
    """
    left = [one for one in stretches if not any(_alongside(one, over) for over in overlaps)]
    if left:
        middles = np.array([first.point((one[0] + one[1]) / 2) for one in left])
        near = nearest_points(Path((second,)), middles).distances <= COINCIDENT
        for cluster in _clusters([one for one, is_near in zip(left, near, strict=True) if is_near]):
            s0, s1 = cluster[0][0], max(one[1] for one in cluster)
            if math.dist(first.point(s0), first.point(s1)) > TOUCH_LENGTH:
                t0, t1 = (nearest(Path((second,)), first.point(s)).place.t for s in (s0, s1))
                overlaps.append((s0, s1, t0, t1))
    out = [(s, t) for s, t in _ends_on(first, second) if not any(_alongside((s, s, t, t), over) for over in overlaps)]
    for cluster in _clusters([one for one in left if not any(_alongside(one, over) for over in overlaps)]):
        s0, s1 = cluster[0][0], max(one[1] for one in cluster)
        some = dict.fromkeys(cluster[round(i * (len(cluster) - 1) / 4)] for i in range(5))
        met = [place for one in some for place in _solved(first, second, one)]
        if not met and not any(s0 - ROUND_OFF <= s <= s1 + ROUND_OFF for s, _t in out):
            s = (s0 + s1) / 2
            foot = nearest(Path((second,)), first.point(s))
            met = [(s, foot.place.t)] if foot.distance <= COINCIDENT else []
        out += met
    return out


def _alongside(one: Stretch, other: Stretch) -> bool:
    """Say whether two stretches have a part of both cubics in common, an end at least."""
    low, high = min(other[2], other[3]) - ROUND_OFF, max(other[2], other[3]) + ROUND_OFF
    along = one[0] <= other[1] + ROUND_OFF and other[0] <= one[1] + ROUND_OFF
    return along and one[2] <= high and low <= one[3]


def _clusters(stretches: list[Stretch]) -> list[list[Stretch]]:
    """Put stretches together that follow each other on both cubics."""
    clusters: list[list[Stretch]] = []
    for one in stretches:
        for cluster in clusters:
            if any(_alongside(one, other) for other in cluster[-8:]):
                cluster.append(one)
                break
        else:
            clusters.append([one])
    return clusters


def _ends_on(first: Cubic, second: Cubic) -> list[tuple[float, float]]:
    """Return where either cubic ends on the other."""
    feet = [(foot.distance, s, foot.place.t) for s in (0.0, 1.0) if (foot := nearest(Path((second,)), first.point(s)))]
    feet += [(foot.distance, foot.place.t, t) for t in (0.0, 1.0) if (foot := nearest(Path((first,)), second.point(t)))]
    # The end of a closed loop is as near as its start, and only one of them is the nearest.
    feet += [(math.dist(first.point(s), second.point(t)), s, t) for s in (0.0, 1.0) for t in (0.0, 1.0)]
    return [(s, t) for distance, s, t in feet if distance <= COINCIDENT]


def _solved(a: Cubic, b: Cubic, stretch: Stretch) -> list[tuple[float, float]]:
    """Return where two cubics touch in a stretch or, if they do not, where they cross at a small angle."""
    s, t = (stretch[0] + stretch[1]) / 2, (stretch[2] + stretch[3]) / 2
    for solve in (_touching, _crossing):
        found = solve(a, b, s, t)
        if found and math.dist(a.point(found[0]), b.point(found[1])) <= COINCIDENT:
            return [found]
    return []


def _touching(a: Cubic, b: Cubic, s: float, t: float) -> tuple[float, float] | None:
    """Return where the cubics are parallel with nothing but a gap square to them between, by Newton's method."""
    for _round in range(20):
        gap, p, q = _minus(a.point(s), b.point(t)), a.derivative(s), b.derivative(t)
        pp, qq = _acceleration(a, s), _acceleration(b, t)
        first, second = _dot(gap, p), _cross(p, q)
        fs, ft = _dot(p, p) + _dot(gap, pp), -_dot(q, p)
        gs, gt = _cross(pp, q), _cross(p, qq)
        below = fs * gt - ft * gs
        if abs(below) <= STANDSTILL * abs(fs) * math.hypot(*p) * math.hypot(*q):
            return None
        ds, dt = (second * ft - first * gt) / below, (first * gs - second * fs) / below
        s, t = s + ds, t + dt
        if not (-1.0 <= s <= 2.0 and -1.0 <= t <= 2.0):
            return None
        if abs(ds) + abs(dt) <= PARAMETER_SETTLED:
            break
    return _on_both(a, b, s, t)


def _crossing(a: Cubic, b: Cubic, s: float, t: float) -> tuple[float, float] | None:
    """Return where the cubics cross, by Newton's method."""
    for _round in range(30):
        gap, p, q = _minus(b.point(t), a.point(s)), a.derivative(s), b.derivative(t)
        below = _cross(p, q)
        if below == 0.0:
            return None
        ds, dt = _cross(gap, q) / below, _cross(gap, p) / below
        s, t = s + ds, t + dt
        if not (-1.0 <= s <= 2.0 and -1.0 <= t <= 2.0):
            return None
        if abs(ds) + abs(dt) <= PARAMETER_SETTLED:
            break
    return _on_both(a, b, s, t)


def _on_both(a: Cubic, b: Cubic, s: float, t: float) -> tuple[float, float] | None:
    """Return the parameters if they lie on the segments, or off them by no more than COINCIDENT."""
    u, v = min(max(s, 0.0), 1.0), min(max(t, 0.0), 1.0)
    if abs(s - u) * math.hypot(*a.derivative(u)) > COINCIDENT or abs(t - v) * math.hypot(*b.derivative(v)) > COINCIDENT:
        return None
    return u, v


def _acceleration(cubic: Cubic, t: float) -> Point:
    p, q, r, w = cubic.controls
    s = 1.0 - t
    return (
        6.0 * (s * (p[0] - 2.0 * q[0] + r[0]) + t * (q[0] - 2.0 * r[0] + w[0])),
        6.0 * (s * (p[1] - 2.0 * q[1] + r[1]) + t * (q[1] - 2.0 * r[1] + w[1])),
    )


def _minus(p: Point, q: Point) -> Point:
    return (p[0] - q[0], p[1] - q[1])


def _dot(u: Point, v: Point) -> float:
    return u[0] * v[0] + u[1] * v[1]


def _cross(u: Point, v: Point) -> float:
    return u[0] * v[1] - u[1] * v[0]
