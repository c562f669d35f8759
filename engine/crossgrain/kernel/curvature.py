"""How lines bend: curvature, inflections, cusps, and cubics that are less than they seem."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.bounds import turning_points
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment
from crossgrain.language import _
from crossgrain.tolerances import COINCIDENT, STANDSTILL

Floats = NDArray[np.float64]


def curvature(segment: Segment, t: float) -> float:
    """Return the curvature of a segment at a parameter, in 1/mm.

    Positive where the line turns clockwise as seen on the page. Where the speed vanishes, at a cusp or at an end
    whose handle is drawn in, it is infinite with the sign it has beside that point, or 0 on a straight line.

    Args:
        segment: the segment.
        t: the parameter, 0 to 1.

    >>> from crossgrain.kernel.arc import ellipse_path
    >>> round(1.0 / curvature(ellipse_path(0.0, 0.0, 50.0, 50.0).segments[0], 0.0), 1)
    50.0
    """
    if isinstance(segment, Line):
        return 0.0
    return float(curvatures(np.array([segment.controls]), np.array([t]))[0])


def curvatures(controls: Floats, t: Floats) -> Floats:
    """Return the curvatures of many cubics, each at one parameter; as :func:`curvature`.

    Args:
        controls: control points, shape (n, 4, 2), mm.
        t: parameters, shape (n,).

    Returns:
        Curvatures in 1/mm, shape (n,).

    >>> curvatures(np.array([[(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (3.0, 0.0)]]), np.array([0.5])).tolist()
    [0.0]
    """
    first = np.diff(controls, axis=1)
    second = np.diff(first, axis=1)
    third = np.diff(second, axis=1)[:, 0]
    s, u = (1.0 - t)[:, None], t[:, None]
    velocity = 3.0 * (s * s * first[:, 0] + 2.0 * s * u * first[:, 1] + u * u * first[:, 2])
    acceleration = 6.0 * (s * second[:, 0] + u * second[:, 1])
    turn = _cross(velocity, acceleration)
    speed = np.hypot(velocity[:, 0], velocity[:, 1])
    size = np.hypot(first[..., 0], first[..., 1]).max(axis=1)
    moving = speed > STANDSTILL * size
    out = np.divide(turn, speed**3, out=np.zeros_like(turn), where=moving)
    # Beside a standstill velocity x acceleration starts as dt²/2 (acceleration x third derivative).
    beside = _cross(acceleration, 6.0 * third)
    still = ~moving & (np.abs(beside) > STANDSTILL * size * size)
    return np.where(still, np.copysign(np.inf, beside), out)


def inflections(segment: Segment) -> tuple[float, ...]:
    """Return where a segment stops turning one way and starts turning the other.

    Returns:
        Parameters strictly between 0 and 1, in order: none on lines and straight cubics, at most two on others. A
        cusp is none.

    >>> from crossgrain.kernel.segment import Cubic
    >>> inflections(Cubic((0.0, 0.0), (1.0, 1.0), (2.0, -1.0), (3.0, 0.0)))
    (0.5,)
    """
    if isinstance(segment, Line):
        return ()
    p, q, r, w = segment.controls
    a, b, c = _minus(q, p), _minus(r, q), _minus(w, r)
    size = max(math.hypot(*v) for v in (a, b, c))
    # velocity x acceleration = 18 ((1-t)² a×b + t(1-t) a×c + t² b×c), a quadratic in Bernstein form
    ab, ac, bc = _turn(a, b), _turn(a, c), _turn(b, c)
    if max(abs(ab), abs(ac), abs(bc)) <= STANDSTILL * size * size:
        return ()
    square, half, constant = ab - ac + bc, (ac - 2.0 * ab) / 2.0, ab
    discriminant = half * half - square * constant
    if discriminant <= 0.0:  # a double root is a cusp: the turn keeps its sign
        return ()
    k = -(half + math.copysign(math.sqrt(discriminant), half))
    roots = {top / below for top, below in ((k, square), (constant, k)) if abs(top) < abs(below)}
    still = cusps(segment)  # a cusp is a double root, which rounding may have pulled apart
    away = math.sqrt(STANDSTILL)
    return tuple(sorted(t for t in roots if 0.0 < t < 1.0 and all(abs(t - tip) > away for tip in still)))


def cusps(segment: Segment) -> tuple[float, ...]:
    """Return where the speed of a segment vanishes: cusps, tips of fold-backs, and ends with their handle drawn in.

    Returns:
        Parameters from 0 to 1, in order. None on a line, nor on a segment that is a single point.

    >>> from crossgrain.kernel.segment import Cubic
    >>> cusps(Cubic((0.0, 0.0), (100.0, 100.0), (0.0, 100.0), (100.0, 0.0)))
    (0.5,)
    """
    if isinstance(segment, Line):
        return ()
    p, q, r, w = segment.controls
    steps = [_minus(q, p), _minus(r, q), _minus(w, r)]
    size = max(math.hypot(*step) for step in steps)
    if size <= COINCIDENT:
        return ()
    candidates = {0.0, 1.0}
    for axis in (0, 1):
        values = [control[axis] for control in segment.controls]
        candidates.update(turning_points(*values))
        a, b, c = (step[axis] for step in steps)
        bend = a - 2.0 * b + c
        if bend != 0.0:  # a double root that rounding has lifted off the axis
            candidates.add(min(max((a - b) / bend, 0.0), 1.0))
    still = sorted(t for t in candidates if math.hypot(*segment.derivative(t)) <= STANDSTILL * 3.0 * size)
    out: list[float] = []
    for t in still:
        if not out or t - out[-1] > math.sqrt(STANDSTILL):
            out.append(t)
    return tuple(out)


def simplified(segment: Segment) -> Segment | None:
    """Return the plainest segment that draws the same.

    Args:
        segment: any segment.

    Returns:
        None for one that is a single point; a line for a cubic that runs straight from its start to its end; else
        the segment itself. Nothing moves by more than ``COINCIDENT``.

    Raises:
        GeometryError: a straight cubic that runs back over itself. It is refused, not mended: a spike in an outline
            is a slip of the hand, and only the maker knows where the line was to end.

    >>> from crossgrain.kernel.segment import Cubic
    >>> simplified(Cubic((0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (9.0, 0.0)))
    Line(start=(0.0, 0.0), end=(9.0, 0.0))
    """
    start, end = segment.start, segment.end
    reach = max(math.dist(start, control) for control in segment.controls)
    if not math.isfinite(reach):
        raise GeometryError(_("A line has a coordinate that is not a number."), advice=_("Draw the line again."))
    if reach <= COINCIDENT:
        return None
    if isinstance(segment, Line):
        return segment
    far = max(segment.controls, key=lambda control: math.dist(start, control))
    along = ((far[0] - start[0]) / reach, (far[1] - start[1]) / reach)
    if any(abs(_turn(along, _minus(control, start))) > COINCIDENT for control in segment.controls):
        return segment
    places = [along[0] * (x - start[0]) + along[1] * (y - start[1]) for x, y in segment.controls]
    tips = [segment.point(t) for t in turning_points(*places)]
    low, high = min(0.0, places[3]), max(0.0, places[3])
    travelled = [0.0, *(along[0] * (x - start[0]) + along[1] * (y - start[1]) for x, y in tips), places[3]]
    back = sum(abs(b - a) for a, b in itertools.pairwise(travelled)) - (high - low)
    if back > 2.0 * COINCIDENT:
        tip = max(tips, key=lambda point: max(math.dist(start, point), math.dist(end, point)))
        raise GeometryError(
            _("A straight line runs back over itself."),
            position=tip,
            advice=_("Shorten its handles, or remove the spike."),
        )
    return Line(start, end) if math.dist(start, end) > COINCIDENT else None


def screened(path: Path) -> Path:
    """Return a path that draws the same with each segment :func:`simplified` and single points left out.

    Raises:
        GeometryError: a straight cubic that runs back over itself, or a path that is a single point.

    >>> dot = Line((3.0, 0.0), (3.0, 0.0))
    >>> screened(Path((Line((0.0, 0.0), (3.0, 0.0)), dot))).segments
    (Line(start=(0.0, 0.0), end=(3.0, 0.0)),)
    """
    kept = [plain for plain in map(simplified, path.segments) if plain is not None]
    if not kept:
        raise GeometryError(
            _("A line is a single point."), position=path.start, advice=_("Draw it, or remove the empty path.")
        )
    return Path.joined(kept, closed=path.closed)


def node_turns(path: Path) -> Floats:
    """Return the turn at each node, from the exact directions in which its segments arrive and leave.

    For deciding whether a join is smooth. To find the corners of a hand-traced outline use
    :func:`crossgrain.kernel.corners.corners`, which looks farther.

    Args:
        path: the path; segments that are single points are looked past.

    Returns:
        Turns in radians, -π to π, positive clockwise as seen on the page, one for each of ``path.nodes``; 0 at the
        ends of an open path.

    >>> node_turns(Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])).round(4).tolist()
    [1.5708, 1.5708, 1.5708, 1.5708]
    """
    count = len(path.segments)
    arriving: list[Point | None] = [segment.end_tangent for segment in path.segments]
    leaving: list[Point | None] = [segment.start_tangent for segment in path.segments]
    out = np.zeros(len(path.nodes))
    for node in range(0 if path.closed else 1, count):
        before = _first(arriving[node - 1 - k] for k in range(count if path.closed else node))
        after = _first(leaving[(node + k) % count] for k in range(count if path.closed else count - node))
        if before is not None and after is not None:
            out[node] = math.atan2(_turn(before, after), before[0] * after[0] + before[1] * after[1])
    return out


def _first(tangents: Iterable[Point | None]) -> Point | None:
    return next((tangent for tangent in tangents if tangent is not None), None)


def _minus(p: Point, q: Point) -> Point:
    return (p[0] - q[0], p[1] - q[1])


def _turn(u: Point, v: Point) -> float:
    return u[0] * v[1] - u[1] * v[0]


def _cross(u: Floats, v: Floats) -> Floats:
    crossed: Floats = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    return crossed
