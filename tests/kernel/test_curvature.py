"""Curvature against circles, parallels' laws and finite differences; what degenerate cubics come to."""

import itertools
import math
from functools import partial

import mpmath
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.arc import ellipse_path
from crossgrain.kernel.curvature import (
    curvature,
    curvatures,
    cusps,
    inflections,
    node_turns,
    screened,
    simplified,
)
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from strategies import (
    affines,
    cubics,
    nasty_cubics,
    plain_cubics,
    points,
    rigid_motions,
    segments,
    shares,
    simple_outlines,
)


def bernstein(k, u):
    s = 1 - u
    return s**3 * k[0] + 3 * s * s * u * k[1] + 3 * s * u * u * k[2] + u**3 * k[3]


CUSP = Cubic((0.0, 0.0), (100.0, 100.0), (0.0, 100.0), (100.0, 0.0))


def test_an_ellipse_bends_by_a_over_b_squared_at_its_ends():
    # Handbook: the vertices' radii of curvature are b²/a and a²/b.
    path = ellipse_path(0.0, 0.0, 120.0, 70.0)
    quarter = len(path.segments) // 4
    assert curvature(path.segments[0], 0.0) == pytest.approx(120.0 / 70.0**2, rel=2e-3)
    assert curvature(path.segments[quarter], 0.0) == pytest.approx(70.0 / 120.0**2, rel=2e-3)
    assert curvature(path.reversed().segments[0], 0.0) == pytest.approx(-120.0 / 70.0**2, rel=2e-3)


@given(plain_cubics(), st.floats(0.01, 0.99))
def test_curvature_agrees_with_mpmaths_derivatives(cubic, t):
    assume(math.hypot(*cubic.derivative(t)) > 1.0)
    with mpmath.workdps(30):
        p = [[mpmath.mpf(c[axis]) for c in cubic.controls] for axis in (0, 1)]
        fs = [partial(bernstein, k) for k in p]
        (dx, dy), (ddx, ddy) = ([mpmath.diff(f, t, n) for f in fs] for n in (1, 2))
        truth = float((dx * ddy - dy * ddx) / mpmath.sqrt(dx * dx + dy * dy) ** 3)
    assert curvature(cubic, t) == pytest.approx(truth, rel=1e-6, abs=1e-9)


@given(cubics(), shares, rigid_motions())
def test_moving_keeps_curvature_and_mirroring_turns_its_sign(cubic, t, motion):
    k = curvature(cubic, t)
    assume(math.hypot(*cubic.derivative(t)) > 1.0)
    assert curvature(cubic.mapped(motion), t) == pytest.approx(k, rel=1e-6, abs=1e-9)
    assert curvature(cubic.mapped(Affine.scaling(-1.0, 1.0)), t) == pytest.approx(-k, rel=1e-6, abs=1e-9)
    assert curvature(cubic.reversed(), 1.0 - t) == pytest.approx(-k, rel=1e-6, abs=1e-9)


@given(st.lists(st.tuples(cubics(), shares), min_size=1, max_size=6))
def test_curvature_is_never_undefined(some):
    many = curvatures(np.array([c.controls for c, _ in some]), np.array([t for _, t in some]))
    assert not np.isnan(many).any()
    assert many.tolist() == [curvature(c, t) for c, t in some]


def test_at_a_cusp_the_curvature_is_infinite_with_the_sign_beside_it():
    assert cusps(CUSP) == (0.5,)
    beside = curvature(CUSP, 0.49)
    assert curvature(CUSP, 0.5) == math.copysign(math.inf, beside)
    drawn_in = Cubic((0.0, 0.0), (0.0, 0.0), (100.0, 0.0), (100.0, 50.0))
    assert cusps(drawn_in) == (0.0,)
    assert curvature(drawn_in, 0.0) == math.inf
    assert curvature(Cubic((0.0, 0.0), (0.0, 0.0), (50.0, 0.0), (50.0, 0.0)), 0.0) == 0.0


@given(plain_cubics())
def test_the_turn_changes_sign_at_inflections_and_nowhere_else(cubic):
    stops = [0.0, *inflections(cubic), 1.0]
    signs = []
    for a, b in itertools.pairwise(stops):
        inside = [curvature(cubic, a + (b - a) * share) for share in (0.05, 0.3, 0.5, 0.7, 0.95)]
        if b - a > 1e-3:
            assert all(k >= -1e-9 for k in inside) or all(k <= 1e-9 for k in inside)
        signs.append(math.copysign(1.0, inside[2]))
    if all(b - a > 1e-2 for a, b in itertools.pairwise(stops)):
        assert all(a != b for a, b in itertools.pairwise(signs))


