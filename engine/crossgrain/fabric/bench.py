"""A bench test: a strip of cloth hung with known loads, or pulled by hand along a ruler.

*A* is the gauge length marked on the strip at rest, *B* its length under load, *C* its length after release:
stretch (B − A)/A, growth (C − A)/A, recovery (B − C)/(B − A), as in ASTM D3107, ASTM D6614 and ISO 20932-1.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.units import format_length, format_tension

READING_ERROR: Final = 0.3
"""How truly a length is read from a ruler beside a hanging strip, mm, as a standard deviation (common practice)."""

_MOST_TENSION: Final = 100.0
"""N/cm. Ten times what trouser cloth is ever tested with: cloth tears, or grams were written as kilograms."""

_MOST_LENGTHS: Final = 4.0
"""Cloth that stretches to more than four times its length is not woven or knitted for trousers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What was read under one load.

    Args:
        load: the pull, N, above 0.
        length: between the marks under it, mm, above 0.
        width: of the strip at its narrowest under it, mm; None where it was not read.
    """

    load: float
    length: float
    width: float | None = None

    def __post_init__(self) -> None:
        _above_zero(self.load, _("load"))
        _above_zero(self.length, _("length"))
        if self.width is not None:
            _above_zero(self.width, _("width"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A strip hung with loads, in one direction of the cloth.

    Args:
        width: of the strip at rest, mm.
        gauge: between the marks at rest, mm.
        readings: under two or more loads, in any order.
        reading_error: the standard deviation of a length that is read, mm.
        released: the length at once after the loads are taken off, mm; None where it was not read.
        rested: the length after a rest, mm; None where it was not read.

    Raises:
        ParameterError: what cannot have been read, or one reading only.
    """

    width: float
    gauge: float
    readings: tuple[Reading, ...]
    reading_error: float = READING_ERROR
    released: float | None = None
    rested: float | None = None

    def __post_init__(self) -> None:
        _above_zero(self.width, _("strip width"))
        _above_zero(self.gauge, _("gauge"))
        _above_zero(self.reading_error, _("reading error"))
        if len(self.readings) < 2:
            raise ParameterError(
                _("There is one reading only, or none, so how firm the cloth is cannot be told."),
                advice=_("Hang a second load and read the length; or give what was pulled by hand as “pulled”."),
            )
        for reading in self.readings:
            self._check(reading)
        for length in (self.released, self.rested):
            if length is not None and not self.gauge * 0.8 <= length <= self.longest:
                raise ParameterError(
                    _("After release the marks cannot lie {length} apart: they began {gauge} apart.").format(
                        length=format_length(length), gauge=format_length(self.gauge)
                    ),
                    advice=_("Give the whole length between the marks, not what it grew by."),
                )

    def _check(self, reading: Reading) -> None:
        tension = self.tension_of(reading)
        length = format_length(reading.length)
        if tension > _MOST_TENSION:
            raise ParameterError(
                _("The load pulls the strip with {tension}, more than cloth bears.").format(
                    tension=format_tension(tension, digits=0)
                ),
                advice=_("Look at the unit of the load and at the width of the strip."),
            )
        if reading.length > _MOST_LENGTHS * self.gauge:
            raise ParameterError(
                _("A length of {length} is more than four times the gauge of {gauge}.").format(
                    length=length, gauge=format_length(self.gauge)
                ),
                advice=_("Look at the units; give the length between the marks."),
            )
        if reading.length <= self.gauge:
            raise ParameterError(
                _("Under {tension} the marks lie {length} apart, no farther than at rest ({gauge}).").format(
                    tension=format_tension(tension), length=length, gauge=format_length(self.gauge)
                ),
                advice=_("Give the whole length between the marks, not what it grew by; leave out a load too small."),
            )
        if reading.width is not None and reading.width > self.width + self.reading_error * 3.0:
            raise ParameterError(
                _("Under load the strip is read as wider ({width}) than at rest ({rest}).").format(
                    width=format_length(reading.width), rest=format_length(self.width)
                ),
                advice=_("Read its width at its narrowest, half way between the marks."),
            )

    def tension_of(self, reading: Reading) -> float:
        """Return the force on the strip per width at rest, N/cm."""
        return reading.load / (self.width / 10.0)

    @property
    def points(self) -> tuple[tuple[float, float], ...]:
        """Tension, N/cm, and strain of each reading, by rising tension."""
        return tuple(sorted((self.tension_of(one), stretch(self.gauge, one.length)) for one in self.readings))

    @property
    def longest(self) -> float:
        """The greatest length read, mm."""
        return max(reading.length for reading in self.readings)

    @property
    def growth(self) -> float | None:
        """The growth after the rest or, where that was not read, at once after release; None where neither was."""
        last = self.rested if self.rested is not None else self.released
        return None if last is None else growth(self.gauge, last)

    @property
    def recovery(self) -> float | None:
        """The share of the greatest stretch that goes back, after the same time as :attr:`growth`."""
        last = self.rested if self.rested is not None else self.released
        return None if last is None else recovery(self.gauge, self.longest, last)

    @property
    def narrowing(self) -> float | None:
        """The share of its width that the strip loses for each share that it gains in length, under the largest load.

        0 is a strip that keeps its width; None where no width was read.
        """
        read = [one for one in self.readings if one.width is not None]
        if not read:
            return None
        last = max(read, key=lambda one: one.load)
        assert last.width is not None
        return (1.0 - last.width / self.width) / stretch(self.gauge, last.length)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pull:
    """A length of cloth pulled by hand along a ruler as far as it goes without force: the stretch alone is known.

    Args:
        gauge: the length at rest, mm.
        length: the length it was pulled to, mm.

    >>> Pull(gauge=100.0, length=120.0).stretch
    0.2
    """

    gauge: float
    length: float

    def __post_init__(self) -> None:
        _above_zero(self.gauge, _("gauge"))
        if not self.gauge < self.length <= _MOST_LENGTHS * self.gauge:
            raise ParameterError(
                _("{gauge} of cloth cannot have been pulled to {length}.").format(
                    gauge=format_length(self.gauge), length=format_length(self.length)
                ),
                advice=_("Give the whole length it was pulled to, longer than the gauge."),
            )

    @property
    def stretch(self) -> float:
        """The stretch by hand, a ratio."""
        return stretch(self.gauge, self.length)


def stretch(a: float, b: float) -> float:
    """Return the stretch (B − A)/A, a ratio.

    >>> stretch(4.0, 5.0)
    0.25
    """
    return (b - a) / a


def growth(a: float, c: float) -> float:
    """Return the growth (C − A)/A, a ratio.

    >>> growth(100.0, 103.0)
    0.03
    """
    return (c - a) / a


def recovery(a: float, b: float, c: float) -> float:
    """Return the recovery (B − C)/(B − A), a ratio.

    >>> recovery(100.0, 120.0, 102.0)
    0.9
    """
    return (b - c) / (b - a)


def _above_zero(value: float, what: str) -> None:
    if not (math.isfinite(value) and value > 0.0):
        raise ParameterError(
            _("The {what} is {value:.4g}.").format(what=what, value=value), advice=_("Give an amount above zero.")
        )
