"""Bend a line by a smooth map of the plane, and draw the result by few cubics."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from crossgrain.kernel.affine import Point
from crossgrain.kernel.arrays import cubics_of, point_of, rows_of
from crossgrain.kernel.fit import fit_curve
from crossgrain.kernel.parallels.parallel_curve import ParallelCurve
from crossgrain.kernel.segment import Line, Segment
from crossgrain.kernel.spans import Complexes, Floats, Ints
from crossgrain.tolerances import ACCURACY, COINCIDENT, LEAST_DIVISOR

Map = Callable[[Complexes, Complexes], tuple[Complexes, Complexes]]
"""Takes points and directions at them, as complex arrays of one shape; returns where both go. On a crease of the map
the side to which the direction points is the one that counts."""

_STRAIGHT_CHECKS: Floats = np.linspace(0.0, 1.0, 17)


class _Warped:
    """Segments under a map, as a curve whose runs are the segments.

    The parallel at no distance lends its parameter, which gives tight turns the room they need to be seen.
    """

    def __init__(self, rows: Complexes, move: Map) -> None:
        every: Ints = np.arange(len(rows))
        self._line = ParallelCurve(rows, np.zeros(len(rows)))
        self.start, self.end, _home = self._line.lay_runs(every, every)
        self._move = move

    def __call__(self, run: Ints, u: Floats) -> tuple[Complexes, Complexes, Floats]:
        point, tangent, parameter = self._line(run, u)
        # At the end of a segment, look back into it: what lies beyond may be another part of a creased map.
        back = np.where(u >= self.end[run][:, None], -1.0, 1.0)
        moved, direction = self._move(point, back * tangent)
        direction = back * direction
        return moved, direction / np.maximum(np.abs(direction), LEAST_DIVISOR), parameter


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
    image = curve(every, curve.start[:, None] + (curve.end - curve.start)[:, None] * _STRAIGHT_CHECKS)[0]
    chord = image[:, -1:] - image[:, :1]
    beside = np.abs(((image - image[:, :1]) * chord.conj()).imag).max(axis=1) / np.maximum(
        np.abs(chord[:, 0]), COINCIDENT
    )
    lines = [isinstance(segment, Line) and beside[k] <= accuracy / 10.0 for k, segment in enumerate(segments)]
    fitted = fit_curve(curve, curve.start, curve.end, accuracy, runs=np.flatnonzero(~np.array(lines)))
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
