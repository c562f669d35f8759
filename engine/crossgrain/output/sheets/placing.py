"""Place blocks on tiles one after another, each where it needs the fewest tiles more: in the hollows of others, too."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from typing import Final

import numpy as np
from numpy.typing import NDArray

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import Box
from crossgrain.kernel.footprint import Footprint, footprint
from crossgrain.output.sheets.ink import Block, Lettering
from crossgrain.output.sheets.tiles import Grid
from crossgrain.tolerances import COINCIDENT

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

_BOX: Final = 6.0
"""A box of the raster on which blocks are laid is about so wide and high, mm, and parts a tile's step evenly."""

_MOST_BOXES: Final = 45
"""Across and down a tile: on A0 they are larger, for each is tried as a place."""

_FINE: Final = 4.0
"""Of the points that lie nearer to each other than about this, mm, one tells which tiles a block needs."""

_EVEN: Final = 24
"""The raster's sides are multiples of this: Fourier's way is quick where a number has small factors only."""

_SPARE_ROWS: Final = 3
"""Rows of tiles that are tried beyond those that the blocks would fill."""


@dataclass(frozen=True, slots=True)
class Way:
    """A block turned in one way, ready to be tried in many places.

    Args:
        turn: the turn, with the upper left corner of the turned box at 0, 0.
        size: width and height of that box, mm.
        ground: what it takes up with half of the gap around it.
        needs: the tiles it needs where its corner lies in each box of a tile: shape (rows, columns of boxes in a tile,
            rows, columns of tiles). Overlaps are parted in their middle: so tiles are counted from the one before.
        is_head: whether it must lie on a single tile.
    """

    turn: Affine
    size: tuple[float, float]
    ground: Footprint
    needs: Flags
    is_head: bool

    def box(self, place: Affine) -> Box:
        """Return the box around it in its place."""
        left, top = place.of(self.turn.inverse().of((0.0, 0.0)))
        return Box(left, top, left + self.size[0], top + self.size[1])


def way_of(block: Block, dots: Floats, turn: Affine, grid: Grid, gap: float) -> Way:
    """Return a block turned in one way.

    Args:
        block: the block.
        dots: points all over it, mm, from which it is told which tiles it needs.
        turn: a quarter turn, or none.
        grid: the tiles.
        gap: the least distance to another block, mm.
    """
    frames = [one.box for one in block.ink if isinstance(one, Lettering)]
    few = dots[np.unique(np.round(dots / _FINE), axis=0, return_index=True)[1]]
    few = np.concatenate([few, dots[dots.argmin(axis=0)], dots[dots.argmax(axis=0)]])
    box = block.box
    xs, ys = zip(*map(turn.of, product((box.left, box.right), (box.top, box.bottom))), strict=True)
    place = turn.then(Affine.translation(-min(xs), -min(ys)))
    moved = few @ np.array([[place.a, place.b], [place.c, place.d]]) + (place.e, place.f)
    ground = footprint(block.regions, frames, place, _boxes(grid)[1], gap / 2.0)
    return Way(place, (max(xs) - min(xs), max(ys) - min(ys)), ground, _needs(moved, grid), block.is_head)


