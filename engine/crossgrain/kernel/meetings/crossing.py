"""Where lines cross, touch and run along each other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.arrays import rows_of
from crossgrain.kernel.curvature import simplified
from crossgrain.kernel.length import Place, distance_of, path_length, place_at, point_at, segment_length
from crossgrain.kernel.meetings.meeting import Meeting, Shared, meetings
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment
from crossgrain.tolerances import COINCIDENT, ROUND_OFF, TOUCH_REACH

Ints = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Crossing:
    """A place where two lines, or two parts of one, meet.

    Args:
        kind: ``cross`` where each goes over to the other side of the other; ``touch`` where they meet and part again
            on the same side, or where one ends on the other; ``overlap`` where they run along each other.
        point: the place in the drawing, mm; of an overlap, its start on the first line.
        a: the place on the first line; of an overlap, its start.
        b: the place on the second line, or the later one on the same.
        a_end: where on the first line an overlap ends.
        b_end: the place on the second line that lies there.
    """

    kind: Literal["cross", "touch", "overlap"]
    point: Point
    a: Place
    b: Place
    a_end: Place | None = None
    b_end: Place | None = None


def segment_crossings(a: Segment, b: Segment) -> tuple[Crossing, ...]:
    """Find where two segments meet.

    Args:
        a: the first segment.
        b: the second one.

    Returns:
        The meetings in order along ``a``, as of two paths of one segment each. Parameters of crossings are within
        1e-9 where the lines are not nearly parallel; at a touch they are as sure as ``COINCIDENT`` allows, which
        is the root of it along the lines.

    Raises:
        GeometryError: a straight cubic that runs back over itself.

    >>> [crossing] = segment_crossings(Line((0.0, 0.0), (10.0, 10.0)), Line((0.0, 5.0), (10.0, 5.0)))
    >>> crossing.kind, crossing.point
    ('cross', (5.0, 5.0))
    """
    return path_crossings(Path((a,)), Path((b,)))


def path_crossings(a: Path, b: Path) -> tuple[Crossing, ...]:
    """Find where two paths meet.

    Returns:
        The meetings in order along ``a``. Lines nearer than ``COINCIDENT`` to each other meet. A place at a node is
        given once.

    Raises:
        GeometryError: a straight cubic that runs back over itself.

    >>> square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    >>> [c.kind for c in path_crossings(square, Path((Line((-5.0, 5.0), (15.0, 5.0)),)))]
    ['cross', 'cross']
    """
    for segment in (*a.segments, *b.segments):
        simplified(segment)  # refuses what has no single answer
    found = meetings(rows_of(a.segments), rows_of(b.segments), _near_pairs(a, b))
    return _reported(a, b, found)


def self_crossings(path: Path) -> tuple[Crossing, ...]:
    """Find where a path meets itself; that neighbours share a node does not count.

    Returns:
        The meetings in order of the first of their two places. A loop within one cubic is a crossing; a part that
        runs straight back over itself is an overlap.

    >>> bow = Path.polygon([(0, 0), (10, 10), (10, 0), (0, 10)])
    >>> [(c.kind, c.point) for c in self_crossings(bow)]
    [('cross', (5.0, 5.0))]
    """
    alone: list[Crossing] = []
    loops: list[Meeting] = []
    live = []
    for i, segment in enumerate(path.segments):
        try:
            if simplified(segment) is not None:
                live.append(i)
        except GeometryError as spike:
            tip = spike.position or segment.end
            alone.append(Crossing("overlap", tip, Place(i, 0.0), Place(i, 1.0), Place(i, 1.0), Place(i, 0.0)))
            live.append(i)
            continue
        loop = _loop(segment)
        if loop == (0.0, 1.0) and path.closed and len(path.segments) == 1:
            loop = None  # the outline is one cubic, and closes
        if loop is not None:
            loops.append(Meeting(i, i, *loop, crossing=True))
    there = set(live)
    pairs = [(i, j) for i, j in _near_pairs(path, path).tolist() if i < j and i in there and j in there]
    controls = rows_of(path.segments)
    found = meetings(controls, controls, np.array(pairs, dtype=np.intp).reshape(-1, 2), _neighbours(path, live))
    ordered = sorted((*alone, *_reported(path, path, [*loops, *found])), key=lambda crossing: (crossing.a, crossing.b))
    return tuple(ordered)


def is_simple(path: Path) -> bool:
    """Say whether a path meets itself nowhere.

    >>> is_simple(Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)]))
    True
    """
    return not self_crossings(path)


def _near_pairs(a: Path, b: Path) -> Ints:
    """Return the pairs of segments whose control points' boxes meet."""
    first, second = rows_of(a.segments), rows_of(b.segments)
    meet = np.ones((len(first), len(second)), dtype=bool)
    for one, other in ((first.real, second.real), (first.imag, second.imag)):
        low, high = one.min(axis=1) - COINCIDENT, one.max(axis=1) + COINCIDENT
        meet &= (low[:, None] <= other.max(axis=1)) & (other.min(axis=1) <= high[:, None])
    return np.argwhere(meet)


def _neighbours(path: Path, live: Sequence[int]) -> list[Shared]:
    """Return which segments share a node, those that are single points looked past."""
    shared = [Shared(i, j) for i, j in pairwise(live)]
    if path.closed and len(live) > 1:
        shared.append(Shared(live[-1], live[0]))
    return shared


