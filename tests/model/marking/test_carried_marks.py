"""Marks are carried with the edges they stand on, whatever kind they are of, and keep what they are."""

import math
from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.length import point_at_share
from crossgrain.kernel.path import Path
from crossgrain.model import Dart, Edge, Hold, Notch, Piece
from crossgrain.model.marking.carried_marks import with_marks_carried
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.sewing_marks import Button, Buttonhole, Crease, Loop, Topstitching
from crossgrain.model.moved_piece import moved_piece
from crossgrain.model.piece import MARKS
from pieces import turned, upright_pieces

shares = st.floats(0.15, 0.85)
PLACES = {"share", "start", "end"}


@st.composite
def dressed(draw):
    """Draw a leg with a mark of every kind, turned or mirrored."""
    leg = draw(turned(upright_pieces()))
    button = {"edge": "waist", "share": draw(shares), "diameter": 15.0, "thickness": 3.0, "inset": 12.0}
    return replace(
        leg,
        notches=(Notch(edge="side", share=draw(shares), count=3, kind="V"), Notch(edge="waist", share=0.3, kind="T")),
        darts=(Dart(edge="waist", share=0.5, width=10.0, depth=70.0, drill=12.0),),
        holds=(Hold(edge="centre", width=5.0, start=0.1, end=0.9),),
        creases=(Crease(edge="hem", share=draw(shares), reach=0.8),),
        loops=(Loop(edge="waist", share=draw(shares), width=12.0),),
        buttons=(Button(**button),),
        buttonholes=(Buttonhole(**button, lie="along"),),
        topstitching=(Topstitching(edge="centre", width=35.0, start=1.0, end=draw(st.floats(0.1, 0.5))),),
    )


def assert_kept(one: Piece, other: Piece, besides=frozenset()):
    for kind in MARKS:
        for mine, theirs in zip(getattr(one, kind), getattr(other, kind), strict=True):
            for field in fields(mine):
                if field.name not in besides:
                    value = getattr(theirs, field.name)
                    near = pytest.approx(value, abs=1e-3) if isinstance(value, float) else value
                    assert getattr(mine, field.name) == near, (kind, field.name)


def linear(affine):
    """An affine map as a map of the plane."""

    def move(point, direction):
        x, y, u, v = point.real, point.imag, direction.real, direction.imag
        a = affine
        return (
            a.a * x + a.c * y + a.e + 1j * (a.b * x + a.d * y + a.f),
            a.a * u + a.c * v + 1j * (a.b * u + a.d * v),
        )

    return move


@given(dressed(), st.floats(-math.pi, math.pi), st.booleans(), st.floats(-300.0, 300.0))
@settings(max_examples=15)
def test_moved_turned_and_mirrored_every_mark_is_what_it_was(piece, angle, mirrored, dx):
    affine = (
        Affine.rotation(angle).then(Affine.scaling(-1.0 if mirrored else 1.0, 1.0)).then(Affine.translation(dx, dx))
    )
    grain = affine.of_vector(piece.grain)
    assert_kept(replace(moved_piece(piece, linear(affine)), grain=grain), piece)


@given(dressed(), st.floats(0.7, 1.3))
@settings(max_examples=15)
def test_scaled_every_mark_keeps_its_share_and_its_lengths(piece, factor):
    assert_kept(moved_piece(piece, linear(Affine.scaling(factor, factor))), piece, {"depth"})


@given(dressed(), st.floats(0.0, 0.3))
@settings(max_examples=15)
def test_where_an_edge_is_stretched_unevenly_its_marks_move_with_their_place_and_the_crease_stays_in_the_middle(
    piece, amount
):
    box = np.array(piece.line.nodes)
    middle, half = box[:, 0].mean(), np.ptp(box[:, 0])

    def move(point, direction):
        x = (point.real - middle) / half
        return point + amount * half * x * x * x, direction + 3.0 * amount * x * x * direction.real

    new = moved_piece(piece, move)
    for kind in ("notches", "loops", "buttons", "buttonholes"):
        for old, now in zip(getattr(piece, kind), getattr(new, kind), strict=True):
            before, _slope = move(complex(*point_at_share(piece.edge(old.edge).line, old.share)), 1.0 + 0.0j)
            assert abs(complex(*point_at_share(new.edge(now.edge).line, now.share)) - before) <= 0.05
    assert new.creases == piece.creases
    assert_kept(new, piece, PLACES | {"depth", "lean_rad"})


def test_what_lay_at_an_end_of_an_edge_still_does():
    lines = Path.polygon([(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)]).segments
    edges = tuple(
        Edge(name=name, line=Path((line,))) for name, line in zip(("waist", "end", "top", "front"), lines, strict=True)
    )
    piece = Piece(
        id="band",
        edges=edges,
        loops=(Loop(edge="waist", share=1.0),),
        topstitching=(Topstitching(edge="front", width=20.0, start=0.0, end=1.0),),
    )
    new = with_marks_carried(piece, edges, lambda edge, share: (1e3, 1e3), lambda dart: dart_points(piece, dart)[1])
    assert (new.loops, new.topstitching) == (piece.loops, piece.topstitching)
