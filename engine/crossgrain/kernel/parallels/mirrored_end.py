"""The end of an allowance that is folded up: its side is the mirror image of what it comes to lie on.

Cloth outside a fold is turned over it. Where the fold is a straight line, that is a reflection. A curved fold has no
isometry of the whole; what cloth does there is that each thread square to the fold is turned over its own foot. So the
map is ``q → 2 f(q) − q`` with ``f(q)`` the foot of ``q`` on the fold: the reflection about the tangent at the foot,
piece by piece. Beyond its end the fold goes on straight.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from crossgrain.errors import CollapseError
from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.length import parameter_at, segment_length
from crossgrain.kernel.meetings.nearest import nearest, nearest_points
from crossgrain.kernel.parallels.joins import cut_at_crossing, solid
from crossgrain.kernel.parallels.parallel import Strand
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment, section, started_at
from crossgrain.kernel.spans import Complexes
from crossgrain.kernel.warp import warped
from crossgrain.language import _
from crossgrain.tolerances import COINCIDENT, SMOOTH_TURN

_SPARE: Final = 1.25
"""What is mirrored reaches this many times as deep as the fold's allowance, so that it crosses its edge."""

_REACH: Final = 4.0
"""Beyond its corner the fold goes on straight by so many greater widths: a leg that leans by 70° is still met."""

Bodies = tuple[tuple[Segment, ...], tuple[Segment, ...], tuple[Segment, ...]]


def mirrored(a: Strand, b: Strand) -> Bodies:
    """Let ``a`` end on the fold and go on as its own mirror image, as far out as ``b`` lies.

    Args:
        a: the parallel that arrives at the corner, as a leg's side.
        b: the parallel of the fold, which leaves it, as a hem.

    Returns:
        What is left of ``a``, its image, what is left of ``b``.

    Raises:
        CollapseError: ``a`` is shorter than the fold's allowance is deep, or does not meet the fold.

    >>> a = Strand((Line((9.0, -50.0), (9.0, 0.0)),), (0.0, -50.0), (0.0, 0.0), (0.0, 1.0), (0.0, 1.0), 9.0, 9.0, ())
    >>> hem = (Line((0.0, 0.0), (-50.0, 0.0)),)
    >>> b = Strand((Line((0.0, 20.0), (-50.0, 20.0)),), (0, 0), (-50.0, 0.0), (-1.0, 0.0), (-1.0, 0.0), 20.0, 20.0, hem)
    >>> mirrored(a, b)[1]
    (Line(start=(9.0, 0.0), end=(9.0, 20.0)),)
    """
    depth = abs(b.start_distance)
    arriving, foot = _ended_on_fold(a, b)
    if depth <= COINCIDENT:
        return arriving, (Line(foot, b.segments[0].start),), b.segments
    fold = _fold(b)
    side = math.copysign(1.0, b.start_distance)
    source = _up_to(arriving, fold, _SPARE * depth)
    image = _image(source, fold, side)
    start = b.segments[0].start
    begun = (Line(_ahead(start, b.start_tangent, -_reach(a, b)), start), *b.segments)
    cut = cut_at_crossing(image, begun)
    if cut is None:
        raise CollapseError(
            _(
                "The edge beside a mirrored corner is shorter than the {depth:.4g} mm that are turned up over it."
            ).format(depth=depth),
            position=a.end,
            advice=_("Make the allowance shallower than that edge is long, or choose another style for the corner."),
        )
    return arriving, cut[0], cut[1]


def _reach(a: Strand, b: Strand) -> float:
    return _REACH * max(abs(a.end_distance), abs(b.start_distance))


def _ended_on_fold(a: Strand, b: Strand) -> tuple[tuple[Segment, ...], Point]:
    """Cut ``a``, or let it go straight on, where it meets the fold as that goes on beyond its corner."""
    if abs(a.end_distance) <= COINCIDENT:
        return a.segments, a.segments[-1].end
    reach = _reach(a, b)
    start = a.segments[-1].end
    ray = Line(_ahead(b.start, b.start_tangent, -reach), b.start)
    cut = cut_at_crossing((*a.segments, Line(start, _ahead(start, a.end_tangent, reach))), (ray,))
    if cut is None:
        raise CollapseError(
            _("A mirrored corner does not meet the line of its fold."),
            position=a.end,
            advice=_("Choose another style for the corner."),
        )
    arriving = solid(cut[0])
    return arriving, arriving[-1].end


