"""Laws of grading: named points exactly, nothing kinked or bent, widths that are held, and back again."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.curvature import node_turns
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import CutInstruction, Edge, Notch, Pattern, Piece
from crossgrain.model.girths import girth_along, girth_at
from crossgrain.model.levels import depths_of_levels
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.seams.pairing import pair_edges
from crossgrain.model.seams.walking import walk
from crossgrain.model.sizes.grade_directions import directions
from crossgrain.model.sizes.grade_point import GradePoint
from crossgrain.model.sizes.grade_rules import Shift, Toward
from crossgrain.operations.grading import Grading, grade
from graded import at, back, controls, corner, graded, skirt
from pieces import moved, one, turned, upright_pieces
from sewn import legs, sewn

CORNERS = (("waist", "side"), ("side", "hem"), ("hem", "inseam"), ("inseam", "centre"), ("centre", "waist"))
moves = st.floats(-12.0, 12.0).map(lambda by: round(by, 2))


@st.composite
def corner_shifts(draw, corners=CORNERS):
    chosen = draw(st.lists(st.sampled_from(corners), min_size=1, unique=True))
    return tuple(Shift(point=at(*names), along=draw(moves), across=draw(moves)) for names in chosen)


LEGS = turned(upright_pieces(holds=True, darts=True, notches=True))


class TestLaws:
    @given(LEGS, corner_shifts())
    @settings(max_examples=40)
    def test_named_corners_lie_where_they_are_told_to(self, piece, shifts):
        new = graded(piece, *shifts)
        across, down = directions(piece)
        for shift in shifts:
            old, now = (corner(one, shift.point.edge, shift.point.meets) for one in (piece, new))
            assert abs(now - old - across * shift.across - down * shift.along) < 1e-9

    @given(LEGS, corner_shifts())
    @settings(max_examples=40)
    def test_nodes_keep_their_number_and_kind(self, piece, shifts):
        new = graded(piece, *shifts)
        for before, after in zip(piece.edges, new.edges, strict=True):
            assert [type(s) for s in before.line.segments] == [type(s) for s in after.line.segments]

    @given(LEGS, corner_shifts())
    @settings(max_examples=40)
    def test_angles_stay_where_a_curve_can_turn_so_smooth_joins_stay_smooth(self, piece, shifts):
        before, after = (node_turns(one.line) for one in (piece, graded(piece, *shifts)))
        curved = [isinstance(segment, Cubic) for segment in piece.line.segments]
        for node, (was, now) in enumerate(zip(before, after, strict=True)):
            if curved[node] or curved[node - 1]:
                assert now == pytest.approx(was, abs=1e-9)

    @given(LEGS, corner_shifts())
    @settings(max_examples=40)
    def test_there_and_back_again(self, piece, shifts):
        again = graded(graded(piece, *shifts), *back(shifts))
        assert max(abs(p - q) for p, q in zip(controls(piece), controls(again), strict=True)) < 1e-6
        for kind in ("notches", "holds", "darts"):
            for old, new in zip(getattr(piece, kind), getattr(again, kind), strict=True):
                for field in ("share", "start", "end", "depth", "lean_rad"):
                    if hasattr(old, field):
                        assert getattr(new, field) == pytest.approx(getattr(old, field), abs=1e-7)

    @given(LEGS, corner_shifts())
    @settings(max_examples=25)
    def test_mirrored_stays_mirrored(self, piece, shifts):
        mirror = Affine.scaling(-1.0, 1.0)
        one_way, other = moved(graded(piece, *shifts), mirror), graded(moved(piece, mirror), *shifts)
        assert max(abs(p - q) for p, q in zip(controls(one_way), controls(other), strict=True)) < 1e-6

    @given(LEGS)
    def test_no_move_gives_the_very_piece(self, piece):
        shifts = [Shift(point=at(*names)) for names in CORNERS]
        assert graded(piece, *shifts) is piece

    @given(LEGS, moves, moves)
    @settings(max_examples=25)
    def test_one_move_for_all_moves_the_piece_as_it_is(self, piece, along, across):
        new = graded(piece, *(Shift(point=at(*names), along=along, across=across) for names in CORNERS))
        sideways, down = directions(piece)
        by = sideways * across + down * along
        assert max(abs(q - p - by) for p, q in zip(controls(piece), controls(new), strict=True)) < 1e-9

    @given(LEGS, corner_shifts())
    @settings(max_examples=25)
    def test_widths_that_are_held_are_kept(self, piece, shifts):
        new = graded(piece, *shifts)
        assert [hold.width for hold in new.holds] == [hold.width for hold in piece.holds]
        for old, now in zip(piece.darts, new.darts, strict=True):
            assert now.width == old.width
            (first, tip, last), (first_now, tip_now, last_now) = dart_points(piece, old), dart_points(new, now)
            middle = (complex(*first) + complex(*last)) / 2.0
            middle_now = (complex(*first_now) + complex(*last_now)) / 2.0
            assert abs((complex(*tip_now) - middle_now) - (complex(*tip) - middle)) < 1e-9

    @given(turned(upright_pieces(notches=True)), moves)
    @settings(max_examples=40)
    def test_a_level_within_a_curve_gets_the_width_it_is_told(self, piece, by):
        """Side and inseam pass through the points of a level that lies between their nodes."""
        shifts = [Shift(point=at("side", level="mid"), across=by), Shift(point=at("inseam", level="mid"), across=-by)]
        shifts += [Shift(point=at("waist", "side"), across=by / 2), Shift(point=at("side", "hem"), across=by / 2)]
        shifts += [
            Shift(point=at("hem", "inseam")),
            Shift(point=at("inseam", "centre")),
            Shift(point=at("centre", "waist")),
        ]
        depth = 350.0
        levels = (("mid", depth),)
        new = grade(one(piece), Grading(shifts=tuple(shifts), levels=levels)).value.pieces[0]

        there = depths_of_levels(one(piece), levels)["mid"]
        grown = girth_at([new], there).girth - girth_at([piece], there).girth
        assert grown == pytest.approx(2.0 * by, abs=1e-6)


class TestSeams:
    @given(legs(), moves, moves, moves)
    @settings(max_examples=20)
    def test_notches_that_lay_on_one_another_still_do(self, pair, top, hem, down):
        """Front and back grow alike at the side, though the rest of them differs."""
        pattern = sewn(*pair)
        shifts = tuple(
            Shift(point=GradePoint(piece=name, edge="side", meets=edge), across=across, along=along)
            for name in ("front", "back")
            for edge, across, along in (("waist", top, down), ("hem", hem, 0.0))
        )
        new = grade(pattern, Grading(shifts=shifts)).value
        (pair_of_sides,) = [one for one in pair_edges(new).pairs if one.name == "side"]
        walked = walk(pair_of_sides)
        assert walked.alone == ()
        for first, second in walked.partners:
            assert first.along == pytest.approx(second.along, abs=1e-6)

    def test_a_notch_that_a_rule_names_leads_the_other(self):
        front = replace(skirt(), id="f", name="front", notches=(Notch(edge="side", share=0.3),))
        back = replace(moved(front, Affine.scaling(-1.0, 1.0, (400.0, 0.0))), id="b", name="back")
        pattern = Pattern(pieces=(front, back))
        shifts = (
            Shift(point=at("side", piece="back", notch=1), along=9.0, across=4.0),
            *(Shift(point=at("waist", "side", name), across=4.0) for name in ("front", "back")),
            *(Shift(point=at("side", "hem", name), across=4.0) for name in ("front", "back")),
        )
        new = grade(pattern, Grading(shifts=shifts)).value
        told, led = (
            new.piece(name).notches[0].share * path_length(new.piece(name).edge("side").line) for name in ("b", "f")
        )
        assert led == pytest.approx(told, abs=1e-6)
        assert told > 0.31 * path_length(front.edge("side").line)


def test_a_circle_skirt_per_size_has_the_radius_of_its_waist():
    """Outside: r = waist / 2π; the waist of a quarter circle grows with the radius, 110 cm → 17.507 cm."""
    k = 0.5522847498307936

    def quarter(r, length):
        outer = r + length
        lines = {
            "waist": [Cubic((0.0, r), (k * r, r), (r, k * r), (r, 0.0))],
            "side": [Line((r, 0.0), (outer, 0.0))],
            "hem": [Cubic((outer, 0.0), (outer, k * outer), (k * outer, outer), (0.0, outer))],
            "fold": [Line((0.0, outer), (0.0, r))],
        }
        edges = tuple(Edge(name=n, line=Path(tuple(s))) for n, s in lines.items())
        return Piece(id="q", name="quarter", edges=edges, cut=CutInstruction(count=2, on_fold="fold"))

    base = quarter(1060.0 / (2.0 * math.pi), 500.0)
    wider = 40.0 / (2.0 * math.pi)
    toward = (Toward(piece="quarter", across="side", along="hem"),)
    points = (
        ("waist", "side", 0.0, wider),
        ("side", "hem", 0.0, wider),
        ("fold", "waist", wider, 0.0),
        ("fold", "hem", wider, 0.0),
    )
    shifts = tuple(Shift(point=at(a, b, "quarter"), along=along, across=across) for a, b, along, across in points)
    new = graded(base, *shifts, toward=toward)
    radius = 1100.0 / (2.0 * math.pi)
    assert radius == pytest.approx(175.07, abs=0.005)
    for s in (0.0, 0.25, 0.5, 1.0):
        # The one cubic strays from a quarter of a circle by at most 2.7e-4 of its radius.
        assert math.hypot(*new.edge("waist").line.segments[0].point(s)) == pytest.approx(radius, rel=2.8e-4)
    assert girth_along([new], "waist").girth == pytest.approx(1100.0, rel=3e-4)
    assert girth_along([new], "waist").girth - girth_along([base], "waist").girth == pytest.approx(40.0, abs=0.05)
