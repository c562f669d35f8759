"""One drawing that is cut twice and mirrored becomes a left and a right piece, and nothing else changes."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.kernel.area import signed_area
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.length import path_length
from crossgrain.model import CutInstruction, Pattern
from crossgrain.model.dependents.follows import Follows, Term
from crossgrain.model.seams.handed import hand_of, parted
from crossgrain.model.seams.pairing import is_both_hands, pair_edges
from pieces import turned, upright_pieces

BOTH = CutInstruction(count=2, mirrored=True)


@given(turned(upright_pieces(darts=True, notches=True)))
def test_both_halves_are_the_piece_and_its_mirror_image(piece):
    both = replace(piece, cut=BOTH)
    own, copy = parted(Pattern(pieces=(both,)), [both.id]).pieces
    assert (own.id, own.edges, own.darts, own.notches) == (both.id, both.edges, both.darts, both.notches)
    assert {hand_of(own), hand_of(copy)} == {"left", "right"}
    assert (own.cut, copy.cut) == (CutInstruction(), CutInstruction())
    assert signed_area(copy.line) == pytest.approx(-signed_area(own.line))
    for one, other in zip(own.edges, copy.edges, strict=True):
        assert path_length(other.line) == pytest.approx(path_length(one.line), abs=1e-9)
    assert (copy.notches, copy.darts, copy.holds) == (own.notches, own.darts, own.holds)
    # Mirrored across the grain, the grain stays.
    assert copy.grain == own.grain
    [pair] = [pair for pair in pair_edges(Pattern(pieces=(own, copy))).pairs if pair.name == "side"]
    assert pair.is_twin


@given(
    turned(upright_pieces()),
    st.sampled_from([CutInstruction(), CutInstruction(count=2), CutInstruction(on_fold="centre")]),
)
def test_what_is_no_pair_of_hands_stays_as_it_is(piece, cut):
    pattern = Pattern(pieces=(replace(piece, cut=cut),))
    assert not is_both_hands(pattern.pieces[0])
    assert parted(pattern, [piece.id]) == pattern


@given(turned(upright_pieces()))
def test_the_copy_stands_clear_of_all_others(piece):
    both = replace(piece, cut=BOTH, grain=(0.0, 1.0))
    other = replace(piece, id="other")
    *_all, copy, last = parted(Pattern(pieces=(both, other)), [both.id]).pieces
    assert last == other
    assert bounds(copy.line).left >= bounds(piece.line).right + 79.0


@given(turned(upright_pieces()), st.integers(2, 9))
def test_as_many_are_cut_as_before_every_second_one_the_other_way_round(piece, count):
    both = replace(piece, cut=CutInstruction(count=count, mirrored=True))
    own, copy = parted(Pattern(pieces=(both,)), [both.id]).pieces
    assert own.cut.count + copy.cut.count == count
    assert own.cut.count - copy.cut.count == count % 2
    assert [own.cut.mirrored, copy.cut.mirrored] == [False, False]


def test_the_drawn_one_is_of_the_hand_that_it_is_sewn_to():
    from crossgrain.cli.samples import sample
    from crossgrain.svg.pattern import pattern_of
    from crossgrain.svg.reader import read_drawing

    pattern = pattern_of(read_drawing(sample("trousers.svg")))
    halves = [piece for piece in parted(pattern, ["back"]).pieces if "back" in piece.name]
    assert [(piece.id, piece.name) for piece in halves] == [("back", "right back"), ("back-left", "left back")]
    [follows] = parted(pattern, ["back"]).piece("waistband").follows
    assert [term.piece for term in follows.terms] == ["", "left front", "left back", "right back", "right front"]


def test_a_band_that_does_not_tell_takes_each_half_once():
    follows = Follows(edge="waist", terms=(Term(piece="leg"), Term(piece="leg")))
    piece = replace(_leg(), cut=BOTH, follows=(follows,))
    own, _copy = parted(Pattern(pieces=(piece,)), ["leg"]).pieces
    assert [term.piece for term in own.follows[0].terms] == ["left leg", "right leg"]


def _leg():
    from crossgrain.kernel.path import Path
    from crossgrain.model import Edge, Piece

    lines = Path.polygon([(0, 0), (200, 0), (200, 900), (0, 900)]).segments
    names = ("waist", "side", "hem", "inseam")
    return Piece(
        id="leg",
        name="leg",
        edges=tuple(Edge(name=name, line=Path((line,))) for name, line in zip(names, lines, strict=True)),
    )


@pytest.mark.parametrize(("name", "found"), [("Left front", "left"), ("back right", "right"), ("leftover", None)])
def test_a_hand_is_a_word_of_the_name(name, found):
    assert hand_of(replace(_leg(), name=name)) == found
