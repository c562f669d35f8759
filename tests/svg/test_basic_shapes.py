"""Basic shapes as lines, after SVG 2, chapter 10."""

import math

import pytest
from hypothesis import given

from crossgrain.errors import DocumentError
from crossgrain.svg.extent import extent
from crossgrain.tolerances import ARC_ACCURACY
from strategies import paths
from svg_text import drawing_of


def line_of(body):
    [shape] = drawing_of(body).shapes
    [path] = shape.paths
    return path


def rounded(path):
    return [(round(x, 6), round(y, 6)) for x, y in path.nodes]


def test_a_rect_runs_clockwise_from_its_upper_left_corner():
    path = line_of('<rect x="1" y="2" width="10" height="20"/>')
    assert path.closed
    assert path.nodes == ((1, 2), (11, 2), (11, 22), (1, 22))


@pytest.mark.parametrize(
    ("radii", "across", "down"),
    [
        ('rx="2" ry="3"', 2, 3),
        # One radius alone stands for both; one that is auto counts as not given.
        ('rx="2"', 2, 2),
        ('ry="3"', 3, 3),
        ('rx="auto" ry="3"', 3, 3),
        # No more than half the side: section 10.2.
        ('rx="99" ry="3"', 5, 3),
        ('rx="6"', 5, 6),
        ('rx="99"', 5, 10),
        ('rx="10%"', 5, 10),
    ],
)
def test_a_rounded_rect_starts_after_its_first_corner_and_is_smooth(radii, across, down):
    path = line_of(f'<rect x="1" y="2" width="10" height="20" {radii}/>')
    assert path.start == (1 + across, 2)
    assert {(1.0, 2.0 + down), (11.0, 2.0 + down), (11.0, 22.0 - down), (1.0, 22.0 - down)} <= set(rounded(path))
    assert extent([path]) == pytest.approx((1, 2, 10, 20), abs=ARC_ACCURACY)
    for one, other in zip(path.segments, (*path.segments[1:], path.segments[0]), strict=True):
        assert one.end_tangent == pytest.approx(other.start_tangent, abs=1e-6)


@pytest.mark.parametrize("radii", ['rx="0" ry="5"', 'rx="5" ry="0"', 'rx="0"', ""])
def test_a_radius_of_zero_leaves_the_corners_square(radii):
    assert len(line_of(f'<rect width="10" height="20" {radii}/>').segments) == 4


@pytest.mark.parametrize(
    ("body", "centre", "radii"),
    [
        ('<circle cx="5" cy="6" r="40"/>', (5, 6), (40, 40)),
        ('<ellipse cx="5" cy="6" rx="40" ry="7"/>', (5, 6), (40, 7)),
        ('<ellipse rx="40"/>', (0, 0), (40, 40)),
        ('<circle style="cx:5px;r:10px" r="3"/>', (5, 0), (10, 10)),
        # A share of a radius is one of √((w² + h²)/2): SVG 2, section 8.9.
        ('<circle cx="50%" cy="50%" r="10%"/>', (100, 50), (math.sqrt(25000) / 10,) * 2),
    ],
)
def test_round_shapes_start_at_the_right_and_run_clockwise(body, centre, radii):
    path = line_of(body)
    assert path.closed
    assert path.start == pytest.approx((centre[0] + radii[0], centre[1]))
    assert path.segments[0].start_tangent == pytest.approx((0.0, 1.0), abs=1e-6)
    for segment in path.segments:
        for i in range(17):
            x, y = segment.point(i / 16)
            off = math.hypot((x - centre[0]) / radii[0], (y - centre[1]) / radii[1]) - 1.0
            assert abs(off) * min(radii) <= ARC_ACCURACY * 1.01


def test_a_line_and_a_polyline_are_open_and_a_polygon_is_closed():
    assert line_of('<line x1="1" x2="9" y2="5mm"/>').end == (9, pytest.approx(5 * 96 / 25.4))
    assert line_of('<polyline points="0,0 5-5,10 0"/>').nodes == ((0, 0), (5, -5), (10, 0))
    polygon = line_of('<polygon points="0 0 10 0 10 10"/>')
    assert polygon.closed
    assert polygon.nodes == ((0, 0), (10, 0), (10, 10))


def test_a_polygon_that_repeats_its_first_point_has_no_line_without_length():
    assert len(line_of('<polygon points="0 0 10 0 10 10 0 0"/>').segments) == 3


@pytest.mark.parametrize(
    "body",
    [
        '<rect width="0" height="5"/>',
        '<rect height="5"/>',
        '<circle r="0"/>',
        "<circle/>",
        '<ellipse rx="5" ry="0"/>',
        "<ellipse/>",
        '<polygon points=""/>',
        '<polygon points="  "/>',
        '<polyline points="1 1"/>',
        "<polygon/>",
        "<path/>",
    ],
)
def test_a_shape_of_no_size_draws_nothing(body):
    [shape] = drawing_of(body).shapes
    assert shape.paths == ()


@pytest.mark.parametrize(
    ("body", "complaint"),
    [
        ('<rect id="flap" width="-1" height="5"/>', "width is negative"),
        ('<rect id="flap" width="1" height="5" rx="-1"/>', "rx is negative"),
        ('<circle id="flap" r="-1"/>', "r is negative"),
        ('<circle id="flap" r="1em"/>', "r is given in em"),
        ('<rect id="flap" width="wide" height="5"/>', "width is no length: wide"),
        ('<polygon id="flap" points="0 0 1"/>', "points cannot be read"),
        ('<polygon id="flap" points="0,,0 1 1"/>', "points cannot be read"),
        ('<polyline id="flap" points="0 0 a b"/>', "points cannot be read"),
        ('<circle id="flap" r="1e308" cx="1e308"/>', "too large"),
        ('<polyline id="flap" points="0 0 1e999 0"/>', "too large"),
    ],
)
def test_a_shape_that_cannot_be_read_is_named(body, complaint):
    [shape] = drawing_of(body).shapes
    with pytest.raises(DocumentError, match=complaint) as caught:
        shape.paths  # noqa: B018
    assert "flap" in str(caught.value)


@given(paths())
def test_a_box_holds_every_point_of_the_line_and_touches_it(path):
    x, y, width, height = extent([path])
    samples = [segment.point(j / 1000) for segment in path.segments for j in range(1001)]
    assert all(x - 1e-6 <= px <= x + width + 1e-6 and y - 1e-6 <= py <= y + height + 1e-6 for px, py in samples)
    # Between samples a cubic strays by an eighth of its second derivative, below 6 · 8 m here, over 1000².
    assert min(px for px, _y in samples) - x < 0.01
    assert y + height - max(py for _x, py in samples) < 0.01
