"""Laws of the whole check: what is true has no findings, and what was put out of true gives those and no others."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from crossgrain.checks.pattern import Looking, check_pattern
from crossgrain.kernel.affine import Affine
from crossgrain.model import CutInstruction, Edge, Pattern
from crossgrain.tolerances import SEAM_MATCH, SMOOTH_TURN
from pieces import moved
from sewn import Leg, legs, lying, sewn


def found(pattern):
    return check_pattern(pattern).findings


def assert_says(finding, words, *figures):
    """The sentence, with figures in place of # that may be off by what rounding to a tenth leaves."""
    pattern = re.escape(words).replace(r"\#", r"([+-]?\d+(?:\.\d)?)")
    match = re.fullmatch(pattern, finding.message)
    assert match, finding.message
    for read, figure in zip(match.groups(), figures, strict=True):
        assert float(read) == pytest.approx(figure, abs=0.051 if "." in read else 0.51)


def said(findings):
    """What is said of what, without the place."""
    return sorted((one.piece, one.edge, one.message, one.advice) for one in findings)


class TestTrue:
    @given(legs())
    def test_what_is_true_has_no_findings(self, pair):
        assert check_pattern(sewn(*pair)).findings == ()

    @given(legs(), st.data())
    def test_however_it_lies_on_the_table(self, pair, data):
        pattern, _lies = lying(data.draw, sewn(*pair))
        assert found(pattern) == ()

    @given(legs(), st.floats(0.5, 20.0))
    def test_at_any_size(self, pair, factor):
        """From half size on: below it the strokes of a triple notch run together at the end of the edge."""
        pattern = sewn(*pair)
        scaled = Pattern(pieces=tuple(moved(piece, Affine.scaling(factor, factor)) for piece in pattern.pieces))
        assert found(scaled) == ()


