"""Curves of cloths as an SVG drawing: tension up, strain to the right, bands grey, what was read as dots."""

from __future__ import annotations

import math
from collections.abc import Sequence
from html import escape
from typing import Final

from crossgrain.fabric.bench import Strip
from crossgrain.fabric.cloth import Direction
from crossgrain.fabric.curve import Curve
from crossgrain.language import _
from crossgrain.output.path_text import number_text

_WIDTH: Final = 150.0
_HEIGHT: Final = 90.0
_LEFT, _RIGHT, _TOP, _FOOT = 14.0, 4.0, 6.0, 12.0
_STEPS: Final = 60
_BEYOND: Final = 1.15
"""A curve is drawn dotted a little way beyond its last reading."""
_INK, _PALE = "#221f1a", "#e4ddcc"
_DASHES: Final = ("", "3 1.6", "0.6 1.2")
_BANDS: Final = ("#d8d2c4", "#e9e4d8")


def curve_drawing(cloths: Sequence[tuple[str, Direction]]) -> str:
    """Draw the curves of one or two cloths in one frame.

    Args:
        cloths: name and direction of each; the first is drawn solid, the second dashed.

    Returns:
        An ``svg`` element that stands alone, in mm. A cloth whose firmness is unknown is a grey range.

    >>> from crossgrain.fabric.bench import Pull
    >>> drawing = curve_drawing([("remnant", Direction(test=Pull(gauge=100.0, length=120.0)))])
    >>> drawing.startswith("<svg"), "remnant" in drawing
    (True, True)
    """
    most_strain = max(one.stretch for _name, one in cloths) * _BEYOND
    curves = [one.curve for _name, one in cloths if one.curve]
    most_tension = max((curve.largest_tension for curve in curves), default=6.0) * _BEYOND
    frame = _Frame(_round_up(most_strain * 100.0), _round_up(most_tension))
    parts = [frame.axes()]
    for number, (_name, direction) in enumerate(cloths):
        parts.append(frame.band(direction, number))
    for number, (_name, direction) in enumerate(cloths):
        if direction.curve is not None:
            parts += frame.curve(direction.curve, number)
        parts += frame.dots(direction, number)
    for number, (name, direction) in enumerate(cloths):
        parts.append(frame.key(name, direction, number))
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{_WIDTH:.0f}mm" height="{_HEIGHT:.0f}mm" '
            f'viewBox="0 0 {_WIDTH:.0f} {_HEIGHT:.0f}" font-family="Georgia, serif" font-size="3.2">',
            f"<title>{escape(_('Tension against stretch'))}</title>",
            *parts,
            "</svg>",
            "",
        ]
    )


def _round_up(value: float) -> float:
    """Return the next round figure: 1, 2, 2.5 or 5 times a power of ten, in four to ten steps."""
    step = _step(value)
    return math.ceil(value / step) * step


def _step(value: float) -> float:
    power = 10.0 ** math.floor(math.log10(value))
    return next(power * share for share in (0.1, 0.2, 0.25, 0.5, 1.0) if value / (power * share) <= 8.0)


