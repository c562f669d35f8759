"""Trueing some of the pieces of a drawing: what they are sewn to stays, and they come to it."""

from dataclasses import replace
from pathlib import Path as File

import pytest
from hypothesis import given, settings

from crossgrain.checks.pattern import check_pattern
from crossgrain.errors import ParameterError
from crossgrain.kernel.length import path_length
from crossgrain.model import CutInstruction, Pattern
from crossgrain.operations.trueing import Trueing, true
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from sewn import Leg, sewn, untrue

SAMPLES = File(__file__).parent.parent.parent / "samples"


@pytest.fixture(scope="module")
def draft():
    return pattern_of(read_drawing(SAMPLES / "trousers-untrued.svg"))


def only(pattern, *names):
    return Pattern(pieces=tuple(pattern.piece(name) for name in names))


def on_seam(pattern, seam):
    """What is found on a seam itself: its lengths, its notches and how the edges beside it go on."""
    return [one.message for one in check_pattern(pattern).findings if one.edge == seam]


class TestSome:
    @settings(max_examples=25)
    @given(untrue())
    def test_one_of_two_comes_to_the_other_as_if_that_were_kept(self, pair):
        pattern = sewn(*pair)
        for name, other in (("front", "back"), ("back", "front")):
            alone = true(only(pattern, name), Trueing(seam="side"), beside=pattern)
            kept = true(pattern, Trueing(seam="side", keep=(other,)))
            assert alone.value.pieces == (kept.value.piece(name),)
            assert alone.changes == kept.changes

    @pytest.mark.parametrize("seam", ["side", "inseam"])
    def test_the_back_comes_to_both_fronts(self, draft, seam):
        assert on_seam(draft, seam)
        [back] = true(only(draft, "back"), Trueing(seam=seam), beside=draft).value.pieces
        assert on_seam(draft.with_pieces([back]), seam) == []

    def test_a_front_that_is_not_named_holds_the_other_two(self, draft):
        named = true(only(draft, "left front", "back"), Trueing(seam="side"), beside=draft).value
        assert [piece.name for piece in named.pieces] == ["left front", "back"]
        assert on_seam(draft.with_pieces(named.pieces), "side") == []
        length = path_length(draft.piece("right front").edge("side").line)
        for piece in named.pieces:
            assert path_length(piece.edge("side").line) == pytest.approx(length, abs=1e-6)

    def test_a_piece_is_sewn_to_its_own_copy_only_where_the_rest_of_the_drawing_says_so(self, draft):
        with pytest.raises(ParameterError, match="to its own mirrored copy: that is not told") as caught:
            true(only(draft, "back"), Trueing(seam="side"))
        assert (caught.value.piece, caught.value.edge) == ("back", "seat, inseam, side")
        [back] = true(only(draft, "back"), Trueing(seam="seat"), beside=draft).value.pieces
        assert back == true(draft, Trueing(seam="seat")).value.piece("back") != draft.piece("back")

    @pytest.mark.parametrize("seam", ["side", "inseam"])
    def test_left_and_right_fronts_are_not_sewn_to_each_other_where_the_back_is_missing(self, draft, seam):
        with pytest.raises(ParameterError, match="What it is sewn to is not there") as caught:
            true(only(draft, "left front", "right front"), Trueing(seam=seam))
        assert caught.value.piece == "left front, right front"
        for middle in ("crotch", "centre"):
            assert true(draft, Trueing(seam=middle)).value.piece("back") == draft.piece("back")

    def test_a_piece_that_has_such_an_edge_on_a_fold_and_is_not_named_is_in_nobodys_way(self, draft):
        facing = replace(draft.piece("fly guard"), id="lining", name="lining", cut=CutInstruction(on_fold="side"))
        edges = tuple(replace(edge, name="side" if edge.name == "fold" else edge.name) for edge in facing.edges)
        other = Pattern(pieces=(*draft.pieces, replace(facing, edges=edges, traces=(), follows=())))
        alone = true(only(draft, "back"), Trueing(seam="side"), beside=draft).value
        assert true(only(draft, "back"), Trueing(seam="side"), beside=other).value == alone

    def test_a_piece_whose_outline_is_the_cut_line_is_named(self, draft):
        pattern = draft.with_pieces([replace(draft.piece("back"), outline="cut")])
        with pytest.raises(
            ParameterError, match="The outline is the cut line, and seams are trued along the stitch"
        ) as caught:
            true(pattern, Trueing(seam="side"))
        assert caught.value.piece == "back"
        assert "crossgrain allow" in caught.value.advice


class TestAllKept:
    @pytest.mark.parametrize("keep", [("front", "back"), ("back", "right front"), ("left", "right", "back")])
    def test_sides_of_two_lengths(self, draft, keep):
        with pytest.raises(ParameterError, match=r"They stay as they are, and their sides differ by 6\.8 mm"):
            true(draft, Trueing(seam="side", keep=keep))

    def test_two_fronts_that_the_back_cannot_follow_both(self, draft):
        with_back = true(draft, Trueing(seam="side", keep=("front",))).value
        left = true(only(with_back, "left front"), Trueing(seam="side"), beside=draft).value  # to the back of the draft
        pattern = draft.with_pieces(left.pieces)
        with pytest.raises(ParameterError, match=r"sides differ by 6\.8 mm") as caught:
            true(pattern, Trueing(seam="side", keep=("front",)))
        assert caught.value.piece == "left front, right front"

    def test_a_notch(self):
        trousers = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
        back = trousers.piece("back")
        notches = tuple(replace(one, share=one.share + (0.005 if one.edge == "side" else 0.0)) for one in back.notches)
        with pytest.raises(ParameterError, match=r"a notch lies 5\.2 mm apart on them"):
            true(trousers.with_pieces([replace(back, notches=notches)]), Trueing(seam="side", keep=("front", "back")))

    def test_a_bend(self):
        """The back's waist falls by 10 mm over its 170 mm from the centre: by 3.4°."""
        figures = {"waist": 85, "hip": 125, "hem": 65, "rise": 200, "length": 900, "fork": 135}
        front = Leg(name="front", middle="crotch", top=70, open_rad=0.0, **figures)
        pattern = sewn(front, Leg(name="back", middle="seat", top=85, open_rad=0.0, tilted=-10.0, **figures))
        assert len(on_seam(pattern, "side")) == 1
        with pytest.raises(ParameterError, match=r"goes on over the seam is bent by 3\.4° between them"):
            true(pattern, Trueing(seam="side", keep=("front", "back")))

    def test_what_agrees_may_be_kept(self):
        trousers = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
        assert true(trousers, Trueing(seam="side", keep=("front", "back"))).value == trousers
