"""The line beside an opening keeps its width, curves to the edge, and bounds its template."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.errors import CollapseError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.length import path_length, point_at_share
from crossgrain.kernel.meetings.crossing import is_simple
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import Edge, Piece
from crossgrain.model.marking.sewing_marks import Topstitching
from crossgrain.model.marking.topstitching_line import template, topstitching_line
from pieces import against, moved, turned, upright_pieces

widths = st.floats(20.0, 45.0)


def front(slope=0.0, bow=0.0):
    """A front, its centre on the left and bowed outwards, its waist sloping down to it."""
    centre = Cubic((0.0, 160.0), (-bow, 110.0), (-bow, 50.0), (0.0, slope))
    lines = [Line((0.0, slope), (200.0, 0.0)), Line((200.0, 0.0), (200.0, 900.0)), Line((200.0, 900.0), (0.0, 900.0))]
    lines += [Line((0.0, 900.0), (0.0, 160.0)), centre if bow else Line(centre.start, centre.end)]
    names = ("waist", "side", "hem", "inseam", "centre")
    edges = tuple(Edge(name=name, line=Path((line,))) for name, line in zip(names, lines, strict=True))
    return Piece(id="front", edges=edges)


FLY = Topstitching(edge="centre", width=35.0, start=1.0, end=0.0)


# --- Laws --------------------------------------------------------------------------------------------------------


@given(st.floats(-20.0, 20.0), st.floats(0.0, 12.0), widths, st.floats(0.0, 0.3))
@settings(max_examples=30)
def test_down_to_its_bend_it_keeps_its_width_and_ends_on_the_edge(slope, bow, width, end):
    piece = front(slope, bow)
    line = topstitching_line(piece, replace(FLY, width=width, end=end))
    centre = piece.edge("centre").line
    *straight, curve = line.segments
    for part in straight:
        for t in (0.25, 0.5, 0.75, 1.0):
            away = nearest(centre, part.point(t)).distance
            assert away == pytest.approx(width, abs=0.02) or part.point(t)[1] < slope + width * 0.6
    assert curve.end == pytest.approx(point_at_share(centre, end), abs=1e-6)
    assert nearest(piece.edge("waist").line, line.start).distance <= 1e-6
    # It comes to the edge square.
    found = nearest(centre, curve.end)
    u, v = centre.segments[0].derivative(found.place.t)
    x, y = curve.end_tangent
    assert abs(u * x + v * y) <= 1e-6 * math.hypot(u, v)


@given(st.floats(-20.0, 20.0), st.floats(0.0, 12.0), widths, st.floats(0.0, 0.3))
@settings(max_examples=30)
def test_the_template_is_the_cloth_between_edge_and_line(slope, bow, width, end):
    piece = front(slope, bow)
    stitching = replace(FLY, width=width, end=end)
    card, line = template(piece, stitching), topstitching_line(piece, stitching)
    assert card.closed
    assert is_simple(card)
    for node in card.nodes:
        assert min(nearest(piece.line, node).distance, nearest(line, node).distance) <= 1e-6
    run = path_length(piece.edge("centre").line) * (1.0 - end)
    assert 0.6 * run * width <= abs(signed_area(card)) <= 1.1 * run * width


@given(turned(upright_pieces()), widths, st.floats(0.0, 0.4))
@settings(max_examples=20)
def test_drawn_the_other_way_round_it_is_the_same(piece, width, end):
    piece = replace(piece, topstitching=())
    other = against(piece)
    here = topstitching_line(piece, Topstitching(edge="centre", width=width, start=1.0, end=end))
    there = topstitching_line(other, Topstitching(edge="centre", width=width, start=0.0, end=1.0 - end))
    for p, q in zip(here.nodes, there.nodes, strict=True):
        assert q == pytest.approx(p, abs=1e-3)
    areas = [
        abs(signed_area(template(one, Topstitching(edge="centre", width=width, start=start, end=stop))))
        for one, start, stop in ((piece, 1.0, end), (other, 0.0, 1.0 - end))
    ]
    assert areas[1] == pytest.approx(areas[0], rel=1e-6)


@given(st.floats(-math.pi, math.pi), st.booleans(), widths)
@settings(max_examples=20)
def test_it_turns_and_mirrors_with_the_piece(angle, mirrored, width):
    affine = Affine.rotation(angle).then(Affine.scaling(-1.0 if mirrored else 1.0, 1.0))
    piece, stitching = front(6.0, 4.0), replace(FLY, width=width)
    here, there = template(piece, stitching), template(moved(piece, affine), stitching)
    assert abs(signed_area(there)) == pytest.approx(abs(signed_area(here)), rel=1e-6)
    for node in here.nodes:
        assert nearest(there, affine.of(node)).distance <= 1e-4


# --- By hand -----------------------------------------------------------------------------------------------------


def test_a_fly_by_hand():
    line = topstitching_line(front(), FLY)
    assert line.nodes == (pytest.approx((35.0, 0.0)), pytest.approx((35.0, 114.5)), pytest.approx((0.0, 160.0)))
    assert signed_area(template(front(), FLY)) == pytest.approx(35.0 * 114.5 + 35.0 * 45.5 * 0.82, rel=0.02)


def test_from_the_middle_of_an_edge_the_template_closes_square_to_it():
    card = template(front(), replace(FLY, start=0.75))
    assert (0.0, 40.0) in {(round(x, 6), round(y, 6)) for x, y in card.nodes}
    assert (35.0, 40.0) in {(round(x, 6), round(y, 6)) for x, y in card.nodes}


def test_on_a_short_edge_it_is_all_curve():
    line = topstitching_line(front(), replace(FLY, end=0.8))
    assert len(line.segments) == 1
    assert line.start == pytest.approx((35.0, 0.0))
    assert line.end == pytest.approx((0.0, 32.0))


def test_an_edge_that_bends_more_than_the_width_is_refused():
    bowed = Cubic((0.0, 160.0), (-60.0, 100.0), (-60.0, 60.0), (0.0, 0.0))
    piece = front()
    bent = replace(piece, edges=(*piece.edges[:-1], Edge(name="centre", line=Path((bowed,)))))
    with pytest.raises(CollapseError):
        topstitching_line(bent, replace(FLY, width=100.0))
