"""Parallels of smooth runs against their definition, laws, and kurbo."""

import itertools
import math
import random

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from kurbopy import CubicBez, Point, offset_cubic

from beside import Beside, Drawn, rows, stray, stray_of_parallel, unit_tangent, velocity
from crossgrain.errors import AccuracyError, GeometryError
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.curvature import curvature, cusps, simplified
from crossgrain.kernel.length import segment_length
from crossgrain.kernel.parallels.parallel import parallel_at_varying_distance, parallels
from crossgrain.kernel.path import Path
from crossgrain.kernel.profile import Profile
from crossgrain.kernel.segment import Cubic, Line, section
from random_cubics import FAMILIES, drawn, gentle
from strategies import plain_cubics, rigid_motions

FEW = settings(max_examples=25)


@st.composite
def tame_cubics(draw):
    """Draw cubics that are neither straight nor cusped: what a smooth run is made of."""
    cubic = draw(plain_cubics())
    try:
        plain = simplified(cubic)
    except GeometryError:
        plain = None
    assume(isinstance(plain, Cubic) and not cusps(cubic))
    return cubic


widths = st.sampled_from([-30.0, -10.0, -6.0, 6.0, 10.0, 15.0])


def parallel(cubic, distance, accuracy=0.01):
    [strand] = parallels([[cubic]], [distance], accuracy)
    return strand.segments


# --- Against the definition ------------------------------------------------------------------------------------


@pytest.mark.parametrize("accuracy", [0.05, 0.01, 0.002])
@pytest.mark.parametrize("family", FAMILIES)
def test_no_cubic_strays_beyond_the_accuracy(family, accuracy):
    """Some 250 runs here; ``tests/benchmarks`` does two thousand."""
    cases = drawn(family, 12, f"{family} {accuracy}")
    strands = parallels([[cubic] for cubic, _d in cases], [d for _cubic, d in cases], accuracy)
    for (cubic, distance), strand in zip(cases, strands, strict=True):
        assert stray_of_parallel([cubic], distance, strand.segments, 2.0) <= accuracy, (cubic, distance)
        assert len(strand.segments) <= 30


WORST = {
    # Found by chance: each was up to 9 % beyond its accuracy, or refused, before its cause was mended.
    "lobe at the end": (Cubic((30.09, -128.46), (380.62, -118.59), (117.57, 29.5), (290.95, -275.31)), -2.0, 0.002),
    "hidden lobe": (Cubic((-213.08, -142.28), (-229.8, 11.72), (-293.81, -91.1), (-148.24, -38.13)), 10.0, 0.002),
    "kurbo's, unseen": (Cubic((165.08, 169.79), (165.08, 169.79), (160.29, 34.29), (285.67, 109.47)), 2.0, 0.05),
    "cusp at a standstill": (Cubic((154.4, 30.29), (154.4, 30.29), (155.98, 234.74), (212.12, 120.46)), 80.0, 0.01),
    "curvature's sign": (Cubic((147.0, 277.45), (147.0, 277.45), (249.46, 106.18), (138.42, 159.11)), -15.0, 0.01),
    "a run of no length": (
        Cubic((202.652, 2.065), (202.652, 2.065), (63.029, 175.532), (100.441, 130.866)),
        15.0,
        0.05,
    ),
}


@pytest.mark.parametrize("name", WORST)
def test_what_once_went_wrong_is_right(name):
    cubic, distance, accuracy = WORST[name]
    assert stray_of_parallel([cubic], distance, parallel(cubic, distance, accuracy)) <= accuracy


