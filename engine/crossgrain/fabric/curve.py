"""The curve of a cloth: how far it stretches under a tension, drawn through what was read at the bench.

Through (0, 0) and every reading, rising, and stiffening as far as the readings stiffen. Between readings it is a cubic
in the logarithms of both, with the slopes of a parabola through three readings, limited as F. N. Fritsch and R. E.
Carlson, "Monotone Piecewise Cubic Interpolation" (1980) show is enough for it to rise. In logarithms a power law is
straight, and other laws by which cloth is described bend little, so few readings go far.

Below the first reading the bend goes on until strain and tension rise in proportion: cloth that is hardly pulled has a
firmness, neither none nor endless. Beyond the last the slope goes on, and the curve says that nothing was tested there.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from crossgrain.errors import ParameterError
from crossgrain.fabric.estimate import Estimate
from crossgrain.language import _
from crossgrain.tolerances import ROUND_OFF

LONE_SLOPE = 0.7
"""The slope in logarithms that is taken where a single reading is all there is: between cloth that stretches in
proportion (1) and cloth that stiffens as the square (0.5). Only bands are drawn with it."""

_LEAST_SLOPE = 0.02
"""Before its first reading and beyond its last a cloth stretches a little: standing still cannot be turned round."""

_MOST_SLOPE = 2.0
"""Below its first reading no cloth softens faster than that, whatever two readings close together seem to say."""

_BAND_READINGS = 2.0
"""A band is at least so many reading errors wide on either side: nineteen of twenty readings lie within."""

_ROUNDS = 80


@dataclass(frozen=True, slots=True)
class Curve:
    """A rising curve through (0, 0) and two or more points.

    Args:
        points: tension, N/cm, and strain, a ratio; both above 0 and rising from point to point. Points that fall back
            by no more than the reading error are taken together.
        reading_error: the standard deviation of a strain that was read, a ratio.

    Raises:
        ParameterError: fewer than two points, or points that do not rise.

    >>> curve = Curve(((1.0, 0.05), (4.0, 0.10)))
    >>> round(curve.strain_at(2.0), 4), round(curve.tension_at(0.10), 9)
    (0.0707, 4.0)
    """

    points: tuple[tuple[float, float], ...]
    reading_error: float = 0.003
    _x: tuple[float, ...] = field(init=False, repr=False, compare=False)
    _y: tuple[float, ...] = field(init=False, repr=False, compare=False)
    _slope: tuple[float, ...] = field(init=False, repr=False, compare=False)
    _bend: float = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        points = pooled(self.points, self.reading_error)
        if len(points) < 2:
            raise ParameterError(
                _("A curve needs readings at two loads or more that stretch the cloth differently."),
                advice=_("Hang a second load, about half of the first, and read the length again."),
            )
        self._draw(points)

    def _draw(self, points: Sequence[tuple[float, float]]) -> None:
        x, y = tuple(math.log(t) for t, _e in points), tuple(math.log(e) for _t, e in points)
        slopes, bend = _slopes(x, y)
        for name, value in (("_x", x), ("_y", y), ("_slope", slopes), ("_bend", bend)):
            object.__setattr__(self, name, value)

    @property
    def largest_tension(self) -> float:
        """The largest tension tested, N/cm."""
        return math.exp(self._x[-1])

    @property
    def stretch(self) -> float:
        """The strain at the largest tension tested, a ratio."""
        return math.exp(self._y[-1])

    def strain_at(self, tension: float) -> float:
        """Return the strain under a tension.

        Args:
            tension: N/cm, finite; none or less than none stretches nothing.

        Returns:
            The strain, a ratio. Beyond :attr:`largest_tension` it is a guess; :meth:`strain` says so.
        """
        return math.exp(self._log_strain(math.log(tension))) if tension > 0.0 else 0.0

    def tension_at(self, strain: float) -> float:
        """Return the tension at a strain: the inverse of :meth:`strain_at`, to rounding.

        Args:
            strain: a ratio, finite; none or less than none needs no tension.

        Returns:
            The tension, N/cm; endless where a strain so far beyond the readings is asked that no number holds it.
        """
        return _exp(self._log_tension(math.log(strain))) if strain > 0.0 else 0.0

    def firmness_at(self, strain: float) -> float:
        """Return the firmness at a strain: the tension there, N/cm."""
        return self.tension_at(strain)

    def strain(self, tension: float) -> Estimate:
        """Return the strain under a tension with its band."""
        value = self.strain_at(tension)
        low, high = self._band(tension)
        return Estimate(value=value, low=low, high=high, is_beyond=self._is_beyond(tension))

    def tension(self, strain: float) -> Estimate:
        """Return the tension at a strain with its band: what the curve says of strains as far off as its band is wide.

        Beyond what was tested the cloth may lock at once, so the range has no upper end there.
        """
        value = self.tension_at(strain)
        if value <= 0.0:
            return Estimate(value=0.0, low=0.0, high=0.0)
        low, high = self._band(value)
        beyond = self._is_beyond(value)
        return Estimate(
            value=value,
            low=self.tension_at(2.0 * strain - high),
            high=math.inf if beyond else self.tension_at(2.0 * strain - low),
            is_beyond=beyond,
        )

    def _is_beyond(self, tension: float) -> bool:
        return tension > self.largest_tension * (1.0 + ROUND_OFF)

    def _band(self, tension: float) -> tuple[float, float]:
        """Return the lowest and highest strain that the readings leave open under a tension.

        Within the readings: the reading error, and half of the farthest that the curve moves when one reading is left
        out, since without it the gap is twice as wide. Beyond the last: from a cloth that gives no more to one that
        goes on without stiffening.
        """
        if tension <= 0.0:
            return 0.0, 0.0
        top = self.largest_tension
        at = min(tension, top)
        middle = self.strain_at(at)
        away = max(abs(other.strain_at(at) - middle) for other in self._without_one())
        # Near (0, 0) nothing is unsure: what is read wrongly there is read wrongly in proportion.
        read = _BAND_READINGS * self.reading_error * min(1.0, middle / math.exp(self._y[0]))
        half = math.hypot(read, away / 2.0)
        low, high = max(middle - half, 0.0), middle + half
        if tension > top:
            rise = max(self._slope[-1], _LEAST_SLOPE) * middle / top
            high += max(rise * (tension - top), 2.0 * (self.strain_at(tension) - middle))
        return low, high

    def _without_one(self) -> Iterable[Curve]:
        points = [(math.exp(x), math.exp(y)) for x, y in zip(self._x, self._y, strict=True)]
        for left_out in range(len(points) - 1):
            rest = points[:left_out] + points[left_out + 1 :]
            other = object.__new__(Curve)
            other._draw(rest)
            yield other

    def _log_strain(self, q: float) -> float:
        x, y, m = self._x, self._y, self._slope
        if q < x[0]:
            back = x[0] - q
            most = max(1.0, m[0])
            until = (most - m[0]) / self._bend if self._bend > 0.0 else math.inf
            if back <= until:
                return y[0] - back * (m[0] + self._bend * back / 2.0)
            return y[0] - until * (m[0] + self._bend * until / 2.0) - most * (back - until)
        if q >= x[-1]:
            return y[-1] + m[-1] * (q - x[-1])
        i = bisect_right(x, q) - 1
        step, rise = x[i + 1] - x[i], y[i + 1] - y[i]
        t, a, b = (q - x[i]) / step, m[i] * step, m[i + 1] * step
        return y[i] + t * (a + t * (3.0 * rise - 2.0 * a - b + t * (a + b - 2.0 * rise)))

    def _log_tension(self, wanted: float) -> float:
        x, y, m = self._x, self._y, self._slope
        if wanted >= y[-1]:
            return x[-1] + (wanted - y[-1]) / m[-1]
        if wanted < y[0]:
            most = max(1.0, m[0])
            gap = y[0] - wanted
            if self._bend > 0.0:
                until = (most - m[0]) / self._bend
                drop = until * (m[0] + self._bend * until / 2.0)
                if gap > drop:
                    return x[0] - until - (gap - drop) / most
                return x[0] - 2.0 * gap / (m[0] + math.sqrt(m[0] * m[0] + 2.0 * self._bend * gap))
            return x[0] - gap / m[0]
        i = bisect_right(y, wanted) - 1
        low, high = x[i], x[i + 1]
        # The cubic rises, so halving always ends; the chord of what is left is mostly far quicker.
        f_low, f_high = y[i] - wanted, y[i + 1] - wanted
        for number in range(_ROUNDS):
            middle = (low * f_high - high * f_low) / (f_high - f_low) if number % 3 else (low + high) / 2.0
            if not low < middle < high:
                break
            f = self._log_strain(middle) - wanted
            if f == 0.0:
                return middle
            low, f_low, high, f_high = (middle, f, high, f_high) if f < 0.0 else (low, f_low, middle, f)
        return (low * f_high - high * f_low) / (f_high - f_low) if f_high > f_low else (low + high) / 2.0


def pooled(points: Iterable[tuple[float, float]], reading_error: float) -> list[tuple[float, float]]:
    """Take readings together that fall back, or stand still, by no more than the reading error leaves open.

    Args:
        points: tension and strain, in any order.
        reading_error: the standard deviation of a strain that was read, a ratio.

    Returns:
        Points that rise in both, each the mean of those taken together.

    Raises:
        ParameterError: a strain that is none, or that falls by more than three reading errors.

    >>> pooled([(1.0, 0.05), (2.0, 0.101), (2.0, 0.099)], 0.003)
    [(1.0, 0.05), (2.0, 0.1)]
    """
    groups: list[list[tuple[float, float]]] = []
    highest = 0.0
    for tension, strain in sorted(points):
        if not (tension > 0.0 and strain > 0.0 and math.isfinite(tension) and math.isfinite(strain)):
            raise ParameterError(
                _("Under {tension:.4g} N/cm the cloth is read as no longer than without a load.").format(
                    tension=tension
                ),
                advice=_("Leave that reading out, or read it again with a larger load."),
            )
        if strain < highest - _FALLS * reading_error:
            raise ParameterError(
                _("The cloth is read as shorter under {tension:.4g} N/cm than under a smaller load.").format(
                    tension=tension
                ),
                advice=_("Read both lengths again, in rising order of the loads, after the cloth has rested."),
            )
        highest = max(highest, strain)
        groups.append([(tension, strain)])
        while len(groups) > 1 and not _rises(groups[-2], groups[-1]):
            last = groups.pop()
            groups[-1].extend(last)
    return [_mean(group) for group in groups]


def _rises(before: Sequence[tuple[float, float]], after: Sequence[tuple[float, float]]) -> bool:
    (t0, e0), (t1, e1) = _mean(before), _mean(after)
    return t0 < t1 and e0 * (1.0 + _STANDS_STILL) < e1


def _mean(group: Sequence[tuple[float, float]]) -> tuple[float, float]:
    tensions, strains = zip(*group, strict=True)
    middle = tensions[0] if tensions[0] == tensions[-1] else math.exp(math.fsum(map(math.log, tensions)) / len(group))
    return middle, math.fsum(strains) / len(group)


_FALLS = 3.0
"""A strain that falls by more than so many reading errors was read or written wrongly."""

_STANDS_STILL = 0.002
"""A strain that is larger than the one before by less than this share stands still."""


def _slopes(x: Sequence[float], y: Sequence[float]) -> tuple[tuple[float, ...], float]:
    """Return the slope at each point, and how fast the slope rises towards smaller tensions at the first."""
    if len(x) == 1:
        return (LONE_SLOPE,), 0.0
    step = [b - a for a, b in pairwise(x)]
    secant = [(b - a) / h for (a, b), h in zip(pairwise(y), step, strict=True)]
    if len(x) == 2:
        return (min(secant[0], _MOST_SLOPE), secant[0]), 0.0
    inner = [
        (h1 * d0 + h0 * d1) / (h0 + h1) for (h0, h1), (d0, d1) in zip(pairwise(step), pairwise(secant), strict=True)
    ]
    first = _end_slope(step[0], step[1], secant[0], secant[1])
    last = _end_slope(step[-1], step[-2], secant[-1], secant[-2])
    inner = [min(m, 3.0 * min(pair)) for m, pair in zip(inner, pairwise(secant), strict=True)]
    # Cloth stiffens: unless the readings say otherwise, strain never rises faster than in proportion.
    first = min(max(first, 0.3 * secant[0], _LEAST_SLOPE), 3.0 * secant[0], max(1.0, secant[0]), _MOST_SLOPE)
    last = min(max(last, 0.1 * secant[-1], _LEAST_SLOPE), 3.0 * secant[-1])
    bend = (6.0 * secant[0] - 4.0 * first - 2.0 * inner[0]) / step[0]
    return (first, *inner, last), max(-bend, 0.0)


def _end_slope(near: float, far: float, near_secant: float, far_secant: float) -> float:
    """Return the slope at the end of a parabola through three points."""
    return ((2.0 * near + far) * near_secant - near * far_secant) / (near + far)


def _exp(value: float) -> float:
    return math.exp(value) if value < 700.0 else math.inf
