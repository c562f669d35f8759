"""Which edges are sewn together: by their names, and by how often and how mirrored each piece is cut."""

from __future__ import annotations

import pathlib
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Edge, Pattern, Piece
from crossgrain.model.seams.pairing import hand, pair_edges
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from pieces import against, moved
from sewn import legs, lying, sewn

SAMPLES = pathlib.Path(__file__).parents[3] / "samples"
ONCE, TWICE = CutInstruction(), CutInstruction(count=2, mirrored=True)
LEG = [(0, 0), (200, 5), (210, 300), (160, 900), (20, 900), (-60, 300)]
DEEPER = [(0, 0), (200, 5), (210, 300), (160, 900), (20, 900), (-110, 300)]
NAMES = ["waist", "side", "hem", "hem2", "inseam", "crotch"]


def piece_of(name, names=NAMES, *, mirrored=False, cut=ONCE, corners=LEG):
    segments = Path.polygon(corners).segments
    edges = tuple(Edge(name=edge, line=Path((one,))) for edge, one in zip(names, segments, strict=True))
    piece = Piece(id=name, name=name, edges=edges, cut=cut)
    return moved(piece, Affine.scaling(-1.0, 1.0)) if mirrored else piece


def seams(*pieces, going_on=()):
    return {
        (pair.name, *sorted((pair.first.piece.id, pair.second.piece.id)))
        for pair in pair_edges(Pattern(pieces=pieces), going_on).pairs
    }


BACK = ["waist", "side", "hem", "hem2", "inseam", "seat"]


class TestTrousers:
    @given(legs(), st.data())
    def test_fronts_and_backs_however_they_lie(self, pair, data):
        pattern, _lies = lying(data.draw, sewn(*pair))
        assert seams(*pattern.pieces) == {
            ("side", "back", "front"),
            ("inseam", "back", "front"),
            ("crotch", "front", "front"),
            ("seat", "back", "back"),
        }

    def test_the_sample(self):
        assert seams(*pattern_of(read_drawing(SAMPLES / "trousers.svg")).pieces) == {
            ("side", "back", "front-left"),
            ("side", "back", "front-right"),
            ("inseam", "back", "front-left"),
            ("inseam", "back", "front-right"),
            ("crotch", "front-left", "front-right"),
            ("centre", "front-left", "front-right"),
            ("seat", "back", "back"),
        }

    @given(legs(), st.data())
    def test_a_crotch_of_one_name_on_front_and_back_is_sewn_left_to_right(self, pair, data):
        """The two edges beside the inseam: sewn front to back along both, a leg would be a bag."""
        front, back = (replace(leg, middle="crotch") for leg in pair)
        pattern, _lies = lying(data.draw, sewn(front, back))
        assert {one for one in seams(*pattern.pieces) if one[0] == "crotch"} == {
            ("crotch", "front", "front"),
            ("crotch", "back", "back"),
        }

    def test_a_crotch_of_one_name_on_four_pieces(self):
        fronts = piece_of("fl"), piece_of("fr", mirrored=True)
        backs = piece_of("bl", mirrored=True, corners=DEEPER), piece_of("br", corners=DEEPER)
        found = seams(*fronts, *backs)
        assert {one for one in found if one[0] == "crotch"} == {("crotch", "fl", "fr"), ("crotch", "bl", "br")}
        assert {one for one in found if one[0] == "inseam"} == {("inseam", "bl", "fl"), ("inseam", "br", "fr")}
        both = piece_of("back", mirrored=True, corners=DEEPER, cut=TWICE)
        assert {one for one in seams(*fronts, both) if one[0] == "crotch"} == {
            ("crotch", "fl", "fr"),
            ("crotch", "back", "back"),
        }

    def test_four_pieces_each_cut_once(self):
        left, right = piece_of("fl"), piece_of("fr", mirrored=True)
        back_left, back_right = piece_of("bl", BACK, mirrored=True), piece_of("br", BACK)
        found = seams(left, right, back_left, back_right)
        assert {one for one in found if one[0] == "side"} == {("side", "bl", "fl"), ("side", "br", "fr")}
        assert ("crotch", "fl", "fr") in found
        assert ("seat", "bl", "br") in found

    def test_a_facing_beside_an_opening_is_left_over(self):
        left, right = piece_of("fl"), piece_of("fr", mirrored=True)
        facing = piece_of("facing", ["crotch", "outer", "foot"], corners=[(0, 0), (30, 0), (0, 200)])
        pairs = pair_edges(Pattern(pieces=(left, right, facing)))
        assert ("crotch", "fl", "fr") in seams(left, right, facing)
        assert [one for one in pairs.unchecked if one.startswith("crotch: 3 pieces")]


