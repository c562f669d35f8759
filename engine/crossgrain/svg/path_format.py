"""Write lines as path data."""

from __future__ import annotations

import math
from collections.abc import Sequence

from crossgrain.kernel.affine import Point
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.tolerances import COINCIDENT, PATH_ROUND_OFF, PATH_TEXT


def format_path(paths: Sequence[Path], *, unit_mm: float = 1.0) -> str:
    """Write lines as path data: absolute, straight lines as L, cubics as C, closed ones with Z.

    The same lines give the same text. A straight closing line is left to Z.

    Args:
        paths: the lines, in the numbers to be written.
        unit_mm: how many mm a unit is. Six decimals are written, or as many as keep the rounding of each number
            below ``PATH_TEXT`` mm.

    Returns:
        The text; empty for no lines. Reading it gives the same lines within that rounding.

    >>> format_path([Path.polygon([(1, 1), (11, 1), (11, 6.5)])])
    'M1,1 L11,1 L11,6.5 Z'
    """
    places = 6
    if unit_mm > 0.0:
        places = min(max(6, math.ceil(math.log10(0.5 * unit_mm / PATH_TEXT))), 15)
    words: list[str] = []
    for path in paths:
        segments = path.segments
        words.append("M" + _pair(path.start, places))
        if path.closed and isinstance(segments[-1], Line) and len(segments) > 1:
            # Z draws no closing line where the ends meet but for their digits: that one must be written.
            here, start = (tuple(round(value, places) for value in point) for point in (segments[-1].start, path.start))
            if not meets((here[0], here[1]), (start[0], start[1])):
                segments = segments[:-1]
        for segment in segments:
            if isinstance(segment, Line):
                words.append("L" + _pair(segment.end, places))
            else:
                words.append("C" + " ".join([_pair(point, places) for point in segment.controls[1:]]))
        if path.closed:
            words.append("Z")
    return " ".join(words)


def meets(here: Point, start: Point) -> bool:
    """Tell whether two points of a text are one, but for the digits it was rounded to."""
    gap = max(abs(here[0] - start[0]), abs(here[1] - start[1]))
    return gap <= max(COINCIDENT, PATH_ROUND_OFF * max(map(abs, (*here, *start))))


def _pair(point: Point, places: int) -> str:
    return f"{_number(point[0], places)},{_number(point[1], places)}"


def _number(value: float, places: int) -> str:
    """Write a number without needless zeros; never ``-0``."""
    word = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if word == "-0" else word
