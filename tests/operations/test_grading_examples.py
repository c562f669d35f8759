"""Grading by examples: angles, held strips, marks, directions; and what is refused, with its sentence."""

import math
from dataclasses import replace

import pytest

from crossgrain.errors import GeometryError, ParameterError, SelfCrossingError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.curvature import node_turns
from crossgrain.kernel.length import distance_of, path_length, point_at_share
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import CutInstruction, Dart, Edge, Hold, Notch, Pattern, Piece
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.sizes.grade_directions import directions
from crossgrain.model.sizes.grade_point import GradePoint
from crossgrain.model.sizes.grade_rules import Shift, Toward
from crossgrain.operations.grading import Grading, grade, grade_each
from graded import PLACINGS, angle, at, back, controls, corner, graded, skirt
from pieces import moved, one


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

    @pytest.mark.parametrize("placing", PLACINGS.values(), ids=PLACINGS)
    @pytest.mark.parametrize(("by", "waves"), [(6.0, False), (-30.0, True)])
    def test_an_edge_that_bends_back_and_forth_is_said(self, placing, by, waves):
        """The side is bowed out; its middle pushed in makes it a wave."""
        upper = Cubic((180.0, 0.0), (205.0, 70.0), (230.0, 200.0), (235.0, 300.0))
        lower = Cubic((235.0, 300.0), (240.0, 400.0), (240.0, 500.0), (238.0, 600.0))
        lines = {
            "waist": (Line((0.0, 0.0), (180.0, 0.0)),),
            "side": (upper, lower),
            "hem": (Line((238.0, 600.0), (0.0, 600.0)),),
            "centre": (Line((0.0, 600.0), (0.0, 0.0)),),
        }
        edges = tuple(Edge(name=name, line=Path(line)) for name, line in lines.items())
        piece = moved(Piece(id="skirt", name="skirt", edges=edges), placing)
        middle = path_length(Path((upper,))) / path_length(Path((upper, lower)))
        shifts = (
            Shift(point=at("waist", "side", "skirt")),
            Shift(point=at("side", piece="skirt", share=middle), across=by),
            Shift(point=at("side", "hem", "skirt")),
        )
        findings = grade(one(piece), Grading(shifts=shifts)).findings
        found = [finding.edge for finding in findings if "bends back and forth" in finding.message]
        assert found == (["side"] if waves else [])

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
