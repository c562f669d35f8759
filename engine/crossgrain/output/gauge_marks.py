"""What is drawn on the gauge for the strip test, in mm of a page of A4, before any programme writes it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from crossgrain.fabric.bench import Strip, stretch
from crossgrain.fabric.cloth import Cloth
from crossgrain.language import _
from crossgrain.units import format_share, format_tension

GAUGE: Final = 100.0
"""Between the clamp lines, mm."""
STEP: Final = 5.0
"""Between marks, mm: 5 % of the gauge."""
_LAST: Final = 80.0
_INCH: Final = 25.4
PAGE: Final = (210.0, 297.0)
_TOP, _X = 66.0, 30.0
_STRIP: Final = 50.0
_BESIDE: Final = 100.0
"""Where the squares and the marks of the benchmark begin."""


TEXT: Final = 3.6
"""Height of letters, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A straight line from one point to another; with dashes and gaps of a millimetre, where it is dashed."""

    start: tuple[float, float]
    end: tuple[float, float]
    width: float
    dashed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A line of text, its base line beginning at a point, or with its middle or its end there."""

    text: str
    at: tuple[float, float]
    height: float = TEXT
    anchor: Literal["start", "middle", "end"] = "start"


@dataclass(frozen=True, slots=True, kw_only=True)
class Square:
    """The outline of a square, by its upper left corner."""

    at: tuple[float, float]
    side: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Pointer:
    """A small triangle that points to the left, by its tip."""

    at: tuple[float, float]

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """Its corners, the tip first."""
        x, y = self.at
        return ((x, y), (x + 4.0, y - 1.6), (x + 4.0, y + 1.6))


Drawn = Rule | Words | Square | Pointer


def gauge_marks(benchmark: Cloth | None = None) -> Iterator[Drawn]:
    """Yield what is drawn on the gauge.

    Args:
        benchmark: a cloth whose readings are marked beside it, or None.
    """
    yield from _steps()
    yield from _scale()
    if benchmark is not None:
        yield from _benchmark(benchmark)
    yield from _proof()


def _steps() -> Iterator[Drawn]:
    lines = (
        _("1  Print at 100 %, without fitting to the page. Measure both squares: 100 mm and 4 inches."),
        _("2  Cut a strip 5 cm wide and 25 cm long, across the grain. Mark two lines 10 cm apart."),
        _("3  Clamp it on the upper line, its upper mark on 0. Hang the load below; wait a minute."),
        _("4  Read the lower mark: the percentage beside it is the stretch. Write down load and length."),
    )
    yield Words(text=_("Gauge for the strip test"), at=(15.0, 20.0), height=7.0)
    for k, line in enumerate(lines):
        yield Words(text=line, at=(15.0, 28.0 + 5.5 * k))


def _scale() -> Iterator[Drawn]:
    zero, clamp, right = _TOP + GAUGE, _TOP, _X + _STRIP
    middle = _X + _STRIP / 2.0
    yield Rule(start=(_X - 8.0, clamp), end=(right + 8.0, clamp), width=0.5)
    yield Words(text=_("clamp line: upper mark"), at=(middle, clamp + 5.0), anchor="middle")
    yield Rule(start=(_X - 8.0, zero), end=(right + 8.0, zero), width=0.5)
    yield Words(text=_("lower mark at rest"), at=(middle, zero - 2.0), anchor="middle")
    yield Words(text="0 %", at=(_X - 2.0, zero - 1.0), anchor="end")
    yield Words(text=f"{GAUGE / 10.0:.1f} cm", at=(right + 2.0, zero - 1.0))
    for x in (_X, right):
        yield Rule(start=(x, clamp - 8.0), end=(x, zero + _LAST + 4.0), width=0.2, dashed=True)
    for k in range(1, round(_LAST / STEP) + 1):
        y = zero + k * STEP
        reach = 14.0 if k % 2 == 0 else 8.0
        yield Rule(start=(_X, y), end=(_X + reach, y), width=0.3)
        yield Rule(start=(right - reach, y), end=(right, y), width=0.3)
        yield Words(text=f"{k * STEP:.0f} %", at=(_X - 2.0, y + 1.2), anchor="end")
        yield Words(text=f"{(GAUGE + k * STEP) / 10.0:.1f} cm", at=(right + 2.0, y + 1.2))
        if k % 2 == 0:
            yield Words(text=f"{(GAUGE + k * STEP) / _INCH:.2f} in", at=(middle, y + 1.2), anchor="middle")


def _benchmark(cloth: Cloth) -> Iterator[Drawn]:
    """Mark where the lower mark of a known cloth comes to under each load."""
    strip = cloth.cross.test
    if not isinstance(strip, Strip):
        return
    x = _BESIDE
    yield Words(text=_("Marks: {cloth}").format(cloth=cloth.name), at=(x, _TOP + GAUGE + _LAST + 1.2))
    for reading in sorted(strip.readings, key=lambda one: one.load):
        share = stretch(strip.gauge, reading.length)
        y = _TOP + GAUGE * (1.0 + share)
        yield Pointer(at=(x, y))
        tension = strip.tension_of(reading)
        grams = reading.load / 9.80665 * 1000.0
        words = f"{grams:.0f} g, {format_tension(tension)}: {format_share(share)}"
        yield Words(text=words, at=(x + 5.5, y + 1.2))


def _proof() -> Iterator[Drawn]:
    """Draw a square of 100 mm and one of 4 in that share a corner, beside the part of the gauge that is never read."""
    x, y = _BESIDE, _TOP - 4.0
    for side in (GAUGE, 4.0 * _INCH):
        yield Square(at=(x, y), side=side)
    lines = (_("To prove the scale:"), _("the inner square is 100 mm wide,"), _("the outer one 4 inches."))
    for k, line in enumerate(lines):
        yield Words(text=line, at=(x + 3.0, y + 8.0 + 6.0 * k))
