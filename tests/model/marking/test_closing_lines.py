"""Drill holes, loops, buttons and buttonholes lie where they are said to lie, and are as large."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.checks.inside import is_inside
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.length import path_length, point_at_share
from crossgrain.kernel.path import Path
from crossgrain.model import Dart, Edge, Piece
from crossgrain.model.marking.closing_lines import (
    SHANK,
    button_lines,
    buttonhole_ends,
    buttonhole_lines,
    drill_lines,
    drill_point,
    loop_length,
    loop_lines,
    loop_strip,
)
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.sewing_marks import Button, Buttonhole, Loop
from pieces import turned, upright_pieces

LINES = Path.polygon([(0.0, 0.0), (400.0, 0.0), (400.0, 40.0), (0.0, 40.0)]).segments
BAND = Piece(
    id="band",
    edges=tuple(
        Edge(name=name, line=Path((line,))) for name, line in zip(("waist", "end", "top", "front"), LINES, strict=True)
    ),
)
sizes = st.floats(2.0, 30.0)
shares = st.floats(0.1, 0.9)


@given(turned(upright_pieces(darts=True)), st.floats(1.0, 50.0))
@settings(max_examples=30)
def test_a_drill_hole_lies_short_of_the_tip_between_the_legs(piece, drill):
    [dart] = piece.darts
    dart = Dart(
        edge=dart.edge, share=dart.share, width=dart.width, depth=dart.depth, lean_rad=dart.lean_rad, drill=drill
    )
    first, tip, last = dart_points(piece, dart)
    hole = drill_point(piece, dart)
    assert math.dist(hole, tip) == pytest.approx(drill, abs=1e-9)
    assert math.dist(hole, tip) + math.dist(hole, [(a + b) / 2 for a, b in zip(first, last, strict=True)]) == (
        pytest.approx(dart.depth, abs=1e-9)
    )
    [ring] = drill_lines(piece, dart)
    box = bounds(ring)
    assert ((box.left + box.right) / 2.0, (box.top + box.bottom) / 2.0) == pytest.approx(hole, abs=1e-3)


def test_without_a_distance_nothing_is_drilled():
    dart = Dart(edge="waist", share=0.5, width=20.0, depth=30.0)
    assert drill_lines(BAND, dart) == ()


@given(turned(upright_pieces()), st.sampled_from(["waist", "side", "hem"]), shares, sizes, sizes, sizes)
@settings(max_examples=30)
def test_a_button_lies_inside_its_edge_and_its_hole_is_as_long_as_it_is_wide_and_thick(
    piece, edge, share, diameter, thickness, inset
):
    sizes = {"edge": edge, "share": share, "diameter": diameter, "thickness": thickness, "inset": inset}
    ring, *_cross = button_lines(piece, Button(**sizes))
    box = bounds(ring)
    middle = ((box.left + box.right) / 2.0, (box.top + box.bottom) / 2.0)
    foot = point_at_share(piece.edge(edge).line, share)
    assert math.dist(middle, foot) == pytest.approx(inset, abs=1e-3)
    assert is_inside(piece.line, middle)
    assert (box.width, box.height) == (pytest.approx(diameter, abs=1e-2), pytest.approx(diameter, abs=1e-2))
    for lie in ("across", "along"):
        start, end = buttonhole_ends(piece, Buttonhole(**sizes, lie=lie))
        # Common practice: a buttonhole is as long as the button is wide and thick.
        assert math.dist(start, end) == pytest.approx(diameter + thickness, abs=1e-9)
        if lie == "across":  # in line with the edge's place, from 3 mm outside the button's middle
            assert math.dist(start, foot) == pytest.approx(inset - min(SHANK, inset), abs=1e-3)
            assert math.dist(end, foot) == pytest.approx(math.dist(start, foot) + diameter + thickness, abs=1e-3)
        else:
            assert [(a + b) / 2.0 for a, b in zip(start, end, strict=True)] == pytest.approx(middle, abs=1e-3)


def test_a_buttonhole_by_hand():
    hole = Buttonhole(edge="front", share=0.5, diameter=15.0, thickness=3.0, inset=12.0)
    slit, first, last = buttonhole_lines(BAND, hole)
    assert slit.nodes == (pytest.approx((9.0, 20.0)), pytest.approx((27.0, 20.0)))
    assert {round(y, 9) for _x, y in (*first.nodes, *last.nodes)} == {18.0, 22.0}


def test_a_loop_covers_the_band_and_takes_its_turnings():
    loop = Loop(edge="waist", share=0.25, width=12.0)
    [outline] = loop_lines(BAND, loop)
    assert set(outline.nodes) == {(94.0, 0.0), (106.0, 0.0), (106.0, 40.0), (94.0, 40.0)}
    assert loop_length(BAND, loop) == pytest.approx(40.0)
    assert loop_strip(BAND, loop) == pytest.approx(70.0)
    assert loop_strip(BAND, Loop(edge="waist", share=0.25, length=60.0)) == pytest.approx(90.0)


@given(turned(upright_pieces()), shares, sizes, st.floats(5.0, 60.0))
@settings(max_examples=20)
def test_a_loop_is_as_wide_and_as_long_as_is_said(piece, share, width, length):
    [outline] = loop_lines(piece, Loop(edge="side", share=share, width=width, length=length))
    assert sorted(path_length(Path((side,))) for side in outline.segments) == pytest.approx(
        sorted([width, width, length, length])
    )
