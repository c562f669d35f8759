"""Draw few smooth cubics through samples of a curve."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.arrays import cubics_of
from crossgrain.kernel.fit import fit_curve
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.kernel.spans import Complexes, Floats, Ints
from crossgrain.language import _
from crossgrain.tolerances import ACCURACY, COINCIDENT


def through_samples(
    samples: Sequence[Point], start_tangent: Point, end_tangent: Point, accuracy: float = ACCURACY
) -> Path:
    """Draw the fewest cubics that pass the samples of a smooth curve, each joined smoothly to the next.

    The curve between samples is taken as the cubic with the slopes that the neighbouring samples suggest, so samples
    should lie close where the curve bends: five to a quarter turn are enough for 0.01 mm on a hand-sized curve.

    Args:
        samples: at least two points along the curve, in order, mm. Those that repeat the one before are passed over.
        start_tangent: the direction in which the curve leaves the first sample, any length above 0.
        end_tangent: the direction in which it arrives at the last.
        accuracy: the distance from the samples that no cubic exceeds, mm, above 0. It must be larger than the noise
            of the samples: noise is followed as if it were shape.

    Returns:
        An open path from the first sample to the last, with these tangents at its ends.

    Raises:
        GeometryError: fewer than two different samples, or a tangent without direction.
        AccuracyError: the samples are too rough to be followed so closely.

    >>> import math
    >>> arc = [(100 * math.sin(a / 50), -100 * math.cos(a / 50)) for a in range(51)]
    >>> path = through_samples(arc, (1.0, 0.0), (math.cos(1.0), math.sin(1.0)), 0.05)
    >>> len(path.segments), path.start
    (1, (0.0, -100.0))
    """
    points = np.array([complex(x, y) for x, y in samples], dtype=np.complex128)
    if len(points):
        points = points[np.append(True, np.abs(np.diff(points)) > COINCIDENT)]
    tangents = np.array([complex(*start_tangent), complex(*end_tangent)])
    if len(points) < 2 or not np.isfinite(points).all() or not (np.abs(tangents) > 0.0).all():
        raise GeometryError(
            _("A curve needs two different samples and a direction at both ends."),
            advice=_("Give at least two points, and tangents that are not zero."),
        )
    curve = _Sampled(points, tangents / np.abs(tangents))
    if curve.is_straight:
        return Path((Line(_point(points[0]), _point(points[-1])),))
    controls = fit_curve(curve, np.array([0.0]), np.array([curve.length]), accuracy).controls
    controls[1:, 0] = controls[:-1, 3]
    return Path(cubics_of(controls.tolist()))


def _point(z: complex) -> Point:
    return (float(z.real), float(z.imag))


class _Sampled:
    """Samples joined by Hermite's cubics over their chord length, as one run."""

    def __init__(self, points: Complexes, ends: Complexes) -> None:
        self._points = points
        self._s: Floats = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(points)))])
        self.length = float(self._s[-1])
        self._slopes: Complexes = np.gradient(points, self._s) if len(points) > 2 else ends.copy()
        self._slopes[[0, -1]] = ends
        slopes = self._slopes
        chord = (points[-1] - points[0]) / self.length
        self.is_straight = bool((np.abs(slopes - 1.0 * chord) < COINCIDENT).all())

    def __call__(self, run: Ints, u: Floats, /) -> tuple[Complexes, Complexes, Floats]:
        k = np.clip(np.searchsorted(self._s, u, side="right") - 1, 0, len(self._s) - 2)
        step = self._s[k + 1] - self._s[k]
        t = (u - self._s[k]) / step
        p, q = self._points[k], self._points[k + 1]
        a, b = self._slopes[k] * step, self._slopes[k + 1] * step
        c2, c3 = 3.0 * (q - p) - 2.0 * a - b, a + b - 2.0 * (q - p)
        velocity = (a + t * (2.0 * c2 + t * (3.0 * c3))) / step
        return p + t * (a + t * (c2 + t * c3)), velocity / np.maximum(np.abs(velocity), COINCIDENT), u
