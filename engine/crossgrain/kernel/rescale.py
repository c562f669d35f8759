"""Lengths along one line as lengths along another, stretch by stretch."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from crossgrain.errors import GeometryError
from crossgrain.kernel.spans import Floats
from crossgrain.language import _

_STEEPEST = 3.0
"""A slope at an end of at most so many times that of the chord keeps a cubic rising: Fritsch and Carlson, "Monotone
piecewise cubic interpolation" (1980)."""


class Rescale:
    """A smooth rising function that takes given lengths to given lengths.

    At its ends it neither stretches nor shrinks, and outside them goes on so: what lies at an end of a strip keeps its
    angles. Between stretches its slope is the harmonic mean of theirs, after F. N. Fritsch and J. Butland (1984), so
    that it rises everywhere. Only a stretch at an end that shrinks to less than a third has a lesser slope there.

    Args:
        old: where stretches meet, mm along the one line, rising.
        new: where they meet along the other, mm, rising.

    Raises:
        GeometryError: a stretch of no length.

    >>> band = Rescale([0.0, 100.0, 200.0], [0.0, 110.0, 205.0])
    >>> band(np.array([-1.0, 0.0, 100.0, 200.0, 203.0]))[0].round(9).tolist()
    [-1.0, 0.0, 110.0, 205.0, 208.0]
    """

    def __init__(self, old: Sequence[float] | Floats, new: Sequence[float] | Floats) -> None:
        self._x, self._y = np.asarray(old, dtype=np.float64), np.asarray(new, dtype=np.float64)
        step, rise = np.diff(self._x), np.diff(self._y)
        if len(step) < 1 or (step <= 0.0).any() or (rise <= 0.0).any():
            raise GeometryError(
                _("A stretch of the edge has no length, or would have none."),
                advice=_("Look at the edges that it follows."),
            )
        secant = rise / step
        slope = np.ones(len(self._x))
        slope[[0, -1]] = np.minimum(1.0, _STEEPEST * secant[[0, -1]])
        if len(step) > 1:
            left, right = 2.0 * step[1:] + step[:-1], step[1:] + 2.0 * step[:-1]
            slope[1:-1] = (left + right) / (left / secant[:-1] + right / secant[1:])
        # Kept as what is added to the length itself: where nothing changes, nothing is.
        self._added, self._slope = self._y - self._x, slope - 1.0

    def __call__(self, s: Floats) -> tuple[Floats, Floats]:
        """Return the new lengths and the stretch there, each of the shape of ``s``."""
        x = self._x
        k = np.clip(np.searchsorted(x, s, side="right") - 1, 0, len(x) - 2)
        step = x[k + 1] - x[k]
        t = np.clip((s - x[k]) / step, 0.0, 1.0)
        p, rise = self._added[k], self._added[k + 1] - self._added[k]
        a, b = self._slope[k] * step, self._slope[k + 1] * step
        added = p + t * (a + t * (3.0 * rise - 2.0 * a - b + t * (a + b - 2.0 * rise)))
        added = np.where(t == 1.0, self._added[k + 1], added)
        slope = (a + t * (2.0 * (3.0 * rise - 2.0 * a - b) + t * (3.0 * (a + b - 2.0 * rise)))) / step
        return s + added, 1.0 + np.where((s >= x[0]) & (s <= x[-1]), slope, 0.0)

    def evenly(self, s: Floats) -> tuple[Floats, Floats]:
        """Return the new lengths as if each stretch became longer alike all along it, and the stretch there.

        So a mark keeps its share of its stretch.

        >>> band = Rescale([0.0, 100.0, 200.0], [0.0, 110.0, 205.0])
        >>> band.evenly(np.array([50.0, 120.0, 203.0]))[0].round(9).tolist()
        [55.0, 129.0, 208.0]
        """
        x = self._x
        k = np.clip(np.searchsorted(x, s, side="right") - 1, 0, len(x) - 2)
        slope = (self._added[k + 1] - self._added[k]) / (x[k + 1] - x[k])
        inside = np.clip(s, x[0], x[-1])
        return s + self._added[k] + slope * (inside - x[k]), 1.0 + np.where(s == inside, slope, 0.0)
