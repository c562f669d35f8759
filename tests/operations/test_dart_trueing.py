"""Laws of dart trueing: legs equal, the edge smooth when folded, the mouth as wide as it was, the rest untouched."""

import math
from dataclasses import replace
from pathlib import Path as File

import numpy as np
import pytest
from hypothesis import given

from crossgrain.checks.darts import check_darts
from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.length import path_length
from crossgrain.model import Pattern
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.operations.dart_trueing import DartTrueing, true_darts
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from pieces import against, moved, one, turned, upright_pieces

SAMPLES = File(__file__).parent.parent.parent / "samples"


def trued(piece, **how):
    [new] = true_darts(one(piece), DartTrueing(**how)).value.pieces
    return new


def folded_angle(piece):
    """The angle of the cloth when the dart is folded, degrees, from dense samples of the outline; numpy only."""
    [dart] = piece.darts
    first, tip, last = (complex(*point) for point in dart_points(piece, dart))
    points = np.array(
        [complex(*s.point(t)) for s in piece.edge(dart.edge).line.segments for t in np.linspace(0.0, 1.0, 20001)]
    )
    at, to = np.argmin(abs(points - first)), len(points) - 1 - np.argmin(abs(points - last)[::-1])
    before = next(p for p in points[at::-1] if abs(p - first) > 0.02)
    after = next(p for p in points[to:] if abs(p - last) > 0.02)
    return sum(
        abs(math.degrees(np.angle((edge - mouth) / (tip - mouth)))) for edge, mouth in ((before, first), (after, last))
    )


class TestTrued:
    @given(turned(upright_pieces(darts=True)))
    def test_legs_are_equal_and_the_folded_edge_is_smooth(self, piece):
        new = trued(piece)
        first, tip, last = dart_points(new, new.darts[0])
        assert abs(math.dist(first, tip) - math.dist(last, tip)) <= 0.5
        assert folded_angle(new) == pytest.approx(180.0, abs=0.5)
        assert check_darts(new).findings == ()

    @given(turned(upright_pieces(darts=True)))
    def test_the_mouth_is_straight_and_as_wide(self, piece):
        new = trued(piece)
        first, _tip, last = dart_points(new, new.darts[0])
        assert math.dist(first, last) == pytest.approx(piece.darts[0].width, abs=1e-6)
        assert new.darts[0].width == piece.darts[0].width

    @given(turned(upright_pieces(darts=True, notches=True)))
    def test_other_edges_stay_exactly_and_so_do_the_ends(self, piece):
        new = trued(piece)
        for old, now in zip(piece.edges, new.edges, strict=True):
            if old.name != "waist":
                assert now == old
            assert (now.line.start, now.line.end) == (old.line.start, old.line.end)

    @given(upright_pieces(darts=True))
    def test_twice_is_once(self, piece):
        once = trued(piece)
        assert trued(once) == once

    @given(upright_pieces(darts=True))
    def test_mirrored_turned_and_reversed_it_is_the_same_line(self, piece):
        lies = Affine.scaling(-1.0, 1.0).then(Affine.rotation(0.7))
        there = moved(trued(piece), lies)
        for now in (trued(moved(piece, lies)), against(trued(against(moved(piece, lies))))):
            for one_, other in zip(there.edges, now.edges, strict=True):
                assert path_length(one_.line) == pytest.approx(path_length(other.line), abs=1e-6)
                for p, q in zip(one_.line.nodes, other.line.nodes, strict=True):
                    assert math.dist(p, q) < 1e-6

    @given(upright_pieces(darts=True))
    def test_few_nodes_more(self, piece):
        assert len(trued(piece).edge("waist").line.segments) <= len(piece.edge("waist").line.segments) + 5


class TestSamples:
    def test_the_untrued_back(self):
        pattern = pattern_of(read_drawing(SAMPLES / "trousers-untrued.svg"))
        new = true_darts(pattern, DartTrueing()).value
        assert folded_angle(pattern.piece("back")) > 189.0
        assert folded_angle(new.piece("back")) == pytest.approx(180.0, abs=0.1)
        assert [piece.id for piece in new.pieces if piece != pattern.piece(piece.id)] == [new.piece("back").id]

    def test_what_is_true_stays_exactly(self):
        pattern = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
        assert true_darts(pattern, DartTrueing()).value == pattern


class TestRefusals:
    def test_no_dart(self):
        with pytest.raises(ParameterError, match="No piece has a dart"):
            true_darts(Pattern(), DartTrueing())

    @pytest.mark.parametrize("blend", [0.0, -1.0, math.inf, math.nan])
    def test_a_blend_that_is_none(self, blend):
        with pytest.raises(ParameterError, match="A blend is a length above zero"):
            DartTrueing(blend=blend)

    def test_a_mouth_beyond_its_edge(self):
        back = pattern_of(read_drawing(SAMPLES / "trousers.svg")).piece("back")
        off = replace(back, darts=(replace(back.darts[0], share=0.01),))
        with pytest.raises(ParameterError, match="reaches beyond its edge"):
            trued(off)