@FEW
@given(tame_cubics(), widths)
def test_a_parallel_starts_and_ends_square_beside_its_cubic(cubic, distance):
    drawn_line = parallel(cubic, distance)
    true = Beside(rows([cubic]), distance)
    ends = true(np.array([0, 0]), np.array([0.0, 1.0]))
    assert abs(complex(*drawn_line[0].start) - ends[0]) <= 1e-5
    assert abs(complex(*drawn_line[-1].end) - ends[1]) <= 1e-5
    for before, after in itertools.pairwise(drawn_line):
        assert before.end == after.start
        (ax, ay), (bx, by) = before.end_tangent, after.start_tangent
        # One smooth line, or straight back at a cusp of the parallel.
        assert abs(ax * by - ay * bx) <= 1e-3


def test_many_runs_in_one_go_are_what_each_is_alone():
    """But for where handles and breaks settle: all runs of a batch are worked on for as long as one needs it."""
    cases = drawn("uniform", 12, "together")
    together = parallels([[cubic] for cubic, _d in cases], [d for _cubic, d in cases], 0.01)
    for (cubic, distance), strand in zip(cases, together, strict=True):
        alone = parallel(cubic, distance)
        assert abs(len(alone) - len(strand.segments)) <= 1
        assert max(stray(Drawn(rows(alone)), Drawn(rows(strand.segments)), 2.0)) <= 0.02


# --- Laws ------------------------------------------------------------------------------------------------------


@FEW
@given(tame_cubics(), widths, rigid_motions())
def test_a_parallel_moved_is_the_parallel_of_the_moved(cubic, distance, motion):
    moved = [segment.mapped(motion) for segment in parallel(cubic, distance)]
    of_moved = parallel(cubic.mapped(motion), distance)
    assert max(stray(Drawn(rows(moved)), Drawn(rows(of_moved)), 2.0)) <= 0.02


@FEW
@given(tame_cubics(), widths)
def test_travelled_backwards_the_other_side_is_the_same_line(cubic, distance):
    there = parallel(cubic, distance)
    back = parallel(cubic.reversed(), -distance)
    assert max(stray(Drawn(rows(there)), Drawn(rows(back)), 2.0)) <= 0.02


@given(tame_cubics())
def test_no_distance_is_the_line_itself(cubic):
    assert parallel(cubic, 0.0) == (cubic,)


def total_turn(cubic):
    t = np.linspace(0.0, 1.0, 4001)
    tangents = unit_tangent(rows([cubic])[0], t)
    return float(np.angle(tangents[1:] * tangents[:-1].conj()).sum())


@pytest.mark.parametrize("seed", range(20))
def test_the_length_grows_by_distance_times_turn(seed):
    """L(d) = L + d·Δθ where d stays under the radius of curvature: the parallel-curve law (J. Steiner, 1840)."""
    cubic = gentle(random.Random(seed))
    for distance in (-12.0, 12.0):
        length = sum(segment_length(segment) for segment in parallel(cubic, distance, 1e-4))
        assert length == pytest.approx(segment_length(cubic) + distance * total_turn(cubic), abs=2e-3)


@pytest.mark.parametrize("seed", range(10))
def test_the_curvature_is_that_of_a_circle_farther_out(seed):
    """κ(d) = κ/(1 + dκ); derived: the radius grows by the distance."""
    cubic = gentle(random.Random(seed))
    distance = 15.0
    [*_before, last] = parallel(cubic, distance, 1e-4)
    place = last.point(0.5)
    t = np.linspace(0.0, 1.0, 200_001)
    beside = Beside(rows([cubic]), distance)(np.zeros(len(t), dtype=int), t)
    k = curvature(cubic, float(t[np.abs(beside - complex(*place)).argmin()]))
    assert curvature(last, 0.5) == pytest.approx(k / (1.0 + distance * k), rel=0.01, abs=2e-5)


def test_the_parallel_of_a_straight_line_is_a_straight_line():
    assert parallel(Line((0.0, 0.0), (0.0, 50.0)), 4.0) == (Line((4.0, 0.0), (4.0, 50.0)),)


