"""Operations do to the drawings in this folder what they did when someone last looked at them."""

from __future__ import annotations

import numpy as np
import pytest

import drawing_scenes as scenes
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import parse_drawing, read_drawing

TOLERANCE = 1e-4


def controls(path):
    return np.array([segment.controls for segment in path.segments]).reshape(-1, 2)


def same(path, other):
    return controls(path).shape == controls(other).shape and np.abs(controls(path) - controls(other)).max() <= TOLERANCE


@pytest.mark.parametrize("name", scenes.SCENES)
class TestScene:
    @pytest.fixture
    def made(self, name):
        return pattern_of(parse_drawing(scenes.done(name), name=name))

    @pytest.fixture
    def after(self, name):
        return pattern_of(read_drawing(scenes.file(name, "after")))

    @pytest.fixture
    def before(self, name):
        return pattern_of(read_drawing(scenes.file(name, "before")))

    def test_pieces_are_drawn_as_they_were(self, made, after):
        assert [piece.id for piece in made.pieces] == [piece.id for piece in after.pieces]
        for piece, wanted in zip(made.pieces, after.pieces, strict=True):
            assert piece.edge_names == wanted.edge_names
            for edge in wanted.edges:
                assert same(piece.edge(edge.name).line, edge.line), (piece.id, edge.name)
                assert piece.edge(edge.name).allowance == edge.allowance
            assert (piece.counterpart is None) == (wanted.counterpart is None)
            assert wanted.counterpart is None or same(piece.counterpart, wanted.counterpart), piece.id

    def test_marks_are_where_they_were(self, made, after):
        for piece, wanted in zip(made.pieces, after.pieces, strict=True):
            assert piece.grain == pytest.approx(wanted.grain, abs=1e-6)
            assert [hold.width for hold in piece.holds] == pytest.approx([hold.width for hold in wanted.holds])
            for mark, other in zip(piece.notches + piece.darts, wanted.notches + wanted.darts, strict=True):
                assert mark.edge == other.edge
                assert mark.share == pytest.approx(other.share, abs=1e-6)
            for dart, other in zip(piece.darts, wanted.darts, strict=True):
                assert (dart.width, dart.depth) == pytest.approx((other.width, other.depth), abs=TOLERANCE)
                assert dart.lean_rad == pytest.approx(other.lean_rad, abs=1e-6)

    def test_something_was_done(self, before, after):
        """So that a renewal that did nothing is seen."""
        for piece, other in zip(before.pieces, after.pieces, strict=True):
            assert (other.counterpart is not None) or not same(piece.line, other.line)