def _fold(b: Strand) -> Path:
    """Return the smooth run with which the fold begins, gone on straight at both ends."""
    run = [b.beside[0]]
    for segment in b.beside[1:]:
        arriving, leaving = run[-1].end_tangent, segment.start_tangent
        if arriving is None or leaving is None or math.dist(arriving, leaving) > SMOOTH_TURN:
            break
        run.append(segment)
    reach = 10.0 * (abs(b.start_distance) + sum(map(segment_length, run[:1])))
    last = run[-1].end_tangent or b.start_tangent
    before = Line(_ahead(b.start, b.start_tangent, -reach), b.start)
    after = Line(run[-1].end, _ahead(run[-1].end, last, reach))
    return Path.joined((before, *run, after))


def _up_to(arriving: tuple[Segment, ...], fold: Path, depth: float) -> tuple[Segment, ...]:
    """Return the line from the fold back up until it is so deep inside; all of it where it is not."""
    out: list[Segment] = []
    for segment in reversed(arriving):
        back = segment.reversed()
        found = nearest(fold, back.end).distance
        if found < depth:
            out.append(back)
            continue
        low, high = 0.0, segment_length(back)
        while high - low > 0.25 * depth:
            middle = (low + high) / 2.0
            deep = nearest(fold, back.point(parameter_at(back, middle))).distance >= depth
            low, high = (low, middle) if deep else (middle, high)
        out.append(section(back, 0.0, min(parameter_at(back, high), 1.0)))
        break
    return tuple(out)


def _image(source: tuple[Segment, ...], fold: Path, side: float) -> tuple[Segment, ...]:
    """Return the mirror image of a line about a fold."""
    feet = nearest_points(fold, np.array([segment.end for segment in source]))
    straight = all(index == 0 or (index == 1 and isinstance(fold.segments[1], Line)) for index in feet.indices.tolist())
    if straight:
        first = fold.segments[0]
        tangent = first.start_tangent
        assert tangent is not None  # the fold goes on by more than nothing
        (x, y), (tx, ty) = first.end, tangent
        a, b, d = 2.0 * tx * tx - 1.0, 2.0 * tx * ty, 2.0 * ty * ty - 1.0
        mirror = Affine(a, b, b, d, x - a * x - b * y, y - b * x - d * y)
        return tuple(segment.mapped(mirror) for segment in source)
    controls = np.array([[complex(*control) for control in segment.controls] for segment in fold.segments])

    def turned_over(point: Complexes, direction: Complexes) -> tuple[Complexes, Complexes]:
        if not point.size:
            return point, direction
        found = nearest_points(fold, np.stack([point.real.ravel(), point.imag.ravel()], axis=1))
        rows, t = controls[found.indices], np.asarray(found.t)
        s = 1.0 - t
        p, q, r, w = rows.T
        foot = s**3 * p + 3 * s * s * t * q + 3 * s * t * t * r + t**3 * w
        velocity = 3.0 * (s * s * (q - p) + 2.0 * s * t * (r - q) + t * t * (w - r))
        bend = 6.0 * (s * (r - 2.0 * q + p) + t * (w - 2.0 * r + q))
        speed = np.abs(velocity)
        tangent = velocity / speed
        curvature = (velocity.conj() * bend).imag / speed**3
        flat, way = point.ravel(), direction.ravel()
        beside = ((flat - foot) * (-1j * tangent).conj()).real
        walked = (way * tangent.conj()).real / (1.0 + curvature * beside)
        moved: Complexes = 2.0 * foot - flat
        heading: Complexes = 2.0 * walked * tangent - way
        return moved.reshape(point.shape), heading.reshape(point.shape)

    out: list[Segment] = []
    for part in (part for parts in warped(source, turned_over) for part in parts):
        # Where two segments meet, each finds the fold for itself: to the last digit it may be another place.
        out.append(started_at(part, out[-1].end) if out else part)
    return tuple(out)


def _ahead(point: Point, direction: Point, distance: float) -> Point:
    return (point[0] + direction[0] * distance, point[1] + direction[1] * distance)
