"""SVG's basic shapes as lines. Source: SVG 2, chapter 10, which gives each shape's equivalent path."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from typing import Final

from lxml import etree

from crossgrain.errors import DocumentError
from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.svg.grammar import Raw, arc, lines, parse_outline
from crossgrain.svg.lengths import user_length
from crossgrain.svg.path_tokens import numbers_or_none
from crossgrain.svg.style import declared
from crossgrain.svg.transforms import largest_scale

View = tuple[float, float]
"""Width and height of the nearest viewport in user units, of which percentages are taken."""

GEOMETRY: Final[dict[str, tuple[str, ...]]] = {
    "path": ("d",),
    "rect": ("x", "y", "width", "height", "rx", "ry"),
    "circle": ("cx", "cy", "r"),
    "ellipse": ("cx", "cy", "rx", "ry"),
    "line": ("x1", "y1", "x2", "y2"),
    "polyline": ("points",),
    "polygon": ("points",),
}
"""The shapes, with the attributes that say where they run."""


def shape_paths(element: etree._Element, tag: str, view: View, affine: Affine | None = None) -> tuple[Path, ...]:
    """Return the lines of a path or basic shape, mapped.

    Args:
        element: the element.
        tag: its local name, one of ``GEOMETRY``.
        view: the nearest viewport's size in user units.
        affine: the map to do, or none.

    Returns:
        The lines; none for a shape of no size, which SVG does not draw.

    Raises:
        DocumentError: an attribute that cannot be read, or a negative size.
    """
    if tag == "path":
        return parse_outline(element.get("d", ""), affine)
    unit = largest_scale(affine) if affine is not None else 1.0
    run, closed = _MAKERS[tag](element, view, unit)
    return lines([(run, closed)], affine) if run else ()


def _length(element: etree._Element, name: str, whole: float, default: float = 0.0) -> float:
    text = declared(element, name)
    return default if text == "auto" else user_length(text, name, whole, default)


def _size(element: etree._Element, name: str, whole: float, default: float = 0.0) -> float:
    value = _length(element, name, whole, default)
    if value < 0.0:
        raise DocumentError(_("Its {name} is negative.").format(name=name), advice=_("Give a length of zero or more."))
    return value


def _join(points: list[Point]) -> list[Raw]:
    return [(p, q) for p, q in itertools.pairwise(points) if p != q]


def _ring(corners: list[tuple[Point, Point]], rx: float, ry: float, unit: float) -> list[Raw]:
    """Join quarter arcs, each given by its ends, by straight lines where they do not meet."""
    run: list[Raw] = []
    for start, end in corners:
        if run and run[-1][-1] != start:
            run.append((run[-1][-1], start))
        run.extend(arc(start, rx, ry, 0.0, False, True, end, unit))
    if run[-1][-1] != run[0][0]:
        run.append((run[-1][-1], run[0][0]))
    return run


def _rect(element: etree._Element, view: View, unit: float) -> tuple[list[Raw], bool]:
    x, y = _length(element, "x", view[0]), _length(element, "y", view[1])
    width, height = _size(element, "width", view[0]), _size(element, "height", view[1])
    if width == 0.0 or height == 0.0:
        return [], True
    # One radius alone stands for both; each is at most half its side.
    rx, ry = _size(element, "rx", view[0], math.nan), _size(element, "ry", view[1], math.nan)
    rx, ry = (ry if math.isnan(rx) else rx), (rx if math.isnan(ry) else ry)
    rx, ry = (min(rx, width / 2.0), min(ry, height / 2.0)) if rx > 0.0 and ry > 0.0 else (0.0, 0.0)
    right, bottom = x + width, y + height
    if rx == 0.0:
        return _join([(x, y), (right, y), (right, bottom), (x, bottom), (x, y)]), True
    run = _ring(
        [
            ((right - rx, y), (right, y + ry)),
            ((right, bottom - ry), (right - rx, bottom)),
            ((x + rx, bottom), (x, bottom - ry)),
            ((x, y + ry), (x + rx, y)),
        ],
        rx,
        ry,
        unit,
    )
    # The standard starts at the left end of the upper side, which is the last line here.
    return ([run[-1], *run[:-1]] if len(run[-1]) == 2 else run), True


def _oval(cx: float, cy: float, rx: float, ry: float, unit: float) -> tuple[list[Raw], bool]:
    if rx == 0.0 or ry == 0.0:
        return [], True
    right, bottom, left, top = (cx + rx, cy), (cx, cy + ry), (cx - rx, cy), (cx, cy - ry)
    return _ring([(right, bottom), (bottom, left), (left, top), (top, right)], rx, ry, unit), True


def _circle(element: etree._Element, view: View, unit: float) -> tuple[list[Raw], bool]:
    # A percentage of a radius is taken of the viewport's diagonal over √2 (SVG 2, section 8.9).
    r = _size(element, "r", math.hypot(*view) / math.sqrt(2.0))
    return _oval(_length(element, "cx", view[0]), _length(element, "cy", view[1]), r, r, unit)


def _ellipse(element: etree._Element, view: View, unit: float) -> tuple[list[Raw], bool]:
    rx, ry = _size(element, "rx", view[0], math.nan), _size(element, "ry", view[1], math.nan)
    rx, ry = (ry if math.isnan(rx) else rx), (rx if math.isnan(ry) else ry)
    if math.isnan(rx):
        return [], True
    return _oval(_length(element, "cx", view[0]), _length(element, "cy", view[1]), rx, ry, unit)


def _line(element: etree._Element, view: View, unit: float) -> tuple[list[Raw], bool]:
    start = (_length(element, "x1", view[0]), _length(element, "y1", view[1]))
    return [(start, (_length(element, "x2", view[0]), _length(element, "y2", view[1])))], False


def _points(element: etree._Element) -> list[Point]:
    text = element.get("points", "")
    numbers = numbers_or_none(text) if text.strip() else []
    if numbers is None or len(numbers) % 2:
        raise DocumentError(
            _("Its points cannot be read: {text}.").format(text=" ".join(text.split())[:80]),
            advice=_("Give pairs of numbers."),
        )
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def _polyline(element: etree._Element, view: View, unit: float) -> tuple[list[Raw], bool]:
    return _join(_points(element)), False


def _polygon(element: etree._Element, view: View, unit: float) -> tuple[list[Raw], bool]:
    points = _points(element)
    return _join([*points, *points[:1]]), True


_MAKERS: Final[dict[str, Callable[[etree._Element, View, float], tuple[list[Raw], bool]]]] = {
    "rect": _rect,
    "circle": _circle,
    "ellipse": _ellipse,
    "line": _line,
    "polyline": _polyline,
    "polygon": _polygon,
}
