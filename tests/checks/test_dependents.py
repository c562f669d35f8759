"""Bands and what they are sewn to."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.checks.checked import Checked
from crossgrain.checks.dependents import check_dependents
from crossgrain.checks.pattern import check_pattern
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Dart, Edge, Notch, Pattern, Piece
from crossgrain.model.dependents.dependences import with_dependences
from crossgrain.model.dependents.follows import Follows, Term
from crossgrain.model.dependents.traces import Reach
from crossgrain.notation.follows import read_dependence
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


def marked(pattern, id, *words):
    """The pattern with what one of its pieces depends on, noted as it is now."""
    piece, findings = with_dependences(pattern, pattern.piece(id), [read_dependence(text) for text in words])
    assert findings == ()
    return pattern.with_pieces([piece])


def facing(leg, width):
    """A facing of the first 60 mm of a waist, which is straight, as a strip so wide beside the leg."""
    line = leg.edge("waist").line
    (x, y), (u, v) = line.start, line.end
    along = (u - x) / path_length(line), (v - y) / path_length(line)
    corners = [(0.0, 0.0), (60.0, 0.0), (60.0, width), (0.0, width)]
    corners = [(x + a * along[0] - b * along[1], y + a * along[1] + b * along[0]) for a, b in corners]
    names = ("waist", "end", "lower", "start")
    edges = tuple(
        Edge(name=name, line=Path((one,))) for name, one in zip(names, Path.polygon(corners).segments, strict=True)
    )
    return Piece(id="facing", name="facing", edges=edges, cut=STIFF)


class TestTraces:
    @given(legs(), st.floats(0.51, 20.0), st.sampled_from([1, -1]))
    def test_a_facing_of_another_length_is_a_finding_with_both_numbers(self, pair, off, way):
        front = sewn(*pair).pieces[0]
        pattern = marked(Pattern(pieces=(front, facing(front, 30.0))), "facing", "waist traces front to 60mm")
        assert check_dependents(pattern) == Checked()
        [traces] = pattern.piece("facing").traces
        longer = replace(traces, end=Reach(more=60.0 + 2.0 * way * off))
        wrong = pattern.with_pieces([replace(pattern.piece("facing"), traces=(longer,))])
        [finding] = check_dependents(wrong).findings
        assert (finding.piece, finding.edge) == ("facing", "waist")
        words = (
            r"It is (\S+) mm long, and the part of waist of front that it traces (\S+) mm; laid on one another they "
            r"part by up to (\S+) mm\. It is stabilised, and is not to be stretched to fit\."
        )
        # Laid middle on middle, as much is missing at either end.
        assert figures(words, finding) == pytest.approx([60.0, 60.0 + 2.0 * way * off, off], abs=0.051)
        assert check_dependents(follow(wrong, Following()).value) == Checked()

    def test_where_what_it_traces_is_not_there_that_is_said(self, pair):
        front = sewn(*pair).pieces[0]
        pattern = marked(Pattern(pieces=(front, facing(front, 30.0))), "facing", "waist traces front to 60mm")
        checked = check_dependents(Pattern(pieces=pattern.pieces[1:]))
        assert checked.findings == ()
        assert checked.unchecked == (
            "Whether facing matches what it traces: There is no piece named front. The drawing has: facing.",
        )


class TestZip:
    @given(legs(), st.floats(0.2, 0.6), st.floats(0.51, 60.0))
    def test_an_opening_that_has_changed_is_a_finding_with_both_numbers(self, pair, share, longer):
        front = replace(sewn(*pair).pieces[0], notches=(Notch(edge="side", share=share),))
        pattern = marked(Pattern(pieces=(front,)), "front", "zip along side")
        assert check_dependents(pattern) == Checked()
        length = path_length(front.edge("side").line)
        [notch] = front.notches
        lower = replace(pattern.piece("front"), notches=(replace(notch, share=share + longer / length),))
        [finding] = check_dependents(Pattern(pieces=(lower,))).findings
        assert (finding.piece, finding.edge) == ("front", "side")
        words = (
            r"The opening that the zip closes was (\S+) mm long, and is (\S+) mm now: "
            r"it wants a zip of (\S+) mm, or the next longer one, shortened\."
        )
        was, now, zip = figures(words, finding)
        assert (was, now) == (
            pytest.approx(share * length, abs=0.051),
            pytest.approx(share * length + longer, abs=0.051),
        )
        assert zip == pytest.approx(now, abs=0.56)
        assert check_dependents(follow(Pattern(pieces=(lower,)), Following()).value) == Checked()
