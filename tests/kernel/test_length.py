"""Lengths against laws, and against mpmath's quadrature at 30 digits."""

import math

import mpmath
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.arc import ellipse_path
from crossgrain.kernel.length import (
    Place,
    distance_of,
    lengths,
    parameter_at,
    parameters_at,
    path_length,
    place_at,
    places_at,
    point_at,
    point_at_share,
    run,
    segment_length,
    split_at,
)
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line, section
from strategies import cubics, paths, rigid_motions, segments, shares, simple_outlines

NEAR = 1e-9

KNOWN = {
    "plain": Cubic((0, 0), (30, 40), (70, -20), (100, 10)),
    "cusp": Cubic((0, 0), (100, 100), (0, 100), (100, 0)),
    "near cusp": Cubic((0, 0), (100, 100), (1e-3, 100), (100, 0)),
    "loop": Cubic((0, 0), (150, 100), (-50, 100), (100, 0)),
    "closed loop": Cubic((0, 0), (100, 0), (0, 100), (0, 0)),
    "collinear fold-back": Cubic((0, 0), (100, 50), (-50, -25), (30, 15)),
    "out and back": Cubic((0, 0), (100, 0), (100, 0), (0, 0)),
    "handle drawn in": Cubic((0, 0), (0, 0), (100, 0), (100, 50)),
    "both handles drawn in": Cubic((0, 0), (0, 0), (100, 50), (100, 50)),
    "a kink beside the start": Cubic((0, 0), (-0.01, 0), (60, 0.1), (100, 40)),
    "a kink beside the middle": Cubic((0, 0), (100, 100), (-0.08, 100), (100, 0.1)),
    "trouser crotch": Cubic((0, 0), (0, 62), (28, 95), (88, 101)),
}


def length_by_mpmath(cubic, until=1.0):
    """Integrate the speed with mpmath, split at the zeros of the squared speed, where it has kinks."""
    with mpmath.workdps(30):
        rows = [[mpmath.mpf(control[axis]) for control in cubic.controls] for axis in (0, 1)]
        quadratics = []
        for p, q, r, w in rows:
            a, b, c = 3 * (q - p), 3 * (r - q), 3 * (w - r)
            quadratics.append([a - 2 * b + c, 2 * (b - a), a])
        square = [mpmath.mpf(0)] * 5
        for k in quadratics:
            for i in range(3):
                for j in range(3):
                    square[i + j] += k[i] * k[j]
        # Where a kink is placed a rounding away, its square is what the integral loses.
        roots = np.roots(np.trim_zeros([float(k) for k in square], "f"))
        cuts = {0.0, until, *(float(root.real) for root in roots if 0 < root.real < until)}

        def speed(t):
            value = mpmath.mpf(0)
            for k in square:
                value = value * t + k
            return mpmath.sqrt(abs(value))

        return float(mpmath.quad(speed, sorted(cuts)))


@pytest.mark.parametrize("name", KNOWN)
def test_length_agrees_with_mpmath(name):
    cubic = KNOWN[name]
    truth = length_by_mpmath(cubic)
    assert segment_length(cubic) == pytest.approx(truth, abs=NEAR)
    assert lengths(np.array([cubic.controls]))[0] == pytest.approx(truth, abs=NEAR)


@pytest.mark.parametrize("name", KNOWN)
def test_the_parameter_found_lies_at_the_distance_asked_for_by_mpmath(name):
    cubic = KNOWN[name]
    asked = np.array([0.001, 0.3, 0.5, 0.77, 0.999]) * segment_length(cubic)
    many = parameters_at(np.array(cubic.controls), asked)
    for distance, t in zip(asked, many, strict=True):
        assert length_by_mpmath(cubic, t) == pytest.approx(distance, abs=NEAR)
        assert length_by_mpmath(cubic, parameter_at(cubic, distance)) == pytest.approx(distance, abs=NEAR)


def test_the_hem_of_a_circle_skirt():
    # Derived: waist 110 cm, r = waist / 2π = 17.507 cm; the drawn waist line is short or long by less than
    # 2π times the accuracy of an arc.
    radius = 1100.0 / (2 * math.pi)
    assert radius == pytest.approx(175.07, abs=0.005)
    assert path_length(ellipse_path(0.0, 0.0, radius, radius)) == pytest.approx(1100.0, abs=1e-3)


def test_an_ellipse_by_the_complete_elliptic_integral():
    # Perimeter 4 a E(e²), mpmath's ellipe.
    exact = float(4 * 120 * mpmath.ellipe(1 - (70 / 120) ** 2))
    assert path_length(ellipse_path(0.0, 0.0, 120.0, 70.0)) == pytest.approx(exact, abs=1e-3)


@given(cubics(), shares)
def test_splitting_keeps_the_length(cubic, t):
    before, after = cubic.split(t)
    assert segment_length(before) + segment_length(after) == pytest.approx(segment_length(cubic), abs=NEAR)


@given(segments())
def test_the_other_way_is_as_long(segment):
    assert segment_length(segment.reversed()) == pytest.approx(segment_length(segment), abs=NEAR)


@given(segments(), rigid_motions(), st.floats(0.01, 20.0))
def test_moving_keeps_and_scaling_scales_the_length(segment, motion, factor):
    length = segment_length(segment)
    assert segment_length(segment.mapped(motion)) == pytest.approx(length, abs=NEAR * 10)
    assert segment_length(segment.mapped(Affine.scaling(factor, factor))) == pytest.approx(
        factor * length, abs=NEAR * max(1.0, factor)
    )


