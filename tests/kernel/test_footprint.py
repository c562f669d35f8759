"""The ground that shapes take up: what shares none of it is as far apart as it says, by shapely's measure."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import Box
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.footprint import footprint
from crossgrain.kernel.path import Path
from strategies import simple_outlines

STEPS = (7.5, 7.0)
TURNED = Affine(0.0, 1.0, -1.0, 0.0)


def polygon(path):
    return shapely.Polygon(flatten(path, 0.01).points)


def ground(taken):
    """The boxes as a shape, mm."""
    rows, columns = taken.boxes.nonzero()
    left, top = (columns - taken.left) * STEPS[0], (rows - taken.above) * STEPS[1]
    return shapely.union_all(shapely.box(left, top, left + STEPS[0], top + STEPS[1]))


@settings(max_examples=30)
@given(simple_outlines(), st.sampled_from([Affine(), TURNED, Affine.translation(3.3, -700.1)]), st.floats(0.0, 20.0))
def test_all_that_is_near_a_shape_is_in_its_footprint_and_little_else(outline, place, distance):
    taken, shape = ground(footprint([outline], [], place, STEPS, distance)), polygon(outline.mapped(place))
    assert taken.covers(shape.buffer(distance))
    # What is taken besides lies within a box and what is added for points and directions.
    assert shape.buffer(distance + 2.0 + np.hypot(*STEPS)).covers(taken)


def test_words_beside_a_shape_are_taken_up_too():
    shape, words = Path.polygon([(0, 0), (50, 0), (50, 50), (0, 50)]), Box(60.0, 10.0, 140.0, 16.0)
    for place in (Affine(), TURNED):
        xs, ys = zip(place.of((60.0, 10.0)), place.of((140.0, 16.0)), strict=True)
        taken = ground(footprint([shape], [words], place, STEPS, 5.0))
        assert taken.covers(shapely.box(min(xs) - 5.0, min(ys) - 5.0, max(xs) + 5.0, max(ys) + 5.0))
        assert taken.covers(polygon(shape.mapped(place)).buffer(5.0))


def test_a_hollow_is_free():
    hook = Path.polygon([(0, 0), (300, 0), (300, 60), (60, 60), (60, 300), (0, 300)])
    taken = footprint([hook], [], Affine(), STEPS, 5.0)
    inside = taken.boxes[taken.above + int(100 / STEPS[1]) :, taken.left + int(100 / STEPS[0]) :]
    assert inside.size
    assert not inside.any()


@pytest.mark.parametrize("number", [2, 5])
def test_several_shapes_take_up_what_each_does(number):
    some = [Path.polygon([(0, 0), (40 * k, 0), (40 * k, 30), (0, 90)]) for k in range(1, number)]
    all_of_them = ground(footprint(some, [], Affine(), STEPS, 2.0))
    assert all_of_them.equals(shapely.union_all([ground(footprint([one], [], Affine(), STEPS, 2.0)) for one in some]))
