"""Lengths along lines, and places found by them."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import accumulate

import numpy as np
from kurbopy import CubicBez
from kurbopy import Point as KurboPoint
from numpy.typing import NDArray

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.path import Path
from crossgrain.kernel.quadrature import NO_RULE, inverted, measured
from crossgrain.kernel.segment import Line, Segment, section
from crossgrain.language import _
from crossgrain.tolerances import COINCIDENT, LENGTH_ACCURACY

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]


# --- One segment -----------------------------------------------------------------------------------------------


def segment_length(segment: Segment) -> float:
    """Return the length of a segment, in mm.

    Returns:
        The length, within 1e-9 mm on pieces of trousers; cusps, loops and fold-backs count in full.

    Raises:
        GeometryError: a coordinate that is not a number.

    >>> segment_length(Line((0.0, 0.0), (3.0, 4.0)))
    5.0
    """
    if isinstance(segment, Line):
        length = math.dist(segment.start, segment.end)
    else:
        length = _kurbo(segment.controls).arclen(LENGTH_ACCURACY)
    if not math.isfinite(length):
        raise _not_a_number()
    return float(length)


def parameter_at(segment: Segment, distance: float) -> float:
    """Return the parameter of the point ``distance`` mm along a segment from its start.

    Args:
        segment: the segment.
        distance: 0 to the segment's length, mm; up to ``COINCIDENT`` beyond either end is that end.

    Returns:
        The parameter whose distance along the segment is within 1e-9 mm of the one asked for; 0 on a segment
        without length.

    Raises:
        GeometryError: a distance off the segment.

    >>> parameter_at(Line((0.0, 0.0), (3.0, 4.0)), 2.5)
    0.5
    """
    chord = math.dist(segment.start, segment.end)
    if isinstance(segment, Line):
        _check_on(distance, chord)
        return min(max(distance / chord, 0.0), 1.0) if chord > 0.0 else 0.0
    curve = _kurbo(segment.controls)
    if not 0.0 < distance < chord:  # nearer than the chord is long, it lies on the segment for certain
        length = curve.arclen(LENGTH_ACCURACY)
        if not math.isfinite(length):
            raise _not_a_number()
        _check_on(distance, length)
        if distance <= 0.0 or length == 0.0:
            return 0.0
        if distance >= length:
            return 1.0
    return float(curve.inv_arclen(distance, LENGTH_ACCURACY))


# --- Many cubics at once ---------------------------------------------------------------------------------------


def lengths(controls: Floats) -> Floats:
    """Return the lengths of many cubics at once.

    Gauss-Legendre quadrature on ever more panels, until two rules agree. The few cubics that turn back on themselves or
    have a handle drawn in are measured one by one.

    Args:
        controls: control points, shape (n, 4, 2), mm.

    Returns:
        Lengths in mm, shape (n,), as accurate as :func:`segment_length`.

    Raises:
        GeometryError: a coordinate that is not a number.

    >>> lengths(np.array([[(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (3.0, 0.0)]])).round(9).tolist()
    [3.0]
    """
    return _measured(np.asarray(controls, dtype=float))[0]


def parameters_at(controls: Floats, distances: Floats) -> Floats:
    """Return the parameters of the points at given distances along many cubics at once.

    Args:
        controls: control points, shape (n, 4, 2) or, for many distances on one cubic, (4, 2), mm.
        distances: one for each cubic, shape (n,), mm; each 0 to the cubic's length.

    Returns:
        Parameters, shape (n,), as accurate as :func:`parameter_at`.

    Raises:
        GeometryError: a distance off its cubic, or a coordinate that is not a number.

    >>> cubic = np.array([(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (3.0, 0.0)])
    >>> parameters_at(cubic, np.array([0.75, 1.5])).round(9).tolist()
    [0.25, 0.5]
    """
    controls, wanted = np.asarray(controls, dtype=float), np.asarray(distances, dtype=float)
    if controls.ndim == 2:
        total, rules = _measured(controls[None])
        total, rules = np.broadcast_to(total, wanted.shape), np.broadcast_to(rules, wanted.shape)
        controls = np.broadcast_to(controls, (*wanted.shape, 4, 2))
    else:
        total, rules = _measured(controls)
    off = ~((wanted >= -COINCIDENT) & (wanted <= total + COINCIDENT))
    if off.any():
        worst = int(np.argmax(off))
        _check_on(float(wanted[worst]), float(total[worst]))
    wanted = np.clip(wanted, 0.0, total)
    t: Floats = np.divide(wanted, total, out=np.zeros_like(wanted), where=total > 0.0)
    inside = (wanted > 0.0) & (wanted < total)
    some = np.flatnonzero(inside)
    t[some], found = inverted(controls[some], wanted[some], t[some], rules[some])
    left = some[~found]
    for i, points, distance in zip(left.tolist(), controls[left].tolist(), wanted[left].tolist(), strict=True):
        t[i] = _kurbo(points).inv_arclen(distance, LENGTH_ACCURACY)
    return t


def _measured(controls: Floats) -> tuple[Floats, Ints]:
    """Return the lengths, and which rule of quadrature found each."""
    if not np.isfinite(controls).all():
        raise _not_a_number()
    found, rules = measured(controls)
    left = np.flatnonzero(rules == NO_RULE)
    found[left] = [_kurbo(points).arclen(LENGTH_ACCURACY) for points in controls[left].tolist()]
    return found, rules


def _kurbo(controls: Iterable[Iterable[float]]) -> CubicBez:
    return CubicBez(*(KurboPoint(*point) for point in controls))


# --- Places on a path ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A place on a path: parameter ``t``, 0 to 1, on the segment number ``index``, counted from 0."""

    index: int
    t: float


def path_length(path: Path) -> float:
    """Return the length of a path, in mm, within 1e-9 mm.

    >>> path_length(Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)]))
    40.0
    """
    return math.fsum(map(segment_length, path.segments))


def place_at(path: Path, distance: float) -> Place:
    """Find the place ``distance`` mm along a path from its start.

    Args:
        path: the path.
        distance: 0 to the path's length, mm. On a closed path any distance, which runs on past the start.

    Raises:
        GeometryError: a distance off an open path.

    >>> place_at(Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)]), 55.0)
    Place(index=1, t=0.5)
    """
    return places_at(path, [distance])[0]


def places_at(path: Path, distances: Iterable[float]) -> tuple[Place, ...]:
    """Find the places at many distances along one path; as :func:`place_at`, measuring the path only once."""
    each = [segment_length(segment) for segment in path.segments]
    ends = list(accumulate(each))
    total = ends[-1]
    found = []
    for distance in distances:
        if path.closed and math.isfinite(distance) and not -COINCIDENT <= distance <= total + COINCIDENT:
            distance = distance % total if total > 0.0 else 0.0
        _check_on(distance, total)
        index = min(bisect_left(ends, distance), len(each) - 1)
        along = min(max(distance - (ends[index] - each[index]), 0.0), each[index])
        found.append(Place(index, parameter_at(path.segments[index], along)))
    return tuple(found)


def distance_of(path: Path, place: Place) -> float:
    """Return how far along a path a place lies from its start, in mm, within 1e-9 mm."""
    return math.fsum(
        [*map(segment_length, path.segments[: place.index]), _part_length(path.segments[place.index], 0.0, place.t)]
    )


def point_at(path: Path, place: Place) -> Point:
    """Return the point at a place."""
    segment = path.segments[place.index]
    if place.t == 1.0:
        return segment.end
    return segment.point(place.t)


def point_at_share(path: Path, share: float) -> Point:
    """Return the point at a share of a path's length, 0 at its start and 1 at its end.

    >>> point_at_share(Path((Line((0.0, 0.0), (10.0, 0.0)), Line((10.0, 0.0), (10.0, 10.0)))), 0.75)
    (10.0, 5.0)
    """
    return point_at(path, place_at(path, share * path_length(path)))


def split_at(path: Path, place: Place) -> tuple[Path, Path]:
    """Cut an open path into the part before and the part after a place.

    A place nearer than ``COINCIDENT`` to a node is taken as that node, so that no sliver is left.

    Raises:
        GeometryError: the path is closed (see :func:`run`), or the place is one of its ends.

    >>> before, after = split_at(Path((Line((0.0, 0.0), (10.0, 0.0)),)), Place(0, 0.3))
    >>> before.end == after.start == (3.0, 0.0)
    True
    """
    if path.closed:
        raise GeometryError(_("A closed line does not fall in two when it is cut at one place."))
    return run(path, Place(0, 0.0), place), run(path, place, Place(len(path.segments) - 1, 1.0))


def run(path: Path, first: Place, last: Place) -> Path:
    """Return the part of a path from one place to another, in its direction of travel.

    A place nearer than ``COINCIDENT`` to a node is taken as that node, so that no sliver is left.

    Args:
        path: the path.
        first: where the part starts.
        last: where it ends. On a closed path a place at or before ``first`` is reached by running on past the
            path's start; the same place again gives the whole line, opened there.

    Returns:
        An open path.

    Raises:
        GeometryError: on an open path, ``last`` does not lie after ``first``.

    >>> square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    >>> run(square, Place(3, 0.5), Place(0, 0.5)).nodes
    ((0.0, 5.0), (0.0, 0.0), (5.0, 0.0))
    """
    count = len(path.segments)
    start, end = _settled(path, first), _settled(path, last)
    if start.t == 1.0 and (path.closed or start.index + 1 < count):
        start = Place((start.index + 1) % count, 0.0)
    if end.t == 0.0 and (path.closed or end.index > 0):
        end = Place((end.index - 1) % count, 1.0)
    if start < end:
        indices = range(start.index, end.index + 1)
    elif path.closed:
        indices = range(start.index, end.index + 1 + count)
    else:
        raise GeometryError(_("A part of a line ends where it starts, or before."), position=point_at(path, last))
    parts: list[Segment] = []
    for i in indices:
        t0 = start.t if i == indices[0] else 0.0
        t1 = end.t if i == indices[-1] else 1.0
        part = section(path.segments[i % count], t0, t1)
        if parts and part.start != parts[-1].end:  # the two cuts of one segment round differently
            part = (
                Line(parts[-1].end, part.end)
                if isinstance(part, Line)
                else type(part)(parts[-1].end, *part.controls[1:])
            )
        parts.append(part)
    return Path(tuple(parts))


def _settled(path: Path, place: Place) -> Place:
    """Move a place nearer than ``COINCIDENT`` to an end of its segment onto that end."""
    if not (0 <= place.index < len(path.segments) and 0.0 <= place.t <= 1.0):
        raise GeometryError(_("A place lies off its line."))
    segment = path.segments[place.index]
    if place.t in (0.0, 1.0):
        return place
    if _part_length(segment, 0.0, place.t) <= COINCIDENT:
        return Place(place.index, 0.0)
    if _part_length(segment, place.t, 1.0) <= COINCIDENT:
        return Place(place.index, 1.0)
    return place


def _part_length(segment: Segment, t0: float, t1: float) -> float:
    return segment_length(section(segment, t0, t1)) if t0 < t1 else 0.0


def _check_on(distance: float, length: float) -> None:
    if not -COINCIDENT <= distance <= length + COINCIDENT:
        raise GeometryError(
            _("A place {distance:.4g} mm along a line of {length:.4g} mm lies off the line.").format(
                distance=distance, length=length
            ),
            advice=_("Choose a distance from 0 to the length of the line."),
        )


def _not_a_number() -> GeometryError:
    return GeometryError(_("A line has a coordinate that is not a number."), advice=_("Draw the line again."))
