"""The nearest point of a line."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.arrays import points_of, rows_of
from crossgrain.kernel.flatten import Flattened, flatten
from crossgrain.kernel.length import Place
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.tolerances import BESIDE_END, COARSE_SEARCH, COINCIDENT, FOOT_FIRST, PARAMETER_SETTLED

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Complexes = NDArray[np.complex128]
Polynomial = tuple[Complexes, Complexes, Complexes, Complexes]

_QUARTERS: Final = np.arange(4) / 4.0

_BLOCK = 1_000_000
"""How many distances from points to chords are held in memory at once: 8 MB a table."""


_STEADY = 0.1
"""A cubic whose every handle goes forward along the chord by this share of the longest has no hairpin."""


@dataclass(frozen=True, slots=True)
class Nearest:
    """The nearest point of a path, where on the path it lies, and how far away it is, mm."""

    place: Place
    point: Point
    distance: float


class NearestPoints(NamedTuple):
    """The nearest points of a path to many points, in their order.

    Args:
        indices: the numbers of the segments they lie on, shape (m,).
        t: their parameters there, shape (m,).
        points: the points themselves, shape (m, 2), mm.
        distances: how far each is from the point asked about, shape (m,), mm.
    """

    indices: Ints
    t: Floats
    points: Floats
    distances: Floats


def nearest(path: Path, point: Point) -> Nearest:
    """Find the point of a path nearest to a point.

    Args:
        path: the path.
        point: any point, mm.

    Returns:
        The nearest point over the whole path, its distance within 1e-9 mm of the least. Of several equally near the
        first along the path.

    Raises:
        GeometryError: the point is not a number.

    >>> nearest(Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)]), (5.0, -3.0))
    Nearest(place=Place(index=0, t=0.5), point=(5.0, 0.0), distance=3.0)
    """
    found = nearest_points(path, np.array([point], dtype=float))
    x, y = found.points[0].tolist()
    return Nearest(Place(int(found.indices[0]), float(found.t[0])), (x, y), float(found.distances[0]))


def nearest_points(path: Path, points: Floats) -> NearestPoints:
    """Find the points of a path nearest to many points; as :func:`nearest`.

    A coarse polyline, whose distance from the path is known, leaves only a few stretches where the nearest point can
    lie. On each the distance's derivative, a polynomial of degree 5, is brought to zero by Newton's method within
    a bracket.

    Args:
        path: the path.
        points: any points, shape (m, 2), mm.

    >>> square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    >>> nearest_points(square, np.array([(4.0, -3.0), (5.0, 12.0)])).distances.tolist()
    [3.0, 2.0]
    """
    points = np.asarray(points, dtype=float).reshape(-1, 2)
    if not np.isfinite(points).all():
        raise GeometryError(_("A point has a coordinate that is not a number."))
    rows = rows_of(path.segments)
    size = math.hypot(np.ptp(rows.real), np.ptp(rows.imag))
    accuracy = max(COARSE_SEARCH * size, COINCIDENT)
    vertices, indices, t = _with_tips(flatten(path, accuracy), rows)
    stop = np.where(indices[1:] == indices[:-1], t[1:], 1.0)
    owners, pieces = _candidates(vertices, points, accuracy)
    # Each stretch in quarters, so that two minima in one are told apart.
    owners, pieces, quarter = np.repeat(owners, 4), np.repeat(pieces, 4), np.tile(_QUARTERS, len(pieces))
    start, width = t[pieces], stop[pieces] - t[pieces]
    segments = indices[pieces]
    asked = np.ascontiguousarray(points).view(np.complex128)[:, 0]
    # As seen from the point itself, so that what is near it is near zero and loses no digits.
    away = rows[segments] - asked[owners, None]
    found, distances = _closest(away, start + quarter * width, start + (quarter + 0.25) * width)
    order = np.lexsort((found, segments, distances, owners))
    first = order[np.searchsorted(owners[order], np.arange(len(points)))]
    indices, t = segments[first], found[first]
    on = points_of(rows[indices], t)
    return NearestPoints(indices, t, on.view(np.float64).reshape(-1, 2), np.abs(on - asked))


def _polynomials(rows: Complexes) -> Polynomial:
    """Return the coefficients of cubics by the powers of their parameter, the constant first."""
    p, q, r, w = rows.T
    return p, 3.0 * (q - p), 3.0 * (p - 2.0 * q + r), w - p + 3.0 * (q - r)


def _with_tips(flat: Flattened, rows: Complexes) -> Flattened:
    """Add the places where a line is slowest to a polyline, so that no stretch holds both arms of a hairpin."""
    steps = np.diff(rows, axis=1)
    chord = rows[:, 3:] - rows[:, :1]
    forward = (steps * chord.conj()).real.min(axis=1)
    turning = np.flatnonzero(forward <= _STEADY * np.abs(steps).max(axis=1) * np.abs(chord[:, 0]))
    if not turning.size:
        return flat
    owners: list[int] = []
    tips: list[float] = []
    for i in turning.tolist():
        a, b, c = steps[i, 0], 2.0 * (steps[i, 1] - steps[i, 0]), steps[i, 0] - 2.0 * steps[i, 1] + steps[i, 2]
        slowest = np.roots([2.0 * abs(c) ** 2, 3.0 * _dot(b, c), 2.0 * _dot(a, c) + abs(b) ** 2, _dot(a, b)]).real
        for tip in slowest[(slowest > 0.0) & (slowest < 1.0)].tolist():
            owners.append(i)
            tips.append(tip)
    if not tips:
        return flat
    index, at = np.array(owners, dtype=np.intp), np.array(tips)
    indices, t = np.concatenate([flat.indices, index]), np.concatenate([flat.t, at])
    order = np.lexsort((t, indices))
    tipped = points_of(rows[index], at)
    points = np.concatenate([flat.points, tipped.view(np.float64).reshape(-1, 2)])
    return Flattened(points[order], indices[order], t[order])


def _dot(one: complex, other: complex) -> float:
    return float((one * other.conjugate()).real)


def _candidates(vertices: Floats, points: Floats, accuracy: float) -> tuple[Ints, Ints]:
    """Return which chords may lie before a point's nearest stretch, as (point, chord) numbers by point."""
    start, chord = vertices[:-1], np.diff(vertices, axis=0)
    square = np.einsum("kc,kc->k", chord, chord)
    inverse = np.divide(1.0, square, out=np.zeros_like(square), where=square > 0.0)
    owners, pieces = [], []
    step = max(1, _BLOCK // len(chord))
    for block in range(0, len(points), step):
        away = points[block : block + step, None] - start
        share = np.clip(np.einsum("mkc,kc->mk", away, chord) * inverse, 0.0, 1.0)
        distances = np.hypot(away[..., 0] - share * chord[:, 0], away[..., 1] - share * chord[:, 1])
        # The path lies within the accuracy of the chords: of the nearest one, and of each candidate.
        near = distances <= distances.min(axis=1, keepdims=True) + 2.0 * accuracy
        owner, piece = np.nonzero(near)
        owners.append(owner + block)
        pieces.append(piece)
    return np.concatenate(owners), np.concatenate(pieces)


def _closest(away: Complexes, low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """Return where between two parameters each cubic is nearest to zero, if its distance has one minimum there.

    Returns:
        The parameters, and the distances there; at an end that is no foot, ``FOOT_FIRST`` more.
    """
    a, b, c, d = _polynomials(away)
    b2, c2, d3 = 2.0 * c, 6.0 * d, 3.0 * d

    def slope(t: Floats) -> tuple[Floats, Floats]:
        velocity = b + t * (b2 + t * d3)
        z = a + t * (b + t * (c + t * d))
        rise = velocity.real**2 + velocity.imag**2 + (z.conj() * (b2 + t * c2)).real
        return (z.conj() * velocity).real, rise

    def distance(rows: Complexes, t: Floats) -> Floats:
        # By the control points, not by powers: to the last digit, for an end may lie a hair beside the foot.
        return np.abs(points_of(rows, t))

    # Where the line stands still the slope is zero whichever way the distance goes: it is looked at beside it, too.
    beside = BESIDE_END * (high - low)
    falls = (slope(low)[0] < 0.0) | (slope(low + beside)[0] < 0.0)
    rises = (slope(high)[0] > 0.0) | (slope(high - beside)[0] > 0.0)
    inside = falls & rises
    # Either end is tried as well: a hairpin may go away from the point and come back to it.
    nearest_one = low.copy()
    least = distance(away, low)
    least += FOOT_FIRST
    _take_nearer(nearest_one, least, high, distance(away, high) + FOOT_FIRST)
    some = np.flatnonzero(inside)
    if some.size:
        a, b, c, d, b2, c2, d3 = (each[some] for each in (a, b, c, d, b2, c2, d3))
        found = _settled(slope, low[some], high[some])
        nearer, gap = nearest_one[some], least[some]
        _take_nearer(nearer, gap, found, distance(away[some], found))
        nearest_one[some], least[some] = nearer, gap
    return nearest_one, least


def _take_nearer(t: Floats, least: Floats, other: Floats, distances: Floats) -> None:
    nearer = distances < least
    t[nearer], least[nearer] = other[nearer], distances[nearer]


def _settled(slope: Callable[[Floats], tuple[Floats, Floats]], low: Floats, high: Floats) -> Floats:
    """Return where a slope that rises between two parameters is zero, by Newton's method within the bracket."""
    t = (low + high) / 2.0
    for _round in range(60):  # Newton needs four or five; halving alone would need fifty
        value, rise = slope(t)
        low, high = np.where(value < 0.0, t, low), np.where(value > 0.0, t, high)
        step = t - np.divide(value, rise, out=np.full_like(value, np.inf), where=rise > 0.0)
        after = np.where((step >= low) & (step <= high), step, (low + high) / 2.0)
        done = np.abs(after - t) <= PARAMETER_SETTLED  # Newton has doubled the digits once more than this
        t = np.where(value == 0.0, t, after)
        if (done | (value == 0.0)).all():
            break
    return t
