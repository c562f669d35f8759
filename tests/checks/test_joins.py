"""Edges that go on: over a fold, over a seam to one's own copy, over the seams where four pieces meet."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from crossgrain.checks.pattern import Looking, check_pattern
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Edge, Pattern, Piece
from crossgrain.operations.trueing import Trueing, true
from pieces import against, moved
from sewn import Leg

LEG = {"waist": 85, "hip": 125, "hem": 65, "rise": 200, "length": 900, "fork": 135}
FOLD, TWICE = CutInstruction(on_fold="middle"), CutInstruction(count=2, mirrored=True)


def skirt(off_rad, cut, top="waist", name="front"):
    """Half a skirt whose top edge meets its middle at 90° and ``off_rad`` more; the side is as long either way."""
    drop = 200.0 * math.tan(off_rad)
    corners = [(0.0, 0.0), (200.0, -drop), (200.0, 600.0), (0.0, 600.0)]
    lines = zip((top, "side", "hem", "middle"), Path.polygon(corners).segments, strict=True)
    return Piece(id=name, name=name, edges=tuple(Edge(name=e, line=Path((one,))) for e, one in lines), cut=cut)


def sewn_on(piece):
    """The piece, and a back of the same height with a smooth join to it."""
    back = skirt(0.0, CutInstruction(count=2, mirrored=True), name="back")
    names = {"middle": "seat"}
    edges = tuple(replace(edge, name=names.get(edge.name, edge.name)) for edge in back.edges)
    return Pattern(pieces=(piece, replace(back, edges=edges)))


@pytest.mark.parametrize("cut", [FOLD, TWICE], ids=["fold", "own copy"])
class TestMiddle:
    @given(
        degrees=st.floats(-30.0, 30.0), is_against=st.booleans(), is_mirrored=st.booleans(), turn=st.floats(-3.0, 3.0)
    )
    def test_square_within_a_quarter_of_a_degree_and_a_clear_corner_is_meant(
        self, cut, degrees, is_against, is_mirrored, turn
    ):
        assume(min(abs(abs(degrees) - 0.25), abs(abs(degrees) - 12.5)) > 1e-6)
        piece = skirt(math.radians(degrees), cut)
        piece = against(piece) if is_against else piece
        piece = moved(piece, Affine.scaling(-1.0 if is_mirrored else 1.0, 1.0).then(Affine.rotation(turn)))
        checked = check_pattern(sewn_on(piece))
        findings = [one for one in checked.findings if one.edge == "middle"]
        meant = [one for one in checked.unchecked if "taken as meant" in one]
        assert len(findings) == (0.25 < abs(degrees) < 12.5)
        assert len(meant) == (abs(degrees) >= 12.5)
        for one in findings:
            match = re.fullmatch(
                r"The waist meets the middle at (\S+)° instead of 90°: left and right .* it (\w+) there.", one.message
            )
            assert float(match[1]) == pytest.approx(90.0 + degrees, abs=0.051)
            assert match[2] == ("dips" if degrees > 0.0 else "peaks")

    def test_what_does_not_go_on_may_meet_it_at_any_angle(self, cut):
        """The slanted foot of a guard that is folded: its name tells nothing of what becomes of it."""
        piece = skirt(math.radians(5.0), cut, top="foot")
        checked = check_pattern(sewn_on(piece))
        assert [
            one for one in (*checked.findings, *checked.unchecked) if "middle" in str(one) and "foot" in str(one)
        ] == []

    def test_the_next_step_fits(self, cut):
        [finding] = [one for one in check_pattern(sewn_on(skirt(0.05, cut))).findings if one.edge == "middle"]
        assert ("crossgrain true --seam middle" in finding.advice) is (cut is TWICE)


class TestWhichIsTheMiddle:
    def test_a_piece_alone_lacks_its_partners_and_is_not_taken_for_its_own(self):
        checked = check_pattern(Pattern(pieces=(skirt(0.05, TWICE),)))
        assert checked.findings == ()
        assert checked.unchecked == (
            "front: which of its edges side, middle is sewn to its own mirrored copy is not told.",
        )

    def test_the_side_of_a_piece_cut_on_a_fold_may_lack_its_partner_too(self):
        checked = check_pattern(Pattern(pieces=(moved(skirt(0.0, FOLD), Affine(1.0, 0.05, 0.0, 1.0)),)))
        assert {one.edge for one in checked.findings} == {"middle"}
        assert any("which of its edges side is sewn" in one for one in checked.unchecked)

    def test_one_edge_without_a_partner_is_it(self):
        piece = skirt(0.05, TWICE)
        named = replace(
            piece, edges=tuple(replace(one, name="neck" if one.name == "side" else one.name) for one in piece.edges)
        )
        assert "middle" in [one.edge for one in check_pattern(Pattern(pieces=(named,))).findings]

    def test_of_two_edges_apart_one_lacks_its_partner(self):
        """Sewn along the inseam; the side's partner has another name, and it is not taken for the middle."""
        corners = [(0.0, 0.0), (200.0, -20.0), (200.0, 600.0), (0.0, 600.0), (0.0, 300.0)]
        lines = Path.polygon(corners).segments
        front, back = (
            Piece(
                id=name,
                name=name,
                edges=tuple(Edge(name=e, line=Path((one,))) for e, one in zip(names, lines, strict=True)),
                cut=TWICE,
            )
            for name, names in (
                ("front", ("waist", "side", "hem", "inseam", "crotch")),
                ("back", ("waist", "outer", "hem", "inseam", "seat")),
            )
        )
        checked = check_pattern(Pattern(pieces=(front, back)))
        assert not [one for one in checked.findings if one.edge in ("side", "outer", "crotch", "seat")]
        assert (
            "front: which of its edges side, crotch is sewn to its own mirrored copy is not told." in checked.unchecked
        )

    def test_crotch_and_centre_in_a_row_are_both(self):
        """A front whose middle has two names, sewn to a back along its side."""
        corners = [(0.0, 0.0), (200.0, -10.0), (200.0, 600.0), (0.0, 600.0), (0.0, 200.0)]
        names = ("waist", "side", "hem", "crotch", "centre")
        lines = zip(names, Path.polygon(corners).segments, strict=True)
        front = Piece(id="f", name="f", edges=tuple(Edge(name=e, line=Path((one,))) for e, one in lines), cut=TWICE)
        findings = [one for one in check_pattern(sewn_on(front)).findings if one.edge != "side"]
        assert [one.edge for one in findings] == ["centre"]


