"""What lies beside a line, carried along with it: laws, and the ring as an outside check."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.kernel.arc import arc_cubics
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.rescale import Rescale
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.kernel.strip import Guide, strip_map
from crossgrain.kernel.warp import warped
from strategies import rigid_motions

FEW = settings(max_examples=40)


@st.composite
def bends(draw):
    """Draw a smooth line of one or two cubics that bends to no less than some 80 mm."""
    length, rise, fall = draw(st.floats(200.0, 500.0)), draw(st.floats(-60.0, 60.0)), draw(st.floats(-60.0, 60.0))
    first = Cubic((0.0, 0.0), (length / 3.0, 0.0), (2.0 * length / 3.0, rise), (length, rise))
    if draw(st.booleans()):
        return Path((first,))
    more = draw(st.floats(200.0, 400.0))
    end = (length + more, rise + fall)
    return Path((first, Cubic((length, rise), (length + more / 3.0, rise), (length + 2.0 * more / 3.0, end[1]), end)))


def arc(radius, angle):
    """A part of a circle about the origin, from straight up, clockwise on the page."""
    end = (radius * math.sin(angle), -radius * math.cos(angle))
    return Path(arc_cubics((0.0, -radius), radius, radius, 0.0, angle > math.pi, True, end))


@FEW
@given(bends(), st.lists(st.tuples(st.floats(-0.1, 1.1), st.floats(-30.0, 30.0)), min_size=1, max_size=12))
def test_a_place_beside_a_line_is_found_again(line, places):
    guide = Guide.of(line)
    s, d = np.array(places).T * np.array([[guide.length], [1.0]])
    point, tangent, _bend = guide.frame(s)
    found = guide.located(point - 1j * d * tangent)
    assert found[0] == pytest.approx(s, abs=1e-6)
    assert found[1] == pytest.approx(d, abs=1e-6)


@FEW
@given(bends())
def test_a_guide_lies_on_its_line(line):
    guide = Guide.of(line)
    assert guide.length == pytest.approx(path_length(line), abs=1e-9)
    for segment in line.segments:
        points = np.array([complex(*segment.point(t)) for t in np.linspace(0.0, 1.0, 33)])
        # Where the bend jumps from one cubic to the next, it is off by what a millimetre of it makes.
        assert np.abs(guide.located(points)[1]).max() < 1e-4


@FEW
@given(bends(), st.floats(0.6, 1.5), st.floats(0.6, 1.5), st.sampled_from(["start", "middle", "end"]))
def test_distances_from_the_line_stay_and_its_bends_too(line, one, other, kept):
    old = Guide.of(line)
    half = old.length / 2.0
    rescale = Rescale([0.0, half, 2.0 * half], [0.0, one * half, (one + other) * half])
    new = old.lengthened(rescale, kept)
    assert new.length == pytest.approx((one + other) * half, abs=1e-9)
    s, d = np.meshgrid(np.linspace(0.0, old.length, 9), np.array([-30.0, 0.0, 25.0]))
    point, tangent, bend = old.frame(s)
    moved = strip_map(old, new, rescale)(point - 1j * d * tangent, tangent)[0]
    there, distance = new.located(moved)
    assert distance == pytest.approx(d, abs=1e-5)
    assert there == pytest.approx(rescale(s)[0], abs=1e-5)
    # The curvature at a place is that of the place it came from, but where it jumps from segment to segment.
    smooth = np.abs(s - path_length(Path(line.segments[:1]))) > 3.0
    assert new.frame(rescale(s)[0])[2][smooth] == pytest.approx(bend[smooth], abs=2e-4)


@FEW
@given(bends(), st.floats(0.7, 1.4))
def test_the_derivative_is_the_derivative(line, factor):
    old = Guide.of(line)
    rescale = Rescale([0.0, old.length], [0.0, factor * old.length])
    move = strip_map(old, old.lengthened(rescale, "middle"), rescale)
    s = np.linspace(0.05, 0.95, 7) * old.length
    point, tangent, _bend = old.frame(s)
    for way in (1.0, 1j, 0.6 + 0.8j):
        at, direction, step = point + 20.0 * 1j * tangent, way * tangent, 1e-3
        found = (move(at + step * direction, direction)[0] - move(at - step * direction, direction)[0]) / (2.0 * step)
        assert np.abs(move(at, direction)[1] - found).max() < 2e-3


@FEW
@given(bends(), rigid_motions())
def test_a_line_moved_carries_what_lies_beside_it_along(line, motion):
    guide, there = Guide.of(line), Guide.of(line.mapped(motion))
    same = Rescale([0.0, guide.length], [0.0, guide.length])
    side = -1.0 if motion.determinant < 0.0 else 1.0
    point, tangent, _bend = guide.frame(np.linspace(0.0, guide.length, 9))
    moved = strip_map(guide, there, same)(point + 20.0j * tangent, tangent)[0]
    for at, went in zip((point + side * 20.0j * tangent).tolist(), moved.tolist(), strict=True):
        assert math.dist(motion.of((at.real, at.imag)), (went.real, went.imag)) < 1e-5


@FEW
@given(st.floats(150.0, 1200.0), st.floats(0.3, 2.0), st.floats(0.6, 1.5), st.floats(-60.0, 60.0))
def test_a_part_of_a_ring_stays_part_of_that_ring(radius, angle, factor, beside):
    """Closed form: a circle's part of the same radius, and beside it circles about the same centre."""
    old = Guide.of(arc(radius, angle))
    rescale = Rescale([0.0, old.length], [0.0, factor * old.length])
    new = old.lengthened(rescale, "start")
    s = np.linspace(0.0, old.length, 25)
    point, tangent, _bend = old.frame(s)
    moved = strip_map(old, new, rescale)(point - 1j * beside * tangent, tangent)[0]
    assert np.abs(moved) == pytest.approx(radius + beside, abs=1e-3)
    turned = float(np.angle(moved[-1] / moved[0])) % (2.0 * math.pi)
    assert turned == pytest.approx(factor * angle, abs=1e-5)