@pytest.mark.parametrize("seed", range(30))
def test_kurbo_is_of_the_same_opinion_about_gentle_cubics(seed):
    """A second opinion from kurbopy's ``offset_cubic``, whose normal points the other way."""
    cubic = gentle(random.Random(seed))
    theirs = offset_cubic(CubicBez(*(Point(x, y) for x, y in cubic.controls)), -12.0, 0.01)
    controls = np.array(
        [[complex(p.x, p.y) for p in (s.p0, s.p1, s.p2, s.p3)] for s in theirs.segments() if isinstance(s, CubicBez)]
    )
    ours = parallel(cubic, 12.0)
    # kurbo passes its own accuracy by up to a fifth.
    assert max(stray(Drawn(rows(ours)), Drawn(controls), 2.0)) <= 0.01 + 1.2 * 0.01
    assert len(ours) <= len(controls) + 1


# --- Runs ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(8))
def test_nodes_that_do_nothing_are_not_kept(seed):
    cubic = gentle(random.Random(seed))
    run = [section(cubic, k / 6.0, (k + 1) / 6.0) for k in range(6)]
    [strand] = parallels([run], [12.0], 0.01)
    assert stray_of_parallel(run, 12.0, strand.segments, 2.0) <= 0.01
    assert len(strand.segments) <= len(parallel(cubic, 12.0)) + 1
    assert strand.start == cubic.start
    assert strand.end == pytest.approx(cubic.end)


def test_a_run_goes_on_straight_where_asked():
    cubic = Cubic((0.0, 0.0), (30.0, 0.0), (70.0, 20.0), (100.0, 20.0))
    [strand] = parallels([[cubic]], [10.0], 0.01, [(3.0, 5.0)])
    assert strand.segments[0].start == pytest.approx((-3.0, -10.0))
    assert strand.segments[-1].end == pytest.approx((105.0, 10.0))
    longer = [Line((-3.0, 0.0), (0.0, 0.0)), cubic, Line((100.0, 20.0), (105.0, 20.0))]
    assert stray_of_parallel(longer, 10.0, strand.segments) <= 0.01


def test_an_accuracy_beyond_reach_is_refused_with_the_place():
    with pytest.raises(AccuracyError) as caught:
        parallel(Cubic((0.0, 0.0), (90.0, 200.0), (-60.0, 200.0), (100.0, 0.0)), 10.0, 1e-13)
    assert caught.value.position is not None


def test_a_segment_without_length_is_refused():
    with pytest.raises(GeometryError):
        parallels([[Line((1.0, 1.0), (1.0, 1.0))]], [3.0], 0.01)


# --- Varying distance ------------------------------------------------------------------------------------------


def arc_lengths(run):
    """Return a function of piece and parameter: the arc length from the start of the run, by Simpson's rule."""
    grid = np.linspace(0.0, 1.0, 4001)
    tables, before = [], 0.0
    for controls in rows(run):
        speed = np.abs(velocity(controls, grid))
        middle = np.abs(velocity(controls, (grid[1:] + grid[:-1]) / 2.0))
        steps = (speed[1:] + 4.0 * middle + speed[:-1]) / 6.0 / (len(grid) - 1)
        tables.append(before + np.concatenate([[0.0], np.cumsum(steps)]))
        before = tables[-1][-1]
    return lambda piece, t: np.choose(np.minimum(piece, 31), [np.interp(t, grid, table) for table in tables]), before


VARYING = [(0.0, 12.0, 6.0), (10.0, 30.0, 10.0), (-5.0, 5.0, 20.0), (8.0, 0.0, 0.0)]


def off_at_varying_distance(cubic, values, accuracy):
    length_at, length = arc_lengths([cubic])
    profile = Profile([0.0, 0.4 * length, length], values)
    segments = parallel_at_varying_distance([cubic], profile, accuracy)
    assert len(segments) <= 16
    return stray_of_parallel([cubic], lambda piece, t: profile(length_at(piece, t))[0], segments, 2.0)


