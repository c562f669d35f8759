"""Ways go until they meet a line: against the arithmetic of circles and boxes, and shapely's own distances."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.kernel.arc import arc_cubics
from crossgrain.kernel.meetings.ways import reach_of_ways
from crossgrain.kernel.path import Path
from strategies import angles

CIRCLE = Path(
    (
        *arc_cubics((50.0, 0.0), 50.0, 50.0, 0.0, False, True, (-50.0, 0.0)),
        *arc_cubics((-50.0, 0.0), 50.0, 50.0, 0.0, False, True, (50.0, 0.0)),
    ),
    True,
)


@given(st.lists(st.tuples(angles, st.floats(0.0, 45.0)), min_size=1, max_size=20))
def test_from_inside_a_circle_every_way_reaches_it(ways):
    """A way from r out along the radius meets the circle of radius R after R − r."""
    unit = np.array([[math.cos(a), math.sin(a)] for a, _r in ways])
    starts = unit * np.array([[r] for _a, r in ways])
    reach = reach_of_ways(starts, unit * 90.0, CIRCLE)
    assert reach == pytest.approx([50.0 - r for _a, r in ways], abs=0.02)


@given(angles, st.floats(1.0, 49.0))
def test_a_way_that_ends_before_the_line_meets_nothing(angle, size):
    end = np.array([[size * math.cos(angle), size * math.sin(angle)]])
    assert reach_of_ways(np.zeros((1, 2)), end, CIRCLE).tolist() == [math.inf]


def test_the_nearest_of_several_meetings_counts():
    starts, ends = np.array([[-100.0, 0.0]]), np.array([[100.0, 0.0]])
    assert reach_of_ways(starts, ends, CIRCLE) == pytest.approx([50.0], abs=0.02)


def test_a_way_without_length_meets_nothing_even_on_the_line():
    here = np.array([[50.0, 0.0]])
    assert reach_of_ways(here, here, CIRCLE).tolist() == [math.inf]
