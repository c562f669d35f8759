"""Creases run along the grain to the other side or into a dart; a fold's bracket points at the fold."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.kernel.length import path_length, point_at_share
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Dart, Edge, Piece
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.pressing_lines import FOLD_INSET, crease_line, crease_way, fold_lines
from crossgrain.model.marking.sewing_marks import Crease
from pieces import against, turned, upright_pieces


def leg(**more):
    lines = Path.polygon([(0.0, 0.0), (200.0, 0.0), (200.0, 900.0), (0.0, 900.0)]).segments
    names = ("waist", "side", "hem", "centre")
    edges = tuple(Edge(name=name, line=Path((line,))) for name, line in zip(names, lines, strict=True))
    return Piece(id="leg", edges=edges, **more)


@given(turned(upright_pieces()), st.floats(0.2, 0.8), st.floats(0.05, 1.0))
@settings(max_examples=30)
def test_a_crease_runs_along_the_grain_from_its_place_so_much_of_its_way(piece, share, reach):
    whole, part = (crease_line(piece, Crease(edge="hem", share=share, reach=one)) for one in (1.0, reach))
    start = point_at_share(piece.edge("hem").line, share)
    assert part.start == pytest.approx(start, abs=1e-6)
    assert path_length(part) == pytest.approx(reach * path_length(whole), abs=1e-6)
    x, y = part.end[0] - start[0], part.end[1] - start[1]
    assert abs(x * piece.grain[1] - y * piece.grain[0]) <= 1e-6
    assert nearest(piece.line, whole.end).distance <= 1e-6
    assert math.dist(whole.start, whole.end) > 500.0


@given(turned(upright_pieces()), st.floats(0.2, 0.8))
@settings(max_examples=20)
def test_drawn_the_other_way_round_it_is_the_same_line(piece, share):
    here, there = (
        crease_line(one, Crease(edge="hem", share=at)) for one, at in ((piece, share), (against(piece), 1.0 - share))
    )
    assert (there.start, there.end) == (pytest.approx(here.start, abs=1e-6), pytest.approx(here.end, abs=1e-6))


@given(turned(upright_pieces(darts=True)), st.floats(-1.9, 1.9))
@settings(max_examples=20)
def test_a_crease_below_a_dart_ends_at_it(piece, beside):
    [dart] = piece.darts
    hem, (_first, tip, _last) = piece.edge("hem").line, dart_points(piece, dart)
    (x, y), (gx, gy) = hem.start, piece.grain
    ux, uy = hem.end[0] - x, hem.end[1] - y
    # The place on the hem straight below the tip: the hem is straight.
    share = ((tip[0] - x) * gy - (tip[1] - y) * gx) / (ux * gy - uy * gx) + beside / math.hypot(ux, uy)
    line = crease_line(piece, Crease(edge="hem", share=share))
    assert math.dist(line.end, tip) <= 2.0


def test_a_crease_through_a_wide_dart_ends_where_it_meets_its_leg():
    piece = leg(darts=(Dart(edge="waist", share=0.4, width=40.0, depth=100.0),))
    line = crease_line(piece, Crease(edge="hem", share=0.55))  # at x 90, half way between axis and end of the mouth
    assert line.end == pytest.approx((90.0, 50.0), abs=1e-9)


def test_from_the_waist_it_runs_down():
    assert crease_way(leg(), Crease(edge="waist", share=0.25)) == ((50.0, 0.0), (50.0, 900.0))


def test_along_the_grain_there_is_no_way_in():
    piece = replace(leg(), grain=(1.0, 0.0))
    way = crease_way(piece, Crease(edge="side"))
    assert way == (pytest.approx((200.0, 450.0)), pytest.approx((0.0, 450.0)))
    tilted = replace(leg(), grain=(math.sin(-0.1), math.cos(-0.1)))
    assert crease_line(tilted, Crease(edge="hem", share=0.0)) is None  # the grain leads out of the corner


def test_a_fold_has_a_bracket_inside_with_arrows_at_its_ends():
    bracket, first, last = fold_lines(leg(cut=CutInstruction(on_fold="centre")))
    assert bracket.nodes == (
        pytest.approx((0.0, 765.0)),
        pytest.approx((FOLD_INSET, 765.0)),
        pytest.approx((FOLD_INSET, 135.0)),
        pytest.approx((0.0, 135.0)),
    )
    assert first.nodes[1] == pytest.approx((0.0, 765.0))
    assert last.nodes[1] == pytest.approx((0.0, 135.0))
    for arrow in (first, last):
        assert {round(x, 9) for x, _y in (arrow.nodes[0], arrow.nodes[2])} == {5.0}


def test_without_a_fold_there_is_no_bracket():
    assert fold_lines(leg()) == ()