class TestFourPieces:
    """Where left and right, front and back meet at the crotch point: the crotch goes on, the inseams need not."""

    def fronts(self, open_rad):
        right = replace(
            Leg(name="right front", middle="crotch", top=70, open_rad=open_rad, **LEG).piece(),
            cut=CutInstruction(),
        )
        left = moved(replace(right, id="left front", name="left front"), Affine.scaling(-1.0, 1.0))
        return left, right

    def test_inseams_at_100_degrees_each_are_no_finding(self):
        back = Leg(name="back", middle="seat", top=90, open_rad=-0.17, **LEG).piece()
        assert check_pattern(Pattern(pieces=(*self.fronts(0.17), back))).findings == ()

    def test_a_crotch_that_breaks_alike_on_both_sides_is_one_finding(self):
        back = Leg(name="back", middle="seat", top=90, open_rad=-0.10, **LEG).piece()
        [finding] = check_pattern(Pattern(pieces=(*self.fronts(0.17), back))).findings
        assert (finding.piece, finding.edge) == ("left front, right front", "inseam")
        assert "the crotch/seat dips by 4.0° there" in finding.message

    @pytest.mark.parametrize("middle", ["seat", "crotch"])
    def test_it_goes_on_whether_front_and_back_call_it_alike_or_not(self, middle):
        back = Leg(name="back", middle=middle, top=90, open_rad=-0.10, **LEG).piece()
        whole = Pattern(pieces=(*self.fronts(0.17), back))
        [finding] = check_pattern(whole).findings
        assert (finding.edge, "dips by 4.0° there" in finding.message) == ("inseam", True)
        trued = true(whole, Trueing(seam="inseam")).value
        assert check_pattern(trued).findings == ()
        if middle == "crotch":
            assert check_pattern(whole, Looking(going_on=("crotch",))).findings[0].message == finding.message

    def test_one_that_breaks_otherwise_on_either_side_is_two(self):
        back = Leg(name="back", middle="seat", top=90, open_rad=-0.10, **LEG).piece()
        left, right = self.fronts(0.17)
        other = Leg(name="right front", middle="crotch", top=70, open_rad=0.19, **LEG).piece()
        right = replace(right, edges=other.edges)
        findings = check_pattern(Pattern(pieces=(left, right, back))).findings
        assert [(one.piece, one.edge) for one in findings] == [("left front", "inseam"), ("right front", "inseam")]
        assert ["4.0°" in findings[0].message, "5.2°" in findings[1].message] == [True, True]


def test_a_pouch_sewn_round_its_corner_need_not_go_on():
    """Two pieces sewn together along two edges in a row: at the corner between, nothing goes on."""
    lines = Path.polygon([(0.0, 0.0), (150.0, 0.0), (130.0, 200.0), (0.0, 190.0)]).segments
    names = ("neck", "side", "bottom", "back")
    edges = tuple(Edge(name=name, line=Path((line,))) for name, line in zip(names, lines, strict=True))
    one = Piece(id="a", name="a", edges=edges, cut=TWICE)
    other = moved(replace(one, id="b", name="b"), Affine.scaling(-1.0, 1.0))
    found = check_pattern(Pattern(pieces=(one, other))).findings
    assert not [finding for finding in found if "bottom" in finding.message or finding.edge == "bottom"]
