"""Room for a rectangle: what is found lies inside and clear, and what is plainly there is found."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.path import Path
from crossgrain.kernel.room import Room
from crossgrain.kernel.segment import Line
from strategies import simple_outlines


def cloth(path):
    """The inside of a path for shapely, from its public vertices."""
    return shapely.Polygon(flatten(path, 0.01).points)


def rectangle(box):
    return shapely.box(box.left, box.top, box.right, box.bottom)


@settings(max_examples=60, deadline=None)
@given(simple_outlines(), st.floats(2.0, 120.0), st.floats(2.0, 120.0), st.booleans())
def test_what_is_found_lies_inside_and_clear_of_the_lines(outline, width, height, with_line):
    """Judged by shapely."""
    start, end = outline.nodes[0], outline.nodes[len(outline.nodes) // 2]
    lines = [Path((Line(start, end),))] if with_line else []
    room = Room(outline, lines)
    found = room.place(width, height, near=start)
    if found is None:
        return
    assert found.width == pytest.approx(width)
    assert found.height == pytest.approx(height)
    assert cloth(outline).buffer(0.0).contains(rectangle(found))
    for line in (outline, *lines):
        drawn = shapely.LineString(flatten(line, 0.01).points)
        assert rectangle(found).distance(drawn) > min(room.wide, room.high) / 2.0 - 0.1


@settings(max_examples=40, deadline=None)
@given(st.floats(10.0, 700.0), st.floats(10.0, 700.0), st.floats(0.1, 1.0), st.floats(0.1, 1.0))
def test_room_that_is_there_is_found_but_for_two_cells_on_each_side(wide, high, share, other):
    room = Room(Path.polygon([(0, 0), (wide, 0), (wide, high), (0, high)]))
    width, height = share * wide - 5.0 * room.wide, other * high - 5.0 * room.high
    if width > 0.0 and height > 0.0:
        assert room.place(width, height, near=(0.0, 0.0)) is not None
    assert room.place(wide, height if height > 0.0 else 1.0, near=(0.0, 0.0)) is None


def test_the_place_nearest_to_the_point_is_taken():
    room = Room(Path.polygon([(0, 0), (300, 0), (300, 200), (0, 200)]))
    for near in ((60.0, 50.0), (240.0, 150.0)):
        assert math.dist(room.place(40.0, 20.0, near=near).centre, near) <= 2.0 * room.wide
    left = room.place(40.0, 20.0, near=(-500.0, 100.0))
    assert left.left == pytest.approx(2.0, abs=2.0 * room.wide)


def test_a_line_across_parts_the_room():
    square = Path.polygon([(0, 0), (100, 0), (100, 100), (0, 100)])
    across = [Path((Line((50.0, -10.0), (50.0, 110.0)),))]
    assert Room(square).place(60.0, 60.0, near=(50.0, 50.0)) is not None
    assert Room(square, across).place(60.0, 60.0, near=(50.0, 50.0)) is None
    assert Room(square, across).place(40.0, 60.0, near=(50.0, 50.0)) is not None


def test_between_two_legs_there_is_none():
    legs = Path.polygon([(0, 0), (200, 0), (200, 300), (120, 300), (120, 60), (80, 60), (80, 300), (0, 300)])
    found = Room(legs).place(60.0, 100.0, near=(100.0, 250.0))
    assert found is not None
    assert found.right < 80.0 or found.left > 120.0
