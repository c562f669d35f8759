"""Pages: everything that is drawn is on one, neighbours overlap, and none is printed for nothing."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon
from shapely.geometry import box as rectangle

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.flatten import flatten
from crossgrain.output.sheets.tiles import Grid, Layout, Placed
from output.sheets.blocks import block, blocks, box, boxes

PLACES = st.tuples(st.floats(0.0, 400.0), st.floats(0.0, 400.0))
TURNS = st.sampled_from([Affine(), Affine(0.0, 1.0, -1.0, 0.0)])
OVERLAPS = st.sampled_from([0.0, 4.0, 10.0, 25.0])


def edges(tile):
    return tile.left, tile.top, tile.right, tile.bottom


def grid_for(placed, tile=(90.0, 120.0), overlap=10.0):
    return Grid(tile=tile, overlap=overlap).reaching(placed.box.right, placed.box.bottom)


def laid(one, place, turn=Affine()):  # noqa: B008 - a value
    upper_left = Placed(block=one, place=turn).box
    move = Affine.translation(place[0] - upper_left.left, place[1] - upper_left.top)
    return Placed(block=one, place=turn.then(move))


@given(blocks(), PLACES, TURNS, OVERLAPS)
def test_all_that_is_drawn_is_on_a_page(one, place, turn, overlap):
    placed = laid(one, place, turn)
    grid = grid_for(placed, overlap=overlap)
    windows = [grid.box(cell) for cell in grid.cells(placed)]
    points = flatten(one.regions[0].mapped(placed.place), 0.5).points
    for x, y in points:
        assert any(b.left - 1e-6 <= x <= b.right + 1e-6 and b.top - 1e-6 <= y <= b.bottom + 1e-6 for b in windows)


@given(blocks(), PLACES, OVERLAPS)
def test_pages_are_those_that_hold_a_part_of_the_piece_that_no_other_holds(one, place, overlap):
    """Shapely says which tiles, each parted from its neighbours in the middle of the overlap, meet the piece."""
    placed = laid(one, place)
    grid = grid_for(placed, overlap=overlap)
    shape = Polygon(flatten(one.regions[0].mapped(placed.place), 0.01).points).buffer(0)
    cells = grid.cells(placed)
    far = 1e6
    for row in range(grid.rows):
        for column in range(grid.columns):
            tile, half = grid.box((row, column)), overlap / 2.0
            core = rectangle(
                tile.left + half if column else -far,
                tile.top + half if row else -far,
                tile.right - half if column < grid.columns - 1 else far,
                tile.bottom - half if row < grid.rows - 1 else far,
            )
            if core.buffer(-0.05).intersects(shape):
                assert (row, column) in cells
            elif not core.buffer(0.05).intersects(shape) and not rectangle(*edges(tile)).buffer(13.0).intersects(shape):
                # Curves are followed in boxes of up to 12 mm: so near a tile it may be printed without need.
                assert (row, column) not in cells


@given(st.integers(1, 40), st.integers(1, 40), OVERLAPS)
def test_so_many_tiles_reach_and_no_fewer(columns, rows, overlap):
    grid = Grid(tile=(190.0, 259.0), overlap=overlap)
    wide, high = columns * grid.steps[0] + overlap, rows * grid.steps[1] + overlap
    exact = grid.reaching(wide, high)
    assert (exact.columns, exact.rows) == (columns, rows)
    more = grid.reaching(wide + 0.01, high + 0.01)
    assert (more.columns, more.rows) == (columns + 1, rows + 1)


def test_neighbours_overlap_as_is_said():
    grid = Grid(tile=(190.0, 259.0), overlap=10.0, rows=2, columns=2)
    first, right, below = (grid.box(cell) for cell in ((0, 0), (0, 1), (1, 0)))
    assert first.right - right.left == 10.0
    assert first.bottom - below.top == 10.0
    assert (first.width, first.height) == (190.0, 259.0)


def test_the_paper_inside_a_piece_is_there_though_nothing_is_drawn_on_it():
    placed = laid(boxes(500.0, 700.0), (0.0, 0.0))
    grid = grid_for(placed)
    assert len(grid.cells(placed)) == grid.rows * grid.columns


def test_a_page_in_the_bay_of_a_piece_is_left_out():
    one = block(box(500.0, 700.0))
    bay = block(
        type(one.regions[0]).polygon(
            [(0, 0), (500, 0), (500, 100), (100, 100), (100, 600), (500, 600), (500, 700), (0, 700)]
        )
    )
    placed = laid(bay, (0.0, 0.0))
    grid = grid_for(placed)
    cells = grid.cells(placed)
    assert (2, 3) not in cells
    assert (2, 0) in cells
    assert len(cells) < grid.rows * grid.columns


def test_pages_are_joined_only_where_a_piece_lies_on_both():
    apart = [laid(boxes(60.0, 60.0), (5.0, 5.0)), laid(boxes(60.0, 60.0), (95.0, 5.0))]
    layout = Layout.of(apart, Grid(tile=(90.0, 120.0), overlap=10.0, columns=2))
    assert layout.cells == ((0, 0), (0, 1))
    assert not layout.joined((0, 0), (0, 1))
    across = Layout.of([laid(boxes(150.0, 60.0), (5.0, 5.0))], Grid(tile=(90.0, 120.0), overlap=10.0, columns=2))
    assert across.joined((0, 0), (0, 1))


@pytest.mark.parametrize("overlap", [-1.0, 46.0, float("nan"), float("inf")])
def test_an_overlap_that_leaves_nothing_is_refused(overlap):
    with pytest.raises(ParameterError, match="Pages cannot overlap by"):
        Grid(tile=(90.0, 120.0), overlap=overlap)
