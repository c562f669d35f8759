"""The map that narrows a piece: its derivative is its own, the grain is kept, strips move as they are."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import Dart, Edge, Hold, Piece
from crossgrain.model.narrowing import Narrowing, widest
from outline_widths import widths
from pieces import held_pieces, pieces, upright_pieces

takings = st.floats(0.02, 0.2)
few = settings(max_examples=25)


def rectangle(width, height, **facts):
    corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
    names = ("top", "right", "bottom", "left")
    edges = tuple(Edge(name=name, line=Path((Line(corners[k], corners[(k + 1) % 4]),))) for k, name in enumerate(names))
    return Piece(id="band", edges=edges, **facts)


def spread(piece, count=400):
    """Points all over a piece's box and a little beyond."""
    x, y = np.array(piece.line.nodes).T
    rng = np.random.default_rng(7)
    return rng.uniform(x.min() - 20.0, x.max() + 20.0, count) + 1j * rng.uniform(y.min(), y.max(), count)


@few
@given(held_pieces(), takings, st.floats(0.0, 6.28))
def test_directions_are_the_derivative_of_the_places(piece, by, heading):
    move, step = Narrowing(piece, 1.0 - by), 1e-4
    points, way = spread(piece), np.exp(1j * heading)
    directions = np.full_like(points, way)
    (ahead, _), (behind, _) = move(points + step * way, directions), move(points - step * way, directions)
    _there, found = move(points, directions)
    # Not where a side of a hold lies between the two, nor where the factor's cubics join.
    off = np.abs((ahead - behind) / (2.0 * step) - found)
    assert np.quantile(off, 0.95) < 1e-4
    assert off.max() < by * 6.0


@few
@given(held_pieces(), takings)
def test_nothing_moves_along_the_grain(piece, by):
    points = spread(piece)
    assert Narrowing(piece, 1.0 - by)(points, np.ones_like(points))[0].imag == pytest.approx(points.imag, abs=1e-9)


@few
@given(held_pieces(), takings)
def test_what_lies_left_stays_left(piece, by):
    move = Narrowing(piece, 1.0 - by)
    low, high = piece.edge("hem").line.start[1] * 0.02, piece.edge("hem").line.start[1] - 1.0
    for y in np.linspace(low, high, 25):
        row = np.linspace(-200.0, 200.0, 200) + 1j * y
        assert (np.diff(move(row, np.ones_like(row))[0].real) > 0.0).all()


def test_a_hold_moves_as_it_is_and_the_rest_takes_its_share():
    """100 mm less 10 % is 90 mm; of it 20 mm are held, so 80 mm become 70 mm."""
    move = Narrowing(rectangle(100.0, 400.0, holds=(Hold(edge="left", width=20.0),)), 0.9)
    row = np.array([0.0, 20.0, 60.0, 100.0]) + 200j
    left, inner, middle, right = move(row, np.ones_like(row))[0].real
    assert inner - left == pytest.approx(20.0, abs=1e-9)
    assert right - left == pytest.approx(90.0, abs=1e-6)
    assert middle - inner == pytest.approx(40.0 * 70.0 / 80.0, abs=1e-6)


def test_two_holds_are_both_kept():
    holds = (Hold(edge="left", width=20.0), Hold(edge="right", width=5.0))
    move = Narrowing(rectangle(100.0, 400.0, holds=holds), 0.9)
    row = np.array([0.0, 20.0, 95.0, 100.0]) + 200j
    left, inner, outer, right = move(row, np.ones_like(row))[0].real
    assert (inner - left, right - outer, right - left) == pytest.approx((20.0, 5.0, 90.0), abs=1e-6)


@pytest.mark.parametrize(("edge", "share"), [("top", 0.5), ("bottom", 0.5)])
def test_a_dart_holds_its_intake_at_the_mouth_and_nothing_past_its_tip(edge, share):
    dart = Dart(edge=edge, share=share, width=20.0, depth=100.0)
    piece = rectangle(200.0, 400.0, darts=(dart,))
    move = Narrowing(piece, 0.9)
    mouth, past = (0.0, 150.0) if edge == "top" else (400.0, 250.0)
    for y, held in ((mouth, 20.0), (past, 18.0)):
        row = np.array([0.0, 90.0, 110.0, 200.0]) + 1j * y
        left, first, last, right = move(row, np.ones_like(row))[0].real
        assert last - first == pytest.approx(held, abs=1e-6)
        assert right - left == pytest.approx(180.0, abs=0.01)


def test_the_anchor_does_not_move():
    piece = rectangle(100.0, 400.0, holds=(Hold(edge="left", width=20.0),))
    for anchor, x in (("left", 0.0), ("right", 100.0), ("", 50.0)):
        move = Narrowing(piece, 0.9, anchor)
        at = np.array([x + 200j])
        assert move(at, np.ones_like(at))[0].real == pytest.approx([x], abs=1e-9)
        assert move.anchor == pytest.approx(x)


@given(pieces())
def test_the_greatest_width_is_what_shapely_finds_at_no_level_to_exceed(piece):
    gx, gy = piece.grain
    levels = np.array([y * gy + x * gx for x, y in piece.line.nodes])
    found = widest(piece)
    assert found >= np.nanmax(widths(piece, np.linspace(levels.min() + 1e-3, levels.max() - 1e-3, 60))) - 0.01
    across = [x * gy - y * gx for segment in piece.line.segments for x, y in segment.controls]
    assert found <= max(across) - min(across) + 1e-6


@given(upright_pieces())
def test_a_leg_is_widest_at_the_hip_or_where_its_curves_bulge_near_it(piece):
    hip = piece.edge("side").line.nodes[1]
    there = float(widths(piece, [hip[1]])[0])
    assert there - 0.01 <= widest(piece) <= 1.05 * there
