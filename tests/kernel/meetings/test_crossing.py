"""Crossings against laws, shapely, polynomial roots and hand-made cases."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LineString

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.arc import ellipse_path
from crossgrain.kernel.curvature import simplified
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.length import Place, point_at, segment_length
from crossgrain.kernel.meetings.crossing import is_simple, path_crossings, segment_crossings, self_crossings
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line, section
from crossgrain.tolerances import COINCIDENT
from strategies import cubics, lines, open_lines, paths, plain_cubics, rigid_motions, segments, simple_outlines

CUSP = Cubic((0.0, 0.0), (100.0, 100.0), (0.0, 100.0), (100.0, 0.0))
LOOP = Cubic((0.0, 0.0), (150.0, 100.0), (-50.0, 100.0), (100.0, 0.0))


def angle_between(a, s, b, t):
    (px, py), (qx, qy) = a.derivative(s), b.derivative(t)
    return abs(math.atan2(px * qy - py * qx, px * qx + py * qy))


def is_clear(path, crossings):
    """Say whether all are crossings inside segments, at an angle that leaves no doubt."""
    for c in crossings:
        a, b = path.segments[c.a.index], path.segments[c.b.index]
        if c.kind != "cross" or not (0.0 < c.a.t < 1.0 and 0.0 < c.b.t < 1.0):
            return False
        if not 0.01 < angle_between(a, c.a.t, b, c.b.t) < math.pi - 0.01:
            return False
    return True


def folds_back(segment):
    try:
        simplified(segment)
    except GeometryError:
        return True
    return False


def kinds(crossings):
    return [crossing.kind for crossing in crossings]


# --- Laws ------------------------------------------------------------------------------------------------------


@given(segments(), segments())
def test_what_is_said_to_meet_meets(a, b):
    assume(not (folds_back(a) or folds_back(b)))
    for crossing in segment_crossings(a, b):
        assert math.dist(a.point(crossing.a.t), b.point(crossing.b.t)) <= 2 * COINCIDENT
        assert math.dist(crossing.point, a.point(crossing.a.t)) <= 2 * COINCIDENT
        if crossing.kind == "overlap":
            s0, s1, t0, t1 = crossing.a.t, crossing.a_end.t, crossing.b.t, crossing.b_end.t
            assert math.dist(a.point(s1), b.point(t1)) <= 2 * COINCIDENT
            assert s0 < s1
            assert t0 != t1


@given(plain_cubics(), plain_cubics())
def test_crossings_are_symmetrical(a, b):
    assume(not (folds_back(a) or folds_back(b)))
    one, other = segment_crossings(a, b), segment_crossings(b, a)
    # Where lines run within COINCIDENT of each other for a while, what is one touch is a matter of taste.
    clear = [all(0.01 < angle_between(p, c.a.t, q, c.b.t) < 3.13 for c in found) and "overlap" not in kinds(found)
             for p, q, found in ((a, b, one), (b, a, other))]  # fmt: skip
    assume(all(clear))
    assert sorted(kinds(one)) == sorted(kinds(other))
    assert sorted(c.b.t for c in one) == pytest.approx([c.a.t for c in other], abs=1e-7)


@given(plain_cubics(), plain_cubics(), rigid_motions())
def test_moving_the_drawing_keeps_clear_crossings(a, b, motion):
    assume(not (folds_back(a) or folds_back(b)))
    before = segment_crossings(a, b)
    assume(all(c.kind == "cross" and 0.01 < angle_between(a, c.a.t, b, c.b.t) < 3.13 for c in before))
    after = segment_crossings(a.mapped(motion), b.mapped(motion))
    assert [c.a.t for c in after] == pytest.approx([c.a.t for c in before], abs=1e-7)


@given(plain_cubics(), plain_cubics())
def test_every_clear_crossing_that_shapely_finds_on_polylines_is_found_and_no_more(a, b):
    assume(not (folds_back(a) or folds_back(b)))
    one, other = (LineString(flatten(Path((c,)), 1e-4).points) for c in (a, b))
    theirs = one.intersection(other)
    spots = (
        [] if theirs.is_empty else [(p.x, p.y) for p in getattr(theirs, "geoms", [theirs]) if p.geom_type == "Point"]
    )
    ours = segment_crossings(a, b)
    assume(all(0.05 < angle_between(a, c.a.t, b, c.b.t) < math.pi - 0.05 for c in ours))
    assume(all(0.001 < v < 0.999 for c in ours for v in (c.a.t, c.b.t)))
    for x, y in spots:
        assert min((math.dist((x, y), c.point) for c in ours), default=math.inf) < 0.02
    for c in ours:
        assert one.distance(LineString([c.point, c.point])) < 2e-4
        assert other.distance(LineString([c.point, c.point])) < 2e-4


@given(plain_cubics(), lines())
def test_lines_cross_cubics_at_the_roots_of_a_polynomial(cubic, line):
    assume(math.dist(line.start, line.end) > 1.0 and segment_length(cubic) > 1.0 and not folds_back(cubic))
    # In the line's own frame the cubic's height is a polynomial; numpy finds its roots.
    dx, dy = line.derivative(0.0)
    size = math.hypot(dx, dy)
    across = [(-(x - line.start[0]) * dy + (y - line.start[1]) * dx) / size for x, y in cubic.controls]
    p, q, r, w = across
    roots = np.roots([w - 3 * r + 3 * q - p, 3 * (r - 2 * q + p), 3 * (q - p), p])
    expected = []
    for root in roots:
        assume(abs(root.imag) < 1e-12 or abs(root.imag) > 1e-3)  # no near touches
        assume(min(abs(root.real), abs(root.real - 1)) > 1e-6)
        if abs(root.imag) < 1e-12 and 0 < root.real < 1:
            x, y = cubic.point(root.real)
            along = ((x - line.start[0]) * dx + (y - line.start[1]) * dy) / size**2
            assume(min(abs(along), abs(along - 1)) > 1e-6)
            if 0 < along < 1:
                expected.append(root.real)
    found = segment_crossings(cubic, line)
    assume(all(0.01 < angle_between(cubic, t, line, 0.5) < 3.13 for t in expected))
    assert [c.a.t for c in found] == pytest.approx(sorted(expected), abs=1e-9)


@given(simple_outlines())
def test_outlines_made_simple_are_simple(outline):
    assert self_crossings(outline) == ()


@given(simple_outlines(), st.floats(0.1, 0.9))
def test_smooth_nodes_inside_curves_do_not_make_an_outline_less_simple(outline, t):
    assert is_simple(Path(tuple(part for segment in outline.segments for part in segment.split(t)), True))


@given(simple_outlines())
def test_doubled_nodes_do_not_make_an_outline_less_simple(outline):
    assert is_simple(
        Path(tuple(s for segment in outline.segments for s in (segment, Line(segment.end, segment.end))), True)
    )


@given(simple_outlines(), rigid_motions())
def test_a_line_from_inside_to_outside_goes_over_the_outline_an_odd_number_of_times(outline, motion):
    # Jordan: each crossing changes the side. The centre of the star is inside by construction.
    nodes = outline.nodes
    centre = (sum(x for x, _ in nodes) / len(nodes), sum(y for _, y in nodes) / len(nodes))
    from shapely.geometry import Point, Polygon

    assume(Polygon(flatten(outline, 0.01).points).buffer(-1.0).contains(Point(centre)))
    far = Line(motion.of(centre), motion.of((centre[0] + 3000.0, centre[1] + 411.0)))
    found = path_crossings(outline.mapped(motion), Path((far,)))
    assert sum(kind == "cross" for kind in kinds(found)) % 2 == 1
    assert "overlap" not in kinds(found)


@given(open_lines(most=4))
def test_nothing_hangs_and_every_place_is_real(path):
    for crossing in self_crossings(path):
        if crossing.kind != "overlap":
            assert math.dist(point_at(path, crossing.a), point_at(path, crossing.b)) <= 2 * COINCIDENT
            assert crossing.a < crossing.b


@given(cubics(), st.floats(0.0, 0.6), st.floats(0.1, 0.4))
def test_a_part_of_a_curve_overlaps_the_whole(cubic, t0, width):
    assume(math.dist(cubic.point(t0), cubic.point(t0 + width)) > 1.0 and not folds_back(cubic))
    found = segment_crossings(cubic, section(cubic, t0, t0 + width))
    assert "overlap" in kinds(found)


# --- Known cases -----------------------------------------------------------------------------------------------


def test_two_circles_cross_where_pythagoras_says():
    # Radii 50, centres 60 apart: the points lie 30 along and √(50² - 30²) = 40 across.
    a, b = ellipse_path(0.0, 0.0, 50.0, 50.0), ellipse_path(60.0, 0.0, 50.0, 50.0)
    found = path_crossings(a, b)
    assert kinds(found) == ["cross", "cross"]
    assert sorted(c.point[1] for c in found) == pytest.approx([-40.0, 40.0], abs=2e-4)
    assert [c.point[0] for c in found] == pytest.approx([30.0, 30.0], abs=2e-4)


def test_circles_that_touch_touch_once_inside_and_outside():
    # Both have their rightmost or leftmost node where they touch.
    a = ellipse_path(0.0, 0.0, 50.0, 50.0)
    for other in (ellipse_path(80.0, 0.0, 30.0, 30.0), ellipse_path(20.0, 0.0, 30.0, 30.0)):
        [touch] = path_crossings(a, other)
        assert touch.kind == "touch"
        assert touch.point == pytest.approx((50.0, 0.0), abs=1e-3)


def test_a_tangent_line_touches_and_one_a_hair_away_crosses_twice_or_misses():
    arch = Cubic((0.0, 0.0), (0.0, 40.0), (100.0, 40.0), (100.0, 0.0))  # its top is at y = 30, x = 50
    [touch] = segment_crossings(arch, Line((0.0, 30.0), (100.0, 30.0)))
    assert touch.kind == "touch"
    assert touch.point == pytest.approx((50.0, 30.0), abs=1e-3)
    assert kinds(segment_crossings(arch, Line((0.0, 29.9999), (100.0, 29.9999)))) == ["cross", "cross"]
    assert segment_crossings(arch, Line((0.0, 30.0001), (100.0, 30.0001))) == ()


def test_a_curve_may_go_over_its_own_tangent():
    # y = x³ goes over the x axis with a contact of the third order.
    bend = Cubic((-50.0, -50.0), (-50.0 / 3, 50.0), (50.0 / 3, -50.0), (50.0, 50.0))
    found = segment_crossings(bend, Line((-60.0, 0.0), (70.0, 0.0)))
    assert kinds(found) == ["cross"]
    assert found[0].point == pytest.approx((0.0, 0.0), abs=0.5)


def test_a_line_through_a_node_crosses_once_and_past_it_touches():
    square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    through = path_crossings(square, Path((Line((-5.0, -5.0), (5.0, 5.0)),)))
    assert [(c.kind, c.a) for c in through] == [("cross", Place(0, 0.0))]
    past = path_crossings(square, Path((Line((-5.0, 5.0), (5.0, -5.0)),)))
    assert [(c.kind, c.a) for c in past] == [("touch", Place(0, 0.0))]


def test_a_line_that_ends_on_another_touches_it():
    [touch] = segment_crossings(Line((0.0, 0.0), (10.0, 0.0)), Line((5.0, 0.0), (5.0, 7.0)))
    assert (touch.kind, touch.a.t, touch.b.t) == ("touch", pytest.approx(0.5), 0.0)


@pytest.mark.parametrize(
    ("other", "expected"),
    [
        (Line((20.0, 0.0), (60.0, 0.0)), [(0.2, 0.6, 0.0, 1.0)]),
        (Line((60.0, 0.0), (20.0, 0.0)), [(0.2, 0.6, 1.0, 0.0)]),
        (Line((-20.0, 0.0), (30.0, 0.0)), [(0.0, 0.3, 0.4, 1.0)]),
        (Line((0.0, 0.0), (100.0, 0.0)), [(0.0, 1.0, 0.0, 1.0)]),
        (Line((120.0, 0.0), (130.0, 0.0)), []),
        (Line((0.0, 1e-3), (100.0, 1e-3)), []),
    ],
)
def test_lines_along_each_other_overlap(other, expected):
    found = segment_crossings(Line((0.0, 0.0), (100.0, 0.0)), other)
    assert kinds(found) == ["overlap"] * len(expected)
    for crossing, places in zip(found, expected, strict=True):
        assert (crossing.a.t, crossing.a_end.t, crossing.b.t, crossing.b_end.t) == pytest.approx(places, abs=1e-9)


def test_lines_that_meet_end_to_end_touch():
    [touch] = segment_crossings(Line((0.0, 0.0), (10.0, 0.0)), Line((10.0, 0.0), (25.0, 0.0)))
    assert (touch.kind, touch.a.t, touch.b.t) == ("touch", 1.0, 0.0)


def test_a_curve_overlaps_itself_from_end_to_end():
    for cubic in (LOOP, CUSP, Cubic((0.0, 0.0), (0.0, 62.0), (28.0, 95.0), (88.0, 101.0))):
        overlaps = [c for c in segment_crossings(cubic, cubic) if c.kind == "overlap"]
        assert [(c.a.t, c.a_end.t) for c in overlaps] == [(0.0, 1.0)] or len(overlaps) == 2
        backwards = segment_crossings(cubic, cubic.reversed())
        assert "overlap" in kinds(backwards)


def test_a_loop_in_one_cubic_is_found_where_symmetry_puts_it():
    [loop] = self_crossings(Path((LOOP,)))
    assert loop.kind == "cross"
    assert loop.point[0] == pytest.approx(50.0)
    assert loop.a.t + loop.b.t == pytest.approx(1.0)
    assert math.dist(LOOP.point(loop.a.t), LOOP.point(loop.b.t)) < 1e-9
    assert self_crossings(Path((CUSP,))) == ()


def test_a_teardrop_of_one_cubic_closes_without_crossing():
    drop = Cubic((0.0, 0.0), (100.0, 0.0), (0.0, 100.0), (0.0, 0.0))
    assert is_simple(Path((drop,), True))
    assert not is_simple(Path((drop,)))  # an open line whose ends meet


def test_a_hairpin_that_is_all_but_straight_has_no_loop():
    hairpin = Cubic(
        (147.0, 0.0), (-548.1328126951328, 15.000000015000001), (-26.783202999999986, 3.75), (-548.132812, 15.0)
    )
    assert self_crossings(Path((Line((0.0, 0.0), hairpin.start), hairpin))) == ()


def test_a_teardrop_between_two_lines_is_one_meeting():
    drop = Cubic((0.0, 0.0), (100.0, 0.0), (0.0, 100.0), (0.0, 0.0))
    [pinch] = self_crossings(Path((Line((-50.0, 0.0), (0.0, 0.0)), drop, Line((0.0, 0.0), (0.0, -50.0)))))
    assert (pinch.kind, pinch.a, pinch.b) == ("cross", Place(1, 0.0), Place(2, 0.0))
    [pinch] = self_crossings(Path((Line((-50.0, -1.0), (0.0, 0.0)), drop, Line((0.0, 0.0), (-50.0, 1.0)))))
    assert (pinch.kind, pinch.a, pinch.b) == ("touch", Place(1, 0.0), Place(2, 0.0))


def test_neighbours_that_fold_back_overlap_and_a_spike_does_not():
    assert kinds(self_crossings(Path((Line((0, 0), (10, 0)), Line((10, 0), (4, 0)))))) == ["overlap"]
    assert is_simple(Path((Line((0, 0), (100, 0)), Line((100, 0), (0, 0.01)))))
    there = Cubic((0.0, 0.0), (30.0, 0.0), (60.0, 20.0), (60.0, 60.0))
    assert kinds(self_crossings(Path((there, there.reversed())))) == ["overlap"]


def test_neighbours_that_cross_beside_their_node_are_found():
    out, back = Cubic((0, 0), (40, 0), (80, 20), (100, 60)), Cubic((100, 60), (100, -40), (40, -10), (30, 30))
    assert kinds(self_crossings(Path((out, back)))) == ["cross"]


def test_a_straight_cubic_that_runs_back_overlaps_itself():
    spike = Cubic((0.0, 0.0), (100.0, 0.0), (100.0, 0.0), (30.0, 0.0))
    found = self_crossings(Path((spike, Line((30.0, 0.0), (30.0, 50.0)))))
    assert "overlap" in kinds(found)


def test_crossings_of_a_straight_cubic_that_runs_back_are_refused():
    spike = Cubic((0.0, 0.0), (100.0, 0.0), (100.0, 0.0), (30.0, 0.0))
    with pytest.raises(GeometryError, match="back over itself"):
        segment_crossings(Line((10.0, -5.0), (10.0, 5.0)), spike)


def test_an_eight_crosses_and_a_pinch_touches():
    bow = Path.polygon([(0, 0), (10, 10), (10, 0), (0, 10)])
    assert kinds(self_crossings(bow)) == ["cross"]
    hourglass = Path.polygon([(0, 0), (10, 10), (20, 0), (20, 20), (10, 10), (0, 20)])
    [touch] = self_crossings(hourglass)
    assert (touch.kind, touch.point) == ("touch", (10.0, 10.0))
    crossed = Path.polygon([(0, 0), (10, 10), (20, 20), (20, 0), (10, 10), (0, 20)])
    assert kinds(self_crossings(crossed)) == ["cross"]


def test_nearly_the_same_curve_is_told_from_the_same():
    cubic = Cubic((0.0, 0.0), (0.0, 62.0), (28.0, 95.0), (88.0, 101.0))
    assert segment_crossings(cubic, cubic.mapped(Affine.translation(0.01, -0.01))) == ()
    # A hundredth off to one side, then to the other: the two part at 1.5e-4 rad where they cross half-way.
    swayed = Cubic(cubic.start, (0.01, 62.0), (28.0, 95.01), cubic.end)
    assert kinds(segment_crossings(cubic, swayed)) == ["touch", "cross", "touch"]


@given(paths())
def test_reversing_keeps_the_number_of_crossings(path):
    some, back = self_crossings(path), self_crossings(path.reversed())
    assume(is_clear(path, some) and is_clear(path.reversed(), back))
    assert len(back) == len(some)
