"""Lengths along one line as lengths along another: laws."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import GeometryError
from crossgrain.kernel.rescale import Rescale


@st.composite
def stretches(draw, low=0.2, high=4.0):
    lengths = draw(st.lists(st.floats(5.0, 300.0), min_size=1, max_size=5))
    factors = [draw(st.floats(low, high)) for _length in lengths]
    old = np.concatenate([[0.0], np.cumsum(lengths)])
    return old, np.concatenate([[0.0], np.cumsum(np.multiply(lengths, factors))])


@given(stretches())
def test_every_joint_goes_where_it_must_and_everything_between_rises(given_stretches):
    old, new = given_stretches
    rescale = Rescale(old, new)
    assert rescale(old)[0] == pytest.approx(new, abs=1e-9)
    fine = rescale(np.linspace(-20.0, old[-1] + 20.0, 2001))
    assert np.diff(fine[0]).min() > 0.0
    assert fine[1].min() > -1e-9


@given(stretches(0.4))
def test_at_its_ends_and_beyond_it_neither_stretches_nor_shrinks(given_stretches):
    old, new = given_stretches
    beyond = Rescale(old, new)(np.array([-30.0, 0.0, old[-1], old[-1] + 30.0]))
    assert beyond[0] == pytest.approx([-30.0, 0.0, new[-1], new[-1] + 30.0], abs=1e-9)
    assert beyond[1] == pytest.approx([1.0] * 4, abs=1e-9)


@given(stretches())
def test_its_slope_is_the_slope(given_stretches):
    old, new = given_stretches
    rescale, step = Rescale(old, new), 1e-4
    inside = np.linspace(0.0, old[-1], 41)[1:-1]
    inside = inside[np.abs(inside[:, None] - old[None, :]).min(axis=1) > step]
    found = (rescale(inside + step)[0] - rescale(inside - step)[0]) / (2.0 * step)
    assert rescale(inside)[1] == pytest.approx(found, abs=1e-5)


@given(stretches())
def test_where_nothing_changes_nothing_changes_to_the_bit(given_stretches):
    old, _new = given_stretches
    places = np.linspace(-5.0, old[-1] + 5.0, 101)
    again = Rescale(old, old)(places)
    np.testing.assert_array_equal(again[0], places)
    assert again[1] == pytest.approx(1.0, abs=1e-12)


@given(stretches(), st.lists(st.floats(0.0, 1.0), min_size=1, max_size=5))
def test_evenly_everything_keeps_its_share_of_its_stretch(given_stretches, shares):
    """Against numpy's own interpolation."""
    old, new = given_stretches
    places = np.array(shares) * old[-1]
    assert Rescale(old, new).evenly(places)[0] == pytest.approx(np.interp(places, old, new), abs=1e-9)
    ends = Rescale(old, new).evenly(np.array([-30.0, 0.0, old[-1], old[-1] + 30.0]))[0]
    assert ends == pytest.approx([-30.0, 0.0, new[-1], new[-1] + 30.0], abs=1e-9)


@pytest.mark.parametrize(("old", "new"), [([0.0, 0.0], [0.0, 5.0]), ([0.0, 5.0], [0.0, 0.0]), ([0.0], [0.0])])
def test_a_stretch_of_no_length_is_refused(old, new):
    with pytest.raises(GeometryError, match="has no length, or would have none"):
        Rescale(old, new)
