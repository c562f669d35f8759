"""Amounts along a line that is moved outwards, measured square to the new line: so that moving it back undoes it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from crossgrain.kernel.arrays import rows_of
from crossgrain.kernel.length import parameters_at, segment_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.profile import Profile
from crossgrain.kernel.spans import Complexes, Floats
from crossgrain.tolerances import COINCIDENT, OUTER_LENGTH

_STEP: Final = 4.0
"""Between places along the line at which lengths are compared, mm."""

_STEEP: Final = 0.1
_CLOSE_STEP: Final = 1.0
"""And where amounts change by more than this, mm per mm: 22 mm over 80 then come back to 0.01 mm."""

_LEANS_MOST: Final = 0.95
"""The sine of the steepest lean that is reckoned with."""

_ROUNDS: Final = 300
"""A dozen do where amounts change gently; most are taken where 12 mm are let out within 50."""

_LEAST_STRETCH: Final = 0.5
"""Where the new line would run slower than this share of the old one's speed, amounts change too steeply."""

_MOST_STRETCH: Final = 1.8
"""So they do where it would run so many times as fast as a parallel at that distance. Beside a straight line, at a
station of amount ``D`` where ``d'' = -k``, its curvature ``c`` is the lesser root of ``D c² - c + k = 0``, and it
runs ``1 / (1 - c D)`` times as fast: twice, where ``4 k D = 1``, and beyond that there is no such line."""

_SMALL_ROUNDS: Final = 1500
_SMALL_STEP: Final = 0.03
"""Where amounts change by up to 0.4 mm per mm, a round makes differences between neighbouring places some nine times
larger, and turned by a right angle: what is added of it must be less than 2 / (1 + 9²)."""

_LEAST_CREPT: Final = 0.2
"""And on the way the new line may run as slow as this, to be faster again in the end."""


