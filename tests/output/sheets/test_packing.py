"""Laying out: nothing over anything else, grains parallel where asked, and few pages."""

from __future__ import annotations

import math
import random
from itertools import combinations

import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.kernel.shelves import shelved
from crossgrain.output.sheets import packing
from crossgrain.output.sheets.packing import packed
from crossgrain.output.sheets.paper import paper_named
from output.sheets.blocks import block, box, boxes, some_blocks

PAPERS = st.sampled_from(["a4", "letter", "a3", "a0", "roll-914mm", "projector"])


def laid(some, paper="a4", overlap=10.0, gap=10.0, grain_parallel=False):
    return packed(some, paper_named(paper), overlap, gap, grain_parallel=grain_parallel)


@settings(max_examples=25)
@given(some_blocks(), PAPERS, st.sampled_from([0.0, 10.0, 25.0]), st.booleans())
def test_no_two_pieces_come_nearer_than_the_gap(some, paper, gap, parallel):
    layout = laid(some, paper, gap=gap, grain_parallel=parallel)
    assert [placed.block for placed in layout.placed] == some
    for one, other in combinations([placed.box for placed in layout.placed], 2):
        assert not one.grown(gap / 2.0 - 1e-6).meets(other.grown(gap / 2.0 - 1e-6))


@settings(max_examples=8)
@given(some_blocks(), PAPERS, st.booleans())
def test_pieces_are_moved_and_turned_and_nothing_else(some, paper, parallel):
    for placed in laid(some, paper, grain_parallel=parallel).placed:
        place = placed.place
        assert place.determinant == 1.0
        assert {place.a, place.b, place.c, place.d} <= {0.0, 1.0, -1.0}
        if parallel:
            assert (place.a, place.d) == (1.0, 1.0)


@settings(max_examples=8)
@example([boxes(185.0, 254.0), boxes(365.0, 503.0)], "a4")  # which end in the middle of an overlap
@example([boxes(371.5, 60.0), boxes(60.0, 511.2)], "a4")  # which reach just into one page more
@given(some_blocks(), st.sampled_from(["a4", "letter", "a3"]))
def test_turning_never_takes_more_pages(some, paper):
    assert len(laid(some, paper).cells) <= len(laid(some, paper, grain_parallel=True).cells)


@settings(max_examples=25)
@given(some_blocks())
def test_a_projector_and_a_roll_have_one_page(some):
    for paper in ("projector", "roll-914mm"):
        assert laid(some, paper).cells == ((0, 0),)


def hook(size, width):
    """A piece with a hollow that others fit in."""
    corners = [(0, 0), (size, 0), (size, width), (width, width), (width, size), (0, size)]
    return block(Path.polygon(corners))


def ground_of(placed):
    return shapely.union_all([shapely.Polygon(region.mapped(placed.place).nodes) for region in placed.block.regions])


@settings(max_examples=15)
@given(
    st.lists(st.tuples(st.floats(300.0, 700.0), st.floats(30.0, 120.0)), min_size=2, max_size=4),
    st.sampled_from([0.0, 10.0, 25.0]),
)
def test_what_lies_in_the_hollow_of_another_is_no_nearer_than_the_gap_either(some, gap):
    """Distances by shapely."""
    layout = laid([hook(*one) for one in some], gap=gap)
    for one, other in combinations(map(ground_of, layout.placed), 2):
        assert one.distance(other) >= gap - 1e-6
        assert one.intersection(other).area < 1e-6


def test_a_small_piece_lies_in_the_hollow_of_a_large_one():
    """The hook takes six sheets; on two of them there is room in its hollow."""
    whole, small = hook(700.0, 150.0), boxes(120.0, 80.0)
    alone = len(laid([whole]).cells)
    assert len(laid([whole, small]).cells) == alone


def test_a_page_of_words_lies_on_one_sheet():
    """The squares that prove the scale would prove nothing across a join."""
    head = block(box(190.0, 259.0), is_head=True)
    for some in ([boxes(250.0, 120.0)], [boxes(60.0, 330.0), boxes(700.0, 350.0)], [boxes(270.0, 300.0)] * 3, [head]):
        layout = laid([head, *some], "a3")
        for placed, needs in zip(layout.placed, layout.needs, strict=True):
            assert len(needs) == 1 or not placed.block.is_head


def test_a_band_that_lies_across_is_turned_where_that_saves_pages():
    """900 mm along one side of A4 takes four pages upright and five lying: 259 and 190 mm of each are drawn on."""
    band = boxes(900.0, 60.0)
    assert len(laid([band], grain_parallel=True).cells) == 5
    assert len(laid([band]).cells) == 4


def test_closer_than_on_shelves_fewer_pages_are_needed(monkeypatch):
    """Five sets of eight pieces, all grains parallel: 5 % fewer pages of A4."""
    draw = random.Random(8)
    sets = [[boxes(draw.uniform(60.0, 450.0), draw.uniform(60.0, 1100.0)) for _ in range(8)] for _ in range(5)]
    close = [len(laid(some, grain_parallel=True).cells) for some in sets]
    monkeypatch.setattr(packing, "laid_boxes", shelved)
    plain = [len(laid(some, grain_parallel=True).cells) for some in sets]
    assert all(few <= many for few, many in zip(close, plain, strict=True))
    assert sum(close) < 0.95 * sum(plain)


def test_small_pieces_share_a_page():
    some = [boxes(80.0, 100.0) for _ in range(4)]
    assert laid(some).cells == ((0, 0),)


def test_the_pages_of_words_are_never_turned():
    head = block(box(190.0, 259.0), is_head=True)
    layout = laid([head, boxes(900.0, 60.0)], "a3")
    assert layout.placed[0].place.a == 1.0


def test_a_piece_that_is_larger_than_a0_goes_over_several_sheets():
    layout = laid([boxes(1500.0, 2000.0)], "a0")
    assert len(layout.cells) == 4
    assert layout.joined((0, 0), (0, 1))


def test_a_roll_is_no_longer_than_a_page_may_be():
    layout = laid([boxes(500.0, 4000.0) for _ in range(2)], "roll-914mm")
    assert len(layout.cells) == 2
    assert layout.grid.tile[1] == 4980.0


def test_what_covers_a_thousand_pages_is_a_mistake():
    with pytest.raises(ParameterError, match=r"more than 1000 pages\. Look at the scale of the drawing"):
        laid([boxes(20_000.0, 20_000.0)])
    assert laid([boxes(4000.0, 4000.0)]).cells


@pytest.mark.parametrize("gap", [-1.0, math.nan, math.inf])
def test_a_gap_that_is_none_is_refused(gap):
    with pytest.raises(ParameterError, match="Pieces cannot lie"):
        laid([boxes(50.0, 50.0)], gap=gap)


def test_the_same_blocks_in_another_place_are_laid_out_alike():
    here, there = boxes(300.0, 500.0), boxes(300.0, 500.0, left=-7000.0, top=9000.0)
    one, other = (laid([some]).placed[0].box for some in (here, there))
    assert (one.left, one.top, one.right) == pytest.approx((other.left, other.top, other.right), abs=1e-9)
    assert laid([here]).placed[0].place == Affine()
