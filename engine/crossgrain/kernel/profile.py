"""Amounts known at stations, blended smoothly and without overshoot between them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import GeometryError
from crossgrain.language import _

Floats = NDArray[np.float64]


class Profile:
    """A smooth function through given values, monotone between them, constant outside the first and last.

    Piecewise cubic Hermite interpolation with the slopes of F. N. Fritsch and J. Butland, "A method for constructing
    local monotone piecewise cubic interpolants" (1984): a harmonic mean of the neighbouring slopes, zero at a station
    that is a peak or a hollow. The slope at the first and last station is zero, so that the constant parts outside
    join smoothly.

    Args:
        stations: where the values are known, mm along a line or any other measure, rising.
        values: the value at each.

    Raises:
        GeometryError: no station, stations that do not rise, or values that are not numbers.

    >>> taken_in = Profile([0.0, 200.0, 1000.0], [0.0, 12.0, 6.0])
    >>> amount, slope = taken_in(np.array([-5.0, 0.0, 100.0, 200.0, 1200.0]))
    >>> amount.tolist(), slope.tolist()[3]
    ([0.0, 0.0, 6.0, 12.0, 6.0], 0.0)
    """

    def __init__(self, stations: Sequence[float] | Floats, values: Sequence[float] | Floats) -> None:
        x, y = np.asarray(stations, dtype=np.float64), np.asarray(values, dtype=np.float64)
        if not len(x) or len(x) != len(y) or not (np.isfinite(x).all() and np.isfinite(y).all()):
            raise GeometryError(_("Amounts are blended between stations, but stations or amounts are missing."))
        if (np.diff(x) <= 0.0).any():
            raise GeometryError(
                _("Two stations lie at the same place, or out of order."), advice=_("Give each place once, in order.")
            )
        self._x, self._y = x, y
        step, rise = np.diff(x), np.diff(y)
        slope = np.zeros(len(x))
        if len(x) > 2:
            secant = rise / step
            left, right = secant[:-1], secant[1:]
            w_left, w_right = 2.0 * step[1:] + step[:-1], step[1:] + 2.0 * step[:-1]
            same = left * right > 0.0
            # Of slopes near the smallest float the quotient overflows, and the mean is rightly zero.
            with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
                mean = (w_left + w_right) / (w_left / left + w_right / right)
            slope[1:-1] = np.where(same, mean, 0.0)
        self._slope = slope

    def __call__(self, s: Floats) -> tuple[Floats, Floats]:
        """Return values and slopes at ``s``, each of its shape."""
        x, y, m = self._x, self._y, self._slope
        if len(x) == 1:
            return np.full_like(s, y[0]), np.zeros_like(s)
        k = np.clip(np.searchsorted(x, s, side="right") - 1, 0, len(x) - 2)
        step = x[k + 1] - x[k]
        t = (s - x[k]) / step
        inside = (t >= 0.0) & (t <= 1.0)
        t = np.clip(t, 0.0, 1.0)
        rise = y[k + 1] - y[k]
        a, b = m[k] * step, m[k + 1] * step
        # Hermite's cubic from the near end, so that stations are hit exactly and equal values stay equal.
        value = y[k] + t * (a + t * (3.0 * rise - 2.0 * a - b + t * (a + b - 2.0 * rise)))
        value = np.where(t == 1.0, y[k + 1], value)
        slope = (a + t * (2.0 * (3.0 * rise - 2.0 * a - b) + t * (3.0 * (a + b - 2.0 * rise)))) / step
        return value, np.where(inside, slope, 0.0)
