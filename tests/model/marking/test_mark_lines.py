"""The lines by which marks are seen lie where the marks say."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Dart, Edge, Hold, Notch, Piece
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.mark_lines import MARK_KINDS, mark_lines
from crossgrain.model.marking.notch_lines import NOTCH_DEPTH, NOTCH_GAP
from crossgrain.model.marking.sewing_marks import Button, Buttonhole, Crease, Loop, Topstitching
from pieces import against

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


def all_marks(share, lean):
    """A mark of every kind."""
    return {
        "notches": (
            Notch(edge="side", share=share, count=3),
            Notch(edge="hem", share=share, kind="V"),
            Notch(edge="side", share=share, kind="T"),
        ),
        "darts": (Dart(edge="waist", share=0.5, width=20.0, depth=110.0, lean_rad=lean, drill=10.0),),
        "holds": (Hold(edge="centre", width=15.0, start=0.2, end=0.9),),
        "cut": CutInstruction(on_fold="centre"),
        "creases": (Crease(edge="hem", share=share, reach=0.7),),
        "loops": (Loop(edge="side", share=share), Loop(edge="side", share=share, length=30.0)),
        "buttons": (Button(edge="waist", share=share, diameter=15.0, thickness=3.0, inset=12.0),),
        "buttonholes": (
            Buttonhole(edge="waist", share=share, diameter=15.0, thickness=3.0, inset=12.0),
            Buttonhole(edge="waist", share=share, diameter=15.0, thickness=3.0, inset=12.0, lie="along"),
        ),
        "topstitching": (Topstitching(edge="centre", width=35.0, start=1.0, end=share / 2.0),),
    }


moves = st.builds(
    lambda angle, mirrored, dx: (
        Affine.rotation(angle).then(Affine.scaling(-1.0 if mirrored else 1.0, 1.0)).then(Affine.translation(dx, 2 * dx))
    ),
    st.floats(-math.pi, math.pi),
    st.booleans(),
    st.floats(-500.0, 500.0),
)


@given(moves, st.floats(0.05, 0.95), st.floats(-0.4, 0.4))
@settings(max_examples=30)
def test_marks_move_and_mirror_with_the_piece(affine, share, lean):
    marks = all_marks(share, lean)
    here, there = mark_lines(piece(**marks)), mark_lines(piece(affine, **marks))
    assert {mark.kind for mark in here} == set(MARK_KINDS)
    for one, other in zip(here, there, strict=True):
        assert one.kind == other.kind
        # The two wings of an arrowhead, and the ends of a bar, may change sides; the nodes of a ring lie elsewhere.
        for where in (affine, *([affine_of_wings(one.line).then(affine)] if len(one.line.nodes) <= 3 else [])):
            if all(same_place(other.line, where.of(point)) for point in one.line.nodes):
                break
        else:
            pytest.fail(f"{one.kind} went elsewhere")


@given(st.floats(0.05, 0.95), st.floats(-0.4, 0.4))
@settings(max_examples=20)
def test_drawn_the_other_way_round_the_marks_lie_where_they_lay(share, lean):
    here = piece(**all_marks(share, lean))
    there = against(here)
    assert there != here
    drawn = [mark_lines(one) for one in (here, there)]
    for marks, others in (drawn, reversed(drawn)):
        for mark in marks:
            same = [other.line for other in others if other.kind == mark.kind]
            assert any(all(on(line, node) for node in mark.line.nodes) for line in same), mark.kind


def on(line, point):
    return any(math.dist(node, point) <= 1e-3 for node in line.nodes)


def affine_of_wings(line):
    """The mirror over a line through the middle of its ends that changes them."""
    (x, y), (u, v) = line.start, line.end
    turn = math.atan2(v - y, u - x)
    middle = ((x + u) / 2.0, (y + v) / 2.0)
    return Affine.rotation(-turn, middle).then(Affine.scaling(-1.0, 1.0, middle)).then(Affine.rotation(turn, middle))


def same_place(line, point):
    return any(math.dist(node, point) <= 1e-6 for node in line.nodes) or (
        line.closed and nearest(line, point).distance <= 2e-3
    )


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


@pytest.mark.parametrize(("share", "x"), [(0.5, 115.0), (0.52, 111.0), (0.48, 89.0), (0.4, 100.0)])
def test_the_grain_keeps_clear_of_a_crease(share, x):
    """The hem is named from the side to the centre: its share counts from the right."""
    shaft, *_heads = lines(piece(creases=(Crease(edge="hem", share=share),)), "grain")
    assert [shaft.start, shaft.end] == [pytest.approx((x, 125.0)), pytest.approx((x, 375.0))]
