"""Laws of lengthening: as much longer as asked, still sewn alike, a mere shift beyond the blend, and back again."""

import math
from pathlib import Path as File

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.checks.pattern import check_pattern
from crossgrain.errors import ParameterError
from crossgrain.kernel.area import winding
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.curvature import node_turns
from crossgrain.kernel.length import path_length
from crossgrain.model import Pattern
from crossgrain.model.girths import depth_frame, girth_at
from crossgrain.operations.lengthening import Lengthening, lengthen
from crossgrain.operations.trueing import Trueing, true
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from sewn import legs, lying, sewn

SAMPLES = File(__file__).parent.parent.parent / "samples"
amounts = st.floats(-45.0, 60.0).map(lambda by: round(by, 2))


def tall(piece):
    box = bounds(piece.line.mapped(depth_frame(piece)))
    return box.bottom - box.top


def dense(line):
    return np.array([complex(*s.point(t)) for s in line.segments for t in np.linspace(0.0, 1.0, 400)])


def strayed(now, old):
    """How far the outline of a piece lies from another, by shapely, mm."""
    points, line = dense(now.line), dense(old.line)
    samples = shapely.points(points[::7].real, points[::7].imag)
    return float(shapely.distance(samples, shapely.linestrings(line.real, line.imag)).max())


class TestLaws:
    @given(legs(), amounts, st.data())
    def test_every_piece_is_longer_by_the_amount_and_they_are_still_sewn_alike(self, pair, by, data):
        pattern, _lies = lying(data.draw, sewn(*pair))
        new = lengthen(pattern, Lengthening(by=by, depth=450.0)).value
        for old, now in zip(pattern.pieces, new.pieces, strict=True):
            assert tall(now) - tall(old) == pytest.approx(by, abs=1e-6)
            assert winding(now.line) == winding(old.line)
            assert path_length(now.edge("hem").line) == pytest.approx(path_length(old.edge("hem").line), abs=1e-6)
        assert check_pattern(new).findings == ()

    @given(legs(), amounts)
    def test_above_the_blend_nothing_moves_and_below_it_all_goes_down(self, pair, by):
        pattern = sewn(*pair)
        new = lengthen(pattern, Lengthening(by=by, depth=450.0, blend=100.0)).value
        for old, now in zip(pattern.pieces, new.pieces, strict=True):
            assert max(map(math.dist, now.edge("waist").line.nodes, old.edge("waist").line.nodes)) < 1e-9
            down = [(x, y + by) for x, y in old.edge("hem").line.nodes]
            assert max(map(math.dist, now.edge("hem").line.nodes, down)) < 1e-9
            for depth in (100.0, 200.0):
                assert girth_at([now], depth).girth == pytest.approx(girth_at([old], depth).girth, abs=0.03)

    @given(legs(), amounts)
    def test_it_leaves_no_kink(self, pair, by):
        pattern = sewn(*pair)
        new = lengthen(pattern, Lengthening(by=by, depth=450.0)).value
        for piece in new.pieces:
            for name in ("side", "inseam"):
                assert max(abs(node_turns(piece.edge(name).line)), default=0.0) < math.radians(0.1)

    @given(legs(), st.floats(5.0, 60.0))
    def test_and_back_again_keeping_the_line(self, pair, by):
        pattern = sewn(*pair)
        there = lengthen(pattern, Lengthening(by=by, at="hem", keep="line")).value
        back = lengthen(there, Lengthening(by=-by, at="hem", keep="line")).value
        for old, now in zip(pattern.pieces, back.pieces, strict=True):
            assert strayed(now, old) <= 0.02

    @settings(max_examples=8)
    @given(legs(), st.floats(5.0, 60.0), st.sampled_from(["at a level", "at the hem"]), st.booleans())
    def test_and_back_again_keeping_the_hem_width(self, pair, by, where, is_first_shorter):
        """What is closed first and then opened too."""
        by = -by if is_first_shorter else by
        at = {"depth": 450.0} if where == "at a level" else {"at": "hem"}
        pattern = sewn(*pair)
        there = lengthen(pattern, Lengthening(by=by, **at)).value
        back = lengthen(there, Lengthening(by=-by, **at)).value
        for old, now in zip(pattern.pieces, back.pieces, strict=True):
            assert strayed(now, old) <= 0.02

    @given(legs())
    def test_by_nothing_is_nothing(self, pair):
        pattern = sewn(*pair)
        assert lengthen(pattern, Lengthening(by=0.0, depth=450.0)).value == pattern

    @given(legs(), amounts)
    def test_keeping_the_line_the_seams_stay_and_the_hem_slides(self, pair, by):
        pattern = sewn(*pair)
        new = lengthen(pattern, Lengthening(by=by, at="hem", keep="line")).value
        for old, now in zip(pattern.pieces, new.pieces, strict=True):
            assert tall(now) - tall(old) == pytest.approx(by, abs=0.01)
            assert now.edge("waist") == old.edge("waist")


