"""Laws of grading: named points exactly, nothing kinked or bent, widths that are held, and back again."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.errors import GeometryError, ParameterError, SelfCrossingError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.curvature import node_turns
from crossgrain.kernel.length import distance_of, path_length, point_at_share
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import CutInstruction, Dart, Edge, Hold, Notch, Pattern, Piece
from crossgrain.model.girths import girth_along, girth_at
from crossgrain.model.levels import depths_of_levels
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.seams.pairing import pair_edges
from crossgrain.model.seams.side import corner_angles
from crossgrain.model.seams.walking import walk
from crossgrain.model.sizes.grade_directions import directions
from crossgrain.model.sizes.grade_point import GradePoint
from crossgrain.model.sizes.grade_rules import Shift, Toward
from crossgrain.operations.grading import Grading, grade, grade_each
from pieces import moved, one, turned, upright_pieces
from sewn import legs, sewn

CORNERS = (("waist", "side"), ("side", "hem"), ("hem", "inseam"), ("inseam", "centre"), ("centre", "waist"))
moves = st.floats(-12.0, 12.0).map(lambda by: round(by, 2))


def at(edge, meets="", piece="leg", **where):
    return GradePoint(piece=piece, edge=edge, meets=meets, **where)


def corner(piece, edge, meets):
    ends = [{piece.edges[k - 1].name, piece.edges[k].name} for k in range(len(piece.edges))]
    return complex(*piece.edges[ends.index({edge, meets})].line.start)


@st.composite
def corner_shifts(draw, corners=CORNERS):
    chosen = draw(st.lists(st.sampled_from(corners), min_size=1, unique=True))
    return tuple(Shift(point=at(*names), along=draw(moves), across=draw(moves)) for names in chosen)


def graded(piece, *shifts, **more):
    return grade(one(piece), Grading(shifts=tuple(shifts), **more)).value.pieces[0]


def back(shifts):
    return tuple(replace(shift, along=-shift.along, across=-shift.across) for shift in shifts)


def controls(piece):
    return [complex(*point) for segment in piece.line.segments for point in segment.controls]


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


def skirt(**more):
    """A half front of a skirt: fold on the left, side slightly flared and curved, hem curved and square to both."""
    lines = {
        "waist": [Cubic((0.0, 12.0), (60.0, 12.0), (140.0, 6.0), (180.0, 0.0))],
        "side": [
            Cubic((180.0, 0.0), (205.0, 70.0), (225.0, 130.0), (228.0, 200.0)),
            Line((228.0, 200.0), (240.0, 600.0)),
        ],
        "hem": [Cubic((240.0, 600.0), (160.0, 602.4), (80.0, 612.0), (0.0, 612.0))],
        "fold": [Line((0.0, 612.0), (0.0, 12.0))],
    }
    edges = tuple(Edge(name=name, line=Path(tuple(line))) for name, line in lines.items())
    cut = CutInstruction(count=1, on_fold="fold")
    return Piece(id="skirt", name="skirt", edges=edges, cut=cut, **more)


def angle(piece, number):

    return math.degrees(corner_angles(piece)[number])


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


PLACINGS = {
    "as drawn": Affine.rotation(0.0),
    "turned": Affine.rotation(math.radians(37.0)),
    "mirrored": Affine.scaling(-1.0, 1.0),
    "mirrored and turned": Affine.scaling(-1.0, 1.0).then(Affine.rotation(math.radians(-116.0))),
}


class TestExamples:
    @pytest.mark.parametrize("placing", PLACINGS.values(), ids=PLACINGS)
    def test_right_angles_at_fold_and_hem_stay_right(self, placing):
        piece = moved(skirt(), placing)
        assert angle(piece, 3) == pytest.approx(90.0)
        assert angle(piece, 0) == pytest.approx(90.0)
        new = graded(
            piece,
            Shift(point=at("waist", "side", "skirt"), along=-6.0, across=12.0),
            Shift(point=at("side", "hem", "skirt"), along=5.0, across=15.0),
            Shift(point=at("fold", "hem", "skirt"), along=8.0),
            Shift(point=at("fold", "waist", "skirt")),
        )
        assert angle(new, 3) == pytest.approx(90.0, abs=1e-6)
        assert angle(new, 0) == pytest.approx(90.0, abs=1e-6)
        assert angle(new, 2) == pytest.approx(angle(piece, 2), abs=1e-6)
        assert angle(new, 1) == pytest.approx(angle(piece, 1), abs=1e-6)

    @pytest.mark.parametrize("placing", PLACINGS.values(), ids=PLACINGS)
    def test_a_right_angle_between_straight_lines_that_is_lost_is_said(self, placing):
        """Two straight lines can keep their angle only where both of their far ends move alike."""
        lines = Path.polygon([(0, 0), (180, 0), (180, 600), (0, 600)]).segments
        named = zip(("waist", "side", "hem", "centre"), lines, strict=True)
        block = Piece(
            id="block", name="block", edges=tuple(Edge(name=name, line=Path((line,))) for name, line in named)
        )
        hem = Shift(point=at("side", "hem", "block"), across=15.0)
        kept = (Shift(point=at("waist", "side", "block"), across=15.0), hem)
        uneven = (*kept[:1], replace(hem, along=8.0))
        outcomes = [grade(one(moved(block, placing)), Grading(shifts=shifts)) for shifts in (kept, (hem,), uneven)]
        assert outcomes[0].findings == ()
        found = [[finding.message for finding in outcome.findings] for outcome in outcomes[1:]]
        assert found[0] == ["The right angle at waist/side is lost.", "The right angle at side/hem is lost."]
        assert found[1] == ["The right angle at side/hem is lost.", "The right angle at hem/centre is lost."]
        assert all(finding.position is not None for finding in outcomes[1].findings)

    @pytest.mark.parametrize("by", [-3.0, 3.0])
    def test_a_curve_led_through_several_points_is_said_where_it_turns_and_graded_back_is_itself(self, by):
        """One curve from waist to a straight hem: both levels within it grow as they are told."""
        lines = {
            "waist": Cubic((0.0, 12.0), (60.0, 12.0), (140.0, 6.0), (180.0, 0.0)),
            "side": Cubic((180.0, 0.0), (235.0, 150.0), (240.0, 400.0), (240.0, 600.0)),
            "hem": Line((240.0, 600.0), (0.0, 600.0)),
            "fold": Line((0.0, 600.0), (0.0, 12.0)),
        }
        piece = Piece(
            id="skirt", name="skirt", edges=tuple(Edge(name=k, line=Path((line,))) for k, line in lines.items())
        )
        shifts = (
            Shift(point=at("waist", "side", "skirt"), across=by / 3.0),
            Shift(point=at("side", piece="skirt", share=0.35), across=2.0 * by),
            Shift(point=at("side", piece="skirt", share=0.7), across=by),
            Shift(point=at("side", "hem", "skirt"), across=by),
        )
        outcome = grade(one(piece), Grading(shifts=shifts))
        new = outcome.value.pieces[0]
        line, now, back_again = piece.edge("side").line, new.edge("side").line, [back([shifts[0]])[0]]
        for share, far in ((0.35, 2.0 * by), (0.7, by)):
            x, y = point_at_share(line, share)
            found = nearest(now, (x + far, y))
            assert found.distance < 1e-6
            # It lies at another share of the edge now.
            point = at("side", piece="skirt", share=distance_of(now, found.place) / path_length(now))
            back_again.append(Shift(point=point, across=-far))
        messages = [finding.message for finding in outcome.findings]
        assert "The right angle at side/hem is lost." in messages
        assert any("put a node at each" in finding.advice for finding in outcome.findings)
        back_again.append(back([shifts[-1]])[0])
        assert controls(graded(new, *back_again)) == pytest.approx(controls(piece), abs=1e-6)

    @pytest.mark.parametrize("placing", PLACINGS.values(), ids=PLACINGS)
    def test_an_edge_whose_ends_move_alike_moves_as_it_is(self, placing):
        """The side goes out; the waist beside it turns to keep its angle with the side, not the side's line."""
        piece = moved(skirt(), placing)
        new = graded(
            piece,
            Shift(point=at("waist", "side", "skirt"), across=12.0, along=3.0),
            Shift(point=at("side", "hem", "skirt"), across=12.0, along=3.0),
        )
        old_side, side = piece.edge("side").line, new.edge("side").line
        by = complex(*side.start) - complex(*old_side.start)
        for before, after in zip(old_side.segments, side.segments, strict=True):
            for p, q in zip(before.controls, after.controls, strict=True):
                assert complex(*q) - complex(*p) == pytest.approx(by, abs=1e-9)
        assert angle(new, 1) == pytest.approx(angle(piece, 1), abs=1e-6)

    def test_straight_stays_straight(self):
        """Nodes on a straight edge stay on it."""
        lines = [Line((0.0, 0.0), (100.0, 0.0)), Line((100.0, 0.0), (100.0, 90.0)), Line((100.0, 90.0), (110.0, 300.0))]
        lines[1:] = [
            Line((100.0, 0.0), (103.0, 90.0)),
            Line((103.0, 90.0), (110.0, 300.0)),
            Line((110.0, 300.0), (0.0, 300.0)),
        ]
        lines.append(Line((0.0, 300.0), (0.0, 0.0)))
        named = {"waist": lines[:1], "side": lines[1:3], "hem": lines[3:4], "centre": lines[4:]}
        piece = Piece(id="p", name="p", edges=tuple(Edge(name=n, line=Path(tuple(s))) for n, s in named.items()))
        new = graded(
            piece,
            Shift(point=at("waist", "side", "p"), across=7.0),
            Shift(point=at("side", "hem", "p"), across=20.0, along=9.0),
            Shift(point=at("hem", "centre", "p"), along=9.0),
            Shift(point=at("centre", "waist", "p")),
        )
        assert abs(node_turns(new.line)[2]) < 1e-9

    def test_the_strip_of_a_zip_stays_as_wide(self):
        """The waist grows beside the extension and not in it; the step at its foot stays 5 mm."""
        lines = {
            "waist": [Line((0.0, 0.0), (5.0, 0.0)), Cubic((5.0, 0.0), (60.0, 0.0), (100.0, -3.0), (150.0, -6.0))],
            "side": [Line((150.0, -6.0), (160.0, 400.0))],
            "hem": [Line((160.0, 400.0), (20.0, 400.0))],
            "crotch": [Line((20.0, 400.0), (5.0, 180.0))],
            "step": [Line((5.0, 180.0), (0.0, 180.0))],
            "centre": [Line((0.0, 180.0), (0.0, 0.0))],
        }
        piece = Piece(
            id="f",
            name="f",
            edges=tuple(Edge(name=n, line=Path(tuple(s))) for n, s in lines.items()),
            holds=(Hold(edge="centre", width=5.0),),
        )
        new = graded(
            piece,
            Shift(point=at("waist", "side", "f"), across=15.0),
            Shift(point=at("crotch", "hem", "f"), across=-10.0),
            Shift(point=at("waist", "centre", "f"), along=-3.0),
        )
        assert path_length(new.edge("step").line) == pytest.approx(5.0, abs=1e-9)
        assert math.dist(*(new.edge("waist").line.nodes[k] for k in (0, 1))) == pytest.approx(5.0, abs=1e-9)

    def test_a_notch_of_its_own_rule_and_one_between(self):
        piece = replace(skirt(), notches=(Notch(edge="side", share=0.3), Notch(edge="side", share=0.65)))
        rules = [
            Shift(point=at("waist", "side", "skirt"), across=10.0),
            Shift(point=at("side", "hem", "skirt"), across=10.0),
            Shift(point=at("fold", "hem", "skirt")),
            Shift(point=at("fold", "waist", "skirt")),
        ]
        plain = graded(piece, *rules)
        assert [n.share for n in plain.notches] == pytest.approx([0.3, 0.65], abs=1e-9)
        told = graded(piece, *rules, Shift(point=at("side", piece="skirt", notch=1), across=10.0, along=6.0))
        old, new = (point_at_share(p.edge("side").line, p.notches[0].share) for p in (piece, told))
        assert new == pytest.approx((old[0] + 10.0, old[1] + 6.0), abs=1e-6)

    def test_the_tip_of_a_dart_of_its_own_rule(self):
        piece = replace(skirt(), darts=(Dart(edge="waist", share=0.5, width=16.0, depth=90.0),))
        base = [Shift(point=at("waist", "side", "skirt"), across=10.0), Shift(point=at("fold", "waist", "skirt"))]
        told = graded(piece, *base, Shift(point=at("waist", piece="skirt", dart=1), along=10.0, across=3.0))
        old, new = (dart_points(p, p.darts[0])[1] for p in (piece, told))
        assert new == pytest.approx((old[0] + 3.0, old[1] + 10.0), abs=1e-9)
        assert told.darts[0].width == 16.0

    def test_left_and_right_share_the_rules_of_their_name(self):
        leg = replace(skirt(), cut=CutInstruction())
        pattern = Pattern(
            pieces=(
                replace(leg, id="l", name="left front"),
                replace(moved(leg, Affine.scaling(-1.0, 1.0, (400.0, 0.0))), id="r", name="right front"),
            )
        )
        shifts = (
            Shift(point=at("waist", "side", "front"), across=10.0),
            Shift(point=at("fold", "waist", "front")),
            Shift(point=at("fold", "waist", "left front"), across=-4.0),
        )
        new = grade(pattern, Grading(shifts=shifts)).value
        assert corner(new.pieces[0], "waist", "side") - corner(pattern.pieces[0], "waist", "side") == pytest.approx(
            10.0
        )
        assert corner(new.pieces[1], "waist", "side") - corner(pattern.pieces[1], "waist", "side") == pytest.approx(
            -10.0
        )
        assert corner(new.pieces[0], "fold", "waist") - corner(pattern.pieces[0], "fold", "waist") == pytest.approx(
            -4.0
        )
        assert corner(new.pieces[1], "fold", "waist") == corner(pattern.pieces[1], "fold", "waist")

    @pytest.mark.parametrize("names", [("waist", "side"), ("side", "waist")])
    def test_a_rule_for_one_piece_goes_before_that_of_its_word_either_way_round(self, names):
        left = replace(skirt(), id="a", name="left skirt")
        right = moved(replace(skirt(), id="b", name="right skirt"), Affine.translation(500.0, 0.0))
        shifts = (
            Shift(point=at("waist", "side", "skirt"), across=4.0),
            Shift(point=at(*names, "left skirt"), across=7.0),
        )
        now = grade(Pattern(pieces=(left, right)), Grading(shifts=shifts)).value
        assert corner(now.pieces[0], "waist", "side") - corner(left, "waist", "side") == pytest.approx(7.0)
        assert corner(now.pieces[1], "waist", "side") - corner(right, "waist", "side") == pytest.approx(4.0)

    def test_a_cut_line_drawn_before_is_dropped_and_said(self):
        piece = replace(skirt(), counterpart=Path.polygon([(-10, 0), (200, 0), (200, 620)]))
        outcome = grade(one(piece), Grading(shifts=(Shift(point=at("waist", "side", "skirt"), across=3.0),)))
        assert outcome.value.pieces[0].counterpart is None
        assert len(outcome.findings) == 1

    def test_a_piece_that_no_rule_names_is_said_and_stays(self):
        other = replace(skirt(), id="o", name="belt")
        pattern = Pattern(pieces=(skirt(), other))
        shifts = (Shift(point=at("waist", "side", "skirt"), across=3.0),)
        outcome = grade(pattern, Grading(shifts=shifts))
        assert outcome.value.pieces[1] is other
        assert [finding.piece for finding in outcome.findings] == ["belt"]
        assert grade(pattern, Grading(shifts=shifts, stays=("belt",))).findings == ()

    def test_many_sizes_are_what_each_is_alone(self):
        shifts = [tuple(Shift(point=at("waist", "side", "skirt"), across=by) for _ in (0,)) for by in (-5.0, 0.0, 5.0)]
        gradings = [Grading(shifts=one) for one in shifts]
        assert [outcome.value for outcome in grade_each(one(skirt()), gradings)] == [
            grade(one(skirt()), grading).value for grading in gradings
        ]
        assert grade_each(one(skirt()), []) == []

    def test_directions_may_be_told(self):
        piece = skirt()
        assert directions(piece, [Toward(piece="skirt", across="fold", along="waist")]) == (-1.0, -1j)

    def test_pieces_that_come_to_lie_over_each_other_are_said(self):
        other = moved(replace(skirt(), id="o", name="belt"), Affine.translation(250.0, 0.0))
        pattern = Pattern(pieces=(skirt(), other))
        shifts = (
            Shift(point=at("waist", "side", "skirt"), across=80.0),
            Shift(point=at("side", "hem", "skirt"), across=30.0),
        )
        outcome = grade(pattern, Grading(shifts=shifts, stays=("belt",)))
        assert [(one.piece, one.message) for one in outcome.findings] == [("skirt", "It lies over belt now.")]


