"""Bands and what they are sewn to."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.checks.dependents import check_dependents
from crossgrain.checks.pattern import check_pattern
from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Dart, Edge, Pattern, Piece
from crossgrain.model.follows import Follows, Term
from crossgrain.operations.following import Following, follow
from sewn import legs, sewn

STIFF = CutInstruction(count=2, stabilised=True)


def band(length, terms, *, was=(), cut=STIFF):
    corners = [(0, 0), (40, 0), (40, length), (0, length)]
    names = ["right", "top", "left", "waist"]
    edges = tuple(
        Edge(name=name, line=Path((one,))) for name, one in zip(names, Path.polygon(corners).segments, strict=True)
    )
    follows = (Follows(edge="waist", terms=terms, was=was),)
    return Piece(id="band", name="band", edges=edges, cut=cut, grain=(0.0, 1.0), follows=follows)


TERMS = (Term(length=35.0), Term(piece="front"), Term(piece="back"))


def with_band(pair, longer=0.0, was=None, **more):
    front, back = sewn(*pair).pieces
    back = replace(back, darts=(Dart(edge="waist", share=0.5, width=18.0, depth=90.0),))
    parts = (35.0, width_of(pair[0]), width_of(pair[1]) - 18.0)
    made = band(sum(parts) + longer, TERMS, was=parts if was is None else was, **more)
    return Pattern(pieces=(front, back, made)), parts


def figures(words, finding):
    match = re.fullmatch(words, finding.message)
    assert match, finding.message
    return [float(figure) for figure in match.groups()]


def width_of(leg):
    return leg.waist + leg.top


class TestBand:
    @given(legs())
    def test_overlap_and_waists_with_the_dart_out_make_the_band(self, pair):
        assert check_dependents(with_band(pair)[0]) == check_dependents(Pattern())

    @given(legs(), st.floats(0.51, 40.0), st.sampled_from([1, -1]))
    def test_a_band_of_another_length_is_a_finding_with_both_numbers(self, pair, off, way):
        pattern, parts = with_band(pair, way * off)
        [finding] = check_dependents(pattern).findings
        assert (finding.piece, finding.edge) == ("band", "waist")
        words = r"It is (\S+) mm long, and what it is sewn to comes to (\S+) mm: .* It is stabilised.*"
        assert figures(words, finding) == pytest.approx([sum(parts) + way * off, sum(parts)], abs=0.051)
        assert finding.message.endswith("It is stabilised, and is not to be stretched to fit.")

    @given(legs(), st.floats(0.0, 0.49))
    def test_half_a_millimetre_is_none(self, pair, off):
        assert check_dependents(with_band(pair, off)[0]).findings == ()

    @given(legs(), st.floats(1.0, 20.0))
    def test_a_seam_that_met_the_band_elsewhere(self, pair, shift):
        """The whole agrees, and the side seam does not meet its old place: front wider, back narrower."""
        _pattern, (overlap, front, back) = with_band(pair)
        pattern, _parts = with_band(pair, was=(overlap, front - shift, back + shift))
        [finding] = check_dependents(pattern).findings
        words = r"The seam that met it (\S+) mm from its start meets it at (\S+) mm now\."
        assert figures(words, finding) == pytest.approx([overlap + front - shift, overlap + front], abs=0.051)

    @given(legs(), st.floats(-30.0, 30.0))
    def test_after_follow_nothing_is_found(self, pair, off):
        pattern, _parts = with_band(pair, off)
        assert check_dependents(follow(pattern, Following()).value).findings == ()


@pytest.fixture
def pair():
    from sewn import Leg

    shared = {"waist": 85, "hip": 125, "hem": 65, "rise": 200, "length": 900, "fork": 135}
    return (
        Leg(name="front", middle="crotch", top=70, open_rad=0.1, **shared),
        Leg(name="back", middle="seat", top=90, open_rad=-0.1, **shared),
    )


def test_cloth_that_is_not_stabilised_is_not_said_to_be(pair):
    pattern, _parts = with_band(pair, 5.0, cut=CutInstruction(count=2))
    [finding] = check_dependents(pattern).findings
    assert "stabilised" not in finding.message


def test_where_what_it_follows_is_not_there_that_is_said(pair):
    pattern, _parts = with_band(pair)
    checked = check_dependents(Pattern(pieces=pattern.pieces[1:]))
    assert checked.findings == ()
    [sentence] = checked.unchecked
    assert sentence.startswith("Whether the waist of band matches what it follows: There is no piece named front.")


def test_a_stabilised_piece_that_follows_nothing_by_the_drawing_is_said(pair):
    pattern, _parts = with_band(pair)
    silent = replace(pattern.pieces[2], follows=())
    checked = check_pattern(Pattern(pieces=(*pattern.pieces[:2], silent)))
    assert any(one.endswith("which the drawing does not say: band.") for one in checked.unchecked)
