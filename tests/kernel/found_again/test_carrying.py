"""The map that carried most points, though some were moved on their own."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.found_again.carrying import carried
from crossgrain.tolerances import UNMOVED_CORNER

PLACES = [(0.0, 0.0), (230.0, -12.0), (215.0, 1000.0), (40.0, 990.0), (-55.0, 270.0)]
factors = st.floats(0.5, 2.0)
evens = st.builds(
    lambda angle, factor, sign: Affine.rotation(angle).then(Affine.scaling(sign * factor, factor)),
    st.floats(-math.pi, math.pi),
    factors,
    st.sampled_from([-1.0, 1.0]),
)


@given(evens, st.floats(-900.0, 900.0), st.integers(0, 4), st.floats(1.0, 300.0))
def test_an_even_map_is_found_though_one_point_was_moved_on_its_own(even, dx, stray, by):
    affine = even.then(Affine.translation(dx, -dx))
    now = [affine.of(place) for place in PLACES]
    now[stray] = (now[stray][0] + by, now[stray][1] - by)
    found = carried(PLACES, now)
    for point in (*PLACES, (600.0, 300.0)):
        assert found.of(point) == pytest.approx(affine.of(point), abs=1e-6)


@given(factors, factors, st.floats(-1.0, 1.0))
def test_an_uneven_map_is_found_from_all_points(across, along, angle):
    affine = Affine.scaling(across, along).then(Affine.rotation(angle))
    found = carried(PLACES, [affine.of(place) for place in PLACES])
    assert all(math.dist(found.of(place), affine.of(place)) <= UNMOVED_CORNER for place in PLACES)


def test_points_moved_each_on_their_own_were_carried_by_no_map():
    assert carried(PLACES, [(0.0, 0.0), (290.0, -40.0), (160.0, 1080.0), (90.0, 900.0), (-150.0, 200.0)]) is None


@pytest.mark.parametrize("count", range(3))
def test_too_few_points_prove_nothing(count):
    assert carried(PLACES[:count], PLACES[:count]) is None


def test_three_points_prove_an_even_map_and_no_other():
    assert carried(PLACES[:3], PLACES[:3]) is not None
    assert carried(PLACES[:3], [Affine.scaling(2.0, 0.7).of(place) for place in PLACES[:3]]) is None


def test_points_on_one_line_make_no_affine_map_but_an_even_one():
    row = [(0.0, 0.0), (10.0, 0.0), (20.0, 0.0), (35.0, 0.0)]
    found = carried(row, [(x * 2.0, y) for x, y in row])
    assert found.of((10.0, 0.0)) == pytest.approx((20.0, 0.0))
