"""Corners of outlines drawn with a ruler and traced by hand."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.errors import OpenOutlineError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.arc import arc_cubics, ellipse_path
from crossgrain.kernel.corners import corners, turns_at
from crossgrain.kernel.length import Place, distance_of, path_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from strategies import rigid_motions, traced_outlines

RECTANGLE = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])


def spots(path):
    return [corner.point for corner in corners(path)]


def matches(found, expected, within):
    return len(found) == len(expected) and all(min(math.dist(p, q) for q in found) <= within for p in expected)


@settings(max_examples=200)
@given(traced_outlines())
def test_a_traced_outline_has_its_true_corners_and_no_others(traced):
    path, expected = traced
    # A rounding of 2 mm moves its nearest node by 2 mm, a hand by 0.3 mm.
    assert matches(spots(path), expected, 2.5), (len(spots(path)), len(expected))


@given(traced_outlines(), rigid_motions(), st.booleans())
def test_moving_mirroring_or_reversing_keeps_the_corners(traced, motion, mirror):
    path, _expected = traced
    if mirror:
        motion = motion.then(Affine.scaling(-1.0, 1.0))
    before, after = corners(path), corners(path.mapped(motion))
    assert [corner.node for corner in after] == [corner.node for corner in before]
    sign = -1.0 if mirror else 1.0
    assert [sign * c.turn_rad for c in after] == pytest.approx([c.turn_rad for c in before], abs=1e-6)
    back = corners(path.reversed())
    assert len(back) == len(before)
    for corner in back:
        assert min(math.dist(corner.point, other.point) for other in before) <= 4.0


@given(traced_outlines(), st.integers(0, 60))
def test_starting_elsewhere_keeps_the_corners(traced, shift):
    path, _expected = traced
    shift %= len(path.segments)
    turned = Path(path.segments[shift:] + path.segments[:shift], True)
    assert sorted(spots(turned)) == sorted(spots(path))


@given(traced_outlines())
def test_a_corner_knows_its_node_its_place_and_its_turn(traced):
    path, _expected = traced
    found = corners(path)
    turns = turns_at(path, [corner.along for corner in found])
    assert turns == pytest.approx([corner.turn_rad for corner in found], abs=1e-3)
    for corner in found:
        assert path.nodes[corner.node] == corner.point
        assert distance_of(path, Place(corner.node, 0.0)) == pytest.approx(corner.along, abs=1e-6)


def test_the_turns_of_a_rectangle_are_right_angles_signed_by_its_sense():
    assert [c.turn_rad for c in corners(RECTANGLE)] == pytest.approx([math.pi / 2] * 4)
    assert [c.turn_rad for c in corners(RECTANGLE.reversed())] == pytest.approx([-math.pi / 2] * 4)
    assert turns_at(RECTANGLE, [50.0, path_length(RECTANGLE)]) == pytest.approx([0.0, math.pi / 2])


def test_a_notch_cut_inwards_turns_the_other_way():
    piece = Path.polygon([(0, 0), (40, 0), (40, 20), (60, 20), (60, 0), (100, 0), (100, 60), (0, 60)])
    degrees = [round(math.degrees(corner.turn_rad)) for corner in corners(piece)]
    assert degrees == [90, 90, -90, -90, 90, 90, 90, 90]


@pytest.mark.parametrize("length", [5.0, 6.0, 9.0])
def test_both_ends_of_a_short_edge_are_corners_with_their_own_turns(length):
    tab = Path.polygon([(0, 0), (100, 0), (100, length), (0, length)])
    assert [c.turn_rad for c in corners(tab)] == pytest.approx([math.pi / 2] * 4, abs=1e-6)
    with_middle = Path.polygon([(0, 0), (100, 0), (100, length / 2), (100, length), (0, length)])
    assert [c.node for c in corners(with_middle)] == [0, 1, 3, 4]


def test_a_step_of_a_5_mm_extension_has_four_corners():
    piece = Path.polygon([(0, 0), (200, 0), (205, 0), (205, 80), (200, 80), (200, 300), (0, 300)])
    assert [corner.node for corner in corners(piece)] == [0, 2, 3, 4, 5, 6]


def test_a_smooth_outline_has_no_corners():
    for radius in (15.0, 20.0, 60.0, 400.0):
        assert corners(ellipse_path(0.0, 0.0, radius, radius)) == ()
    assert corners(ellipse_path(0.0, 0.0, 300.0, 80.0)) == ()


@pytest.mark.parametrize("lines", [10, 12, 15])
def test_a_crotch_curve_of_straight_lines_has_no_corners(lines):
    # A quarter of 60 mm radius; 10 lines turn by 9° at each node.
    arc = [(60 * math.cos(a), 60 * math.sin(a)) for a in (math.pi / 2 * i / lines for i in range(lines + 1))]
    piece = Path.polygon([*arc, (-200.0, 60.0), (-200.0, -300.0), (60.0, -300.0)])
    assert spots(piece) == [(-200.0, 60.0), (-200.0, -300.0), (60.0, -300.0)]


@pytest.mark.parametrize("radius", [1.0, 2.0])
def test_a_rounded_corner_is_one_corner(radius):
    arc = arc_cubics((100.0 - radius, 0.0), radius, radius, 0.0, False, True, (100.0, radius))
    piece = Path(
        (Line((0.0, 0.0), (100.0 - radius, 0.0)), *arc, Line((100.0, radius), (100.0, 60.0)),
         Line((100.0, 60.0), (0.0, 60.0)), Line((0.0, 60.0), (0.0, 0.0))), True,
    )  # fmt: skip
    assert matches(spots(piece), RECTANGLE.nodes, radius + 0.01)


def test_a_round_bend_is_no_corner_though_it_turns_by_more_than_25_degrees_within_the_reach():
    pieces = arc_cubics((100.0, 0.0), 16.0, 16.0, 0.0, False, True, (116.0, 16.0))
    bend = [part for piece in pieces for part in piece.split(0.5)]
    piece = Path(
        (Line((0.0, 0.0), (100.0, 0.0)), *bend, Line((116.0, 16.0), (116.0, 200.0)),
         Line((116.0, 200.0), (0.0, 200.0)), Line((0.0, 200.0), (0.0, 0.0))), True,
    )  # fmt: skip
    assert math.degrees(turns_at(piece, [100 + 16 * math.pi / 4])[0]) > 25.0
    assert spots(piece) == [(0.0, 0.0), (116.0, 200.0), (0.0, 200.0)]


@pytest.mark.parametrize(("degrees", "expected"), [(20.0, 2), (30.0, 3)])
def test_25_degrees_make_a_corner(degrees, expected):
    # Two arms of 100 mm from the apex, closed by a far point.
    half = math.radians(degrees / 2)
    left, right = (-100 * math.cos(half), 100 * math.sin(half)), (100 * math.cos(half), 100 * math.sin(half))
    piece = Path.polygon([left, (0.0, 0.0), right, (0.0, 400.0)])
    assert len(corners(piece)) == expected + 1


def test_doubled_nodes_make_one_corner():
    doubled = Path(tuple(s for line in RECTANGLE.segments for s in (line, Line(line.end, line.end))), True)
    assert len(corners(doubled)) == 4


def test_a_small_piece_keeps_its_corners():
    assert len(corners(RECTANGLE.mapped(Affine.scaling(0.05, 0.05)))) == 4


def test_a_piece_without_size_has_none_and_an_open_line_is_refused():
    assert corners(Path.polygon([(1, 1), (1, 1)])) == ()
    with pytest.raises(OpenOutlineError):
        corners(Path((Line((0, 0), (1, 0)),)))
