"""What left and right have alike is one finding under both names; what differs is one each."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.checks.alike import with_alike_once
from crossgrain.checks.pattern import Looking, check_pattern
from crossgrain.model import Notch, Pattern
from crossgrain.model.seams.ease import Ease
from crossgrain.model.seams.handed import parted
from crossgrain.model.seams.pairing import pair_edges
from crossgrain.model.seams.walking import walk
from sewn import Leg, legs, sewn

FEW = settings(max_examples=20)


def halves(front, back):
    """Left and right of both, each a piece of its own."""
    pattern = parted(sewn(front, back), ["front"])
    return parted(pattern, ["back"])


def walks_of(pattern):
    return [walk(pair) for pair in pair_edges(pattern).pairs]


@FEW
@given(legs(), st.floats(0.6, 9.0), st.booleans())
def test_one_seam_out_of_true_on_both_sides_is_one_finding_with_both_names(pair, raised, are_four):
    front, back = pair
    front = replace(front, raised=raised)
    pattern = halves(front, back) if are_four else parted(sewn(front, back), ["front"])
    one = {(finding.edge, finding.message.split(" mm ")[0]) for finding in check_pattern(sewn(front, back)).findings}
    found = check_pattern(pattern).findings
    assert {(finding.edge, finding.message.split(" mm ")[0]) for finding in found} == one
    assert len(found) == len(check_pattern(sewn(front, back)).findings)
    for finding in found:
        assert {"left front", "right front"} <= set(finding.piece.split(", "))


@FEW
@given(legs())
def test_what_differs_by_a_figure_that_prints_is_two(pair):
    pattern = parted(sewn(*pair), ["front"])
    left = pattern.pieces[0]
    marked = replace(left, notches=(*left.notches, Notch(edge="side", share=0.97)))
    walks = walks_of(pattern.with_pieces([marked]))
    alike = with_alike_once(walks)
    assert len([one for one in alike if one.pair.name == "side"]) == 2
    assert len([one for one in alike if one.pair.name == "inseam"]) == 1


def test_sides_that_are_meant_to_be_eased_otherwise_are_two():
    pattern = _legs()
    eases = (("side", Ease(piece="left", amount=3.0)),)
    assert len([one for one in with_alike_once(walks_of(pattern), eases) if one.pair.name == "side"]) == 2
    assert len(check_pattern(pattern, Looking(eases=eases)).findings) == 1


def test_a_front_and_a_back_are_not_taken_for_each_other():
    walks = walks_of(_legs())
    assert [one.pair.name for one in walks].count("inseam") == 2
    names = {side.piece.label for one in with_alike_once(walks) for side in one.sides}
    assert "back" in names
    assert not any("front" in name and "back" in name for name in names)


@pytest.mark.parametrize("name", ["crotch", "seat"])
def test_the_middle_seams_stay_as_they_are(name):
    walks = [one for one in walks_of(_legs()) if one.pair.name == name]
    assert with_alike_once(walks) == tuple(walks)


def _legs():
    how = {"waist": 80.0, "hip": 120.0, "hem": 60.0, "rise": 200.0, "length": 900.0, "fork": 130.0}
    front = Leg(name="front", middle="crotch", top=70.0, open_rad=0.1, **how)
    back = Leg(name="back", middle="seat", top=90.0, open_rad=-0.1, **how)
    pattern = parted(sewn(front, back), ["front"])
    assert isinstance(pattern, Pattern)
    return pattern
