"""Laws of trueing, on fronts and backs that hypothesis draws: lengths, notches, joins, and what must not move.

``CROSSGRAIN_PAIRS=500 python -m pytest tests/operations/test_trueing.py`` tries five hundred pairs.
"""

import math
import os
from dataclasses import replace
from pathlib import Path as File

import mpmath
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.checks.pattern import check_pattern
from crossgrain.errors import ParameterError
from crossgrain.model import CutInstruction, Pattern
from crossgrain.notation.stations import read_ease
from crossgrain.operations.dart_trueing import DartTrueing, true_darts
from crossgrain.operations.following import Following, follow
from crossgrain.operations.trueing import Trueing, true
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from sewn import legs, lying, sewn, untrue

SAMPLES = File(__file__).parent.parent.parent / "samples"
many = settings(max_examples=int(os.environ.get("CROSSGRAIN_PAIRS", "40")))


def quadrature(line):
    """Arc length by mpmath's quadrature of the speed of each cubic."""
    total = mpmath.mpf(0)
    for segment in line.segments:
        total += mpmath.quad(lambda t, s=segment: math.hypot(*s.derivative(float(t))), [0, 0.25, 0.5, 0.75, 1])
    return float(total)


def cloth_angle(piece, seam, neighbour):
    """The angle between two edges at their corner, degrees, from points a hair beside it."""
    one, other = piece.edge(seam).line, piece.edge(neighbour).line
    meets_at_end = math.dist(one.end, other.start) < 1e-6
    corner = one.end if meets_at_end else one.start
    a = one.segments[-1].point(1 - 1e-5) if meets_at_end else one.segments[0].point(1e-5)
    b = other.segments[0].point(1e-5) if meets_at_end else other.segments[-1].point(1 - 1e-5)
    u, v = (complex(p[0] - corner[0], p[1] - corner[1]) for p in (a, b))
    return abs(math.degrees(mpmath.arg(u / v)))


def notches(piece, seam):
    """Distance from the waist and kind of each notch on a seam."""
    line = piece.edge(seam).line
    waist = piece.edge("waist").line
    from_start = min(math.dist(line.start, waist.start), math.dist(line.start, waist.end)) < 1e-6
    total = quadrature(line)
    return sorted(((n.share if from_start else 1 - n.share) * total, n.count) for n in piece.notches if n.edge == seam)


class TestPairs:
    @many
    @given(untrue(), st.sampled_from(["", "waist", "hem", "along"]), st.data())
    def test_lengths_notches_and_joins_agree_however_the_pieces_lie(self, pair, give, data):
        pattern, _lies = lying(data.draw, sewn(*pair))
        new = true(pattern, Trueing(seam="side", give=give)).value
        front, back = new.pieces
        gap = abs(quadrature(front.edge("side").line) - quadrature(back.edge("side").line))
        was = abs(quadrature(pattern.pieces[0].edge("side").line) - quadrature(pattern.pieces[1].edge("side").line))
        assert gap <= (1e-6 if was > 0.5001 else 0.5001)
        for neighbour in ("waist", "hem"):
            assert cloth_angle(front, "side", neighbour) + cloth_angle(back, "side", neighbour) == pytest.approx(
                180.0, abs=0.52
            )
        for one, other in zip(notches(front, "side"), notches(back, "side"), strict=True):
            assert one[0] == pytest.approx(other[0], abs=0.5001)
            assert one[1] == other[1]
        assert [len(piece.notches) for piece in new.pieces] == [len(piece.notches) for piece in pattern.pieces]
        for old, now in zip(pattern.pieces, new.pieces, strict=True):
            assert len(now.edge("side").line.segments) <= len(old.edge("side").line.segments) + 2
            for name in ("waist", "hem"):
                assert len(now.edge(name).line.segments) <= len(old.edge(name).line.segments) + 1
            assert now.edge("inseam") == old.edge("inseam")

    @given(legs())
    def test_what_agrees_stays_exactly(self, pair):
        pattern = sewn(*pair)
        assert true(pattern, Trueing(seam="side")).value == pattern

    @given(untrue())
    def test_twice_is_once(self, pair):
        once = true(sewn(*pair), Trueing(seam="side")).value
        assert true(once, Trueing(seam="side")).value == once

    @given(untrue(), st.data())
    def test_the_result_goes_along_with_the_pieces(self, pair, data):
        pattern = sewn(*pair)
        there, lies = lying(data.draw, pattern)
        new, moved_ = (true(one, Trueing(seam="side")).value for one in (pattern, there))
        for piece, now in zip(new.pieces, moved_.pieces, strict=True):
            for edge in piece.edges:
                image = [lies[piece.label].of(node) for node in edge.line.nodes]
                found = list(now.edge(edge.name).line.nodes)
                found = found if math.dist(found[0], image[0]) < math.dist(found[-1], image[0]) else found[::-1]
                assert max(map(math.dist, image, found)) < 1e-5

    @given(untrue(), st.sampled_from(["front", "back"]))
    def test_what_is_kept_stays_exactly(self, pair, keep):
        pattern = sewn(*pair)
        new = true(pattern, Trueing(seam="side", keep=(keep,))).value
        assert new.piece(keep) == pattern.piece(keep)

    @given(untrue())
    def test_nothing_beyond_the_blend_moves(self, pair):
        pattern = sewn(*pair)
        new = true(pattern, Trueing(seam="side", give="waist", blend=30.0)).value
        for old, now in zip(pattern.pieces, new.pieces, strict=True):
            for name in set(old.edge_names) - {"side", "waist"}:
                assert now.edge(name) == old.edge(name)

    @given(legs(), st.floats(1.0, 8.0))
    def test_ease_lies_in_its_stretch_and_nowhere_else(self, pair, amount):
        pattern = sewn(*(replace(leg, notches=()).with_notch_at(250.0).with_notch_at(500.0) for leg in pair))
        ease = read_ease(f"back={amount:.3f}mm between 30% and 60%")
        new = true(pattern, Trueing(seam="side", ease=(ease,), give="along")).value
        front, back = new.pieces
        gap = quadrature(back.edge("side").line) - quadrature(front.edge("side").line)
        assert gap == pytest.approx(round(amount, 3), abs=1e-6)


