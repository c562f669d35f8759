"""Boxes laid close: none nearer to another than the gap, none beyond the sheet, none lost; and no more of the sheet
than shelves take."""

from __future__ import annotations

import random
from itertools import combinations

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.kernel.laid_boxes import laid_boxes
from crossgrain.kernel.shelves import shelved
from crossgrain.tolerances import COINCIDENT

sizes = st.lists(st.tuples(st.floats(1.0, 400.0), st.floats(1.0, 1200.0)), max_size=9)


def reach(corners, some):
    return max((y + high for (_x, y), (_wide, high) in zip(corners, some, strict=True)), default=0.0)


@given(sizes, st.floats(300.0, 1600.0), st.floats(0.0, 40.0))
def test_each_keeps_its_distance_and_stays_on_the_sheet(some, width, gap):
    """Distances by shapely."""
    corners = laid_boxes(some, width, gap)
    assert len(corners) == len(some)
    boxes = [shapely.box(x, y, x + w, y + h) for (x, y), (w, h) in zip(corners, some, strict=True)]
    for one, other in combinations(boxes, 2):
        assert one.distance(other) >= gap - 2.0 * COINCIDENT
        assert one.intersection(other).area < COINCIDENT * 2000.0
    for (x, y), (wide, _high) in zip(corners, some, strict=True):
        assert x >= 0.0
        assert y >= 0.0
        assert x + wide <= width + COINCIDENT or x == 0.0


@given(sizes, st.floats(300.0, 1600.0), st.floats(0.0, 40.0))
def test_never_reaches_farther_than_shelves(some, width, gap):
    assert reach(laid_boxes(some, width, gap), some) <= reach(shelved(some, width, gap), some) + COINCIDENT


@given(sizes, st.floats(300.0, 1600.0))
def test_reaches_no_less_than_its_area_and_its_highest_ask_for(some, width):
    width = max([width, *(wide for wide, _high in some)])
    area = sum(wide * high for wide, high in some)
    least = max([area / width, *(high for _wide, high in some)])
    assert reach(laid_boxes(some, width, 0.0), some) >= least - COINCIDENT


@pytest.mark.parametrize(("count", "most"), [(8, 0.90), (12, 0.90), (24, 0.95)])
def test_on_generated_sets_a_tenth_of_the_sheet_is_saved(count, most):
    """Mean of the height over that of shelves, on cloth of 1400 mm; boxes of pattern pieces' sizes."""
    draw = random.Random(count)
    shares = []
    for _ in range(20):
        some = [(draw.uniform(30.0, 500.0), draw.uniform(30.0, 1200.0)) for _ in range(count)]
        shares.append(reach(laid_boxes(some, 1400.0, 20.0), some) / reach(shelved(some, 1400.0, 20.0), some))
    assert sum(shares) / len(shares) < most


def test_squares_cut_from_a_rectangle_fill_it_again():
    """Ten by six squares of 50 mm, in any order, take the rectangle and no more."""
    assert reach(laid_boxes([(50.0, 50.0)] * 60, 500.0, 0.0), [(50.0, 50.0)] * 60) == pytest.approx(300.0)


def test_what_is_low_and_wide_goes_under_two_beside_what_is_high():
    """On a shelf it has no place: it is wider than either."""
    some = [(300.0, 1000.0), (250.0, 600.0), (250.0, 600.0), (500.0, 350.0)]
    assert reach(laid_boxes(some, 860.0, 20.0), some) == pytest.approx(1000.0)
    assert reach(shelved(some, 860.0, 20.0), some) == pytest.approx(1370.0)


def test_equals_stand_side_by_side_in_their_order():
    assert laid_boxes([(50.0, 30.0)] * 3, 170.0, 10.0) == ((0.0, 0.0), (60.0, 0.0), (120.0, 0.0))
    assert laid_boxes([(50.0, 30.0)] * 3, 169.0, 10.0) == ((0.0, 0.0), (60.0, 0.0), (0.0, 40.0))


def test_what_is_wider_than_the_sheet_stands_out_on_the_right():
    assert laid_boxes([(500.0, 30.0), (50.0, 20.0)], 300.0, 10.0) == ((0.0, 0.0), (0.0, 40.0))
