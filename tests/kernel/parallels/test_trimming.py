"""Loops cut out of raw lines made by hand."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import CollapseError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.arc import ellipse_path
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.meetings.crossing import is_simple
from crossgrain.kernel.parallels.trimming import trimmed
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from strategies import rigid_motions, simple_outlines


@given(simple_outlines())
def test_a_line_that_keeps_clear_of_itself_is_left_as_it_is(outline):
    assert trimmed(outline) is outline


@given(simple_outlines())
def test_a_line_the_wrong_way_round_leaves_nothing(outline):
    with pytest.raises(CollapseError):
        trimmed(outline.reversed())


@given(rigid_motions())
def test_a_backward_loop_is_cut_at_the_crossing(motion):
    raw = Path.polygon([(0, 0), (100, 0), (100, 60), (110, 60), (110, 50), (50, 50), (50, 100), (0, 100)])
    line = trimmed(raw.mapped(motion))
    assert is_simple(line)
    # Without the corner's loop: 100 wide for 50, then 50 wide.
    assert signed_area(line) == pytest.approx(100 * 50 + 50 * 50, rel=1e-9)
    corner = motion.of((100.0, 50.0))
    assert min(math.dist(corner, node) for node in line.nodes) <= 1e-6


def test_curves_are_cut_at_their_true_crossing_and_stay_curves():
    raw = Path(
        (
            Line((0.0, 0.0), (0.0, -100.0)),
            Line((0.0, -100.0), (100.0, -100.0)),
            Line((100.0, -100.0), (100.0, 0.0)),
            Cubic((100.0, 0.0), (60.0, 30.0), (40.0, 20.0), (30.0, -20.0)),
            Cubic((30.0, -20.0), (40.0, -30.0), (60.0, -30.0), (70.0, -20.0)),
            Cubic((70.0, -20.0), (60.0, 20.0), (40.0, 30.0), (0.0, 0.0)),
        ),
        True,
    )
    line = trimmed(raw)
    assert is_simple(line)
    assert sum(isinstance(segment, Cubic) for segment in line.segments) == 2
    on_axis = [node for node in line.nodes if abs(node[0] - 50.0) <= 1e-6]
    assert len(on_axis) == 1


def test_a_hole_behind_an_inlet_is_filled():
    """Round a U whose arms have grown together at the top: the room between them was not asked for."""
    raw = Path.polygon([(0, 0), (55, 0), (55, 40), (40, 40), (40, 80), (60, 80), (60, 40), (45, 40), (45, 0), (100, 0),
                        (100, 100), (0, 100)])  # fmt: skip
    line = trimmed(raw)
    assert signed_area(line) == pytest.approx(100 * 100)


@pytest.mark.parametrize("over", [0.2, 0.08, 0.02, 0.008])
def test_bends_that_hardly_reach_over_each_other_are_cut_where_they_cross(over):
    """The walls of an inlet meet in its middle: a polyline a fifth of a millimetre off shows them apart."""
    reach = (9.5 + over / 2.0) / 0.75
    left = Cubic((40.5, 0.0), (40.5 + reach, 20.0), (40.5 + reach, 40.0), (40.5, 60.0))
    right = Cubic((59.5, 60.0), (59.5 - reach, 40.0), (59.5 - reach, 20.0), (59.5, 0.0))
    ends = [(59.5, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0), (0.0, 0.0), (40.5, 0.0)]
    raw = Path((left, Line(left.end, right.start), right, *(Line(p, q) for p, q in pairwise(ends))), True)
    line = trimmed(raw)
    assert is_simple(line)
    [notch] = [node for node in line.nodes if 0.0 < node[1] < 100.0]
    assert notch[0] == pytest.approx(50.0, abs=1e-6)
    assert 20.0 < notch[1] < 30.0


def test_lines_that_lie_on_each_other_are_drawn_once():
    raw = Path.polygon([(0, 0), (60, 0), (60, 20), (40, 20), (40, 0), (100, 0), (100, 100), (0, 100)])
    line = trimmed(raw)
    assert is_simple(line)
    assert signed_area(line) == pytest.approx(100 * 100)


def test_what_falls_apart_is_refused_with_the_number_of_pieces():
    """A waist that has gone past itself: two squares joined by a backward loop."""
    raw = Path.polygon([(0, 0), (60, 0), (60, 60), (140, 60), (140, 0), (200, 0), (200, 100), (140, 100), (140, 40),
                        (60, 40), (60, 100), (0, 100)])  # fmt: skip
    with pytest.raises(CollapseError, match="2 pieces") as caught:
        trimmed(raw)
    assert caught.value.position is not None


def test_a_loop_that_does_not_belong_is_left_out():
    circle = ellipse_path(0.0, 0.0, 10.0, 10.0)
    assert trimmed(circle, lambda _loop: True) is circle
    with pytest.raises(CollapseError):
        trimmed(circle, lambda _loop: False)


@given(st.floats(1e-3, 3.0))
def test_small_loops_at_a_cusp_are_seen(size):
    """A swallowtail as a parallel has it just beyond the radius of curvature, however small."""
    s = size
    tail = [(50 + 3 * s, 100), (50 - s, 100 - 2 * s), (50, 100 - 3 * s), (50 + s, 100 - 2 * s), (50 - 3 * s, 100)]
    line = trimmed(Path.polygon([(0, 0), (100, 0), (100, 100), *tail, (0, 100)]))
    assert is_simple(line)
    # What is left of it is a dent: the lines from both sides cross on its axis.
    crossing = 100 - 2 * s * 3 * s / (4 * s)
    assert signed_area(line) == pytest.approx(100 * 100 - 3 * s * (100 - crossing), rel=1e-6)


def test_the_place_of_the_start_does_not_matter():
    raw = Path.polygon([(0, 0), (100, 0), (100, 60), (110, 60), (110, 50), (50, 50), (50, 100), (0, 100)])
    areas = set()
    for k in range(len(raw.segments)):
        turned = Path(raw.segments[k:] + raw.segments[:k], True).mapped(Affine.rotation(0.1 * k))
        areas.add(round(signed_area(trimmed(turned)), 6))
    assert len(areas) == 1
