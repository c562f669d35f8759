"""Lay blocks out so that few pages are needed."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from operator import itemgetter
from typing import Final

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import Box
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.laid_boxes import laid_boxes
from crossgrain.kernel.meetings.sections import chords
from crossgrain.kernel.shelves import shelved
from crossgrain.language import _
from crossgrain.output.sheets.ink import Block
from crossgrain.output.sheets.paper import Paper
from crossgrain.output.sheets.placing import placed_on_tiles, way_of
from crossgrain.output.sheets.tiles import Grid, Layout, Placed
from crossgrain.tolerances import COINCIDENT

_MORE_COLUMNS: Final = 12
"""Beginning with as many pages as the widest piece takes, so many widths are tried: a table ends before."""

_COLUMNS_BY_SHAPES: Final = 3
"""So many where blocks are placed by their shapes, which takes longer."""

MOST_PAGES: Final = 1000
"""Pieces that cover more are a mistake in the drawing's scale: twelve sizes of trousers take some 40."""

_NEAR: Final = 5.0
"""Points along the outline that stands for a block while ways to lay it out are compared are so far apart, mm."""

_INSIDE: Final = 60.0
"""And those inside of it, mm: less than any page."""

Floats = NDArray[np.float64]

_UPRIGHT: Final = Affine()
_TURNED: Final = Affine(0.0, 1.0, -1.0, 0.0)
"""A quarter turn: what was upright lies across."""

_SQUARISH: Final = 1.3
"""A page for a projector is about so much wider than a square of the pieces' area is."""


def packed(blocks: Sequence[Block], paper: Paper, overlap: float, gap: float, *, grain_parallel: bool) -> Layout:
    """Lay blocks out on a paper.

    Several widths are tried, on shelves and closer, with pieces upright, lying, or each as its long side is; then, on
    tiles, each piece where it needs the fewest more, in the hollows of others too. What needs the fewest pages is
    taken: a plain search, not the best there is. A page of words lies on one tile.

    Args:
        blocks: at least one.
        paper: what they are printed on.
        overlap: of neighbouring pages, mm.
        gap: the least distance between two, mm, 0 or more.
        grain_parallel: whether pieces stay as they stand, all grains parallel.

    Returns:
        The layout, its upper left corner at 0, 0. On a roll and for a projector the tile is as long as is needed.

    Raises:
        ParameterError: an overlap that leaves nothing of a page, a gap below zero, or more pages than anybody joins.
    """
    if not 0.0 <= gap < math.inf:
        raise ParameterError(_("Pieces cannot lie {gap:.4g} mm apart.").format(gap=gap), advice=_("Give 0 mm or more."))
    boxes = [block.box for block in blocks]
    if sum(box.width * box.height for box in boxes) > MOST_PAGES * paper.tile[0] * paper.tile[1]:
        raise ParameterError(
            _("The pieces would take more than {most} pages.").format(most=MOST_PAGES),
            advice=_("Look at the scale of the drawing (crossgrain measure), or take larger paper."),
        )
    dots = [_dots(block) for block in blocks]
    grid = Grid(tile=paper.tile, overlap=overlap)

    def cost(one: _Try) -> tuple[int, ...]:
        needed = _needed(dots, one, _grid(paper, grid, one))
        split = sum(int(needed[number].sum()) - 1 for number, block in enumerate(blocks) if block.is_head)
        # Of two that take as many pages, the shorter; on one page, the smaller. Then the one with less turned.
        extent = max(one.width, one.height) if paper.way == "tiles" else one.width * one.height
        pages = int(np.logical_or.reduce(needed).sum())
        return split, pages, round(extent), sum(turn is _TURNED for turn in one.turns)

    by_boxes = [
        _tried(boxes, turns, sizes, lay(sizes, width, gap))
        for turns in _ways(blocks, boxes, grain_parallel)
        for sizes in [[_size(box, turn) for box, turn in zip(boxes, turns, strict=True)]]
        for width, lay in product(_widths(sizes, paper, grid, gap), (shelved, laid_boxes))
    ]
    best = min(by_boxes, key=cost)
    if paper.way == "tiles" and len(blocks) > 1:
        # As all stand, too, so that what may be turned never takes more pages than what may not.
        some = dict.fromkeys((by_boxes[0].turns, best.turns))
        best = min([best, *_by_shapes(blocks, dots, list(some), grid, gap)], key=cost)
    placed = [Placed(block=block, place=place) for block, place in zip(blocks, best.places, strict=True)]
    return Layout.of(placed, _grid(paper, grid, best))


@dataclass(frozen=True, slots=True)
class _Try:
    """Where the blocks lie in one way to lay them out, and how far they reach."""

    turns: tuple[Affine, ...]
    places: tuple[Affine, ...]
    width: float
    height: float


def _tried(
    boxes: Sequence[Box],
    turns: Sequence[Affine],
    sizes: Sequence[tuple[float, float]],
    corners: Sequence[tuple[float, float]],
) -> _Try:
    ends = [(x + wide, y + high) for (x, y), (wide, high) in zip(corners, sizes, strict=True)]
    places = (_place(box, turn, corner) for box, turn, corner in zip(boxes, turns, corners, strict=True))
    return _Try(tuple(turns), tuple(places), max(x for x, _y in ends), max(y for _x, y in ends))


