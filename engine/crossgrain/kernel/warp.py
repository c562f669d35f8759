"""Bend a line by a smooth map of the plane, and draw the result by few cubics."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from crossgrain.kernel.affine import Point
from crossgrain.kernel.arrays import cubics_of, point_of, rows_of
from crossgrain.kernel.fit import fit_curve
from crossgrain.kernel.segment import Line, Segment
from crossgrain.kernel.spans import Complexes, Floats, Ints
from crossgrain.tolerances import ACCURACY, BESIDE_STANDSTILL, COINCIDENT, LEAST_DIVISOR

Map = Callable[[Complexes, Complexes], tuple[Complexes, Complexes]]
"""Takes points and directions at them, as complex arrays of one shape; returns where both go. On a crease of the map
the side to which the direction points is the one that counts."""

_STRAIGHT_CHECKS: Floats = np.linspace(0.0, 1.0, 17)


class _Warped:
    """Segments under a map, as a curve whose runs are the segments."""

    def __init__(self, rows: Complexes, move: Map) -> None:
        p0, p1, p2, p3 = rows.T
        self._c0, self._c1, self._c2 = p0, 3.0 * (p1 - p0), 3.0 * (p2 - 2.0 * p1 + p0)
        self._c3 = p3 - p0 + 3.0 * (p1 - p2)
        self._move = move

    def __call__(self, run: Ints, u: Floats) -> tuple[Complexes, Complexes, Floats]:
        c0, c1, c2, c3 = (c[run][:, None] for c in (self._c0, self._c1, self._c2, self._c3))
        point = c0 + u * (c1 + u * (c2 + u * c3))
        velocity = c1 + u * (2.0 * c2 + u * (3.0 * c3))
        still = np.abs(velocity) < COINCIDENT
        if still.any():
            inside = np.where(u < 0.5, u + BESIDE_STANDSTILL, u - BESIDE_STANDSTILL)
            velocity = np.where(still, c1 + inside * (2.0 * c2 + inside * (3.0 * c3)), velocity)
        # At the end of a segment, look back into it: what lies beyond may be another part of a creased map.
        back = np.where(u == 1.0, -1.0, 1.0)
        moved, direction = self._move(point, back * velocity)
        direction = back * direction
        return moved, direction / np.maximum(np.abs(direction), LEAST_DIVISOR), u


def warped(segments: Sequence[Segment], move: Map, accuracy: float = ACCURACY) -> list[tuple[Segment, ...]]:
    """Move each segment by a map, keeping its nodes as nodes.

    Args:
        segments: segments with length, on each of which the map is smooth.
        move: the map and its derivative along a direction.
        accuracy: the distance from the true image that no cubic exceeds, mm, above 0.

    Returns:
        For each segment the segments that draw its image, starting and ending exactly where its ends go. A line
        whose image is straight stays one line. Smooth joins stay smooth where the map is.

    Raises:
        AccuracyError: an image that cannot be followed so closely.

    >>> def widen(point, direction): return point.real * 2 + 1j * point.imag, direction.real * 2 + 1j * direction.imag
    >>> warped([Line((1.0, 0.0), (1.0, 5.0))], widen)
    [(Line(start=(2.0, 0.0), end=(2.0, 5.0)),)]
    """
    rows = rows_of(segments)
    curve = _Warped(rows, move)
    count = len(rows)
    every: Ints = np.arange(count)
    image = curve(every, np.broadcast_to(_STRAIGHT_CHECKS, (count, len(_STRAIGHT_CHECKS))))[0]
    chord = image[:, -1:] - image[:, :1]
    beside = np.abs(((image - image[:, :1]) * chord.conj()).imag).max(axis=1) / np.maximum(
        np.abs(chord[:, 0]), COINCIDENT
    )
    lines = [isinstance(segment, Line) and beside[k] <= accuracy / 10.0 for k, segment in enumerate(segments)]
    fitted = fit_curve(curve, np.zeros(count), np.ones(count), accuracy, runs=np.flatnonzero(~np.array(lines)))
    at = np.cumsum(fitted.counts) - fitted.counts
    out: list[tuple[Segment, ...]] = []
    for k, line in enumerate(lines):
        if line:
            out.append((Line(point_of(image[k, 0]), point_of(image[k, -1])),))
        else:
            cubics = fitted.controls[at[k] : at[k] + fitted.counts[k]].copy()
            cubics[1:, 0] = cubics[:-1, 3]
            out.append(cubics_of(cubics.tolist()))
    return out


def moved_point(point: Point, move: Map) -> Point:
    """Return where a map takes one point."""
    return point_of(complex(move(np.array([complex(*point)]), np.array([1.0 + 0j]))[0][0]))
