"""Lay boxes out on a sheet of a given width, close together and clear of each other."""

from __future__ import annotations

from bisect import insort
from collections.abc import Callable, Iterator, Sequence
from itertools import islice
from typing import Final

from crossgrain.kernel.affine import Point
from crossgrain.kernel.shelves import shelved
from crossgrain.tolerances import COINCIDENT

_ORDERS: Final[tuple[Callable[[Point], float], ...]] = (
    lambda size: -size[1],
    lambda size: -size[0] - size[1],
    lambda size: -max(size),
    lambda size: -size[0] * size[1],
    lambda size: -size[0],
)
"""What comes first: the highest, the largest around, the longest either way, the largest, the widest."""

_TRIED_FIRST: Final = 16
"""So many boxes are tried at the head of the order: every further one costs as much as a whole layout."""


def laid_boxes(sizes: Sequence[Point], width: float, gap: float) -> tuple[Point, ...]:
    """Return where the upper left corner of each box is laid, so that all reach down as little as can be had.

    Each box in its turn goes as far up as it can, and there as far to the left: into holes between earlier ones too.
    Several orders are tried, then each box at the head of the best one; the lowest result is taken, and never one that
    reaches farther than shelves do. Nothing is turned. (Bottom-left fill: Chazelle, IEEE Trans. Comput. C-32, 1983,
    from memory, here with the page's y axis, so that "bottom" is the top.)

    Args:
        sizes: width and height of each box, mm, above 0.
        width: of the sheet, mm. A box that is wider begins at the left and stands out on the right.
        gap: the least distance between two boxes along one axis, mm, 0 or more.

    Returns:
        The corners, mm from the upper left corner of the sheet, in the order of the boxes. No search for the least
        there is: within about 1.1 to 1.25 times the height that area alone would allow, for ten to twenty boxes.

    >>> laid_boxes([(60.0, 20.0), (60.0, 50.0), (30.0, 20.0), (50.0, 20.0)], 130.0, 10.0)
    ((70.0, 0.0), (0.0, 0.0), (70.0, 30.0), (0.0, 60.0))
    """
    numbers = range(len(sizes))
    if not sizes:
        return ()
    least = max(high for _wide, high in sizes)
    best, corners, order = float("inf"), tuple[Point, ...](), list(numbers)
    for measure in _ORDERS:
        keys = [measure(size) for size in sizes]
        one = sorted(numbers, key=keys.__getitem__)
        found = _filled(sizes, one, width, gap)
        if (reach := _reach(sizes, found)) < best - COINCIDENT:
            best, corners, order = reach, found, one
        if best <= least + COINCIDENT:
            return corners
    for one in islice(_each_first(order), _TRIED_FIRST):
        found = _filled(sizes, one, width, gap)
        if (reach := _reach(sizes, found)) < best - COINCIDENT:
            best, corners = reach, found
    plain = shelved(sizes, width, gap)
    return plain if _reach(sizes, plain) < best - COINCIDENT else corners


def _each_first(order: Sequence[int]) -> Iterator[list[int]]:
    for place, number in enumerate(order[1:], start=1):
        yield [number, *order[:place], *order[place + 1 :]]


def _reach(sizes: Sequence[Point], corners: Sequence[Point]) -> float:
    return max(y + high for (_x, y), (_wide, high) in zip(corners, sizes, strict=True))


def _filled(sizes: Sequence[Point], order: Sequence[int], width: float, gap: float) -> tuple[Point, ...]:
    corners: list[Point] = [(0.0, 0.0)] * len(sizes)
    # Top, bottom, left, right of what is laid already, from the top down.
    laid: list[tuple[float, float, float, float]] = []
    for number in order:
        wide, high = sizes[number]
        lefts = [right + gap for _top, _bottom, _left, right in laid if right + gap + wide <= width + COINCIDENT]
        y, x = min((_top_at(laid, left, wide, high, gap), left) for left in [0.0, *lefts])
        corners[number] = (x, y)
        insort(laid, (y, y + high, x, x + wide))
    return tuple(corners)


def _top_at(
    laid: Sequence[tuple[float, float, float, float]], left: float, wide: float, high: float, gap: float
) -> float:
    """Return how far up a box can lie with its left side in a given place."""
    y = 0.0
    from_left, to_right = left - gap + COINCIDENT, left + wide + gap - COINCIDENT
    for top, bottom, start, end in laid:
        if start < to_right and end > from_left and bottom + gap > y + COINCIDENT:
            if top >= y + high + gap - COINCIDENT:
                return y
            y = bottom + gap
    return y