class TestSamples:
    @pytest.mark.parametrize(("by", "keep"), [(-25.0, "hem-width"), (40.0, "hem-width")])
    def test_the_trousers_stay_without_findings(self, by, keep):
        pattern = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
        new = lengthen(pattern, Lengthening(by=by, depth=550.0, keep=keep)).value
        assert check_pattern(new).findings == ()
        assert new.piece("waistband") == pattern.piece("waistband")

    @pytest.mark.parametrize("by", [-60.0, -25.0, 40.0])
    def test_no_node_of_the_trousers_is_a_kink_that_was_none(self, by):
        """The turns at the nodes inside edges are what they were, or below what shows."""
        pattern = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
        new = lengthen(pattern, Lengthening(by=by, depth=602.0)).value
        for old, now in zip(pattern.pieces, new.pieces, strict=True):
            for edge in now.edges:
                before = [0.0, *np.abs(node_turns(old.edge(edge.name).line))]
                for turn in np.abs(node_turns(edge.line)):
                    assert min(abs(turn - was) for was in before) < math.radians(0.1)
                    assert turn <= max(before) + math.radians(0.1)

    def test_shorter_and_then_longer_again_the_trousers_stay_without_findings(self):
        pattern = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
        shorter = lengthen(pattern, Lengthening(by=-25.0, depth=602.0)).value
        longer = lengthen(shorter, Lengthening(by=40.0, depth=602.0)).value
        for old, now in zip(pattern.pieces, longer.pieces, strict=True):
            assert tall(now) - tall(old) == pytest.approx(0.0 if old.cut.stabilised else 15.0, abs=1e-6)
        assert check_pattern(longer).findings == ()
        back = lengthen(shorter, Lengthening(by=25.0, depth=602.0)).value
        assert max(map(strayed, back.pieces, pattern.pieces)) <= 0.02

    @pytest.mark.parametrize("by", [-25.0, 40.0])
    def test_keeping_the_line_the_hem_is_trued_at_both_its_corners(self, by):
        """Where the legs taper, a hem that slides along them no longer meets them squarely: 0.7° and 1.4° here."""
        pattern = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
        new = lengthen(pattern, Lengthening(by=by, at="hem", keep="line")).value
        found = check_pattern(new).findings
        assert {finding.edge for finding in found} == {"side", "inseam"}
        assert all("the hem" in finding.message for finding in found)
        for seam in ("side", "inseam"):
            new = true(new, Trueing(seam=seam)).value
        assert check_pattern(new).findings == ()


class TestRefusals:
    @pytest.mark.parametrize(
        ("how", "said"),
        [
            ({"by": 10.0, "at": "kne", "keep": "line"}, "There is no level named kne"),
            ({"by": -1100.0, "at": "hem"}, "beyond the waist"),
            ({"by": 10.0, "depth": 550.0, "blend": 0.0}, "A blend is a length above zero"),
            ({"by": 10.0, "at": "knee"}, "There is no level named knee"),
            ({"by": 10.0, "depth": 5000.0}, "No piece has the level 5000 mm below the waist"),
            ({"by": 10.0}, "a level or a depth, one of the two"),
            ({"by": math.nan, "at": "hem"}, "not a number"),
        ],
    )
    def test_one_sentence(self, how, said):
        pattern = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
        with pytest.raises(ParameterError, match=said):
            lengthen(pattern, Lengthening(**how))

    @settings(max_examples=30)
    @given(
        legs(),
        amounts.filter(bool),
        st.floats(20.0, 160.0),
        st.floats(0.01, 0.95),
        st.sampled_from([-1.0, 1.0]),
        st.sampled_from(["waist", "hem"]),
    )
    def test_a_level_too_near_to_an_end_says_how_far_is_far_enough(self, pair, by, blend, share, way, end):
        """Half a blend from the waist; from the hem half a blend, and as much as is closed. As far, it is done, and
        every piece is longer by all of it."""
        pattern = sewn(*pair)
        off = way * share * blend / 2.0
        need = blend / 2.0 + (max(0.0, -by) if end == "hem" else 0.0)
        lowest = bounds(pattern.pieces[0].edge("hem").line).top
        how = Lengthening(by=by, depth=need + off if end == "waist" else lowest - need - off, blend=blend)
        if off < 0.0:
            with pytest.raises(ParameterError, match=f"beyond the {end}") as caught:
                lengthen(pattern, how)
            assert f"{math.ceil(-off)} mm farther" in caught.value.advice
        else:
            for old, now in zip(pattern.pieces, lengthen(pattern, how).value.pieces, strict=True):
                assert tall(now) - tall(old) == pytest.approx(by, abs=1e-6)

    @pytest.mark.parametrize(
        "how", [{"by": 20.0, "depth": 990.0}, {"by": -20.0, "depth": 60.0}, {"by": -950.0, "at": "hem"}]
    )
    def test_the_blend_that_the_advice_says_is_possible_is(self, how):
        pattern = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
        with pytest.raises(ParameterError) as caught:
            lengthen(pattern, Lengthening(**how))
        blend = float(caught.value.advice.split("at most ")[1].split()[0])
        lengthen(pattern, Lengthening(**how, blend=blend))
        with pytest.raises(ParameterError):
            lengthen(pattern, Lengthening(**how, blend=blend + 1.0))

    def test_nothing_has_a_hem(self):
        with pytest.raises(ParameterError, match="No piece has a hem"):
            lengthen(Pattern(), Lengthening(by=10.0, at="hem"))
