"""Blending between stations against its laws and scipy."""

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator  # comes with svgpathtools, of the test extra

from crossgrain.errors import GeometryError
from crossgrain.kernel.profile import Profile


@st.composite
def stations(draw, least=1):
    count = draw(st.integers(least, 7))
    steps = draw(st.lists(st.floats(1.0, 400.0), min_size=count, max_size=count))
    values = draw(st.lists(st.floats(-50.0, 50.0).map(lambda v: round(v, 3)), min_size=count, max_size=count))
    return np.cumsum(steps), np.array(values)


@given(stations())
def test_every_station_has_its_value(given_stations):
    places, values = given_stations
    np.testing.assert_array_equal(Profile(places, values)(places)[0], values)


@given(stations(2))
def test_nothing_overshoots_and_between_stations_it_only_rises_or_only_falls(given_stations):
    places, values = given_stations
    profile = Profile(places, values)
    for k in range(len(places) - 1):
        between = profile(np.linspace(places[k], places[k + 1], 101))[0]
        steps = np.diff(between) * np.sign(values[k + 1] - values[k])
        assert steps.min() >= -1e-9
        if values[k] == values[k + 1]:
            assert np.ptp(between) == 0.0


@given(stations())
def test_outside_it_stays_what_it_was_at_the_first_and_last_station(given_stations):
    places, values = given_stations
    amount, slope = Profile(places, values)(np.array([places[0] - 10.0, places[-1] + 10.0]))
    assert amount.tolist() == [values[0], values[-1]]
    assert slope.tolist() == [0.0, 0.0]


@given(stations(2), st.floats(0.0, 1.0))
def test_the_slope_is_the_derivative(given_stations, share):
    places, values = given_stations
    at = places[0] + share * (places[-1] - places[0])
    step = 1e-5
    profile = Profile(places, values)
    (before, after), _slopes = profile(np.array([at - step, at + step]))
    # Across a station the second derivative jumps, the slope does not.
    assert profile(np.array([at]))[1][0] == pytest.approx((after - before) / (2.0 * step), abs=2e-3)


@example((np.array([238.0, 239.0, 639.0, 641.0, 745.0]), np.array([8.0, -0.0, -0.0, 0.0, 0.0])), 1.1e-308)
@given(stations(2), st.floats(-3.0, 3.0))
def test_amounts_add_up_with_a_constant_and_scale_with_a_factor(given_stations, factor):
    places, values = given_stations
    s = np.linspace(places[0] - 5.0, places[-1] + 5.0, 57)
    plain = Profile(places, values)(s)[0]
    np.testing.assert_allclose(Profile(places, values + 7.0)(s)[0], plain + 7.0, atol=1e-9)
    np.testing.assert_allclose(Profile(places, factor * values)(s)[0], factor * plain, atol=1e-9)


@given(stations(3))
def test_slopes_inside_are_those_of_scipy(given_stations):
    """PchipInterpolator takes the same weighted harmonic mean (Fritsch and Butland, 1984); its ends differ."""
    places, values = given_stations
    ours = Profile(places, values)(places[1:-1])[1]
    theirs = PchipInterpolator(places, values)(places[1:-1], 1)
    np.testing.assert_allclose(ours, theirs, rtol=1e-9, atol=1e-12)


@pytest.mark.parametrize(
    ("places", "values"),
    [
        ([], []),
        ([0.0, 1.0], [1.0]),
        ([0.0, 0.0], [1.0, 2.0]),
        ([1.0, 0.0], [1.0, 2.0]),
        ([0.0, np.nan], [1.0, 2.0]),
        ([0.0, 1.0], [1.0, np.inf]),
    ],
)
def test_stations_that_make_no_sense_are_refused(places, values):
    with pytest.raises(GeometryError):
        Profile(places, values)
