"""Where a line that runs down the plane is at each level, and how it slants there."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import GeometryError
from crossgrain.kernel.arrays import Complexes, rows_of
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.language import _
from crossgrain.tolerances import LEVEL_SLOPE, ON_CREASE

Floats = NDArray[np.float64]

_STEP = 2.0
"""Between places at which a curve is taken, mm: blended between two of them, a bend to a radius of 10 mm is followed
within 1e-4 mm where it does not lie level."""


class Course:
    """The ``x`` of a line as a function of ``y``, straight on past its ends.

    Between places taken from the line itself, with its own slant at each, Hermite's cubics are drawn, so that what is
    straight stays straight and what is bent stays bent.

    Args:
        line: an open path whose ``y`` grows from start to end.

    Raises:
        GeometryError: a line that does not go down all the way.

    >>> slanted = Course(Path((Line((0.0, 0.0), (5.0, 100.0)),)))
    >>> x, slant = slanted(np.array([50.0, 120.0]))
    >>> x.tolist(), slant.tolist()
    ([2.5, 6.0], [0.05, 0.05])
    """

    def __init__(self, line: Path) -> None:
        starts, ends = _stretches(line)
        (p, v), (q, w) = starts, ends
        fall = q.imag - p.imag
        if (fall <= 0.0).any():
            at = complex(p[int(np.argmin(fall))])
            raise GeometryError(_("A line does not go down all the way."), position=(at.real, at.imag))
        secant = (q.real - p.real) / fall
        self._y, self._end = np.append(p.imag, q.imag[-1]), q.imag
        self._x, self._step, self._rise = p.real, fall, q.real - p.real
        self._first, self._last = (_slant(direction, secant) * fall for direction in (v, w))

    def __call__(self, y: Floats, towards: Floats | float = 1.0) -> tuple[Floats, Floats]:
        """Return ``x`` and ``dx/dy`` at levels, each of their shape.

        Where the line has a corner, ``towards`` decides which of its two slants counts: that of the part below it if
        it is positive, above it if it is negative.
        """
        side = y + np.sign(towards) * ON_CREASE
        k = np.clip(np.searchsorted(self._y, side, side="right") - 1, 0, len(self._x) - 1)
        step, rise = self._step[k], self._rise[k]
        level = np.clip(y, self._y[0], self._y[-1])
        t = (level - self._y[k]) / step
        s = 1.0 - t
        # The chord, and what the line bends beside it: nothing where it is straight.
        a, b = self._first[k] - rise, self._last[k] - rise
        x = self._x[k] + t * rise + t * s * (a * s - b * t)
        slant = (rise + a * s * (1.0 - 3.0 * t) + b * t * (3.0 * t - 2.0)) / step
        return x + slant * (y - level), slant


def _slant(direction: Complexes, secant: Floats) -> Floats:
    level = direction.imag <= LEVEL_SLOPE * np.abs(direction)
    return np.where(level, secant, direction.real / np.where(level, 1.0, direction.imag))


def _stretches(line: Path) -> tuple[tuple[Complexes, Complexes], tuple[Complexes, Complexes]]:
    """Return places and directions at the starts and at the ends of short stretches of a line."""
    starts, ends = [], []
    for row, segment in zip(rows_of(line.segments), line.segments, strict=True):
        legs = np.diff(row)
        count = 1 if isinstance(segment, Line) else max(8, math.ceil(float(np.abs(legs).sum()) / _STEP))
        t = np.linspace(0.0, 1.0, count + 1)
        s = 1.0 - t
        place = s**3 * row[0] + 3.0 * s * s * t * row[1] + 3.0 * s * t * t * row[2] + t**3 * row[3]
        place[-1] = row[3]
        heading = s * s * legs[0] + 2.0 * s * t * legs[1] + t * t * legs[2]
        starts.append(np.stack([place[:-1], heading[:-1]]))
        ends.append(np.stack([place[1:], heading[1:]]))
    (p, v), (q, w) = np.concatenate(starts, axis=1), np.concatenate(ends, axis=1)
    return (p, v), (q, w)
