"""How pages come together: each is laid over the ones on its left and above it, and nothing is cut off.

The blank margin of the upper sheet hides a strip of the lower one. Across that strip lies a lozenge on its point: two
corners of it are seen on the lower sheet and two on the upper one. Its sides run at 45°, so that a sheet that lies too
far to any side breaks all four; where they run on straight, the sheet lies true. (Our own mark; the eye sees a break in
a line of a few tenths of a millimetre.) The same lozenge is drawn on both sheets, also where they overlap: against
the light, one covers the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from crossgrain.kernel.affine import Point
from crossgrain.kernel.bounds import Box
from crossgrain.output.sheets.ink import PALE, Ink, Lettering, ruled
from crossgrain.output.sheets.paper import MARGIN
from crossgrain.output.sheets.tiles import Cell, Layout

HALF: Final = 17.0
"""From the middle of a lozenge to its corners, mm: beyond the hidden strip of 10 mm it shows 12 on either side."""

_PLACES: Final = (0.22, 0.78)
"""Where along a join its lozenges are, as shares: far apart, so that a turn is seen."""

_WIDTH: Final = 0.25
_NUMBER: Final = 4.0
_CORNER: Final = 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """Where one page is laid over another.

    Args:
        number: from 1, written on both.
        lower: the page beneath.
        upper: the page that is laid over it, on its right or below it.
    """

    number: int
    lower: Cell
    upper: Cell

    @property
    def is_down(self) -> bool:
        """Whether the upper sheet lies below the other on the table, rather than on its right."""
        return self.upper[0] > self.lower[0]


def joins(layout: Layout) -> tuple[Join, ...]:
    """Return the joins of a layout, in the order in which the pages are laid down."""
    cells, found = set(layout.cells), list[tuple[Cell, Cell]]()
    for row, column in layout.cells:
        for before in ((row, column - 1), (row - 1, column)):
            if before in cells and layout.joined(before, (row, column)):
                found.append((before, (row, column)))
    return tuple(Join(number=k, lower=lower, upper=upper) for k, (lower, upper) in enumerate(found, start=1))


def lozenges(layout: Layout, join: Join) -> tuple[Point, Point]:
    """Return the middles of the two lozenges of a join, mm of the layout: in the middle of the hidden strip."""
    box = layout.grid.box(join.upper)
    if join.is_down:
        y = box.top - MARGIN / 2.0
        first, second = ((box.left + share * box.width, y) for share in _PLACES)
    else:
        x = box.left - MARGIN / 2.0
        first, second = ((x, box.top + share * box.height) for share in _PLACES)
    return first, second


def join_ink(layout: Layout, join: Join) -> tuple[Ink, ...]:
    """Draw a join, mm of the layout: its lozenges, their number, and where the edge of the upper sheet comes to lie."""
    ink: list[Ink] = []
    numbers: list[Ink] = []
    for x, y in lozenges(layout, join):
        corners = ((x - HALF, y), (x, y - HALF), (x + HALF, y), (x, y + HALF))
        ink.append(ruled(corners, _WIDTH, purpose="joins", closed=True))
        off = 0.6 * HALF
        for dx, dy in ((0.0, -off), (0.0, off)) if join.is_down else ((-off, 0.0), (off, 0.0)):
            at = (x + dx, y + dy + 0.36 * _NUMBER)
            numbers.append(Lettering(text=str(join.number), at=at, height=_NUMBER, purpose="joins", middle=True))
    box = layout.grid.box(join.upper)
    ends = (
        ((box.left, box.top - MARGIN), (box.right, box.top - MARGIN))
        if join.is_down
        else ((box.left - MARGIN, box.top), (box.left - MARGIN, box.bottom))
    )
    ink.append(ruled(ends, 0.15, purpose="joins", colour=PALE, dashes=(0.5, 2.5)))
    return (*ink, *numbers)


def corner_ink(box: Box) -> Iterator[Ink]:
    """Draw the corners of what is drawn on, mm of the layout."""
    for x, way in ((box.left, 1.0), (box.right, -1.0)):
        for y, down in ((box.top, 1.0), (box.bottom, -1.0)):
            yield ruled(((x + way * _CORNER, y), (x, y), (x, y + down * _CORNER)), 0.15, purpose="joins", colour=PALE)
