"""What share of a seam each side takes: two that are sewn together take the whole, whichever of them is named."""

from __future__ import annotations

import pathlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import ParameterError
from crossgrain.model import Pattern
from crossgrain.model.seams.handed import parted
from crossgrain.model.seams.pairing import pair_edges
from crossgrain.model.seams.seam import sides_of
from crossgrain.model.seams.seam_shares import side_shares
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from sewn import legs, lying, sewn

SAMPLES = pathlib.Path(__file__).parents[3] / "samples"
shares = st.floats(0.0, 1.0)


@pytest.fixture(scope="module")
def trousers():
    return pattern_of(read_drawing(SAMPLES / "trousers.svg"))


def found(pattern, seam, *given_):
    sides = sides_of(pattern, seam)
    return {side.piece.id: share for side, share in zip(sides, side_shares(pattern, sides, given_), strict=True)}


@given(legs(), shares, st.sampled_from(["front", "back"]), st.sampled_from(["side", "inseam"]), st.data())
def test_both_sides_take_the_whole_whichever_is_named(pair, share, word, seam, data):
    pattern, _lies = lying(data.draw, sewn(*pair))
    one = found(pattern, seam, (word, share))
    assert one[word] == share
    assert sum(one.values()) == pytest.approx(1.0, abs=1e-12)


def test_nothing_said_is_half_each(trousers):
    assert set(found(trousers, "side").values()) == {0.5}


@pytest.mark.parametrize("word", ["front", "left front", "front-right", "back"])
def test_one_share_of_either_front_or_the_back_tells_all(trousers, word):
    share = 0.6 if word == "back" else 0.4
    assert found(trousers, "side", (word, share)) == pytest.approx({"front-left": 0.4, "front-right": 0.4, "back": 0.6})


def test_once_left_and_right_are_apart_each_side_has_its_own(trousers):
    apart = parted(trousers, ["back"])
    pairs = [pair for pair in pair_edges(apart).pairs if pair.name == "side"]
    given_ = found(apart, "side", ("left front", 0.4))
    for pair in pairs:
        one, other = (given_[side.piece.id] for side in (pair.first, pair.second))
        assert one + other == pytest.approx(1.0)
    assert sorted(given_.values()) == pytest.approx([0.4, 0.5, 0.5, 0.6])


@pytest.mark.parametrize(
    ("seam", "given_", "said"),
    [
        ("side", (("front", 0.4), ("back", 0.7)), "together would take 110 %"),
        ("side", (("left front", 0.4), ("right front", 0.3)), "together would take 9"),
        ("seat", (("back", 0.4),), "sewn to its own copy"),
        ("side", (("sleeve", 0.4),), "No piece of this seam is called sleeve"),
    ],
)
def test_what_makes_no_whole_is_refused(trousers, seam, given_, said):
    with pytest.raises(ParameterError, match=said) as caught:
        found(trousers, seam, *given_)
    assert caught.value.advice
    assert caught.value.edge == seam


def test_shares_that_agree_are_taken(trousers):
    assert found(trousers, "side", ("front", 0.4), ("back", 0.6))["back"] == 0.6
    assert found(trousers, "seat", ("back", 0.5)) == {"back": 0.5}


def test_a_single_side_takes_what_is_said(trousers):
    alone = Pattern(pieces=(trousers.piece("front-left"),))
    assert found(alone, "side", ("front", 0.3)) == {"front-left": 0.3}