@FEW
@given(st.floats(60.0, 400.0), st.floats(0.5, 2.5), st.floats(0.1, 0.9), st.sampled_from([1, -1]))
def test_the_tightest_place_of_a_ring_has_its_radius_and_its_width(radius, angle, share, side):
    line, far = arc(radius, angle), arc(radius * (1.0 + side * share), angle).reversed()
    rest = Path((Line(line.end, far.start), *far.segments, Line(far.end, line.start)))
    found, width, _place = Guide.of(line).tightest(rest, side)
    if side > 0:
        assert math.isinf(found)
    else:
        assert found == pytest.approx(radius, rel=1e-3)
        assert width == pytest.approx(radius * share, abs=0.3)


def test_of_a_crooked_line_a_smooth_one_stands_in():
    """Traced by hand: nodes 15 mm apart on a circle of 400 mm, off it by up to 0.3 mm."""
    shakes = np.random.default_rng(4).uniform(-0.3, 0.3, 41)
    angles = np.linspace(0.0, 1.5, 41)
    nodes = [((400.0 + off) * math.sin(a), -(400.0 + off) * math.cos(a)) for a, off in zip(angles, shakes, strict=True)]
    line = Path(tuple(Line(p, q) for p, q in pairwise(nodes)))
    guide = Guide.of(line)
    s = np.linspace(0.0, guide.length, 200)
    point, _tangent, bend = guide.frame(s)
    assert point[[0, -1]] == pytest.approx([complex(*nodes[0]), complex(*nodes[-1])], abs=1e-9)
    assert np.abs(np.abs(point) - 400.0).max() < 1.2
    assert np.abs(bend).max() < 1.0 / 80.0


@FEW
@given(st.floats(30.0, 200.0), st.floats(25.0, 200.0), st.floats(0.03, 0.49), st.sampled_from([-1.0, 1.0]))
def test_a_slight_kink_is_led_round_smoothly(first, second, degrees, side):
    """Two straight lines that no longer quite go on: beside them nothing may jump, or no curve could follow it."""
    turn = side * math.radians(degrees)
    corner = complex(first, 0.0)
    end = corner + second * complex(math.cos(turn), math.sin(turn))
    line = Path((Line((0.0, 0.0), (corner.real, corner.imag)), Line((corner.real, corner.imag), (end.real, end.imag))))
    guide = Guide.of(line)
    s = np.linspace(0.0, guide.length, 400)
    point, _tangent, _bend = guide.frame(s)
    assert point[[0, -1]] == pytest.approx([0j, end], abs=1e-9)
    off = np.abs(point - np.where(s <= first, s + 0j, corner + (s - first) * (end - corner) / second))
    assert off.max() < 0.1
    straight = Guide.of(Path((Line((0.0, 0.0), (guide.length, 0.0)),)))
    same = Rescale([0.0, guide.length], [0.0, guide.length])
    move = strip_map(straight, guide, same)
    at = s + 35.0j
    moved, direction = move(at, np.ones(len(s), dtype=complex))
    found = np.diff(moved) / np.diff(s)
    assert np.abs((direction[1:] + direction[:-1]) / 2.0 - found).max() < 0.02
    (drawn,) = warped([Line((0.0, 35.0), (guide.length, 35.0))], move)
    assert len(drawn) <= 6
