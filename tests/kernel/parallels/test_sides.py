"""How often a line goes round what lies beside it, counted from its crossings, against points beside it."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.length import Place, point_at
from crossgrain.kernel.meetings.crossing import Crossing, self_crossings
from crossgrain.kernel.parallels.sides import windings_along
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic

spots = st.tuples(st.integers(-40, 40), st.integers(-40, 40))


def rounds(polygon, x, y):
    """Add up the angles under which the edges of a polygon are seen: the definition of the winding number."""
    seen = np.array([complex(*node) for node in polygon.nodes]) - complex(x, y)
    return round(float(np.angle(np.roll(seen, -1) / seen).sum() / math.tau))


@given(st.lists(spots, min_size=3, max_size=9, unique=True))
def test_the_numbers_are_those_of_points_beside_the_line(points):
    line = Path.polygon(points)
    counted = windings_along(line, self_crossings(line))
    if not counted:
        return
    order = sorted(counted)
    starts = set()
    for here, there in zip(order, [*order[1:], order[0]], strict=True):
        end = there.t if there.index == here.index and there > here else 1.0
        x, y = line.segments[here.index].point((here.t + end) / 2.0)
        tx, ty = line.segments[here.index].start_tangent
        beside = rounds(line, x - 1e-7 * ty, y + 1e-7 * tx)
        assert beside - rounds(line, x + 1e-7 * ty, y - 1e-7 * tx) == 1
        starts.add(beside - counted[here])
    assert len(starts) == 1


@given(st.floats(1e-5, 50.0), st.floats(-3.0, 3.0))
def test_however_small_the_loop_is(size, turn):
    loop = Cubic((0.0, 0.0), (2.0 * size, size), (-size, size), (size, 0.0))
    around = Path.joined([loop, *Path.polygon([(size, 0.0), (size, -90.0), (0.0, -90.0), (0.0, 0.0)]).segments[:3]],
                         closed=True).mapped(Affine.rotation(turn))  # fmt: skip
    [crossing] = self_crossings(around)
    assert windings_along(around, [crossing]) == {crossing.a: 1, crossing.b: 0}


def test_a_touch_changes_nothing():
    line = Path.polygon([(0, 0), (20, 0), (20, 20), (10, 0), (0, 20)])
    [touch] = self_crossings(line)
    assert touch.kind == "touch"
    assert windings_along(line, [touch]) == {touch.a: 0, touch.b: 0}


def test_crossings_that_contradict_each_other_are_not_believed():
    star = Path.polygon([(math.cos(k * 0.8 * math.pi), math.sin(k * 0.8 * math.pi)) for k in range(5)])
    crossings = self_crossings(star)
    assert len(crossings) == 5
    assert windings_along(star, crossings) is not None
    assert windings_along(star, crossings[1:]) is None


@pytest.mark.parametrize("kind", ["overlap", "cross"])
def test_what_cannot_be_counted_is_left_alone(kind):
    bow = Path.polygon([(0, 0), (10, 10), (10, 0), (0, 10)])
    a, b = Place(0, 0.5), Place(2, 0.5)
    assert point_at(bow, a) == point_at(bow, b)
    end = (Place(0, 0.6), Place(2, 0.4)) if kind == "overlap" else (None, None)
    one = Crossing(kind, (5.0, 5.0), a, b, *end)
    assert windings_along(bow, [one] * (1 if kind == "overlap" else 2)) is None
