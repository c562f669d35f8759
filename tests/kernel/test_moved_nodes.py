"""Laws of moving nodes: similar moves give a similar line, moving back gives the line back, pins are passed through."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.curvature import node_turns
from crossgrain.kernel.moved_nodes import MovedNodes, Pin, level_with
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from strategies import rigid_motions, simple_outlines


def controls(path):
    return [complex(*point) for segment in path.segments for point in segment.controls]


def apart(one, other):
    return max(abs(p - q) for p, q in zip(controls(one), controls(other), strict=True))


def shifted(line, shifts):
    return [(x + dx, y + dy) for (x, y), (dx, dy) in zip(line.nodes, shifts, strict=True)]


@st.composite
def moved_outlines(draw):
    line = draw(simple_outlines())
    step = st.floats(-4.0, 4.0)
    return line, draw(st.lists(st.tuples(step, step), min_size=len(line.nodes), max_size=len(line.nodes)))


@given(simple_outlines(), rigid_motions(), st.floats(0.5, 2.0))
@settings(max_examples=40)
def test_nodes_moved_as_by_a_similar_map_give_the_line_under_it(line, motion, size):
    similar = motion.then(Affine.scaling(size, size))
    wanted = line.mapped(similar)
    new, _parameters = MovedNodes(line).at(wanted.nodes)
    assert apart(new, wanted) <= 1e-9 * (1.0 + max(abs(z) for z in controls(wanted)))


@given(moved_outlines())
@settings(max_examples=40)
def test_nodes_lie_where_they_are_told_to_and_moving_them_back_gives_the_line_back(moved):
    line, shifts = moved
    new, _parameters = MovedNodes(line).at(shifted(line, shifts))
    assert new.nodes == tuple(shifted(line, shifts))
    assert [type(s) for s in new.segments] == [type(s) for s in line.segments]
    assert apart(MovedNodes(new).at(line.nodes)[0], line) < 1e-8


def hill():
    """A closed line of a smooth hill over a straight foot."""
    return Path(
        (
            Cubic((0.0, 0.0), (10.0, -30.0), (30.0, -60.0), (60.0, -60.0)),
            Cubic((60.0, -60.0), (90.0, -60.0), (110.0, -30.0), (120.0, 0.0)),
            Line((120.0, 0.0), (0.0, 0.0)),
        ),
        True,
    )


@given(st.floats(-4.0, 4.0), st.floats(-4.0, 4.0), st.floats(0.35, 0.65), st.floats(-4.0, 4.0))
@settings(max_examples=40)
def test_the_line_passes_through_its_pins_stays_smooth_and_comes_back(dx, dy, t, top):
    line = hill()
    x, y = line.segments[0].point(t)
    pin = Pin(0, t, (x + dx, y + dy), 1.0 + 0j)
    nodes = [(0.0, 0.0), (60.0 + top, -60.0), (120.0, 0.0)]
    new, (now,) = MovedNodes(line, [pin]).at(nodes)
    assert math.dist(new.segments[0].point(now), pin.to) < 1e-7
    assert abs(node_turns(new)[1]) < math.radians(0.01)
    back, (again,) = MovedNodes(new, [Pin(0, now, (x, y), 1.0 + 0j)]).at(line.nodes)
    assert apart(back, line) < 1e-6
    assert again == pytest.approx(t, abs=1e-7)


def test_a_right_angle_turns_with_its_straight_line():
    line = Path(
        (
            Line((0.0, 0.0), (0.0, -50.0)),
            Cubic((0.0, -50.0), (20.0, -50.0), (40.0, -45.0), (60.0, -40.0)),
            Line((60.0, -40.0), (0.0, 0.0)),
        ),
        True,
    )
    to = [(0.0, 0.0), (0.0, -52.0), (70.0, -35.0)]
    new, _parameters = MovedNodes(line).at(to)
    assert new.segments[1].controls[1][1] == pytest.approx(-52.0, abs=1e-12)
    assert node_turns(new)[1] == pytest.approx(node_turns(line)[1], abs=1e-12)


def test_a_line_that_does_not_move_is_the_very_line():
    line = hill()
    assert MovedNodes(line).at(line.nodes)[0] is line


def test_segments_that_do_not_move_are_the_very_segments():
    line = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    new, _parameters = MovedNodes(line).at([(0, 0), (10, 0), (12, 10), (0, 10)])
    assert new.segments[0] is line.segments[0]
    assert new.segments[3] is line.segments[3]


def test_a_pin_out_of_reach_is_refused_and_said():
    with pytest.raises(GeometryError, match="becoming another line"):
        MovedNodes(hill(), [Pin(0, 0.5, (-400.0, -40.0), 1.0 + 0j)]).at(hill().nodes)


def test_nodes_that_would_fall_together_are_refused():
    with pytest.raises(GeometryError, match="come to lie in one place"):
        MovedNodes(hill()).at([(0.0, 0.0), (0.0, 0.0), (120.0, 0.0)])


def test_level_with_finds_where_a_curve_passes():
    curve = hill().segments[0]
    assert curve.point(level_with(curve, 0.5, (99.0, -30.0), 1.0 + 0j))[1] == pytest.approx(-30.0, abs=1e-9)
