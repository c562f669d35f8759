"""Nearest points against dense sampling, shapely and the foot of the perpendicular."""

import math

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from shapely import points as shapely_points
from shapely.geometry import LineString

from crossgrain.errors import GeometryError
from crossgrain.kernel.arc import ellipse_path
from crossgrain.kernel.length import point_at
from crossgrain.kernel.meetings.nearest import nearest, nearest_points
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from strategies import paths, plain_cubics, points, rigid_motions, segments, simple_outlines


@given(paths(), points)
def test_no_sampled_point_is_nearer(path, point):
    found = nearest(path, point)
    assert math.dist(found.point, point) == pytest.approx(found.distance, abs=1e-9)
    assert math.dist(point_at(path, found.place), found.point) < 1e-9
    samples = np.array([s.point(i / 200) for s in path.segments for i in range(201)])
    assert found.distance <= np.hypot(*(samples - point).T).min() + 1e-9


@given(simple_outlines(kinds=("line",)), st.lists(points, min_size=1, max_size=10))
def test_distances_to_polygons_are_those_of_shapely(outline, some):
    theirs = LineString([*outline.nodes, outline.start]).distance(shapely_points(some))
    assert nearest_points(outline, np.array(some)).distances == pytest.approx(theirs, abs=1e-9)


@given(plain_cubics(), points)
@example(Cubic((0.0, -130.0), (0.03125, -1.0), (0.0, 0.0), (0.0, -3.0)), (0.0, -1.0))  # an end beside the foot
@example(Cubic((0.0, -132.0), (0.03125, -1.0), (0.0, 0.0), (0.0, -3.0)), (0.0, -1.0))
def test_the_foot_is_square_to_the_line_or_an_end(cubic, point):
    found = nearest(Path((cubic,)), point)
    t = found.place.t
    if 0.0 < t < 1.0:
        dx, dy = cubic.derivative(t)
        ax, ay = found.point[0] - point[0], found.point[1] - point[1]
        # The distance falls short by no more than offset²: a nanometre at most.
        assert abs(ax * dx + ay * dy) <= 1e-7 * max(1.0, math.hypot(dx, dy) * math.hypot(ax, ay))


@given(paths(), points, rigid_motions())
def test_moving_the_drawing_keeps_the_distance(path, point, motion):
    assert nearest(path.mapped(motion), motion.of(point)).distance == pytest.approx(
        nearest(path, point).distance, abs=1e-8
    )


@given(segments(), st.one_of(st.floats(0.0, 1.0), st.floats(0.0, 1e-3), st.floats(0.999, 1.0)))
def test_a_point_on_the_line_is_its_own_nearest(segment, t):
    assert nearest(Path((segment,)), segment.point(t)).distance < 1e-9


@given(paths(), st.lists(points, min_size=1, max_size=5))
def test_many_at_once_are_as_near_as_one_by_one(path, some):
    many = nearest_points(path, np.array(some))
    for i, point in enumerate(some):
        one = nearest(path, point)
        assert many.distances[i] == pytest.approx(one.distance, abs=1e-12)
        assert math.dist(many.points[i], point) == pytest.approx(one.distance, abs=1e-9)


def test_from_the_centre_of_a_circle_every_point_is_a_radius_away():
    circle = ellipse_path(10.0, 20.0, 80.0, 80.0)
    assert nearest(circle, (10.0, 20.0)).distance == pytest.approx(80.0, abs=1e-4)
    # Derived: on the line through the centre the nearest point is r - d away.
    for d in (1e-6, 1.0, 79.0, 81.0, 300.0):
        assert nearest(circle, (10.0 + d, 20.0)).distance == pytest.approx(abs(80.0 - d), abs=1e-4)


def test_at_the_centre_of_curvature_of_a_parabola_where_three_feet_meet():
    # y = x²/2 has radius of curvature 1 at its vertex, and its evolute a cusp at (0, 1).
    parabola = Cubic.from_quadratic((-3.0, 4.5), (0.0, -4.5), (3.0, 4.5))
    assert nearest(Path((parabola,)), (0.0, 1.0)).distance == pytest.approx(1.0, abs=1e-9)
    # Beyond it two feet at x = ±√(2 (h - 1)): the distance is √(2h - 1).
    assert nearest(Path((parabola,)), (0.0, 1.001)).distance == pytest.approx(math.sqrt(2 * 1.001 - 1), abs=1e-9)
    assert nearest(Path((parabola,)), (0.0, 2.0)).distance == pytest.approx(math.sqrt(3.0), abs=1e-9)


def test_beside_an_end_whose_handle_is_drawn_in():
    cubic = Cubic((0.0, 0.0), (0.0, 0.0), (0.0, 7.0), (0.0, 7.0))
    for t in (1e-7, 0.001953125, 0.25, 1 - 1e-4):
        assert nearest(Path((cubic,)), cubic.point(t)).distance < 1e-9


def test_a_hairpin_that_comes_back_to_the_point_at_its_end():
    hairpin = Cubic((0.0, 0.0), (1.0, 246.0), (0.0, 0.0), (0.0, 1.0))
    assert nearest(Path((hairpin,)), (0.0, 1.0)).distance == 0.0


def test_a_tip_beside_its_end():
    # The last handle is a thousandth of a millimetre long: a hairpin 0.002 of the parameter from the end.
    hook = Cubic((299.7, 1.0), (99.9, -50.0), (1.0, 0.001), (1.0, 0.0))
    assert nearest(Path((hook,)), hook.point(0.9977500641370949)).distance < 1e-9


def test_a_single_point_is_nearest_to_everything():
    assert nearest(Path((Line((1.0, 1.0), (1.0, 1.0)),)), (4.0, 5.0)).distance == 5.0
    cusp = Cubic((0.0, 0.0), (100.0, 100.0), (0.0, 100.0), (100.0, 0.0))
    assert nearest(Path((cusp,)), (50.0, 200.0)).distance == pytest.approx(125.0)  # its tip is at y = 75


def test_what_is_not_a_number_is_refused():
    with pytest.raises(GeometryError):
        nearest(Path((Line((0.0, 0.0), (1.0, 1.0)),)), (math.nan, 0.0))
