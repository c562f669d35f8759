"""Corners between two parallels: mitres, arcs, steps, crossings; by trigonometry."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.kernel.parallels.joins import corner_turn, cut_at_crossing, drawn_on, gap, stepped
from crossgrain.kernel.parallels.parallel import Strand, parallels
from crossgrain.kernel.segment import Cubic, Line

outside = st.floats(0.02, math.pi - 0.02)
widths = st.floats(0.5, 40.0)


def corner(turn, d_before, d_after):
    """Return the strands beside two 100 mm lines: east to the origin, then on with a turn."""
    before = Line((-100.0, 0.0), (0.0, 0.0))
    after = Line((0.0, 0.0), (100.0 * math.cos(turn), 100.0 * math.sin(turn)))
    return parallels([[before], [after]], [d_before, d_after], 0.01)


def filled(turn, d_before, d_after, style="mitre", limit=3.0):
    a, b = corner(turn, d_before, d_after)
    return a, b, gap(corner_turn(a, b), a, b, style, limit)


def linked(a, pieces, b):
    points = [a.segments[-1].end, *(p for piece in pieces for p in (piece.start, piece.end)), b.segments[0].start]
    return all(math.dist(p, q) <= 1e-6 for p, q in zip(points[::2], points[1::2], strict=True))


@given(st.floats(-3.1, 3.1))
def test_the_turn_is_the_angle_between_the_lines(turn):
    assert corner_turn(*corner(turn, 5.0, 5.0)) == pytest.approx(turn, abs=1e-9)


@given(outside, widths, st.sampled_from([-1.0, 1.0]))
def test_a_mitre_comes_to_a_point_on_the_bisector(turn, width, side):
    a, b, pieces = filled(side * turn, side * width, side * width, limit=1e6)
    assert linked(a, pieces, b)
    assert len(pieces) == 2
    point = pieces[0].end
    assert math.hypot(*point) == pytest.approx(width / math.cos(turn / 2.0), rel=1e-6)
    assert math.dist(point, a.segments[-1].end) == pytest.approx(math.dist(point, b.segments[0].start), rel=1e-6)


@given(st.floats(1.0, math.pi - 0.02), widths, st.floats(1.05, 4.0))
def test_a_point_beyond_the_limit_is_cut_off_square_to_its_axis(turn, width, limit):
    if width / math.cos(turn / 2.0) <= limit * width * 1.001:
        return
    a, b, pieces = filled(turn, width, width, limit=limit)
    assert linked(a, pieces, b)
    cut = pieces[1]
    axis = (math.cos(turn / 2.0 - math.pi / 2.0), math.sin(turn / 2.0 - math.pi / 2.0))
    for point in (cut.start, cut.end):
        reach = point[0] * axis[0] + point[1] * axis[1]
        assert reach == pytest.approx(max(limit * width, width * math.cos(turn / 2.0)), rel=1e-6)


@given(outside, widths, st.sampled_from([-1.0, 1.0]))
def test_an_arc_keeps_its_distance_from_the_corner(turn, width, side):
    a, b, pieces = filled(side * turn, side * width, side * width, "round")
    assert linked(a, pieces, b)
    for piece in pieces:
        for k in range(21):
            assert math.hypot(*piece.point(k / 20.0)) == pytest.approx(width, abs=1e-3)
    swept = sum(
        math.atan2(p.start[0] * p.end[1] - p.start[1] * p.end[0], p.start[0] * p.end[0] + p.start[1] * p.end[1])
        for p in pieces
    )
    assert swept == pytest.approx(side * turn, abs=1e-6)


def test_parallels_that_meet_need_nothing():
    a, b = corner(0.0, 5.0, 5.0)
    assert gap(0.0, a, b, "mitre", 3.0) == ()


def test_a_change_of_width_on_a_straight_line_is_one_step():
    _a, _b, pieces = filled(0.0, 5.0, 12.0)
    assert pieces == (Line((0.0, -5.0), (0.0, -12.0)),)


def test_a_right_angle_between_two_widths_is_a_mitre_of_both():
    """A hem of 30 mm beside a seam of 10 mm: the corner lies 30 below one line and 10 beside the other."""
    a, b, pieces = filled(math.pi / 2.0, 10.0, 30.0)
    assert linked(a, pieces, b)
    assert pieces[0].end == pytest.approx((30.0, -10.0))


@pytest.mark.parametrize(("before", "after"), [(10.0, 0.0), (0.0, 10.0)])
def test_a_width_beside_a_fold_ends_on_the_fold(before, after):
    a, b, pieces = filled(math.pi / 2.0, before, after)
    assert linked(a, pieces, b)
    for piece in pieces:
        assert min(piece.end[0], -piece.end[1], 0.0) == pytest.approx(0.0)


@given(st.floats(0.05, 1.5), st.floats(1.0, 10.0), st.floats(1.0, 10.0))
def test_inside_corners_are_cut_at_the_crossing(turn, d_before, d_after):
    a, b = corner(-turn, d_before, d_after)
    cut = cut_at_crossing(a.segments, b.segments)
    # The crossing of the lines y = -d and that beside the turned one.
    x = (d_before * math.cos(turn) - d_after) / math.sin(turn)
    if not -99.0 < x < -1e-3:
        return
    along = -x * math.cos(turn) + d_before * math.sin(turn)
    if cut is None:
        assert not 0.0 < d_before * math.sin(turn) + x * math.cos(turn) < 100.0 or along > 100.0
        return
    first, second = cut
    assert first[-1].end == second[0].start
    assert first[-1].end == pytest.approx((x, -d_before), abs=1e-6)


def test_curves_are_cut_where_they_cross_and_nowhere_else():
    a = (Cubic((-100.0, -40.0), (-60.0, -40.0), (-20.0, -10.0), (10.0, 15.0)),)
    b = (Cubic((-15.0, 10.0), (10.0, -10.0), (60.0, -45.0), (100.0, -40.0)),)
    first, second = cut_at_crossing(a, b)
    point = first[-1].end
    assert second[0].start == point
    assert first[0].start == a[0].start
    assert second[-1].end == b[0].end
    for line in (a[0], b[0]):
        assert min(math.dist(line.point(k / 20_000), point) for k in range(20_001)) <= 0.01


def test_lines_that_do_not_cross_are_not_cut():
    assert cut_at_crossing((Line((0.0, 0.0), (10.0, 0.0)),), (Line((10.0, 5.0), (20.0, 5.0)),)) is None


def test_the_nearest_of_several_crossings_counts():
    a = (Line((0.0, 0.0), (100.0, 0.0)),)
    b = (
        Line((90.0, 5.0), (80.0, -5.0)),
        Line((80.0, -5.0), (40.0, -5.0)),
        Line((40.0, -5.0), (30.0, 5.0)),
    )
    first, second = cut_at_crossing(a, b)
    assert first[-1].end == pytest.approx((85.0, 0.0))
    assert len(second) == 3


@given(st.floats(-1.2, -0.02), st.floats(1.0, 5.0), st.floats(20.0, 40.0), st.booleans())
def test_at_an_inside_corner_the_wider_allowance_keeps_its_square_end(turn, narrow, wide, arrives):
    """Where the lines do not cross, the narrower one is cut where it meets that end: nowhere is there less cloth."""
    a, b = corner(turn, wide, narrow) if arrives else corner(turn, narrow, wide)
    cut = stepped(a, b, a.segments, b.segments)
    assert cut is not None
    kept, met = (cut[0], cut[1][0].start) if arrives else (cut[1], cut[0][-1].end)
    assert kept == (a.segments if arrives else b.segments)
    # On the wider one's end, at the narrower one's width: narrow / cos(turn) out from the corner.
    assert math.dist(met, (0.0, 0.0)) == pytest.approx(narrow / math.cos(turn), abs=1e-9)
    end = kept[-1].end if arrives else kept[0].start
    assert math.dist(met, end) == pytest.approx(wide - narrow / math.cos(turn), abs=1e-9)


@given(st.floats(0.5, 1.4), st.floats(2.0, 8.0))
def test_the_narrower_line_runs_on_to_the_wider(turn, narrow):
    a, b = corner(turn, narrow, 60.0)
    cut = drawn_on(turn, a, b, a.segments, b.segments)
    on_b = (narrow - 60.0 * math.cos(turn)) / math.sin(turn)
    if on_b >= -1e-3:
        assert cut is None or on_b < 0.0
        return
    if cut is None:
        return  # it passes beyond the end of the wider one
    first, second = cut
    assert first == a.segments
    assert second[0].start[1] == pytest.approx(-narrow)
    assert isinstance(a, Strand)
