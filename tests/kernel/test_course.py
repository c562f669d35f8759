"""Where a line that runs down is at each level: straight lines stay straight, curves are met, corners kept."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import GeometryError
from crossgrain.kernel.course import Course
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line

slants = st.floats(-2.0, 2.0)
levels = st.floats(-300.0, 500.0)


@st.composite
def falling_curves(draw):
    """Draw cubics whose control points lie one below the other, so that they go down all the way."""
    y = 0.0
    controls = []
    for _ in range(4):
        controls.append((draw(st.floats(-80.0, 80.0)), y))
        y += draw(st.floats(20.0, 120.0))
    return Cubic(*controls)


@given(slants, levels)
def test_a_straight_line_is_met_exactly_and_beyond_its_ends(slant, level):
    course = Course(Path((Line((10.0, 0.0), (10.0 + 200.0 * slant, 200.0)),)))
    x, dx = course(np.array([level]))
    assert x[0] == pytest.approx(10.0 + slant * level, abs=1e-9)
    assert dx[0] == pytest.approx(slant, abs=1e-12)


@given(falling_curves(), st.floats(0.0, 1.0))
def test_a_curve_is_met_where_it_runs(curve, t):
    (x, y), (dx, dy) = curve.point(t), curve.derivative(t)
    found, slant = Course(Path((curve,)))(np.array([y]))
    assert found[0] == pytest.approx(x, abs=1e-3)
    assert math.atan(slant[0]) == pytest.approx(math.atan2(dx, dy), abs=math.radians(0.02))


@given(falling_curves(), st.floats(1.0, 100.0))
def test_past_an_end_it_goes_straight_on(curve, beyond):
    y = curve.end[1] + beyond
    dx, dy = curve.derivative(1.0)
    assert Course(Path((curve,)))(np.array([y]))[0][0] == pytest.approx(curve.end[0] + beyond * dx / dy, abs=1e-6)


def test_a_corner_does_not_bend_the_lines_beside_it():
    course = Course(Path((Line((0.0, 0.0), (0.0, 100.0)), Line((0.0, 100.0), (50.0, 200.0)))))
    x, slant = course(np.array([50.0, 99.0, 101.0, 150.0]))
    assert x.tolist() == pytest.approx([0.0, 0.0, 0.5, 25.0], abs=1e-12)
    assert slant.tolist() == pytest.approx([0.0, 0.0, 0.5, 0.5], abs=1e-12)


def test_a_curve_that_ends_level_is_followed_to_its_end():
    quarter = 4.0 / 3.0 * (math.sqrt(2.0) - 1.0) * 50.0
    arc = Cubic((0.0, 0.0), (0.0, quarter), (50.0 - quarter, 50.0), (50.0, 50.0))
    y = np.linspace(0.0, 49.9, 200)
    x, slant = Course(Path((arc,)))(y)
    # A quarter circle: x = r − √(r² − y²); Bézier's arc itself strays 2.7e-4 of the radius from it.
    assert np.abs(np.hypot(x - 50.0, y) - 50.0).max() < 0.03
    assert (slant >= 0.0).all()


def test_a_line_that_turns_up_again_has_no_course():
    with pytest.raises(GeometryError, match="go down"):
        Course(Path((Line((0.0, 0.0), (0.0, 50.0)), Line((0.0, 50.0), (10.0, 40.0)))))