def placed_on_tiles(blocks: Sequence[Way], grid: Grid, columns: int) -> tuple[Affine, ...] | None:
    """Return where each block lies when they are placed in their order.

    Args:
        blocks: the blocks as they are turned.
        grid: the tiles.
        columns: how many may stand beside each other.

    Returns:
        The places, the last bits of a raster off the closest there are; None where there is no room for one.

    >>> from crossgrain.kernel.path import Path
    >>> grid, page = Grid(tile=(190.0, 259.0), overlap=10.0), Path.polygon([(0, 0), (80, 0), (80, 90), (0, 90)])
    >>> block, dots = Block(ink=(), regions=(page,)), np.array(page.nodes)
    >>> way = way_of(block, dots, Affine(), grid, 10.0)
    >>> [place.e + 80.0 < 185.0 and place.f == 0.0 for place in placed_on_tiles([way, way], grid, 1)]  # on one page
    [True, True]
    """
    (across, down), (wide, high) = _boxes(grid)
    left, above = max(way.ground.left for way in blocks), max(way.ground.above for way in blocks)
    filled = sum(int(way.needs[0, 0].sum()) for way in blocks)
    rows = -(-filled // columns) + max(way.needs.shape[2] for way in blocks) + _SPARE_ROWS
    # With room for what lies around a block and in the last overlap.
    beyond = [math.ceil(grid.overlap / box) + 2 for box in (wide, high)]
    shape = (rows * down + 2 * above + beyond[1], columns * across + 2 * left + beyond[0])
    taken = np.zeros([_EVEN * math.ceil(one / _EVEN) for one in shape], dtype=np.bool_)
    # Before the first tile there is none: what lies there is on the first.
    tiles = np.zeros((rows + 1, columns + 1), dtype=np.bool_)
    tiles[0], tiles[:, 0] = True, True
    width = columns * grid.steps[0] + grid.overlap
    found = list[Affine]()
    for way in blocks:
        first = (above - way.ground.above, left - way.ground.left)
        free = _free(taken, way.ground, first)
        free = free[: rows * down, : max(0, int((width - way.size[0] + COINCIDENT) // wide) + 1)]
        score = _score(way, tiles, (down, across), free)
        if not np.isfinite(score).any():
            return None
        y, x = divmod(int(np.argmin(score)), score.shape[1])
        high_of, wide_of = way.ground.boxes.shape
        taken[first[0] + y : first[0] + y + high_of, first[1] + x : first[1] + x + wide_of] |= way.ground.boxes
        need, row, column = way.needs[y % down, x % across], y // down, x // across
        part = tiles[row : row + need.shape[0], column : column + need.shape[1]]
        part |= need[: part.shape[0], : part.shape[1]]
        found.append(way.turn.then(Affine.translation(x * wide, y * high)))
    return tuple(found)


def _boxes(grid: Grid) -> tuple[tuple[int, int], tuple[float, float]]:
    """Return how many boxes of the raster part the step of a tile, and their width and height, mm."""
    across, down = (min(max(1, round(step / _BOX)), _MOST_BOXES) for step in grid.steps)
    return (across, down), (grid.steps[0] / across, grid.steps[1] / down)


def _needs(dots: Floats, grid: Grid) -> Flags:
    """Return which tiles points lie on, for every box of a tile in which their corner may lie."""
    (across, down), (wide, high) = _boxes(grid)
    half = grid.overlap / 2.0
    columns = np.floor((dots[:, 0] + wide * np.arange(across)[:, None] - half) / grid.steps[0]).astype(int) + 1
    rows = np.floor((dots[:, 1] + high * np.arange(down)[:, None] - half) / grid.steps[1]).astype(int) + 1
    needs = np.zeros((down, across, rows.max() + 1, columns.max() + 1), dtype=np.bool_)
    boxes = np.arange(down)[:, None, None], np.arange(across)[None, :, None]
    needs[*boxes, rows[:, None, :], columns[None, :, :]] = True
    return needs


def _free(taken: Flags, ground: Footprint, first: tuple[int, int]) -> Flags:
    """Tell where a footprint meets nothing that is taken: a correlation, by Fourier's way."""
    met = np.fft.irfft2(np.fft.rfft2(taken) * np.fft.rfft2(ground.boxes, taken.shape).conj(), taken.shape)
    rows, columns = (whole - part + 1 for whole, part in zip(taken.shape, ground.boxes.shape, strict=True))
    free: Flags = met[first[0] : rows, first[1] : columns] < 0.5
    return free


def _score(way: Way, tiles: Flags, boxes: tuple[int, int], free: Flags) -> Floats:
    """Return how dear each place is: most of all tiles that nothing needs yet, then how far down and across it lies."""
    down, across = boxes
    high, wide = way.needs.shape[2:]
    rows, columns = (count - 1 for count in tiles.shape)
    # Few sets of tiles differ: each is counted once for every tile in which the corner may lie.
    kinds, which = np.unique(way.needs.reshape(down * across, -1), axis=0, return_inverse=True)

    def counted(some: Flags) -> Floats:
        room = np.pad(some, ((0, high), (0, wide))).astype(np.float64)
        windows = np.lib.stride_tricks.sliding_window_view(room, (high, wide))[:rows, :columns]
        return windows.reshape(rows * columns, -1) @ kinds.T.astype(np.float64)

    dear = counted(~tiles)
    if way.is_head:
        every = np.ones_like(tiles)
        every[0], every[:, 0] = False, False
        dear[counted(every) > 1.0] = np.inf
    each = dear.reshape(rows, columns, -1)[:, :, which.reshape(down, across)]
    more = each.transpose(0, 2, 1, 3).reshape(rows * down, columns * across)[: free.shape[0], : free.shape[1]]
    y, x = np.arange(more.shape[0])[:, None], np.arange(more.shape[1])
    far = (more * rows * down + y) * columns * across + x
    score: Floats = np.where(free[: more.shape[0], : more.shape[1]], far, np.inf)
    return score