@pytest.mark.parametrize("values", VARYING)
@pytest.mark.parametrize("family", ["uniform", "gentle", "s-curve", "loop", "arc"])
def test_a_varying_distance_follows_the_definition(family, values):
    for cubic, _distance in drawn(family, 2, f"{family} {values}"):
        for accuracy in (0.05, 0.01):
            # Simpson's table is interpolated linearly: some 1e-4 mm.
            assert off_at_varying_distance(cubic, values, accuracy) <= accuracy + 2e-4, (cubic, accuracy)


STANDING = Cubic((0.3125, 54.872), (0.3125, 54.872), (266.014, 77.824), (45.332, 295.284))


def test_a_varying_distance_is_true_where_a_cubic_starts_from_a_standstill():
    """The parallel turns within a fraction of a millimetre there: it once was a millimetre off, unseen."""
    assert off_at_varying_distance(STANDING, (10.0, 30.0, 10.0), 0.01) <= 0.0102
    assert off_at_varying_distance(STANDING, (20.0, 5.0, -5.0), 0.05) <= 0.0502


@pytest.mark.xfail(raises=AccuracyError, reason="a hairpin a thousandth of a millimetre wide is not taken as a cusp")
def test_a_varying_distance_turns_back_at_a_cusp_beside_a_standstill():
    assert off_at_varying_distance(STANDING, (-5.0, 5.0, 20.0), 0.05) <= 0.0502


@pytest.mark.parametrize("distance", [-40.0, 40.0])
def test_a_distance_that_stands_still_has_the_cusps_of_a_constant_one(distance):
    cubic = Cubic((0.0, 0.0), (40.0, 90.0), (60.0, 90.0), (100.0, 0.0))
    same = parallel_at_varying_distance([cubic], Profile([0.0, 50.0], [distance, distance]), 0.01)
    assert stray_of_parallel([cubic], distance, same, 2.0) <= 0.01


def test_a_varying_distance_runs_through_the_nodes_of_a_run():
    cubic = Cubic((0.0, 0.0), (100.0, -60.0), (300.0, 80.0), (400.0, 0.0))
    run = [section(cubic, 0.0, 0.3), section(cubic, 0.3, 0.55), section(cubic, 0.55, 1.0)]
    length_at, length = arc_lengths(run)
    profile = Profile([0.0, length / 2.0, length], [4.0, 15.0, 2.0])
    segments = parallel_at_varying_distance(run, profile, 0.01)
    assert stray_of_parallel(run, lambda piece, t: profile(length_at(piece, t))[0], segments) <= 0.0102
    assert len(segments) <= 5


@pytest.mark.parametrize("seed", range(6))
def test_a_profile_that_does_not_vary_is_a_constant_distance(seed):
    cubic = gentle(random.Random(seed))
    same = parallel_at_varying_distance([cubic], Profile([0.0, 50.0], [12.0, 12.0]), 0.01)
    assert stray_of_parallel([cubic], 12.0, same, 2.0) <= 0.01
    assert max(stray(Drawn(rows(same)), Drawn(rows(parallel(cubic, 12.0))), 2.0)) <= 0.02


def test_a_wedge_beside_a_straight_line_has_its_area():
    """12 mm of taking in at the middle of a straight 400 mm seam: the area under the profile, by its own integral."""
    profile = Profile([0.0, 200.0, 400.0], [0.0, 12.0, 0.0])
    segments = parallel_at_varying_distance([Line((0.0, 0.0), (400.0, 0.0))], profile, 1e-3)
    closed = Path.joined([*segments, Line(segments[-1].end, segments[0].start)], closed=True)
    s = np.linspace(0.0, 400.0, 400_001)
    under = float(np.trapezoid(profile(s)[0], s))
    assert under == pytest.approx(12.0 * 200.0)  # each half is a blend that is even about its middle
    assert signed_area(closed) == pytest.approx(under, abs=0.4)
    assert math.isclose(segments[0].start[1], 0.0, abs_tol=1e-12)