class TestSamples:
    def test_the_first_draft_trued_seam_by_seam_has_no_findings(self):
        pattern = pattern_of(read_drawing(SAMPLES / "trousers-untrued.svg"))
        for seam, give in (("side", "waist"), ("inseam", "crotch"), ("seat", "")):
            pattern = true(pattern, Trueing(seam=seam, give=give)).value
        pattern = follow(pattern, Following()).value
        assert {one.message[:20] for one in check_pattern(pattern).findings} == {"With its dart folded"}
        pattern = follow(true_darts(pattern, DartTrueing()).value, Following()).value
        assert check_pattern(pattern).findings == ()

    @pytest.mark.parametrize("seam", ["side", "inseam", "seat"])
    def test_the_trousers_are_true(self, seam):
        pattern = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
        assert true(pattern, Trueing(seam=seam)).value == pattern

    def test_a_piece_sewn_to_its_own_copy_is_square_there(self):
        pattern = pattern_of(read_drawing(SAMPLES / "trousers-untrued.svg"))
        assert pattern.piece("back").cut == CutInstruction(count=2, mirrored=True)
        new = true(pattern, Trueing(seam="seat")).value.piece("back")
        assert cloth_angle(new, "waist", "seat") == pytest.approx(90.0, abs=0.01)

    def test_edges_that_go_on_are_not_sewn_to_each_other_even_where_there_are_two_alone(self):
        trousers = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
        two = Pattern(pieces=(trousers.piece("right front"), trousers.piece("back")))
        with pytest.raises(ParameterError, match="go on from piece to piece"):
            true(two, Trueing(seam="waist"))

    @pytest.mark.parametrize("end", ["crotch", "seat"])
    def test_ease_begins_at_an_end_by_the_name_it_has_on_either_piece(self, end):
        trousers = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
        ease = read_ease(f"back=4mm between {end} and 30%")
        outcome = true(trousers, Trueing(seam="inseam", ease=(ease,)))
        eased = {change.what: change for change in outcome.changes if change.what.startswith("longer on")}
        assert eased["longer on back from crotch/seat to notch 1"].after == pytest.approx(4.0)
        assert eased["longer on back from notch 1 to hem"].after == pytest.approx(0.0, abs=1e-6)


class TestRefusals:
    @pytest.mark.parametrize(
        ("how", "said"),
        [
            ({"seam": "sleeve"}, "No piece has an edge named sleeve"),
            ({"seam": "side", "give": "neck"}, "does not end at an edge named neck"),
            ({"seam": "side", "keep": ("collar",)}, "No piece of this seam is called collar"),
            ({"seam": "side", "ease": (read_ease("collar=4mm"),)}, "No piece of this seam is called collar"),
            ({"seam": "side", "ease": (read_ease("back=4mm between 30% and 30%"),)}, "two different places"),
            ({"seam": "side", "blend": 0.0}, "A blend is a length above zero"),
            ({"seam": "waist"}, "waist go on from piece to piece and are not sewn"),
            ({"seam": "hem"}, "hem go on from piece to piece and are not sewn"),
        ],
    )
    def test_one_sentence(self, how, said):
        pattern = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
        with pytest.raises(ParameterError, match=said):
            true(pattern, Trueing(**how))
