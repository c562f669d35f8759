"""Lines as SVG path text, for a page that is looked at rather than cut from."""

from __future__ import annotations

from typing import Final

from crossgrain.kernel.affine import Point
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line

_PLACES: Final = 2
"""A hundredth of a millimetre: on a page at a fifth of true size far finer than any printer."""


def path_text(path: Path) -> str:
    """Write a path as the text of a ``d`` attribute, in mm.

    >>> path_text(Path.polygon([(0, 0), (10, 0), (10, 5.125)]))
    'M0 0L10 0L10 5.12L0 0Z'
    """
    parts = [f"M{_point(path.start)}"]
    for segment in path.segments:
        if isinstance(segment, Line):
            parts.append(f"L{_point(segment.end)}")
        else:
            parts.append("C" + " ".join(_point(control) for control in segment.controls[1:]))
    return "".join(parts) + ("Z" if path.closed else "")


def number_text(value: float) -> str:
    """Write a number with at most two places and no empty ones.

    >>> number_text(-0.001), number_text(12.50)
    ('0', '12.5')
    """
    text = f"{value:.{_PLACES}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _point(point: Point) -> str:
    return f"{number_text(point[0])} {number_text(point[1])}"
