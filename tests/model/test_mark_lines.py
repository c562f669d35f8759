"""The lines by which marks are seen lie where the marks say."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.model import Dart, Edge, Hold, Notch, Piece
from crossgrain.model.mark_lines import NOTCH_DEPTH, NOTCH_GAP, dart_points, mark_lines

CORNERS = [(0.0, 0.0), (200.0, 0.0), (200.0, 500.0), (0.0, 500.0)]
NAMES = ("waist", "side", "hem", "centre")


def piece(affine=None, **marks):
    """A rectangle on its grain, mapped as a whole."""
    affine = affine or Affine()
    line = Path.polygon([affine.of(corner) for corner in CORNERS])
    edges = tuple(Edge(name=name, line=Path((segment,))) for name, segment in zip(NAMES, line.segments, strict=True))
    return Piece(id="p", edges=edges, grain=affine.of_vector((0.0, 1.0)), **marks)


def lines(drawn, kind):
    return [mark.line for mark in mark_lines(drawn) if mark.kind == kind]


moves = st.builds(
    lambda angle, mirrored, dx: (
        Affine.rotation(angle).then(Affine.scaling(-1.0 if mirrored else 1.0, 1.0)).then(Affine.translation(dx, 2 * dx))
    ),
    st.floats(-math.pi, math.pi),
    st.booleans(),
    st.floats(-500.0, 500.0),
)


@given(moves, st.floats(0.05, 0.95), st.floats(-0.4, 0.4))
def test_marks_move_and_mirror_with_the_piece(affine, share, lean):
    marks = {
        "notches": (Notch(edge="side", share=share, count=3),),
        "darts": (Dart(edge="waist", share=0.5, width=20.0, depth=110.0, lean_rad=lean),),
        "holds": (Hold(edge="centre", width=15.0, start=0.2, end=0.9),),
    }
    here, there = mark_lines(piece(**marks)), mark_lines(piece(affine, **marks))
    for one, other in zip(here, there, strict=True):
        assert one.kind == other.kind
        if one.kind != "grain":  # the two wings of an arrowhead change sides
            for p, q in zip(one.line.nodes, other.line.nodes, strict=True):
                assert q == pytest.approx(affine.of(p), abs=1e-6)


def test_notches_reach_inwards_and_stand_apart():
    single, *rest = lines(
        piece(notches=(Notch(edge="side", share=0.5), Notch(edge="side", share=0.5, count=2))), "notch"
    )
    assert single.nodes == ((200.0, 250.0), (200.0 - NOTCH_DEPTH, 250.0))
    assert [line.start[1] for line in rest] == pytest.approx([250.0 - NOTCH_GAP / 2.0, 250.0 + NOTCH_GAP / 2.0])


@pytest.mark.parametrize("share", [0.0, 1.0])
def test_a_notch_at_the_end_of_an_edge_stays_on_it(share):
    for line in lines(piece(notches=(Notch(edge="side", share=share, count=3),)), "notch"):
        assert 0.0 <= line.start[1] <= 500.0


def test_a_dart_opens_on_its_edge_and_leans_towards_the_end():
    upright = Dart(edge="waist", share=0.25, width=20.0, depth=110.0)
    assert dart_points(piece(), upright) == ((40.0, 0.0), (50.0, 110.0), (60.0, 0.0))
    leaning = Dart(edge="waist", share=0.25, width=20.0, depth=110.0, lean_rad=0.1)
    _first, tip, _last = dart_points(piece(), leaning)
    assert tip == pytest.approx((50.0 + 110.0 * math.sin(0.1), 110.0 * math.cos(0.1)))


def test_a_hold_is_a_strip_across_the_grain():
    [strip] = lines(piece(holds=(Hold(edge="centre", width=5.0, end=0.8),)), "hold")
    corners = ((0.0, 500.0), (5.0, 500.0), (5.0, 100.0), (0.0, 100.0))
    for node, corner in zip(strip.nodes, corners, strict=True):
        assert node == pytest.approx(corner)


def test_the_grain_is_an_arrow_through_the_middle():
    shaft, *heads = lines(piece(), "grain")
    assert [shaft.start, shaft.end] == [(100.0, 125.0), (100.0, 375.0)]
    assert [head.nodes[1] for head in heads] == [shaft.start, shaft.end]