class TestFolds:
    def test_an_edge_on_a_fold_is_no_seam(self):
        front = piece_of("front", cut=CutInstruction(on_fold="crotch"))
        back = piece_of("back", cut=TWICE)
        assert seams(front, back) == {
            ("side", "back", "front"),
            ("inseam", "back", "front"),
            ("hem2", "back", "front"),
            ("crotch", "back", "back"),
        }

    def test_on_a_fold_and_nowhere_else_nothing_is_left_to_say(self):
        front = piece_of("front", cut=CutInstruction(on_fold="crotch"))
        pairs = pair_edges(Pattern(pieces=(front,)))
        assert not [one for one in pairs.unchecked if "crotch" in one]


class TestNames:
    def test_what_goes_on_is_not_sewn(self):
        front, back = piece_of("front", cut=TWICE), piece_of("back", cut=TWICE)
        assert {name for name, *_both in seams(front, back)} == {"side", "hem2", "inseam", "crotch"}
        assert {name for name, *_both in seams(front, back, going_on=["hem2"])} == {"side", "inseam", "crotch"}

    def test_stabilised_pieces_and_cut_lines_are_no_sides(self):
        front, back = piece_of("front", cut=TWICE), piece_of("back", cut=TWICE)
        stiff = replace(back, cut=replace(TWICE, stabilised=True))
        traced = replace(back, outline="cut")
        own = {(name, "front", "front") for name in ("side", "hem2", "inseam", "crotch")}
        assert seams(front, stiff) == own
        assert seams(front, traced) == own

    def test_three_strangers_of_one_name_are_not_told_apart(self):
        pieces = [piece_of(name, cut=TWICE) for name in ("front", "panel", "back")]
        pairs = pair_edges(Pattern(pieces=tuple(pieces)))
        assert {(pair.name, pair.is_copy) for pair in pairs.pairs} == {("crotch", True)}
        assert any(one.startswith("side: 3 pieces") and "front, panel, back" in one for one in pairs.unchecked)

    def test_a_lone_edge_is_said(self):
        pairs = pair_edges(Pattern(pieces=(piece_of("front"),)))
        assert pairs.unchecked == ("No partner by name: front side, hem2, inseam, crotch.",)

    @pytest.mark.parametrize(
        ("name", "kind"),
        [("waist", "going on"), ("side", "seam"), ("crotch", "own copy"), ("nothing", "free")],
    )
    def test_what_becomes_of_an_edge(self, name, kind):
        front, back = piece_of("front", cut=TWICE), piece_of("back", BACK, cut=TWICE)
        assert pair_edges(Pattern(pieces=(front, back))).kind(front, name) == kind


class TestHands:
    @given(st.booleans(), st.booleans())
    def test_mirroring_turns_the_hand_and_the_way_it_is_drawn_does_not(self, is_mirrored, is_against):
        one, other = piece_of("a"), piece_of("b", mirrored=is_mirrored)
        other = against(other) if is_against else other
        assert hand(one, other) == (-1 if is_mirrored else 1)

    def test_two_names_in_common_tell_nothing(self):
        assert hand(piece_of("a"), piece_of("b", ["waist", "side", "x", "y", "z", "w"])) == 0
