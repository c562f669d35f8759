"""The gauge for the strip test: a page at true scale to print, lay under the hanging strip and read."""

from __future__ import annotations

from html import escape
from typing import Final

from crossgrain.fabric.bench import Strip, stretch
from crossgrain.fabric.cloth import Cloth
from crossgrain.language import _
from crossgrain.output.path_text import number_text
from crossgrain.units import format_share, format_tension

GAUGE: Final = 100.0
"""Between the clamp lines, mm."""
STEP: Final = 5.0
"""Between marks, mm: 5 % of the gauge."""
_LAST: Final = 80.0
_INCH: Final = 25.4
_PAGE: Final = (210.0, 297.0)
_TOP, _X = 66.0, 30.0
_STRIP: Final = 50.0
_BESIDE: Final = 100.0
"""Where the squares and the marks of the benchmark begin."""


def gauge(benchmark: Cloth | None = None) -> str:
    """Draw the gauge on a page of A4 that also prints whole on Letter.

    Args:
        benchmark: a cloth whose readings are marked beside it, or None.

    Returns:
        An SVG document in mm.

    >>> page = gauge()
    >>> 'width="210mm" height="297mm" viewBox="0 0 210 297"' in page
    True
    """
    width, height = _PAGE
    return "\n".join(
        [
            '<?xml version="1.0" encoding="UTF-8"?>',
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.0f}mm" height="{height:.0f}mm" '
            f'viewBox="0 0 {width:.0f} {height:.0f}" font-family="Georgia, serif" font-size="3.6" fill="#221f1a">',
            f"<title>{escape(_('Gauge for the strip test'))}</title>",
            *_steps(),
            *_scale(),
            *(_benchmark(benchmark) if benchmark is not None else []),
            *_proof(),
            "</svg>",
            "",
        ]
    )


def _steps() -> list[str]:
    lines = (
        _("1  Print at 100 %, without fitting to the page. Measure both squares: 100 mm and 4 inches."),
        _("2  Cut a strip 5 cm wide and 25 cm long, across the grain. Mark two lines 10 cm apart."),
        _("3  Clamp it on the upper line, its upper mark on 0. Hang the load below; wait a minute."),
        _("4  Read the lower mark: the percentage beside it is the stretch. Write down load and length."),
    )
    out = [f'<text x="15" y="20" font-size="7">{escape(_("Gauge for the strip test"))}</text>']
    return out + [f'<text x="15" y="{28 + 5.5 * k}">{escape(line)}</text>' for k, line in enumerate(lines)]


def _scale() -> list[str]:
    zero, clamp, right = _TOP + GAUGE, _TOP, _X + _STRIP
    middle = _X + _STRIP / 2.0
    out = [
        _line(_X - 8.0, clamp, right + 8.0, clamp, 0.5),
        _text(middle, clamp + 5.0, _("clamp line: upper mark"), "middle"),
        _line(_X - 8.0, zero, right + 8.0, zero, 0.5),
        _text(middle, zero - 2.0, _("lower mark at rest"), "middle"),
        _text(_X - 2.0, zero - 1.0, "0 %", "end"),
        _text(right + 2.0, zero - 1.0, f"{GAUGE / 10.0:.1f} cm"),
        *(_line(x, clamp - 8.0, x, zero + _LAST + 4.0, 0.2, "1 1") for x in (_X, right)),
    ]
    for k in range(1, round(_LAST / STEP) + 1):
        y = zero + k * STEP
        reach = 14.0 if k % 2 == 0 else 8.0
        out += [_line(_X, y, _X + reach, y, 0.3), _line(right - reach, y, right, y, 0.3)]
        out.append(_text(_X - 2.0, y + 1.2, f"{k * STEP:.0f} %", "end"))
        out.append(_text(right + 2.0, y + 1.2, f"{(GAUGE + k * STEP) / 10.0:.1f} cm"))
        if k % 2 == 0:
            out.append(_text(middle, y + 1.2, f"{(GAUGE + k * STEP) / _INCH:.2f} in", "middle"))
    return out


def _benchmark(cloth: Cloth) -> list[str]:
    """Mark where the lower mark of a known cloth comes to under each load."""
    strip = cloth.cross.test
    if not isinstance(strip, Strip):
        return []
    x = _BESIDE
    out = [_text(x, _TOP + GAUGE + _LAST + 1.2, _("Marks: {cloth}").format(cloth=cloth.name))]
    for reading in sorted(strip.readings, key=lambda one: one.load):
        share = stretch(strip.gauge, reading.length)
        y = _TOP + GAUGE * (1.0 + share)
        out.append(f'<path d="M{number_text(x)} {number_text(y)}l4 -1.6v3.2z"/>')
        tension = strip.tension_of(reading)
        grams = reading.load / 9.80665 * 1000.0
        words = f"{grams:.0f} g, {format_tension(tension)}: {format_share(share)}"
        out.append(_text(x + 5.5, y + 1.2, words))
    return out


def _proof() -> list[str]:
    """Draw a square of 100 mm and one of 4 in that share a corner, beside the part of the gauge that is never read."""
    x, y = _BESIDE, _TOP - 4.0
    out = [
        f'<rect x="{number_text(x)}" y="{number_text(y)}" width="{number_text(side)}" height="{number_text(side)}" '
        f'fill="none" stroke="#221f1a" stroke-width="0.2"/>'
        for side in (GAUGE, 4.0 * _INCH)
    ]
    lines = (_("To prove the scale:"), _("the inner square is 100 mm wide,"), _("the outer one 4 inches."))
    return out + [_text(x + 3.0, y + 8.0 + 6.0 * k, line) for k, line in enumerate(lines)]


def _line(x0: float, y0: float, x1: float, y1: float, width: float, dashes: str = "") -> str:
    at = " ".join(f'{name}="{number_text(value)}"' for name, value in (("x1", x0), ("y1", y0), ("x2", x1), ("y2", y1)))
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'<line {at} stroke="#221f1a" stroke-width="{width}"{dashed}/>'


def _text(x: float, y: float, words: str, anchor: str = "start") -> str:
    return f'<text x="{number_text(x)}" y="{number_text(y)}" text-anchor="{anchor}">{escape(words)}</text>'
