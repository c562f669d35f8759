"""The nearest point of a line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.flatten import Flattened, flatten
from crossgrain.kernel.length import Place
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.tolerances import BESIDE_END, COARSE_SEARCH, COINCIDENT, PARAMETER_SETTLED

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

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
    controls = np.array([segment.controls for segment in path.segments])
    size = float(np.hypot(*np.ptp(controls.reshape(-1, 2), axis=0)))
    accuracy = max(COARSE_SEARCH * size, COINCIDENT)
    vertices, indices, t = _with_tips(flatten(path, accuracy), controls)
    stop = np.where(indices[1:] == indices[:-1], t[1:], 1.0)
    owners, pieces = _candidates(vertices, points, accuracy)
    # Each stretch in quarters, so that two minima in one are told apart.
    owners, pieces, quarter = (
        array.ravel() for array in np.broadcast_arrays(owners[:, None], pieces[:, None], np.arange(4))
    )
    start, width = t[pieces], stop[pieces] - t[pieces]
    segments = indices[pieces]
    found = _closest(
        controls[segments], points[owners], start + quarter / 4.0 * width, start + (quarter + 1) / 4.0 * width
    )
    on = _at(controls[segments], found)
    distances = np.hypot(*(on - points[owners]).T)
    order = np.lexsort((found, segments, distances, owners))
    first = order[np.searchsorted(owners[order], np.arange(len(points)))]
    return NearestPoints(segments[first], found[first], on[first], distances[first])


def _with_tips(flat: Flattened, controls: Floats) -> Flattened:
    """Add the places where a line is slowest to a polyline, so that no stretch holds both arms of a hairpin."""
    steps = np.diff(controls, axis=1)
    chord = controls[:, 3:] - controls[:, :1]
    owners: list[int] = []
    tips: list[float] = []
    forward = (steps * chord).sum(axis=2).min(axis=1)
    longest = np.sqrt((steps**2).sum(axis=2).max(axis=1) * (chord**2).sum(axis=2)[:, 0])
    for i in np.flatnonzero(forward <= _STEADY * longest).tolist():
        p, q, r = steps[i]
        a, b, c = p, 2.0 * (q - p), p - 2.0 * q + r
        slowest = np.roots([2.0 * (c @ c), 3.0 * (b @ c), 2.0 * (a @ c) + b @ b, a @ b]).real
        for tip in slowest[(slowest > 0.0) & (slowest < 1.0)].tolist():
            owners.append(i)
            tips.append(tip)
    if not tips:
        return flat
    index, at = np.array(owners, dtype=np.intp), np.array(tips)
    indices, t = np.concatenate([flat.indices, index]), np.concatenate([flat.t, at])
    order = np.lexsort((t, indices))
    points = np.concatenate([flat.points, _at(controls[index], at)])
    return Flattened(points[order], indices[order], t[order])


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


def _closest(controls: Floats, points: Floats, low: Floats, high: Floats) -> Floats:
    """Return where between two parameters each cubic is nearest to its point, if its distance has one minimum there."""
    first = np.diff(controls, axis=1)
    second = np.diff(first, axis=1)

    def slope(t: Floats) -> tuple[Floats, Floats]:
        away = _at(controls, t) - points
        s, u = (1.0 - t)[:, None], t[:, None]
        velocity = 3.0 * (s * s * first[:, 0] + 2.0 * s * u * first[:, 1] + u * u * first[:, 2])
        acceleration = 6.0 * (s * second[:, 0] + u * second[:, 1])
        rise = np.einsum("mc,mc->m", velocity, velocity) + np.einsum("mc,mc->m", away, acceleration)
        return np.einsum("mc,mc->m", away, velocity), rise

    at_low, at_high = slope(low)[0], slope(high)[0]
    # Where the line stands still the slope is zero whichever way the distance goes: it is looked at beside it, too.
    beside = BESIDE_END * (high - low)
    falls = (at_low < 0.0) | (slope(low + beside)[0] < 0.0)
    rises = (at_high > 0.0) | (slope(high - beside)[0] > 0.0)
    inside = falls & rises
    ends = low, high
    low, high = low.copy(), high.copy()
    t = (low + high) / 2.0
    for _round in range(60):  # Newton needs four or five; halving alone would need fifty
        value, rise = slope(t)
        low, high = np.where(value < 0.0, t, low), np.where(value > 0.0, t, high)
        step = t - np.divide(value, rise, out=np.full_like(value, np.inf), where=rise > 0.0)
        after = np.where((step >= low) & (step <= high), step, (low + high) / 2.0)
        done = np.abs(after - t) <= PARAMETER_SETTLED  # Newton has doubled the digits once more than this
        t = np.where(value == 0.0, t, after)
        if (done | ~inside | (value == 0.0)).all():
            break
    # Either end is tried as well: a hairpin may go away from the point and come back to it.
    tried = np.stack([np.where(inside, t, ends[0]), *ends])
    distances = np.stack([np.hypot(*(_at(controls, one) - points).T) for one in tried])
    nearest_one: Floats = np.take_along_axis(tried, distances.argmin(axis=0)[None], axis=0)[0]
    return nearest_one


def _at(controls: Floats, t: Floats) -> Floats:
    s = 1.0 - t
    basis = np.stack([s**3, 3.0 * s * s * t, 3.0 * s * t * t, t**3], axis=1)
    found: Floats = np.einsum("mk,mkc->mc", basis, controls)
    return found
