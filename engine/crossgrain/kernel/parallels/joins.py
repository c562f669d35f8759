"""Join the parallels of two runs that meet at a corner.

``a`` arrives at the corner and ``b`` leaves it. Where the parallels gape, they are brought together here, by a mitre
or an arc; where they cross, they are cut at the crossing. Both work on the strands' own segments.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Literal

from crossgrain.kernel.affine import Point
from crossgrain.kernel.arc import arc_cubics
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.length import Place
from crossgrain.kernel.meetings.crossing import path_crossings, segment_crossings
from crossgrain.kernel.parallels.parallel import Strand
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment, section, started_at
from crossgrain.tolerances import COINCIDENT, CORNER_TURN, NEWTON_ANGLE, PARAMETER_SETTLED, TRIM_PROBE

_NEWTON_STEPS = 12
_OUTSIDE = 0.3
"""How far into a segment from its corner the quick search may go: beyond that, it is no longer near the corner."""

JoinStyle = Literal["mitre", "round"]


def corner_turn(a: Strand, b: Strand) -> float:
    """Return the turn from one run to the next, in radians, between -π and π."""
    (ax, ay), (bx, by) = a.end_tangent, b.start_tangent
    return math.atan2(ax * by - ay * bx, ax * bx + ay * by)


def gap(turn: float, a: Strand, b: Strand, style: JoinStyle, limit: float) -> tuple[Segment, ...]:
    """Return what fills the gap between two parallels that do not meet.

    Args:
        turn: the turn at the corner, radians.
        a: the strand that arrives.
        b: the strand that leaves.
        style: ``mitre`` lets both go on straight until they meet; ``round`` draws an arc about the corner.
        limit: the greatest distance of a mitre's point from the corner, as a multiple of the larger distance; a
            longer point is cut off square to its axis there.

    Returns:
        The segments from the end of ``a`` to the start of ``b``; none where these meet already. Where the distances
        differ too much for a mitre, the narrower parallel goes on to the wider one's square end: a step.
    """
    start, end = a.segments[-1].end, b.segments[0].start
    if math.dist(start, end) <= COINCIDENT:
        return ()
    da, db = a.end_distance, b.start_distance
    corner = a.end
    if style == "round" and da == db:
        radius = abs(da)
        return arc_cubics(start, radius, radius, 0.0, abs(turn) > math.pi, (turn > 0.0), end)
    sin, cos = math.sin(turn), math.cos(turn)
    if abs(sin) <= COINCIDENT and cos > 0.0:
        return (Line(start, end),)
    nx, ny = b.start_tangent[1], -b.start_tangent[0]
    mx, my = a.end_tangent[1], -a.end_tangent[0]
    # Seen from the ends of the strands, how far each must go on to meet the other.
    on_a = (db - da * cos) / sin if abs(sin) > COINCIDENT else math.inf
    on_b = (da - db * cos) / sin if abs(sin) > COINCIDENT else math.inf
    if on_b < -COINCIDENT and cos > 0.0:
        step = da / cos
        return _polyline(start, (corner[0] + nx * step, corner[1] + ny * step), end)
    if on_a < -COINCIDENT and cos > 0.0:
        step = db / cos
        return _polyline(start, (corner[0] + mx * step, corner[1] + my * step), end)
    point = _ahead(start, a.end_tangent, on_a)
    reach = limit * max(abs(da), abs(db))
    if math.isfinite(on_a) and math.dist(corner, point) <= reach:
        return _polyline(start, point, end)
    half = turn / 2.0
    along_a = (reach - abs(da) * math.cos(half)) / abs(math.sin(half))
    along_b = (reach - abs(db) * math.cos(half)) / abs(math.sin(half))
    return _polyline(
        start,
        _ahead(start, a.end_tangent, max(0.0, min(along_a, on_a) if on_a >= 0.0 else along_a)),
        _ahead(end, b.start_tangent, -max(0.0, min(along_b, on_b) if on_b >= 0.0 else along_b)),
        end,
    )


def cut_at_crossing(
    a: tuple[Segment, ...], b: tuple[Segment, ...], corner: Point | None = None
) -> tuple[tuple[Segment, ...], tuple[Segment, ...]] | None:
    """Cut two parallels where they cross nearest to the corner between them.

    Args:
        a: the segments that arrive at the corner.
        b: the segments that leave it.
        corner: the corner itself, where the two are parallels of an outline and only such a crossing counts as cuts off
            nothing but what goes round backwards there. At others one of them has been out beyond the other before,
            and what lies there is part of the line.

    Returns:
        Both, ending and starting at the crossing; None where they do not cross.
    """
    for on_a, on_b in _crossings_from_corner(a, b):
        if corner is None or _cuts_off_no_line(a, b, on_a, on_b, corner):
            return _cut(a, b, on_a, on_b)
    return None


def _crossings_from_corner(a: tuple[Segment, ...], b: tuple[Segment, ...]) -> Iterator[tuple[Place, Place]]:
    """Yield where two parallels cross, the places nearest to the corner first, at best without looking farther."""
    last = len(a) - 1
    near = _crossing_near_corner(a[-1], b[0])
    if near is not None:
        yield Place(last, near[0]), Place(0, near[1])
    places = [(Place(last, c.a.t), Place(0, c.b.t)) for c in segment_crossings(a[-1], b[0]) if c.kind != "overlap"]
    yield from sorted(places, key=_nearness, reverse=True)
    if len(a) > 1 or len(b) > 1:
        places = [(c.a, c.b) for c in path_crossings(Path(a), Path(b)) if c.kind != "overlap"]
        yield from sorted(places, key=_nearness, reverse=True)


def _nearness(places: tuple[Place, Place]) -> tuple[int, float]:
    on_a, on_b = places
    return on_a.index - on_b.index, on_a.t - on_b.t


def _cut(
    a: tuple[Segment, ...], b: tuple[Segment, ...], on_a: Place, on_b: Place
) -> tuple[tuple[Segment, ...], tuple[Segment, ...]]:
    first = (*a[: on_a.index], section(a[on_a.index], 0.0, on_a.t))
    tail = section(b[on_b.index], on_b.t, 1.0)
    return first, (started_at(tail, first[-1].end), *b[on_b.index + 1 :])


def _cuts_off_no_line(a: tuple[Segment, ...], b: tuple[Segment, ...], on_a: Place, on_b: Place, corner: Point) -> bool:
    """Say whether what is cut off at a crossing, closed by way of the corner, is one loop that goes round backwards.

    All of it lies no farther from the outline than the parallels do. So what it goes round belongs to the outline with
    its parallels, or is a hole in that; and whatever goes round nothing but those backwards is no part of the line.
    """
    after = (section(a[on_a.index], on_a.t, 1.0), *a[on_a.index + 1 :])
    before = (*b[: on_b.index], section(b[on_b.index], 0.0, on_b.t))
    loop = solid((*after, Line(after[-1].end, corner), Line(corner, before[0].start), *before))
    if not loop:
        return True
    import shapely

    ring = shapely.linearrings(flatten(Path.joined(loop, closed=True), TRIM_PROBE).points)
    return bool(shapely.is_simple(ring)) and not shapely.is_ccw(ring)


def solid(line: tuple[Segment, ...]) -> tuple[Segment, ...]:
    """Leave out segments without length, which a cut just at a node leaves behind.

    >>> solid((Line((0.0, 0.0), (5.0, 0.0)), Line((5.0, 0.0), (5.0, 0.0))))
    (Line(start=(0.0, 0.0), end=(5.0, 0.0)),)
    """
    return tuple(one for one in line if max(math.dist(one.start, control) for control in one.controls[1:]) > COINCIDENT)


def _crossing_near_corner(a: Segment, b: Segment) -> tuple[float, float] | None:
    """Return the parameters where two segments cross, found from where their ends' tangents do.

    Returns:
        None where Newton's method does not settle near that place, within both segments: then the crossing has to
        be looked for properly.
    """
    s, t = 1.0, 0.0
    first_step = math.inf
    for _step in range(_NEWTON_STEPS):
        (px, py), (qx, qy) = a.point(s), b.point(t)
        (ux, uy), (vx, vy) = a.derivative(s), b.derivative(t)
        det = ux * vy - uy * vx
        if abs(det) <= NEWTON_ANGLE * math.hypot(ux, uy) * math.hypot(vx, vy):
            return None
        dx, dy = qx - px, qy - py
        ds, dt = (dx * vy - dy * vx) / det, (dx * uy - dy * ux) / det
        s, t = s + ds, t + dt
        first_step = min(first_step, abs(ds) + abs(dt))
        if not (_OUTSIDE < s < 2.0 and -1.0 < t < 1.0 - _OUTSIDE) or abs(ds) + abs(dt) > 1.5 * first_step:
            return None
        if max(abs(ds), abs(dt)) < PARAMETER_SETTLED:
            return (s, t) if 0.0 < s < 1.0 and 0.0 < t < 1.0 else None
    return None


def _ahead(point: Point, direction: Point, distance: float) -> Point:
    return (point[0] + direction[0] * distance, point[1] + direction[1] * distance)


def _polyline(*points: Point) -> tuple[Segment, ...]:
    """Join points by lines, leaving out those that coincide with the one before."""
    kept = [points[0]]
    for point in points[1:-1]:
        if math.dist(point, kept[-1]) > COINCIDENT and math.dist(point, points[-1]) > COINCIDENT:
            kept.append(point)
    kept.append(points[-1])
    return tuple(Line(p, q) for p, q in pairwise(kept))


def stepped(
    a: Strand, b: Strand, on_a: tuple[Segment, ...], on_b: tuple[Segment, ...]
) -> tuple[tuple[Segment, ...], tuple[Segment, ...]] | None:
    """Make a step at an inside corner where two parallels do not cross.

    Outside an outline the wider one keeps its square end, and the narrower one is cut where it meets that: so nowhere
    is there less than either width. Inside an outline the wider one is cut square to the narrower one's end.

    Returns:
        Both; the gap between them is to be closed by a line. None where they do not meet that way either.
    """
    if min(a.end_distance, b.start_distance) >= 0.0:
        if b.start_distance > a.end_distance:
            met = _met_by_ray(b.start, (b.start_tangent[1], -b.start_tangent[0]), b.start_distance, on_a)
            return None if met is None else (_to_place(on_a, met), on_b)
        met = _met_by_ray(a.end, (a.end_tangent[1], -a.end_tangent[0]), a.end_distance, on_b)
        return None if met is None else (on_a, _from_place(on_b, met))
    reach = 4.0 * max(abs(a.end_distance), abs(b.start_distance))
    if abs(b.start_distance) > abs(a.end_distance):
        square = (a.end_tangent[1], -a.end_tangent[0])
        met = _met_by_ray(on_a[-1].end, square, math.copysign(reach, b.start_distance), on_b)
        return None if met is None else (on_a, _from_place(on_b, met))
    square = (b.start_tangent[1], -b.start_tangent[0])
    met = _met_by_ray(on_b[0].start, square, math.copysign(reach, a.end_distance), on_a)
    return None if met is None else (_to_place(on_a, met), on_b)


def drawn_on(
    turn: float, a: Strand, b: Strand, on_a: tuple[Segment, ...], on_b: tuple[Segment, ...]
) -> tuple[tuple[Segment, ...], tuple[Segment, ...]] | None:
    """Draw the narrower of two parallels straight on until it cuts the wider one, at a corner that is no right angle.

    So a side seam's cut line runs on through a deep hem, and a hem ends on the straight line of a fold.

    Returns:
        Both; the gap between them is to be closed by a line. None where a mitre does it, where the corner is too
        slight for this, or where the two do not meet: then the corner is closed by :func:`gap`.
    """
    sin, cos = math.sin(turn), math.cos(turn)
    if cos <= 0.0 or abs(turn) < CORNER_TURN:
        return None
    ahead_a = (b.start_distance - a.end_distance * cos) / sin
    ahead_b = (a.end_distance - b.start_distance * cos) / sin
    if ahead_b < -COINCIDENT:
        met = _met_by_ray(on_a[-1].end, a.end_tangent, 2.0 * ahead_a, on_b)
        return None if met is None else (on_a, _from_place(on_b, met))
    if ahead_a < -COINCIDENT:
        met = _met_by_ray(on_b[0].start, b.start_tangent, -2.0 * ahead_b, on_a)
        return None if met is None else (_to_place(on_a, met), on_b)
    return None


def _met_by_ray(start: Point, direction: Point, length: float, line: tuple[Segment, ...]) -> Place | None:
    """Return where a straight line of some length meets a line, nearest to its own start."""
    ray = Line(start, _ahead(start, direction, length))
    met = [c for c in path_crossings(Path((ray,)), Path(line)) if c.kind != "overlap"]
    return met[0].b if met else None


def _from_place(line: tuple[Segment, ...], place: Place) -> tuple[Segment, ...]:
    return (section(line[place.index], place.t, 1.0), *line[place.index + 1 :])


def _to_place(line: tuple[Segment, ...], place: Place) -> tuple[Segment, ...]:
    return (*line[: place.index], section(line[place.index], 0.0, place.t))