def _dots(block: Block) -> Floats:
    """Return points all over a block, near enough to each other to tell which pages it will need."""
    box = block.box
    found = [np.array([(box.left, box.top), (box.right, box.bottom)])] if not block.regions else []
    for region in block.regions:
        points = flatten(region, _NEAR).points
        steps = np.hypot(*np.diff(points, axis=0).T)
        along = np.concatenate([[0.0], np.cumsum(steps)])
        # With the corners themselves: they reach farthest.
        at = np.union1d(along, np.arange(0.0, along[-1], _NEAR))
        found.append(np.column_stack([np.interp(at, along, points[:, axis]) for axis in (0, 1)]))
        for y in np.arange(box.top + _INSIDE / 2.0, box.bottom, _INSIDE):
            for start, end in chords(region, (1.0, 0.0), float(y)):
                xs = np.arange(start, end, _INSIDE)
                found.append(np.column_stack([xs, np.full(len(xs), y)]))
    points = np.concatenate(found)
    # What ends on the border of a page needs no more of the next than the tiles themselves say: nothing.
    inwards: Floats = points - 2.0 * COINCIDENT * np.sign(points - np.array(box.centre))
    return inwards


def _by_shapes(
    blocks: Sequence[Block], dots: Sequence[Floats], some: Sequence[tuple[Affine, ...]], grid: Grid, gap: float
) -> Iterator[_Try]:
    """Yield what comes of placing blocks by their shapes, pages of words first, then the largest."""
    areas = [block.box.width * block.box.height for block in blocks]
    order = sorted(range(len(blocks)), key=lambda number: (not blocks[number].is_head, -areas[number]))
    for turns in some:
        ways = [way_of(block, points, turn, grid, gap) for block, points, turn in zip(blocks, dots, turns, strict=True)]
        least = grid.reaching(max(way.size[0] for way in ways), 0.0).columns
        for columns in range(least, least + _COLUMNS_BY_SHAPES):
            found = placed_on_tiles([ways[number] for number in order], grid, columns)
            if found is not None:
                places = tuple(place for _number, place in sorted(zip(order, found, strict=True), key=itemgetter(0)))
                boxes = [way.box(place) for way, place in zip(ways, places, strict=True)]
                yield _Try(turns, places, max(box.right for box in boxes), max(box.bottom for box in boxes))


def _needed(dots: Sequence[Floats], one: _Try, grid: Grid) -> NDArray[np.bool_]:
    """Return the tiles on which any of the points of each block lies, shape (blocks, columns, rows)."""
    half, steps = grid.overlap / 2.0, np.array(grid.steps)
    needed = np.zeros((len(dots), grid.columns, grid.rows), dtype=np.bool_)
    for own, points, place in zip(needed, dots, one.places, strict=True):
        moved = points @ np.array([[place.a, place.b], [place.c, place.d]]) + (place.e, place.f)
        numbers = np.floor((moved - half) / steps).astype(np.intp)
        numbers = np.clip(numbers, 0, (grid.columns - 1, grid.rows - 1))
        own[numbers[:, 0], numbers[:, 1]] = True
    return needed


def _ways(blocks: Sequence[Block], boxes: Sequence[Box], grain_parallel: bool) -> Iterator[tuple[Affine, ...]]:
    """Yield how blocks may be turned; heads never are."""
    yield (_UPRIGHT,) * len(blocks)
    if grain_parallel:
        return
    seen = {(_UPRIGHT,) * len(blocks)}
    for lying, standing in ((_TURNED, _UPRIGHT), (_UPRIGHT, _TURNED), (_TURNED, _TURNED)):
        turns = tuple(
            _UPRIGHT if block.is_head else lying if box.width > box.height else standing
            for block, box in zip(blocks, boxes, strict=True)
        )
        if turns not in seen:
            seen.add(turns)
            yield turns


def _widths(sizes: Sequence[tuple[float, float]], paper: Paper, grid: Grid, gap: float) -> Iterator[float]:
    widest = max(wide for wide, _high in sizes)
    whole = sum(wide + gap for wide, _high in sizes)
    if paper.way == "projector":
        area = sum((wide + gap) * (high + gap) for wide, high in sizes)
        for share in (0.7, 1.0, _SQUARISH, 1.7):
            yield max(widest, share * math.sqrt(area))
        return
    least = grid.reaching(widest, 0.0).columns
    for columns in range(least, least + _MORE_COLUMNS):
        width = columns * grid.steps[0] + grid.overlap
        yield width
        if width > whole:
            return


def _grid(paper: Paper, grid: Grid, one: _Try) -> Grid:
    """Return the tiles: on a roll as long as is needed, for a projector a single one."""
    wide, high = grid.tile
    if paper.way != "tiles":
        high = min(one.height, high)
    if paper.way == "projector":
        wide = min(one.width, wide)
    return Grid(tile=(wide, high), overlap=min(grid.overlap, min(wide, high) / 2.0)).reaching(one.width, one.height)


def _size(box: Box, turn: Affine) -> tuple[float, float]:
    return (box.width, box.height) if turn is _UPRIGHT else (box.height, box.width)


def _place(box: Box, turn: Affine, corner: tuple[float, float]) -> Affine:
    """Return the map that turns a box and lays its upper left corner where it belongs."""
    corners = [turn.of(one) for one in product((box.left, box.right), (box.top, box.bottom))]
    left, top = min(x for x, _y in corners), min(y for _x, y in corners)
    return turn.then(Affine.translation(corner[0] - left, corner[1] - top))
