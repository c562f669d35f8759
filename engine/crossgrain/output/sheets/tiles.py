"""Part what is laid out into pages that overlap, and leave empty ones out."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import Box, segment_bounds
from crossgrain.kernel.meetings.sections import chords
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Segment
from crossgrain.language import _
from crossgrain.output.sheets.ink import Block, Stroke
from crossgrain.tolerances import COINCIDENT, ROUND_OFF
from crossgrain.units import format_length

Cell = tuple[int, int]
"""Row and column of a tile, from 0."""

_FINE = 12.0
"""Curves are followed in parts no larger than this, mm, to tell which tiles they cross."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A block in its place.

    Args:
        block: what is laid out.
        place: from the block to the layout, a shift and perhaps a quarter turn.
        box: around it, mm of the layout.
    """

    block: Block
    place: Affine
    box: Box = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "box", _mapped(self.block.box, self.place))


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Tiles of one size in rows and columns, each overlapping the next.

    Args:
        tile: width and height of a tile, mm.
        overlap: of neighbours, mm, 0 or more.
        rows: how many there are.
        columns: how many there are.

    Raises:
        ParameterError: an overlap that leaves nothing of a tile.
    """

    tile: tuple[float, float]
    overlap: float
    rows: int = 1
    columns: int = 1

    def __post_init__(self) -> None:
        if not 0.0 <= self.overlap <= min(self.tile) / 2.0:
            raise ParameterError(
                _("Pages cannot overlap by {overlap:.4g} mm: {tile} of each is drawn on.").format(
                    overlap=self.overlap, tile=format_length(min(self.tile))
                ),
                advice=_("Give between 0 mm and half of that."),
            )

    def reaching(self, width: float, height: float) -> Grid:
        """Return as many tiles as it takes to reach so far, mm.

        >>> Grid(tile=(190.0, 259.0), overlap=10.0).reaching(371.0, 259.0).columns
        3
        """
        columns, rows = (
            max(1, math.ceil((size - self.overlap) / step - ROUND_OFF))
            for size, step in zip((width, height), self.steps, strict=True)
        )
        return replace(self, rows=rows, columns=columns)

    @property
    def steps(self) -> tuple[float, float]:
        """From tile to tile, across and down, mm."""
        return (self.tile[0] - self.overlap, self.tile[1] - self.overlap)

    def box(self, cell: Cell) -> Box:
        """Return what a tile shows, mm of the layout."""
        left, top = cell[1] * self.steps[0], cell[0] * self.steps[1]
        return Box(left, top, left + self.tile[0], top + self.tile[1])

    def within(self, box: Box) -> Iterator[Cell]:
        """Yield the tiles of which a box needs any: overlaps are parted in their middle."""
        (wide, high), half = self.steps, self.overlap / 2.0

        def reach(first: float, last: float, step: float, count: int) -> range:
            low = math.floor((first - half + COINCIDENT) / step)
            high = math.ceil((last - half - COINCIDENT) / step) - 1
            # What lies in the half overlap before the first tile or after the last has no other.
            low = min(max(low, 0), count - 1)
            return range(low, min(max(high, low), count - 1) + 1)

        columns = reach(box.left, box.right, wide, self.columns)
        rows = reach(box.top, box.bottom, high, self.rows)
        return ((row, column) for row in rows for column in columns)

    def cells(self, placed: Placed) -> frozenset[Cell]:
        """Return the tiles that a block needs: those its lines and words cross, and those within its regions."""
        place, found = placed.place, set[Cell]()
        for one in placed.block.ink:
            if isinstance(one, Stroke):
                for segment in one.line.segments:
                    found |= self._crossed(segment.mapped(place))
            else:
                found.update(self.within(_mapped(one.box, place)))
        for region in placed.block.regions:
            line = region.mapped(place)
            for segment in line.segments:
                found |= self._crossed(segment)
            found |= self._inside(line, placed.box)
        return frozenset(found)

    def _crossed(self, segment: Segment) -> set[Cell]:
        box = segment_bounds(segment)
        cells = set(self.within(box))
        if len(cells) == 1 or max(box.width, box.height) < _FINE or min(box.width, box.height) < COINCIDENT:
            return cells
        first, second = segment.split(0.5)
        return self._crossed(first) | self._crossed(second)

    def _inside(self, region: Path, box: Box) -> set[Cell]:
        """Return the tiles whose middle lies within a region: a piece is whole only with the paper inside it."""
        found = set[Cell]()
        for row in sorted({cell[0] for cell in self.within(box)}):
            middle = self.box((row, 0)).centre[1]
            for start, end in chords(region, (1.0, 0.0), middle):
                for cell in self.within(Box(start, middle, end, middle)):
                    if start <= self.box((row, cell[1])).centre[0] <= end:
                        found.add((row, cell[1]))
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Blocks in their places, and the tiles that they need.

    Args:
        grid: the tiles.
        placed: the blocks.
        needs: the tiles that each block needs, in the order of the blocks.
    """

    grid: Grid
    placed: tuple[Placed, ...]
    needs: tuple[frozenset[Cell], ...]

    @classmethod
    def of(cls, placed: Iterable[Placed], grid: Grid) -> Layout:
        """Find out which tiles are needed."""
        blocks = tuple(placed)
        return cls(grid=grid, placed=blocks, needs=tuple(map(grid.cells, blocks)))

    @property
    def cells(self) -> tuple[Cell, ...]:
        """The tiles that are printed, row by row."""
        return tuple(sorted(frozenset[Cell]().union(*self.needs)))

    def joined(self, one: Cell, other: Cell) -> bool:
        """Tell whether two neighbours are laid over each other: where a block needs both."""
        return any(one in cells and other in cells for cells in self.needs)

    def on(self, cell: Cell) -> Sequence[int]:
        """Return the numbers of the blocks of which a tile shows anything."""
        box = self.grid.box(cell)
        return [number for number, placed in enumerate(self.placed) if placed.box.meets(box)]


def _mapped(box: Box, place: Affine) -> Box:
    corners = [place.of(corner) for corner in ((box.left, box.top), (box.right, box.bottom))]
    xs, ys = zip(*corners, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))