class TestOutOfTrue:
    @given(legs(), st.floats(0.55, 30.0), st.booleans())
    def test_a_corner_moved_along_its_seam_gives_that_finding_and_no_other(self, pair, raised, at_front):
        front, back = pair
        front = replace(front, raised=raised) if at_front else front
        back = back if at_front else replace(back, raised=raised)
        front, back = (keeping_notches(leg, *pair) for leg in (front, back))
        [finding] = found(sewn(front, back))
        assert (finding.piece, finding.edge) == ("front", "side")
        longer, shorter = ("front", "back") if at_front else ("back", "front")
        words = f"It is # mm longer on {longer} (# mm) than on {shorter} (# mm)."
        length = 0.5 * (front.length_of_side() + back.length_of_side() + raised)
        figures = [raised, length, length - raised]
        if front.notches:
            words += " From notch to notch: waist to # mm # mm."
            figures += [front.first_notch(), raised]
        assert_says(finding, words, *figures)

    @given(legs(), st.floats(0.0, 0.49))
    def test_less_than_half_a_millimetre_is_none(self, pair, raised):
        front, back = pair
        assert found(sewn(keeping_notches(replace(front, raised=raised), *pair), back)) == ()

    @given(legs(), st.floats(0.02, 20.0), st.floats(0.1, 8.0))
    def test_scaled_the_difference_scales(self, pair, raised, factor):
        """The one thing that scaling changes: what is within half a millimetre in small may not be so in large."""
        assume(abs(raised * factor - SEAM_MATCH) > 1e-6)
        front, back = (replace(leg, notches=()) for leg in pair)
        pattern = sewn(replace(front, raised=raised), back)
        scaled = Pattern(pieces=tuple(moved(piece, Affine.scaling(factor, factor)) for piece in pattern.pieces))
        assert [one.edge for one in found(scaled)] == (["side"] if raised * factor > SEAM_MATCH else [])

    @given(legs(), st.floats(0.55, 30.0), st.sampled_from([1, -1]), st.data())
    def test_a_notch_that_slipped_is_one_finding(self, pair, slip, way, data):
        front, back = (replace(leg, notches=()) for leg in pair)
        front, back = front.with_notch_at(300.0), back.with_notch_at(300.0 + way * slip)
        [finding] = found(sewn(front, back))
        assert (finding.piece, finding.edge) == ("front", "side")
        words = "The notch # mm from the waist on front lies # mm from it on back."
        assert_says(finding, words, 300.0, 300.0 + way * slip)

    @given(legs(), st.floats(0.3, 0.45), st.floats(0.55, 0.7))
    def test_a_stretch_too_long_though_its_notch_is_right_from_the_other_end(self, pair, raised, gap):
        """Half of the tolerance at the waist and half at the notch: neither is wrong alone, the stretch is."""
        front, back = (replace(leg, notches=()) for leg in pair)
        front = replace(front, raised=raised).with_notch_at(300.0)
        [finding] = found(sewn(front, back.with_notch_at(300.0 + raised - gap)))
        assert (finding.piece, finding.edge) == ("front", "side")
        assert_says(finding, "waist to # mm is # mm longer on front than on back.", 300.0 + raised, gap)

    @given(legs(), st.permutations([1, 2, 3]))
    def test_a_notch_of_another_kind(self, pair, kinds):
        front, back = (replace(leg, notches=()) for leg in pair)
        [finding] = found(sewn(front.with_notch_at(300.0, kinds[0]), back.with_notch_at(300.0, kinds[1])))
        words = {1: "single", 2: "double", 3: "triple"}
        assert f"is {words[kinds[0]]} on front and {words[kinds[1]]} on back" in finding.message

    @given(legs(), st.integers(1, 16))
    def test_a_notch_without_a_partner(self, pair, at):
        front, back = pair
        along = 40.0 * at + 17.0
        [finding] = found(sewn(front, back.with_notch_at(along)))
        assert finding.message == f"The notch {along:.1f} mm from the waist on back has no partner on front."
        assert (finding.piece, finding.edge) == ("back", "side")

    @given(legs(), st.floats(0.6, 12.0), st.sampled_from([1, -1]))
    def test_a_crotch_that_breaks_over_the_inseam(self, pair, degrees, way):
        front, back = pair
        back = replace(back, open_rad=back.open_rad + way * math.radians(degrees))
        [finding] = found(sewn(front, back))
        assert (finding.piece, finding.edge) == ("front", "inseam")
        angles = [90.0 + math.degrees(front.open_rad), 90.0 + math.degrees(back.open_rad)]
        what, than = ("dips", "more") if way > 0 else ("peaks", "less")
        words = f"Sewn to back, the crotch/seat {what} by #° there: #° and #° are {than} than #°."
        assert_says(finding, words, degrees, *angles, 180.0)

    @given(legs(), st.floats(0.0, 0.49), st.sampled_from([1, -1]))
    def test_less_than_half_a_degree_is_none(self, pair, degrees, way):
        front, back = pair
        back = replace(back, open_rad=back.open_rad + way * math.radians(degrees))
        assert found(sewn(front, back)) == ()

    @given(legs(), st.floats(0.03, 0.15))
    def test_a_waist_out_of_square_breaks_at_the_side_and_at_the_middle(self, pair, slope):
        front, back = pair
        front = replace(front, tilted=slope * (front.waist + front.top))
        off = math.degrees(math.atan(slope))
        assert 2.0 * math.radians(off) > SMOOTH_TURN
        side, middle = sorted(found(sewn(front, back)), key=lambda one: one.edge, reverse=True)
        assert (side.edge, middle.edge) == ("side", "crotch")
        words = "Sewn to back, the waist peaks by #° there: #° and #° are less than #°."
        assert_says(side, words, off, 90.0 - off, 90.0, 180.0)
        words = "The waist meets the crotch at #° instead of #°: left and right together, it dips there."
        assert_says(middle, words, 90.0 + off, 90.0)

    @given(legs(), st.data())
    def test_the_findings_stay_and_their_places_go_along_however_it_lies(self, pair, data):
        front, back = (replace(leg, notches=()) for leg in pair)
        front = replace(front, raised=3.0, tilted=6.0).with_notch_at(300.0, 2)
        back = replace(back.with_notch_at(310.0, 1), open_rad=back.open_rad + 0.05)
        pattern = sewn(front, back)
        there, lies = lying(data.draw, pattern)
        before, after = found(pattern), found(there)
        assert len(before) == 5
        assert said(after) == said(before)
        for one, other in zip(sorted(before, key=str), sorted(after, key=str), strict=True):
            assert one.message == other.message
            assert math.dist(lies[one.piece].of(one.position), other.position) < 1e-6


