"""Boxes on shelves: none nearer to another than the gap, none beyond the sheet, none lost."""

from __future__ import annotations

from itertools import combinations

import shapely
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.kernel.shelves import shelved
from crossgrain.tolerances import COINCIDENT

sizes = st.lists(st.tuples(st.floats(1.0, 400.0), st.floats(1.0, 1200.0)), max_size=12)


@given(sizes, st.floats(300.0, 1600.0), st.floats(0.0, 40.0))
def test_each_keeps_its_distance_and_stays_on_the_sheet(sizes, width, gap):
    """Distances by shapely."""
    corners = shelved(sizes, width, gap)
    assert len(corners) == len(sizes)
    boxes = [shapely.box(x, y, x + w, y + h) for (x, y), (w, h) in zip(corners, sizes, strict=True)]
    for (one, other), (first, second) in zip(combinations(boxes, 2), combinations(corners, 2), strict=True):
        assert first != second
        assert one.distance(other) >= gap - COINCIDENT
        assert one.intersection(other).area < COINCIDENT * 2000.0
    for (x, y), (wide, _high) in zip(corners, sizes, strict=True):
        assert x >= 0.0
        assert y >= 0.0
        assert x + wide <= width + COINCIDENT or x == 0.0


@given(sizes, st.floats(300.0, 1600.0))
def test_no_more_paper_than_one_shelf_for_each(sizes, width):
    corners = shelved(sizes, width, 10.0)
    bottom = max((y + high for (_x, y), (_w, high) in zip(corners, sizes, strict=True)), default=0.0)
    assert bottom <= sum(high + 10.0 for _wide, high in sizes) + COINCIDENT


def test_equals_stand_side_by_side_in_their_order():
    assert shelved([(50.0, 30.0)] * 3, 170.0, 10.0) == ((0.0, 0.0), (60.0, 0.0), (120.0, 0.0))
    assert shelved([(50.0, 30.0)] * 3, 169.0, 10.0) == ((0.0, 0.0), (60.0, 0.0), (0.0, 40.0))


def test_what_is_wider_than_the_sheet_has_a_shelf_of_its_own():
    assert shelved([(500.0, 30.0), (50.0, 20.0)], 300.0, 10.0) == ((0.0, 0.0), (0.0, 40.0))
