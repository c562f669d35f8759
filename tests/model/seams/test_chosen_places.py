"""Stations at chosen places: on one edge, each place once, the edge that is named."""

from __future__ import annotations

import pytest

from crossgrain.errors import ParameterError
from crossgrain.kernel.path import Path
from crossgrain.model import Edge, Piece
from crossgrain.model.seams.chosen_places import at_chosen

LINES = Path.polygon([(0, 0), (200, 0), (200, 900), (0, 900)]).segments
PIECE = Piece(
    id="front",
    edges=tuple(
        Edge(name=name, line=Path((line,)))
        for name, line in zip(("waist", "side", "hem", "inseam"), LINES, strict=True)
    ),
)
CORNER, HIP, KNEE, FOOT = (200.0, 0.0), (200.0, 200.0), (200.0, 600.0), (200.0, 900.0)


def amounts(*points, seam=""):
    name, at = at_chosen(PIECE, points, 8.0, seam)
    return name, [amount for _station, amount in at]


def test_from_three_on_nothing_moves_at_the_outermost_two():
    assert amounts(KNEE, CORNER, HIP) == ("side", [0.0, 8.0, 0.0])
    assert amounts(CORNER, HIP, KNEE, FOOT) == ("side", [0.0, 8.0, 8.0, 0.0])


def test_one_or_two_have_the_amount_and_the_ends_stay():
    assert amounts(HIP) == ("side", [0.0, 8.0, 0.0])
    assert amounts(HIP, CORNER) == ("side", [8.0, 8.0, 0.0])


def test_a_place_given_twice_is_one_place():
    assert amounts(HIP, HIP, KNEE) == amounts(HIP, KNEE)


@pytest.mark.parametrize(("seam", "found"), [("side", [8.0, 0.0]), ("waist", [0.0, 8.0])])
def test_of_a_corner_alone_it_must_be_said_which_of_its_edges_is_meant(seam, found):
    assert amounts(CORNER, seam=seam) == (seam, found)
    with pytest.raises(ParameterError, match="The corner chosen belongs to two edges: waist, side") as caught:
        amounts(CORNER)
    assert "--seam waist" in caught.value.advice


@pytest.mark.parametrize("points", [(HIP, KNEE), (CORNER, HIP)])
def test_places_that_do_not_lie_on_the_seam_that_is_named_are_refused(points):
    with pytest.raises(ParameterError, match="The places chosen do not lie on inseam") as caught:
        amounts(*points, seam="inseam")
    assert caught.value.position == points[0]


def test_places_on_several_edges_are_refused():
    with pytest.raises(ParameterError, match="do not lie on one edge"):
        amounts(HIP, (100.0, 900.0))