def _as_skirt(piece):
    """A leg whose inseam has another name, and whose crotch or seat is called middle."""
    names = {"inseam": "panel", "crotch": "middle", "seat": "middle"}
    return replace(piece, edges=tuple(replace(edge, name=names.get(edge.name, edge.name)) for edge in piece.edges))


class TestWhatIsNotChecked:
    @given(legs())
    def test_one_piece_alone_has_no_partners(self, pair):
        checked = check_pattern(Pattern(pieces=sewn(*pair).pieces[:1]))
        assert checked.findings == ()
        assert checked.unchecked == (
            "front: which of its edges side, inseam, crotch is sewn to its own mirrored copy is not told.",
        )

    def test_bare_outlines_are_said_to_be_without_names(self, legs_of_one_size):
        front = sewn(*legs_of_one_size).pieces[0]
        bare = replace(front, name="", cut=CutInstruction(), edges=(Edge(name="", line=open_line(front)),), notches=())
        checked = check_pattern(Pattern(pieces=(bare,)))
        assert checked.findings == ()
        assert checked.unchecked == ("Seams of front: the edges have no names yet; crossgrain mark names them.",)

    def test_edges_said_not_to_be_sewn_go_on_instead(self, legs_of_one_size):
        """A middle that has one name on front and back, and on neither is beside an inseam."""
        front, back = (
            _as_skirt(piece) for piece in sewn(legs_of_one_size[0], replace(legs_of_one_size[1], top=105)).pieces
        )
        [length] = [one for one in found(Pattern(pieces=(front, back))) if one.edge == "middle"]
        assert length.advice.startswith("If they are not sewn to each other, give them names of their own")
        assert "--not-sewn middle" in length.advice
        going_on = check_pattern(Pattern(pieces=(front, back)), Looking(going_on=("middle",)))
        assert not [one for one in going_on.findings if one.edge == "middle"]

    def test_stabilised_pieces_are_left_to_the_check_of_what_follows(self, legs_of_one_size):
        front, back = sewn(*legs_of_one_size).pieces
        stiff = replace(back, cut=replace(back.cut, stabilised=True))
        checked = check_pattern(Pattern(pieces=(front, stiff)))
        assert checked.findings == ()
        assert (
            "Whether stabilised pieces match what they are sewn to, which the drawing does not say: back."
            in checked.unchecked
        )


@pytest.fixture
def legs_of_one_size():
    shared = {"waist": 85, "hip": 125, "hem": 65, "rise": 200, "length": 900, "fork": 135}
    return (
        Leg(name="front", middle="crotch", top=70, open_rad=0.1, **shared),
        Leg(name="back", middle="seat", top=90, open_rad=-0.1, **shared),
    )


def open_line(piece):
    return replace(piece.line, closed=False)


def keeping_notches(leg, *pair):
    """The leg with its notches where they lay before its waist was raised."""
    before = next(one for one in pair if one.name == leg.name)
    bare = replace(leg, notches=())
    for notch in before.notches:
        bare = bare.with_notch_at(notch.share * before.length_of_side(), notch.count)
    return bare
