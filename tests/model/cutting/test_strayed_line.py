"""A cut line that was drawn lies at its width; one left behind when the outline was edited does not."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path as FilePath

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import Pattern
from crossgrain.model.cutting.strayed_line import strayed_edges
from crossgrain.model.cutting.width import Width
from crossgrain.operations.allowance import Allowance, allow, strip
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from pieces import one, turned, upright_pieces

SAMPLES = FilePath(__file__).parent.parent.parent.parent / "samples"


@settings(max_examples=10, deadline=None)
@given(turned(upright_pieces(darts=True)), st.floats(0.0, 15.0), st.floats(0.0, 40.0))
def test_what_was_drawn_has_not_strayed(piece, width, hem):
    edges = (("hem", Width.of(hem)), ("side", Width(stations=((0.0, width), (1.0, width + 8.0)))))
    [drawn] = allow(one(piece), Allowance(width=width, edges=edges)).value.pieces
    assert list(strayed_edges(drawn)) == []


@settings(max_examples=10, deadline=None)
@given(upright_pieces(), st.floats(3.0, 15.0), st.floats(2.0, 20.0))
def test_an_edge_that_was_moved_is_told_and_the_others_are_not(piece, width, by):
    """The hem is moved down by hand, and the sides are drawn on to it."""
    [drawn] = allow(one(piece), Allowance(width=width)).value.pieces
    lines = {edge.name: edge.line for edge in drawn.edges}
    lower = lines["hem"].mapped(Affine.translation(0.0, by))
    lines["side"] = Path((*lines["side"].segments, Line(lines["hem"].start, lower.start)))
    lines["inseam"] = Path((Line(lower.end, lines["hem"].end), *lines["inseam"].segments))
    lines["hem"] = lower
    edited = replace(drawn, edges=tuple(replace(edge, line=lines[edge.name]) for edge in drawn.edges))
    [found] = strayed_edges(edited)
    assert found.edge == "hem"
    assert found.width == pytest.approx(width)
    assert found.found == pytest.approx(abs(width - by), abs=0.02)


@pytest.mark.parametrize("name", ["trousers.svg", "trousers-untrued.svg"])
def test_the_samples_have_not_strayed(name):
    pattern = pattern_of(read_drawing(SAMPLES / name))
    widths = (("hem", Width.of(30.0)), ("centre", Width.of(15.0)), ("seat", Width(stations=((0.0, 25.0), (1.0, 10.0)))))
    for piece in allow(pattern, Allowance(width=10.0, edges=widths)).value.pieces:
        assert list(strayed_edges(piece)) == []


def test_inside_a_cut_line_it_is_the_stitch_line_that_is_looked_for():
    [front] = [
        piece for piece in pattern_of(read_drawing(SAMPLES / "trousers.svg")).pieces if piece.id == "front-right"
    ]
    cut = replace(front, outline="cut")
    [stripped] = strip(Pattern(pieces=(cut,)), Allowance(width=10.0)).value.pieces
    assert list(strayed_edges(stripped)) == []
    assert len(list(strayed_edges(replace(stripped, counterpart=front.line)))) == len(front.edges)


def test_without_widths_or_a_line_there_is_nothing_to_tell():
    [front, *_rest] = pattern_of(read_drawing(SAMPLES / "trousers.svg")).pieces
    assert list(strayed_edges(front)) == []
    assert list(strayed_edges(replace(front, counterpart=front.line))) == []