def _loop(segment: Segment) -> tuple[float, float] | None:
    """Return the two parameters at which a cubic passes its own crossing, or None.

    With C = a t³ + b t² + c t, C(u) = C(v) for u ≠ v asks a q + b s + c = 0 of s = u + v and q = s² - u v: two linear
    equations.
    """
    if isinstance(segment, Line):
        return None
    (px, py), (qx, qy), (rx, ry), (wx, wy) = segment.controls
    cx, cy = 3.0 * (qx - px), 3.0 * (qy - py)
    bx, by = 3.0 * (px - 2.0 * qx + rx), 3.0 * (py - 2.0 * qy + ry)
    ax, ay = wx - px + 3.0 * (qx - rx), wy - py + 3.0 * (qy - ry)
    below = ax * by - ay * bx
    if below == 0.0:
        return None
    s = (ay * cx - ax * cy) / below
    q = (bx * cy - by * cx) / below
    square = 4.0 * q - 3.0 * s * s  # (u - v)² = s² - 4 u v
    if not square > 0.0:
        return None
    root = math.sqrt(square)
    u, v = (s - root) / 2.0, (s + root) / 2.0
    if (px, py) == (wx, wy):
        return 0.0, 1.0
    if not 0.0 <= u < v <= 1.0:
        return None
    if math.dist(segment.point(u), segment.point(v)) > COINCIDENT:
        return None  # as good as straight: the two equations have lost their digits
    if segment_length(segment.split(v)[0].split(u / v)[1]) <= 2.0 * COINCIDENT:
        return None  # a cusp, rounded
    return u, v


# --- From meetings of segments to crossings of paths -----------------------------------------------------------


def _reported(a: Path, b: Path, found: list[Meeting]) -> tuple[Crossing, ...]:
    """Return the crossings that meetings of segments amount to, in order."""
    crossings: dict[tuple[Place, Place], Crossing] = {}
    for meeting in found:
        if meeting.s_end is not None and meeting.t_end is not None:
            start, end = Place(meeting.a, meeting.s), Place(meeting.a, meeting.s_end)
            over = Place(meeting.b, meeting.t), Place(meeting.b, meeting.t_end)
            crossings[start, over[0]] = Crossing("overlap", point_at(a, start), start, over[0], end, over[1])
            continue
        place_a, place_b = _canonical(a, Place(meeting.a, meeting.s)), _canonical(b, Place(meeting.b, meeting.t))
        if a is b:
            if place_a == place_b:
                continue
            place_a, place_b = min(place_a, place_b), max(place_a, place_b)
        if any(_one_place(a, place_a, c.a) and _one_place(b, place_b, c.b) for c in crossings.values()):
            continue
        inside = meeting.crossing and 0.0 < meeting.s < 1.0 and 0.0 < meeting.t < 1.0
        kind: Literal["cross", "touch"] = "cross" if inside or _goes_over(a, place_a, b, place_b) else "touch"
        crossings[place_a, place_b] = Crossing(kind, point_at(a, place_a), place_a, place_b)
    return _without_ends(a, b, sorted(crossings.values(), key=lambda crossing: (crossing.a, crossing.b)))


def _canonical(path: Path, place: Place) -> Place:
    """Return a node as the start of the segment after it, where there is one."""
    if place.t == 1.0 and (path.closed or place.index + 1 < len(path.segments)):
        return Place((place.index + 1) % len(path.segments), 0.0)
    return place


def _one_place(path: Path, one: Place, other: Place) -> bool:
    """Say whether two places are one but for rounding."""
    if one.index != other.index:
        return False
    return math.dist(point_at(path, one), point_at(path, other)) <= 4.0 * COINCIDENT and abs(one.t - other.t) < 0.01


def _without_ends(a: Path, b: Path, crossings: list[Crossing]) -> tuple[Crossing, ...]:
    """Leave out the touches that are no more than the ends of overlaps."""
    tips = {
        (_canonical(a, place_a), _canonical(b, place_b))
        for crossing in crossings
        if crossing.a_end is not None and crossing.b_end is not None
        for place_a, place_b in ((crossing.a, crossing.b), (crossing.a_end, crossing.b_end))
    }
    if a is b:
        tips |= {(place_b, place_a) for place_a, place_b in tips}
    return tuple(c for c in crossings if c.kind == "overlap" or (c.a, c.b) not in tips)


def _goes_over(a: Path, place_a: Place, b: Path, place_b: Place) -> bool:
    """Say whether each line passes from one side of the other to the other side at a place where they meet.

    Looked at from the place, the two arms of the one must lie in turn with those of the other. Where a line ends, it
    does not go over.
    """
    centre = point_at(a, place_a)
    arms = []
    for which, path, place in (("a", a, place_a), ("b", b, place_b)):
        total, here = path_length(path), distance_of(path, place)
        for step in (-TOUCH_REACH, TOUCH_REACH):
            there = here + step
            if not path.closed and not 0.0 <= there <= total:
                return False
            x, y = point_at(path, place_at(path, there))
            arms.append((math.atan2(y - centre[1], x - centre[0]), which))
    arms.sort()
    if any(p[1] != q[1] and abs(q[0] - p[0]) <= ROUND_OFF for p, q in pairwise([*arms, arms[0]])):
        return False
    order = [which for _angle, which in arms]
    return order in (["a", "b", "a", "b"], ["b", "a", "b", "a"])