class TestRefusals:
    def test_a_corner_that_is_not_there(self):
        with pytest.raises(ParameterError, match=r"waist/hem.*not there.*fold/waist, waist/side"):
            graded(skirt(), Shift(point=at("waist", "hem", "skirt"), across=1.0))

    def test_a_notch_or_a_dart_that_is_not_there(self):
        piece = replace(skirt(), notches=(Notch(edge="side", share=0.25),))
        with pytest.raises(ParameterError, match=r"notch 2 of side, which is not there.*Notches on its side: 1\."):
            graded(piece, Shift(point=at("side", piece="skirt", notch=2), across=1.0))
        with pytest.raises(ParameterError, match=r"dart 1 of waist, which is not there.*Darts on its waist: 0\."):
            graded(piece, Shift(point=at("waist", piece="skirt", dart=1), across=1.0))

    def test_a_corner_told_two_things_by_its_two_names(self):
        shifts = [
            Shift(point=at(*names, "skirt"), across=by)
            for *names, by in (("waist", "side", 4.0), ("side", "waist", 5.0))
        ]
        with pytest.raises(ParameterError, match="waist/side and side/waist are one point"):
            graded(skirt(), *shifts)

    def test_a_piece_that_is_not_there(self):
        with pytest.raises(ParameterError, match=r"no piece of that name.*skirt"):
            graded(skirt(), Shift(point=at("waist", "side", "cape"), across=1.0))

    def test_an_outline_that_turns_inside_out_is_named_with_its_corner(self):
        with pytest.raises(SelfCrossingError, match=r"inside out at .*(waist/side|fold/waist)"):
            graded(
                skirt(),
                Shift(point=at("waist", "side", "skirt"), across=-220.0, along=80.0),
                Shift(point=at("fold", "waist", "skirt")),
                Shift(point=at("side", "hem", "skirt")),
                Shift(point=at("fold", "hem", "skirt")),
            )

    def test_a_straight_line_that_would_have_to_bend(self):
        with pytest.raises(GeometryError, match="would have to bend"):
            graded(
                skirt(),
                *(Shift(point=at(*names, "skirt")) for names in (("fold", "waist"), ("fold", "hem"))),
                Shift(point=at("fold", piece="skirt", share=0.5), across=4.0),
            )

    def test_a_point_that_must_move_far_against_its_neighbours_is_named(self):
        with pytest.raises(GeometryError, match=r"side at 3%: The line cannot be led.*Put a node there"):
            graded(
                skirt(),
                Shift(point=at("waist", "side", "skirt"), across=-12.0),
                Shift(point=at("side", piece="skirt", share=0.03), across=12.0),
                Shift(point=at("side", "hem", "skirt")),
            )

    def test_one_place_told_to_go_to_two(self):
        piece = replace(skirt(), notches=(Notch(edge="fold", share=0.25),))
        with pytest.raises(ParameterError, match="moved differently"):
            graded(
                piece,
                Shift(point=at("fold", piece="skirt", share=0.25), along=4.0),
                Shift(point=at("fold", piece="skirt", notch=1), along=5.0),
            )

    def test_a_piece_without_a_side_needs_a_direction(self):
        bare = replace(
            skirt(), edges=tuple(replace(e, name="outer" if e.name == "side" else e.name) for e in skirt().edges)
        )
        with pytest.raises(ParameterError, match=r"towards which edge.*\[toward\]"):
            graded(bare, Shift(point=at("waist", "outer", "skirt"), across=4.0))

    def test_a_level_without_a_depth(self):
        with pytest.raises(ParameterError, match=r"How deep the hip lies.*\[levels\]"):
            graded(skirt(), Shift(point=at("side", piece="skirt", level="hip"), across=4.0))

    def test_a_level_that_the_piece_does_not_reach(self):
        with pytest.raises(ParameterError, match="crosses the hip 0 times"):
            graded(skirt(), Shift(point=at("side", piece="skirt", level="hip"), across=4.0), levels=(("hip", 900.0),))

    @pytest.mark.parametrize("words", [{}, {"meets": "side", "share": 0.5}, {"share": 1.5}])
    def test_a_point_is_one_thing(self, words):
        with pytest.raises(ParameterError):
            GradePoint(piece="p", edge="waist", **words)


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