class OuterBlend:
    """Amounts along a line as a profile of the length of the outer of both lines, the old one and the new one.

    A line moved inwards is the parallel of the old one: ``C + d n``, and ``d`` is blended along ``C``. Moved outwards,
    the *old* one is the parallel of the new one: with ``sin φ = d'``, that is ``Q = C + d (cos φ n - sin φ T)``, the
    envelope of circles of radius ``d`` about the old one, and ``d`` is blended along ``Q``. So the same amounts at the
    same places, first inwards and then outwards, give back the line.

    At a station the new line lies at its amount on the old normal in either case; where it neither rises nor falls
    there, both measures are the same.

    Args:
        line: the old line.
        stations: places along it, mm from its start, rising.
        distances: at each station, mm along the normal.
        outwards: the sign of distances that go outwards.
        on_new: whether stations are places along the outer line instead, mm from beside the start of the old one, and
            amounts there those square to it.
    """

    def __init__(
        self,
        line: Path,
        stations: Sequence[float],
        distances: Sequence[float],
        outwards: float,
        *,
        on_new: bool = False,
    ) -> None:
        self._stations, self._distances, self._outwards = np.asarray(stations), np.asarray(distances), outwards
        plain = np.abs(np.diff(self._distances) / np.diff(self._stations)).max(initial=0.0)
        self._along, points, tangents, gaps = _sampled(line, _STEP if plain <= _STEEP else _CLOSE_STEP)
        self._length, self._rate = self._along.copy(), np.ones_like(self._along)
        self._profile = Profile(stations, distances)
        self.is_steep = True
        for _round in range(_ROUNDS):
            length = self._lengths(points, tangents, gaps)
            if (np.diff(length) < _LEAST_STRETCH * np.diff(self._along)).any():
                break
            change = length - self._length
            moved = float(np.abs(change).max())
            self._length = self._length + change / (1.0 + self._echo() ** 2)
            self._rate = np.gradient(self._length, self._along)
            self._profile = self._profile if on_new else self._measured()
            if moved <= OUTER_LENGTH:
                self.is_steep = self._races(tangents)
                return
        if on_new:
            self.is_steep = not self._crept(points, tangents, gaps)

    def __call__(self, s: Floats) -> tuple[Floats, Floats]:
        """Return the amounts and their slopes per length of the old line, at places along it."""
        x, y, m = self._along, self._length, self._rate
        k = np.clip(np.searchsorted(x, s, side="right") - 1, 0, len(x) - 2)
        step, rise = x[k + 1] - x[k], y[k + 1] - y[k]
        t = np.clip((s - x[k]) / step, 0.0, 1.0)
        a, b = m[k] * step, m[k + 1] * step
        length = y[k] + t * (a + t * (3.0 * rise - 2.0 * a - b + t * (a + b - 2.0 * rise)))
        rate = (a + t * (2.0 * (3.0 * rise - 2.0 * a - b) + t * (3.0 * (a + b - 2.0 * rise)))) / step
        distance, slope = self._profile(length)
        return distance, slope * rate

    def _crept(self, points: Complexes, tangents: Complexes, gaps: Floats) -> bool:
        """Find the lengths in small steps, where each whole round of measuring would lead farther away from them."""
        self._length, self._rate = self._along.copy(), np.ones_like(self._along)
        for _round in range(_SMALL_ROUNDS):
            aside = self._lengths(points, tangents, gaps) - self._length
            length = self._length + _SMALL_STEP * aside
            if (np.diff(length) < _LEAST_CREPT * np.diff(self._along)).any():
                return False
            self._length, self._rate = length, np.gradient(length, self._along)
            if float(np.abs(aside).max()) <= OUTER_LENGTH:
                return True
        return False

    def on_old(self, places: Sequence[float]) -> Floats:
        """Return how far along the old line those places of it are that lie beside places of the outer line, mm."""
        return np.interp(places, self._length, self._along)

    def _echo(self) -> Floats:
        """Return how many times as large a quick ripple of the lengths comes back from a round, at each place.

        The new line's places slide along it by the amount times the change of its lean, which is the slope of that
        ripple: a quarter of a wave behind it. So a part of each change that is small where this is large settles it.
        """
        distance, slope = self._profile(self._length)
        out = np.where(distance * self._outwards > 0.0, distance, 0.0)
        sine = np.minimum(np.abs(slope * self._rate), _LEANS_MOST)
        return np.abs(out) * sine / np.sqrt(1.0 - sine**2) / np.gradient(self._along)

    def _races(self, tangents: Complexes) -> bool:
        """Say whether the new line runs so fast beside the old one that it is hardly there, or not at all."""
        distance = self._profile(self._length)[0]
        out = np.where(distance * self._outwards > 0.0, distance, 0.0)
        turn = np.angle(tangents[0][1:] / tangents[1][:-1])
        even = np.diff(self._along) + (out[:-1] + out[1:]) / 2.0 * turn
        return bool((np.diff(self._length) > _MOST_STRETCH * even).any())

    def _measured(self) -> Profile:
        """Return the profile along the outer line, its outward amounts those square to it."""
        places = np.interp(self._stations, self._along, self._length)
        sine = Profile(places, self._distances)(places)[1] * np.interp(self._stations, self._along, self._rate)
        out = self._distances * self._outwards > 0.0
        straight = np.sqrt(1.0 - np.clip(sine, -1.0, 1.0) ** 2)
        return Profile(places, np.where(out, self._distances * straight, self._distances))

    def _lengths(self, points: Complexes, tangents: Complexes, gaps: Floats) -> Floats:
        """Return how far along the outer line the places are, mm.

        Args:
            points: the places.
            tangents: the directions there, two for each place: of what arrives and of what leaves.
            gaps: by how much the line turns at each place, radians.
        """
        distance, slope = self._profile(self._length)
        out = np.where(distance * self._outwards > 0.0, distance, 0.0)
        sine = np.where(out != 0.0, np.clip(slope * self._rate, -1.0, 1.0), 0.0)
        lean = tangents * (np.sqrt(1.0 - sine**2) - 1j * sine)
        moved = points - 1j * out * lean
        leaving, arriving = lean[1][:-1], lean[0][1:]
        middle = leaving + arriving
        chord = moved[0][1:] - moved[1][:-1]
        steps = np.diff(self._along) * (chord * middle.conj()).real / np.abs(middle) / np.abs(np.diff(points))
        # At a node where the old line turns, the new one gapes or overlaps by so much; half of it goes to either side.
        gape = out * np.tan(gaps / 2.0)
        steps += gape[:-1] + gape[1:]
        return np.concatenate([[0.0], np.cumsum(steps)])


def _sampled(line: Path, step: float) -> tuple[Floats, Complexes, Complexes, Floats]:
    """Return places along a line, at most a step apart, its points, unit tangents on both sides, and its turns."""
    along, points, arriving, leaving = [0.0], [complex(*line.start)], [], []
    for row, segment in zip(rows_of(line.segments), line.segments, strict=True):
        size = segment_length(segment)
        places = np.linspace(0.0, size, max(3, int(np.ceil(size / step)) + 1))
        t = parameters_at(np.stack([row.real, row.imag], axis=1), places)
        p0, p1, p2, p3 = row
        c1, c2, c3 = 3.0 * (p1 - p0), 3.0 * (p2 - 2.0 * p1 + p0), p3 - p0 + 3.0 * (p1 - p2)
        there = p0 + t * (c1 + t * (c2 + t * c3))
        velocity = c1 + t * (2.0 * c2 + 3.0 * c3 * t)
        velocity = np.where(np.abs(velocity) < COINCIDENT, np.gradient(there), velocity)
        tangent = velocity / np.abs(velocity)
        along += (along[-1] + places[1:]).tolist()
        points += there[1:].tolist()
        arriving += tangent[1:].tolist()
        leaving += tangent[:-1].tolist()
    before, after = np.array([leaving[0], *arriving]), np.array([*leaving, arriving[-1]])
    return np.array(along), np.array(points), np.stack([before, after]), np.angle(after / before)