@given(segments())
def test_no_line_is_shorter_than_its_chord_or_longer_than_its_control_polygon(segment):
    p, q, r, w = segment.controls
    length = segment_length(segment)
    assert math.dist(p, w) <= length + NEAR
    assert length <= math.dist(p, q) + math.dist(q, r) + math.dist(r, w) + NEAR


@given(st.lists(segments(), min_size=1, max_size=8))
def test_many_at_once_are_as_long_as_one_by_one(some):
    many = lengths(np.array([segment.controls for segment in some]))
    assert many == pytest.approx([segment_length(segment) for segment in some], abs=NEAR)


@given(st.lists(st.tuples(segments(), shares), min_size=1, max_size=8))
def test_the_part_up_to_the_parameter_is_as_long_as_asked(some):
    controls = np.array([segment.controls for segment, _ in some])
    asked = np.array([share * segment_length(segment) for segment, share in some])
    many = parameters_at(controls, np.minimum(asked, lengths(controls)))
    for (segment, _), distance, t in zip(some, asked, many, strict=True):
        one = parameter_at(segment, distance)
        for found in (t, one):
            assert 0.0 <= found <= 1.0
            part = segment_length(section(segment, 0.0, found)) if found > 0 else 0.0
            assert part == pytest.approx(distance, abs=NEAR)


@given(paths(), shares)
def test_a_place_is_found_again_at_its_distance(path, share):
    distance = share * path_length(path)
    assert distance_of(path, place_at(path, distance)) == pytest.approx(distance, abs=1e-8)


@given(simple_outlines(), st.floats(-3.0, 3.0))
def test_a_closed_line_runs_on_past_its_start(path, share):
    length = path_length(path)
    here, there = places_at(path, [share * length, (share + 1.0) * length])
    assert math.dist(point_at(path, here), point_at(path, there)) < 1e-6


@given(paths(), shares, shares)
def test_a_run_is_as_long_as_the_way_between_its_ends(path, share0, share1):
    length = path_length(path)
    assume(length > 1.0)
    d0, d1 = share0 * length, share1 * length
    p0, p1 = places_at(path, [d0, d1])
    way = d1 - d0
    if path.closed and abs(way) > 1e-5:
        way %= length
    elif way < 1e-5:
        return
    part = run(path, p0, p1)
    assert not part.closed
    assert path_length(part) == pytest.approx(way, abs=1e-5)
    assert math.dist(part.start, point_at(path, p0)) <= 2e-6
    assert math.dist(part.end, point_at(path, p1)) <= 2e-6


@given(paths(), st.floats(0.01, 0.99))
def test_split_parts_meet_and_add_up(path, share):
    length = path_length(path)
    assume(not path.closed and length > 1.0)
    before, after = split_at(path, place_at(path, share * length))
    assert before.end == after.start
    assert path_length(before) + path_length(after) == pytest.approx(length, abs=1e-8)


def test_a_closed_line_opens_at_a_place():
    square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    opened = run(square, Place(1, 0.5), Place(1, 0.5))
    assert opened.nodes == ((10, 5), (10, 10), (0, 10), (0, 0), (10, 0), (10, 5))
    at_node = run(square, Place(1, 0.0), Place(0, 1.0))
    assert at_node.nodes == ((10, 0), (10, 10), (0, 10), (0, 0), (10, 0))


def test_a_place_beside_a_node_leaves_no_sliver():
    line = Path((Line((0.0, 0.0), (10.0, 0.0)), Line((10.0, 0.0), (20.0, 0.0))))
    assert [len(part.segments) for part in split_at(line, Place(1, 1e-8))] == [1, 1]


def test_point_at_share_of_an_uneven_line():
    line = Path((Line((0.0, 0.0), (30.0, 0.0)), Line((30.0, 0.0), (30.0, 10.0))))
    assert point_at_share(line, 0.875) == pytest.approx((30.0, 5.0))
    assert point_at_share(line, 1.0) == (30.0, 10.0)


def test_a_distance_off_the_line_is_refused():
    line = Line((0.0, 0.0), (10.0, 0.0))
    for distance in (-0.1, 10.1, math.nan):
        with pytest.raises(GeometryError):
            parameter_at(line, distance)
        with pytest.raises(GeometryError, match="lies off the line"):
            place_at(Path((line,)), distance)
        with pytest.raises(GeometryError, match="lies off the line"):
            parameters_at(np.array(line.controls), np.array([5.0, distance]))


def test_a_part_that_ends_before_it_starts_is_refused_on_an_open_line():
    line = Path((Line((0.0, 0.0), (10.0, 0.0)),))
    with pytest.raises(GeometryError, match="ends where it starts"):
        run(line, Place(0, 0.5), Place(0, 0.5))
    with pytest.raises(GeometryError, match="does not fall in two"):
        split_at(Path.polygon([(0, 0), (1, 0), (0, 1)]), Place(0, 0.5))


def test_what_is_not_a_number_is_refused():
    bad = Cubic((0.0, 0.0), (math.nan, 0.0), (1.0, 0.0), (1.0, 1.0))
    with pytest.raises(GeometryError):
        segment_length(bad)
    with pytest.raises(GeometryError):
        lengths(np.array([bad.controls]))
