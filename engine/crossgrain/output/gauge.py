"""The gauge for the strip test: a page at true scale to print, lay under the hanging strip and read."""

from __future__ import annotations

from html import escape

from crossgrain.fabric.cloth import Cloth
from crossgrain.language import _
from crossgrain.output.gauge_marks import GAUGE, PAGE, STEP, TEXT, Drawn, Pointer, Rule, Square, gauge_marks
from crossgrain.output.path_text import number_text

__all__ = ["GAUGE", "STEP", "gauge"]


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
    width, height = PAGE
    return "\n".join(
        [
            '<?xml version="1.0" encoding="UTF-8"?>',
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.0f}mm" height="{height:.0f}mm" '
            f'viewBox="0 0 {width:.0f} {height:.0f}" font-family="Georgia, serif" font-size="3.6" fill="#221f1a">',
            f"<title>{escape(_('Gauge for the strip test'))}</title>",
            *map(_element, gauge_marks(benchmark)),
            "</svg>",
            "",
        ]
    )


def _element(one: Drawn) -> str:
    """Write what is drawn as an element."""
    match one:
        case Rule():
            ends = {"x1": one.start[0], "y1": one.start[1], "x2": one.end[0], "y2": one.end[1]}
            dashes = ' stroke-dasharray="1 1"' if one.dashed else ""
            return f'<line {_attributes(ends)} stroke="#221f1a" stroke-width="{one.width}"{dashes}/>'
        case Square():
            box = {"x": one.at[0], "y": one.at[1], "width": one.side, "height": one.side}
            return f'<rect {_attributes(box)} fill="none" stroke="#221f1a" stroke-width="0.2"/>'
        case Pointer():
            points = "L".join(f"{number_text(x)} {number_text(y)}" for x, y in one.corners)
            return f'<path d="M{points}z"/>'
        case _:
            at = _attributes({"x": one.at[0], "y": one.at[1]})
            size = "" if one.height == TEXT else f' font-size="{number_text(one.height)}"'
            anchor = "" if one.anchor == "start" else f' text-anchor="{one.anchor}"'
            return f"<text {at}{size}{anchor}>{escape(one.text)}</text>"


def _attributes(values: dict[str, float]) -> str:
    return " ".join(f'{name}="{number_text(value)}"' for name, value in values.items())
