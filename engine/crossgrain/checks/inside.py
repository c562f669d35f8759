"""Tell whether a point lies in the cloth of a piece."""

from __future__ import annotations

from crossgrain.kernel.affine import Point
from crossgrain.kernel.meetings.sections import chords
from crossgrain.kernel.path import Path
from crossgrain.tolerances import COINCIDENT


def is_inside(outline: Path, point: Point) -> bool:
    """Tell whether a point lies inside a closed outline, or on it.

    >>> square = Path.polygon([(0, 0), (9, 0), (9, 9), (0, 9)])
    >>> is_inside(square, (4.0, 4.0)), is_inside(square, (12.0, 4.0))
    (True, False)
    """
    x, y = point
    return any(start - COINCIDENT <= x <= end + COINCIDENT for start, end in chords(outline, (1.0, 0.0), y))
