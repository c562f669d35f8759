"""Lay boxes out on a sheet of a given width, in shelves, clear of each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from crossgrain.kernel.affine import Point
from crossgrain.tolerances import COINCIDENT


@dataclass(slots=True)
class _Column:
    """Boxes over one another, all but the first no wider than that one."""

    left: float
    width: float
    bottom: float


@dataclass(slots=True)
class _Shelf:
    top: float
    height: float
    right: float = 0.0
    columns: list[_Column] = field(default_factory=list)


def shelved(sizes: Sequence[Point], width: float, gap: float) -> tuple[Point, ...]:
    """Return where the upper left corner of each box is laid.

    The highest come first. Each is laid under others of its shelf where there is room for it, else beside them, else
    on a new shelf below. Nothing is turned. (First-fit decreasing height, with columns: a plain way that is never far
    off and easily seen through; it is no search for the least waste.)

    Args:
        sizes: width and height of each box, mm, above 0.
        width: of the sheet, mm. A box that is wider has a shelf to itself and stands out on the right.
        gap: the least distance between two boxes, mm, 0 or more.

    Returns:
        The corners, mm from the upper left corner of the sheet, in the order of the boxes.

    >>> shelved([(60.0, 20.0), (60.0, 50.0), (30.0, 20.0), (50.0, 20.0)], 130.0, 10.0)
    ((70.0, 0.0), (0.0, 0.0), (70.0, 30.0), (0.0, 60.0))
    """
    corners: list[Point] = [(0.0, 0.0)] * len(sizes)
    shelves: list[_Shelf] = []
    for number in sorted(range(len(sizes)), key=lambda number: -sizes[number][1]):
        wide, high = sizes[number]
        for shelf in shelves:
            place = _under(shelf, wide, high, gap) or _beside(shelf, wide, high, gap, width)
            if place is not None:
                break
        else:
            top = shelves[-1].top + shelves[-1].height + gap if shelves else 0.0
            shelf = _Shelf(top, high, wide, [_Column(0.0, wide, top + high)])
            shelves.append(shelf)
            place = (0.0, top)
        corners[number] = place
    return tuple(corners)


def _under(shelf: _Shelf, wide: float, high: float, gap: float) -> Point | None:
    for column in shelf.columns:
        top = column.bottom + gap
        if wide <= column.width and top + high <= shelf.top + shelf.height + COINCIDENT:
            column.bottom = top + high
            return column.left, top
    return None


def _beside(shelf: _Shelf, wide: float, high: float, gap: float, width: float) -> Point | None:
    left = shelf.right + gap
    if left + wide > width + COINCIDENT:
        return None
    shelf.columns.append(_Column(left, wide, shelf.top + high))
    shelf.right = left + wide
    return left, shelf.top