@given(plain_cubics(), affines())
def test_inflections_stay_where_they_are_under_affine_maps(cubic, affine):
    def inside(found):  # one that lies on an end may fall on either side of it
        return [t for t in found if 1e-4 < t < 1 - 1e-4]

    before, after = inside(inflections(cubic)), inside(inflections(cubic.mapped(affine)))
    assume(len(before) < 2 or before[1] - before[0] > 1e-3)
    assert after == pytest.approx(before, abs=1e-5)


@pytest.mark.parametrize(
    ("controls", "expected"),
    [
        (((0, 0), (1, 1), (2, -1), (3, 0)), (0.5,)),
        (((0, 0), (1, 1), (2, 1), (3, 0)), ()),
        (((0, 0), (100, 100), (0, 100), (100, 0)), ()),  # a cusp
        (((0, 0), (1, 0), (2, 0), (3, 0)), ()),  # straight
        (((5, 5), (5, 5), (5, 5), (5, 5)), ()),
    ],
)
def test_inflections_of_known_cubics(controls, expected):
    assert inflections(Cubic(*controls)) == pytest.approx(expected)


@given(plain_cubics(), affines())
def test_a_free_cubic_is_left_as_it_is(cubic, affine):
    p, q, _r, w = cubic.controls
    assume(abs((q[0] - p[0]) * (w[1] - p[1]) - (q[1] - p[1]) * (w[0] - p[0])) > 1.0)
    assert simplified(cubic) is cubic


@given(points, points, st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_a_straight_cubic_with_handles_inside_is_a_line(p, q, a, b):
    assume(math.dist(p, q) > 0.01)
    line = Line(p, q)
    a, b = min(a, b), max(a, b)
    assert simplified(Cubic(p, line.point(a), line.point(b), q)) == line


@given(st.one_of(segments(), nasty_cubics()))
def test_simplifying_twice_is_simplifying_once(segment):
    try:
        once = simplified(segment)
    except GeometryError:
        return
    assert once is None or simplified(once) == once


def test_crossed_handles_on_a_straight_line_are_a_line_as_long_as_it_never_turns_back():
    # x' = 3 (1 - 2t)² stands still in the middle and goes on.
    assert simplified(Cubic((0.0, 0.0), (1.0, 0.0), (0.0, 0.0), (1.0, 0.0))) == Line((0.0, 0.0), (1.0, 0.0))


@pytest.mark.parametrize(
    "controls",
    [
        ((0.0, 0.0), (100.0, 0.0), (-50.0, 0.0), (30.0, 0.0)),
        ((0.0, 0.0), (100.0, 50.0), (100.0, 50.0), (0.0, 0.0)),
        ((0.0, 0.0), (-10.0, 0.0), (50.0, 0.0), (60.0, 0.0)),
    ],
)
def test_a_straight_cubic_that_runs_back_is_refused_with_the_place(controls):
    with pytest.raises(GeometryError, match="back over itself") as caught:
        simplified(Cubic(*controls))
    assert caught.value.position is not None


def test_points_come_to_nothing():
    assert simplified(Line((1.0, 1.0), (1.0, 1.0))) is None
    assert simplified(Cubic((1.0, 1.0), (1.0, 1.0 + 1e-9), (1.0, 1.0), (1.0, 1.0))) is None
    with pytest.raises(GeometryError, match="single point"):
        screened(Path((Line((1.0, 1.0), (1.0, 1.0)),)))


@given(simple_outlines())
def test_screening_keeps_an_outline_and_drops_doubled_nodes(outline):
    doubled = Path(tuple(s for segment in outline.segments for s in (segment, Line(segment.end, segment.end))), True)
    assert screened(doubled).nodes == outline.nodes


@given(simple_outlines(kinds=("line",)))
def test_the_turns_of_a_simple_polygon_add_up_to_one_whole(outline):
    # The theorem of turning tangents (Hopf 1935), for straight sides.
    assert node_turns(outline).sum() == pytest.approx(2 * math.pi)
    assert node_turns(outline.reversed()).sum() == pytest.approx(-2 * math.pi)


@given(simple_outlines(kinds=("cubic",)))
def test_a_cut_inside_a_curve_is_smooth(outline):
    split = Path(tuple(part for segment in outline.segments for part in segment.split(0.4)), True)
    assert node_turns(split)[1::2] == pytest.approx(0.0, abs=1e-6)
    assert node_turns(split)[::2] == pytest.approx(node_turns(outline), abs=1e-9)


def test_the_ends_of_an_open_line_do_not_turn():
    line = Path((Line((0, 0), (10, 0)), Line((10, 0), (10, 0)), Line((10, 0), (10, 10))))
    assert node_turns(line).tolist() == pytest.approx([0.0, math.pi / 2, math.pi / 2, 0.0])
