"""Ends slide: the new corner lies on the line it met before or on its continuation, and nothing else of that moves."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.drawn_on import drawn_on_at_start
from crossgrain.kernel.length import path_length
from crossgrain.kernel.parallels.line_beside import line_beside
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.kernel.sliding import slid
from moved_lines import dense_line
from strategies import rigid_motions


def seam_and_neighbour(angle_degrees, neighbour_length=150.0, bow=0.0, seam_bow=0.0):
    """A seam that arrives at the origin from the left, and the edge that leaves it, both bowed as asked.

    The angle is that inside the corner, between the edges' directions there.
    """
    turn = math.pi - math.radians(angle_degrees)
    neighbour = Path((_bowed(neighbour_length, bow),)).mapped(Affine.rotation(turn))
    seam = Path((_bowed(300.0, seam_bow),)).reversed().mapped(Affine.rotation(math.pi))
    return seam, neighbour


def _bowed(length, bow):
    if not bow:
        return Line((0.0, 0.0), (length, 0.0))
    return Cubic((0.0, 0.0), (length / 3.0, 0.0), (2.0 * length / 3.0, bow), (length, 2.0 * bow))


def moved(seam, d):
    return line_beside(seam, [0.0, path_length(seam)], [0.0, d])


corner_angles = st.floats(20.0, 160.0)
distances = st.floats(-12.0, 12.0).filter(lambda d: abs(d) > 0.01)


@given(corner_angles, distances, rigid_motions())
def test_between_straight_lines_the_corner_is_that_of_plain_geometry(angle, d, motion):
    """Along the neighbour the corner moves by d / sin(angle)."""
    seam, neighbour = (line.mapped(motion) for line in seam_and_neighbour(angle))
    straight = Path((Line(seam.start, seam.end),))
    parallel = line_beside(straight, [0.0, path_length(straight)], [d, d])
    line, rest = slid(parallel, neighbour)
    assert line.end == rest.start
    assert rest.end == neighbour.end
    # A seam that arrives along x, its normal at (ty, -tx): d above it on the page.
    assert math.dist(rest.start, neighbour.start) == pytest.approx(abs(d) / math.sin(math.radians(angle)), abs=1e-6)


@given(corner_angles, distances, st.sampled_from([-8.0, 0.0, 8.0]), st.sampled_from([-10.0, 0.0, 10.0]))
def test_the_new_corner_lies_on_the_neighbour_or_on_its_continuation(angle, d, bow, seam_bow):
    seam, neighbour = seam_and_neighbour(angle, bow=bow, seam_bow=seam_bow)
    line, rest = slid(moved(seam, d), neighbour)
    assert line.end == rest.start
    whole = dense_line(drawn_on_at_start(neighbour, 60.0), 0.05)
    assert shapely.distance(shapely.points(rest.start), whole) <= 2e-3
    points = shapely.points(np.array(dense_line(rest).coords))
    assert shapely.distance(points, whole).max() <= 2e-3
    assert (rest.end, line.start) == (neighbour.end, seam.start)


@pytest.mark.parametrize("angle", [20.0, 90.0, 160.0])
@pytest.mark.parametrize("d", [-6.0, 6.0])
@pytest.mark.parametrize("bow", [-8.0, 0.0, 8.0])
def test_an_end_slid_and_slid_back_is_where_it_was(angle, d, bow):
    seam, neighbour = seam_and_neighbour(angle, bow=bow)
    _line, rest = slid(moved(seam, d), neighbour)
    assert rest != neighbour
    _line, back = slid(seam, rest)
    assert back.start == pytest.approx(neighbour.start, abs=1e-6)
    assert path_length(back) == pytest.approx(path_length(neighbour), abs=1e-6)


def test_an_end_that_stayed_moves_nothing():
    seam, neighbour = seam_and_neighbour(70.0, bow=10.0)
    assert slid(seam, neighbour) == (seam, neighbour)


@pytest.mark.parametrize("angle", [173.0, 180.0, 187.0, 5.0])
def test_lines_that_run_on_into_one_another_have_no_corner_to_slide_along(angle):
    seam, neighbour = seam_and_neighbour(angle)
    with pytest.raises(GeometryError, match="run on into one another") as caught:
        slid(moved(seam, 6.0), neighbour)
    assert "0 mm at that end" in caught.value.advice
    assert caught.value.position == neighbour.start


@pytest.mark.parametrize("d", [-12.0, 12.0])
def test_an_amount_that_leaves_nothing_of_the_neighbour_is_refused_there(d):
    """The seam comes along x and the short edge of 10 mm leaves square to it, to one side: on the other it grows."""
    seam, neighbour = seam_and_neighbour(90.0, neighbour_length=10.0)
    outwards = math.copysign(1.0, neighbour.end[1])
    new = moved(seam, d)
    if new.end[1] * outwards < 0.0:
        _line, rest = slid(new, neighbour)
        assert path_length(rest) == pytest.approx(22.0, abs=0.1)
        return
    with pytest.raises(GeometryError) as caught:
        slid(new, neighbour)
    assert caught.value.position == neighbour.start
    assert "less" in caught.value.advice
