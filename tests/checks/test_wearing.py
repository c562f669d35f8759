"""What depends on who wears it: girths, ease, and whether hip and foot pass."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from crossgrain.checks.dressing import check_dressing
from crossgrain.checks.ease import PlacedLevel, check_ease
from crossgrain.fabric.bench import Pull, Reading, Strip
from crossgrain.fabric.body import Body, BodyLevel
from crossgrain.fabric.cloth import Cloth, Direction
from crossgrain.fabric.comparison import Level
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import CutInstruction, Edge, Hold, Pattern, Piece
from pieces import against, moved

TWICE = CutInstruction(count=2, mirrored=True)


def linear(stretch, load=15.0):
    """A cloth that stretches evenly, to ``stretch`` under 3 N/cm."""
    readings = tuple(Reading(load=load * share, length=100.0 * (1.0 + stretch * share)) for share in (1 / 3, 2 / 3, 1))
    return Cloth(name="even", cross=Direction(test=Strip(width=50.0, gauge=100.0, readings=readings)))


def placed(name, body, piece, *, limbs=1, is_stable=False):
    level = Level(name=name, body=body, piece=piece, limbs=limbs, is_stable=is_stable)
    return PlacedLevel(level=level, piece="front", at=(1.0, 2.0))


class TestEase:
    @given(st.floats(500.0, 1500.0), st.floats(0.0, 0.5))
    def test_what_is_no_smaller_than_the_body_asks_nothing(self, body, ease):
        level = placed("hip", body, body * (1.0 + ease))
        for cloth in (None, linear(0.2)):
            checked = check_ease([level], cloth)
            assert (checked.findings, checked.unchecked) == ((), ())

    @given(st.floats(0.01, 0.5), st.floats(0.1, 0.4))
    def test_more_than_four_fifths_of_the_stretch_is_a_caution(self, strain, stretch):
        """80 % is common practice. Soft cloth, so that no pressure is what is said."""
        used = strain / stretch
        assume(abs(used - 0.8) > 0.01)
        cloth = linear(stretch, load=1.0)
        checked = check_ease([placed("hip", 1000.0, 1000.0 / (1.0 + strain))], cloth)
        assert len(checked.findings) == (used > 0.8)
        for finding in checked.findings:
            assert finding.severity == "caution"
            assert (finding.piece, finding.position) == ("front", (1.0, 2.0))

    @pytest.mark.parametrize(
        ("girth", "said"),
        [
            (870.0, ""),  # 14.9 %: 1.41 kPa
            (800.0, "more than 2.0 kPa is for shapewear and medical garments only"),  # 25 %: 2.36 kPa
            (715.0, "more than 3.3 kPa is critical even in shapewear and medical garments"),  # 39.9 %: 3.76 kPa
        ],
    )
    def test_pressure_by_the_published_bands(self, girth, said):
        """Linear cloth, 3 N/cm at 20 %, so 15 N/cm × ε; p = 2πT/G. Bands: Anthropometry, Apparel Sizing, table 13.5."""
        findings = check_ease([placed("hip", 1000.0, girth)], linear(0.6, load=45.0)).findings
        assert [said in one.message for one in findings] == ([True] if said else [])
        assert all("About" in one.message and one.severity == "caution" for one in findings)

    def test_without_a_cloth_it_is_said_what_is_not_known(self):
        checked = check_ease([placed("hip", 1000.0, 960.0), placed("knee", 360.0, 400.0, limbs=2)], None)
        assert checked.findings == ()
        [sentence] = checked.unchecked
        assert "hip -40 mm (4.2 %)" in sentence
        assert "knee" not in sentence

    @pytest.mark.parametrize("cloth", [None, linear(0.3)], ids=["no cloth", "cloth"])
    def test_a_band_smaller_than_the_body_is_found_either_way(self, cloth):
        [finding] = check_ease([placed("waist", 760.0, 740.0, is_stable=True)], cloth).findings
        assert "does not stretch, and is 20 mm smaller than the body" in finding.message
        assert finding.advice == "Let out the edges there, and with them what is sewn on."

    def test_a_cloth_of_unknown_firmness_is_judged_by_the_worst_it_may_be(self):
        pulled = Cloth(name="remnant", cross=Direction(test=Pull(gauge=100.0, length=140.0)))
        findings = check_ease([placed("thigh", 600.0, 480.0, limbs=2)], pulled).findings
        assert [one.severity for one in findings] == ["caution"]


def straight(width, hem, opening):
    """A pair of trousers as plain as can be: four alike quarters, the fronts open at the centre for ``opening`` mm."""
    side = 1000.0
    corners = [(0.0, 0.0), (width, 0.0), (hem, side), (0.0, side), (0.0, 250.0)]
    lines = dict(zip(("waist", "side", "hem", "inseam", "seat"), (Line(*pair) for pair in
                     zip(corners, [*corners[1:], corners[0]], strict=True)), strict=True))  # fmt: skip
    back = Piece(
        id="back", name="back", edges=tuple(Edge(name=n, line=Path((one,))) for n, one in lines.items()), cut=TWICE
    )
    top = lines.pop("seat")
    end = (0.0, opening)
    lines |= {"crotch": Line(top.start, end), "centre": Line(end, top.end)}
    front = Piece(
        id="front", name="front", edges=tuple(Edge(name=n, line=Path((one,))) for n, one in lines.items()), cut=TWICE
    )
    return front, back


def body(**more):
    levels = (
        BodyLevel(name="waist", girth=740.0, depth=0.0),
        BodyLevel(name="hip", girth=1000.0, depth=200.0),
    )
    return Body(name="b", levels=levels, **more)


def held(piece, width=5.0):
    return replace(piece, holds=(Hold(edge="centre", width=width),))


class TestHip:
    """Straight legs of four quarters w wide, so 4w round at every depth, less the hold of each front."""

    @given(st.floats(150.0, 300.0), st.floats(0.05, 0.6), st.booleans(), st.booleans())
    def test_the_closed_part_stretched_by_four_fifths_must_pass(self, width, stretch, is_against, is_mirrored):
        front, back = straight(width, width, 150.0)
        front = held(front)
        front = against(front) if is_against else front
        front = moved(front, Affine.scaling(-1.0, 1.0)) if is_mirrored else front
        pattern = Pattern(pieces=(front, back))
        # Under the opening's end the extension is gone; just at it, it is still taken off: 2 × 5 mm.
        reach = (4.0 * width - 10.0) * (1.0 + 0.8 * stretch)
        assume(abs(reach - 1000.0) > 1.0)
        findings = check_dressing(pattern, body(heel_girth=10.0), linear(stretch)).findings
        assert len(findings) == (reach < 1000.0)
        for finding in findings:
            assert (finding.piece, finding.edge) == ("front", "centre")
            assert "have to pass 1000 mm" in finding.message

    def test_without_a_hold_the_drawing_does_not_say_how_it_opens(self):
        checked = check_dressing(Pattern(pieces=straight(200.0, 200.0, 150.0)), body(heel_girth=10.0), linear(0.2))
        assert checked.findings == ()
        [sentence] = checked.unchecked
        assert "does not say how it opens" in sentence
        assert "Closed, its 800 mm would have to pass 1000 mm." in sentence

    def test_without_a_cloth_the_stretch_it_asks_for_is_said(self):
        front, back = straight(200.0, 200.0, 150.0)
        checked = check_dressing(Pattern(pieces=(held(front), back)), body(heel_girth=10.0), None)
        assert checked.findings == ()
        assert checked.unchecked == (
            "Closed below its opening: 790 mm have to pass 1000 mm, which asks for 26.6 % of stretch; give --fabric.",
        )

    def test_a_longer_opening_helps_where_the_hip_widens(self):
        front, back = straight(200.0, 300.0, 150.0)
        short = check_dressing(Pattern(pieces=(held(front), back)), body(heel_girth=10.0), linear(0.2)).findings
        front, back = straight(200.0, 300.0, 240.0)
        long = check_dressing(Pattern(pieces=(held(front), back)), body(heel_girth=10.0), linear(0.2)).findings
        assert len(short) == 1
        assert long == ()

    def test_a_body_without_a_hip(self):
        thin = Body(name="b", levels=(BodyLevel(name="waist", girth=700.0),), heel_girth=10.0)
        checked = check_dressing(Pattern(pieces=straight(200.0, 200.0, 150.0)), thin, None)
        assert checked.unchecked == ("Whether the waist passes the hip: the body file has no hip_girth.",)


class TestFoot:
    @given(st.floats(60.0, 200.0), st.floats(0.05, 0.6))
    def test_the_hem_stretched_by_four_fifths_must_pass(self, hem, stretch):
        """Two hems of one leg, front and back: 2 × hem."""
        front, back = straight(300.0, hem, 150.0)
        reach = 2.0 * hem * (1.0 + 0.8 * stretch)
        assume(abs(reach - 320.0) > 0.1)
        pattern = Pattern(pieces=(held(front), back))
        findings = check_dressing(pattern, body(heel_girth=320.0), linear(stretch)).findings
        assert [one.edge for one in findings if one.edge == "hem"] == (["hem"] if reach < 320.0 else [])

    def test_a_body_whose_heel_was_not_taken(self):
        front, back = straight(300.0, 100.0, 150.0)
        checked = check_dressing(Pattern(pieces=(held(front), back)), body(), linear(0.3))
        assert checked.unchecked == (
            "Whether the hem passes the foot: the body file has no heel_girth, round heel and instep.",
        )

    @pytest.mark.parametrize("girth", [0.0, -1.0, float("nan"), float("inf")])
    def test_a_heel_that_is_none(self, girth):
        from crossgrain.errors import ParameterError

        with pytest.raises(ParameterError, match="The heel girth is not above zero"):
            body(heel_girth=girth)

    def test_a_skirt_has_no_feet_to_pass(self):
        front, back = straight(300.0, 100.0, 150.0)
        renamed = [
            replace(one, edges=tuple(replace(e, name="vent" if e.name == "inseam" else e.name) for e in one.edges))
            for one in (front, back)
        ]
        checked = check_dressing(Pattern(pieces=tuple(renamed)), body(heel_girth=900.0), linear(0.3))
        assert not [one for one in checked.findings if one.edge == "hem"]
        assert "Whether the hem passes the foot: it is asked of pieces with an inseam." in checked.unchecked