class _Frame:
    """Axes in percent and N/cm."""

    def __init__(self, percent: float, tension: float) -> None:
        self.percent, self.tension = percent, tension

    def at(self, strain: float, tension: float) -> tuple[float, float]:
        x = _LEFT + (_WIDTH - _LEFT - _RIGHT) * min(strain * 100.0 / self.percent, 1.0)
        y = _HEIGHT - _FOOT - (_HEIGHT - _TOP - _FOOT) * min(tension / self.tension, 1.0)
        return x, y

    def axes(self) -> str:
        out = []
        x0, y0 = self.at(0.0, 0.0)
        x1, y1 = self.at(self.percent / 100.0, self.tension)
        step = _step(self.percent)
        for k in range(round(self.percent / step) + 1):
            x, _y = self.at(k * step / 100.0, 0.0)
            out.append(_path(f"M{_p(x, y0)}L{_p(x, y1)}", stroke=_PALE, width=0.2))
            out.append(f'<text x="{_n(x)}" y="{_n(y0 + 4)}" text-anchor="middle">{_n(k * step)}</text>')
        step = _step(self.tension)
        for k in range(round(self.tension / step) + 1):
            _x, y = self.at(0.0, k * step)
            out.append(_path(f"M{_p(x0, y)}L{_p(x1, y)}", stroke=_PALE, width=0.2))
            out.append(f'<text x="{_n(x0 - 1.5)}" y="{_n(y + 1.1)}" text-anchor="end">{_n(k * step)}</text>')
        out.append(
            f'<path d="M{_p(x0, y1)}L{_p(x0, y0)}L{_p(x1, y0)}" fill="none" stroke="{_INK}" stroke-width="0.3"/>'
        )
        middle = (x0 + x1) / 2.0
        out.append(f'<text x="{_n(middle)}" y="{_n(_HEIGHT - 2)}" text-anchor="middle">{_("stretched by, %")}</text>')
        height = (y0 + y1) / 2.0
        turn = f"translate(4 {_n(height)}) rotate(-90)"
        out.append(f'<text transform="{turn}" text-anchor="middle">{_("tension, N/cm (estimate)")}</text>')
        return "\n".join(out)

    def band(self, direction: Direction, number: int) -> str:
        top = direction.curve.largest_tension if direction.curve else self.tension
        tensions = [top * k / _STEPS for k in range(_STEPS + 1)]
        found = [direction.strain(tension) for tension in tensions]
        low = [self.at(one.low, tension) for one, tension in zip(found, tensions, strict=True)]
        high = [self.at(one.high, tension) for one, tension in zip(found, tensions, strict=True)]
        points = "L".join(_p(*point) for point in (*low, *reversed(high)))
        return _path(f"M{points}Z", fill=_BANDS[number], stroke="none")

    def curve(self, curve: Curve, number: int) -> list[str]:
        top = curve.largest_tension
        inside = [self.at(curve.strain_at(t), t) for t in (top * k / _STEPS for k in range(_STEPS + 1))]
        beyond = [self.at(curve.strain_at(t), t) for t in (top * (1.0 + (_BEYOND - 1.0) * k / 8) for k in range(9))]
        return [
            _path("M" + "L".join(_p(*point) for point in points), width=width, dashes=dashes)
            for points, width, dashes in ((inside, 0.6, _DASHES[number]), (beyond, 0.3, _DASHES[2]))
        ]

    def dots(self, direction: Direction, number: int) -> list[str]:
        fill = _INK if number == 0 else "#fff"
        read = direction.test.points if isinstance(direction.test, Strip) else ()
        out = []
        for tension, strain in read:
            x, y = self.at(strain, tension)
            out.append(f'<circle cx="{_n(x)}" cy="{_n(y)}" r="1" fill="{fill}" stroke="{_INK}" stroke-width="0.35"/>')
        for one in direction.learned:
            x, y = self.at(one.strain, one.tension)
            out.append(
                _path(f"M{_p(x - 1.4, y)}L{_p(x, y - 1.4)}L{_p(x + 1.4, y)}L{_p(x, y + 1.4)}Z", fill=fill, width=0.35)
            )
        return out

    def key(self, name: str, direction: Direction, number: int) -> str:
        x, y = _LEFT + 4.0, _TOP + 3.0 + 5.0 * number
        words = name if direction.curve else _("{name}: firmness unknown, a range").format(name=name)
        line = _path(f"M{_p(x, y)}L{_p(x + 9, y)}", width=0.6, dashes=_DASHES[number])
        return f'{line}<text x="{_n(x + 11)}" y="{_n(y + 1.1)}">{escape(words)}</text>'


def _path(d: str, *, fill: str = "none", stroke: str = _INK, width: float = 0.0, dashes: str = "") -> str:
    """Draw a path by a style of its own, which the rules of a page around it do not override."""
    style = f"fill:{fill};stroke:{stroke};stroke-width:{width}"
    return f'<path style="{style}{f";stroke-dasharray:{dashes}" if dashes else ""}" d="{d}"/>'


def _n(value: float) -> str:
    return number_text(value)


def _p(x: float, y: float) -> str:
    return f"{number_text(x)} {number_text(y)}"
