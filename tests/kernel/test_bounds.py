"""Boxes against dense sampling, control polygons and svgpathtools."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from svgpathtools import CubicBezier

from crossgrain.kernel.arc import ellipse_path
from crossgrain.kernel.bounds import Box, bounds, segment_bounds, turning_points
from crossgrain.kernel.segment import Line
from strategies import affines, cubics, paths, segments

NEAR = 1e-6


@given(cubics())
def test_the_box_is_the_one_of_svgpathtools(cubic):
    left, right, top, bottom = CubicBezier(*(complex(*c) for c in cubic.controls)).bbox()
    box = segment_bounds(cubic)
    assert (box.left, box.right, box.top, box.bottom) == pytest.approx((left, right, top, bottom), abs=NEAR)


@given(segments(), st.lists(st.floats(0.0, 1.0), min_size=1, max_size=20))
def test_every_point_lies_in_the_box_and_every_side_is_touched(segment, parameters):
    box = segment_bounds(segment)
    for t in parameters:
        x, y = segment.point(t)
        assert box.left - NEAR <= x <= box.right + NEAR
        assert box.top - NEAR <= y <= box.bottom + NEAR
    for axis, low, high in ((0, box.left, box.right), (1, box.top, box.bottom)):
        stops = [0.0, 1.0, *turning_points(*(c[axis] for c in segment.controls))]
        values = [segment.point(t)[axis] for t in stops]
        assert min(values) == pytest.approx(low, abs=NEAR)
        assert max(values) == pytest.approx(high, abs=NEAR)


@given(paths())
def test_the_other_way_has_the_same_box(path):
    box, back = bounds(path), bounds(path.reversed())
    assert (box.left, box.top, box.right, box.bottom) == pytest.approx(
        (back.left, back.top, back.right, back.bottom), abs=NEAR
    )


@given(paths(), affines())
def test_the_box_of_the_mapped_line_lies_in_the_mapped_box(path, affine):
    box, mapped = bounds(path), bounds(path.mapped(affine))
    corners = [affine.of((x, y)) for x in (box.left, box.right) for y in (box.top, box.bottom)]
    assert min(x for x, _ in corners) - NEAR <= mapped.left
    assert mapped.right <= max(x for x, _ in corners) + NEAR
    assert min(y for _, y in corners) - NEAR <= mapped.top
    assert mapped.bottom <= max(y for _, y in corners) + NEAR


def test_an_ellipse_fills_its_box():
    box = bounds(ellipse_path(10.0, 20.0, 30.0, 5.0))
    assert (box.left, box.top, box.right, box.bottom) == pytest.approx((-20.0, 15.0, 40.0, 25.0), abs=1e-12)
    assert (box.width, box.height) == pytest.approx((60.0, 10.0))
    assert box.centre == pytest.approx((10.0, 20.0))


def test_boxes_meet_where_they_share_a_side():
    box = segment_bounds(Line((0.0, 0.0), (10.0, 10.0)))
    assert box.meets(Box(10.0, 0.0, 20.0, 5.0))
    assert not box.meets(Box(10.1, 0.0, 20.0, 5.0))
    assert box.grown(0.1).meets(Box(10.1, 0.0, 20.0, 5.0))
