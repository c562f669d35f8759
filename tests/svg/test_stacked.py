"""The stacked drawing: a layer for each size, at true scale, told apart without colour, and no piece in it."""

import math
from itertools import pairwise
from pathlib import Path as File

import pytest

from crossgrain.errors import DocumentError, ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import Pattern
from crossgrain.model.levels import depths_of_levels, depths_on_pieces
from crossgrain.model.sizes.grade_point import GradePoint, place_of
from crossgrain.model.sizes.size_look import COLOURS, size_look
from crossgrain.model.sizes.size_names import NAME_HEIGHT, size_names
from crossgrain.model.sizes.stacked_sizes import box_of, stacked
from crossgrain.notation.grade_rules import read_grade_rules
from crossgrain.operations.grading import grade_sizes
from crossgrain.svg.names import crossgrain, inkscape, svg
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import parse_drawing, read_drawing
from crossgrain.svg.stacked import draw_sizes, shows_sizes, stacked_drawing
from crossgrain.svg.writer import drawing_bytes
from pieces import moved

SAMPLES = File(__file__).parent.parent.parent / "samples"
CENTRE = GradePoint(piece="front", edge="waist", meets="centre")


@pytest.fixture(scope="module")
def sizes():
    base = pattern_of(read_drawing(SAMPLES / "trousers.svg"))

    def wider(by):
        return Pattern(pieces=tuple(moved(piece, Affine.translation(by, -by / 2.0)) for piece in base.pieces))

    return {"36": wider(-8.0), "38": base, "40": wider(12.0)}


@pytest.fixture(scope="module")
def rules():
    return read_grade_rules((SAMPLES / "grade-rules.toml").read_text("utf-8"), "rules")


@pytest.fixture(scope="module")
def twelve_sizes(rules):
    graded = grade_sizes(pattern_of(read_drawing(SAMPLES / "trousers.svg")), rules, rules.sizes)
    return {size: outcome.value for size, outcome in graded.items()}


@pytest.fixture(scope="module")
def twelve(twelve_sizes, rules):
    return stacked(twelve_sizes, rules.base)


def looks(stack):
    return [size_look(one.from_base) for one in stack]


class TestStack:
    def test_the_point_that_is_named_lies_on_itself_in_all_sizes(self, sizes):
        stack = stacked(sizes, "38", [CENTRE])
        fronts = [[piece for piece in size.pieces if piece.id.startswith("front")] for size in stack]
        for column in zip(*fronts, strict=True):
            assert all(abs(complex(*p) - complex(*q)) < 1e-9 for one in column[1:]
                       for p, q in zip(one.outline.nodes, column[0].outline.nodes, strict=True))  # fmt: skip

    def test_pieces_without_such_a_point_lie_as_they_were_graded(self, sizes):
        for size, one in zip(sizes.values(), stacked(sizes, "38", [CENTRE]), strict=True):
            assert one.pieces[2].outline == size.piece("back").line

    def test_sizes_are_counted_from_the_base(self, sizes):
        assert [(one.name, one.from_base) for one in stacked(sizes, "38")] == [("36", -1), ("38", 0), ("40", 1)]

    def test_moved_apart_no_piece_lies_over_another(self, sizes):
        stack = stacked(sizes, "38", apart=True)
        boxes = [[bounds(size.pieces[k].outline) for size in stack] for k in range(len(stack[0].pieces))]
        whole = [(min(b.left for b in o), min(b.top for b in o), max(b.right for b in o), max(b.bottom for b in o))
                 for o in boxes]  # fmt: skip
        for k, one in enumerate(whole):
            for other in whole[k + 1 :]:
                apart = one[2] < other[0] or other[2] < one[0] or one[3] < other[1] or other[3] < one[1]
                assert apart

    def test_the_tip_of_a_dart_lies_on_itself(self, twelve_sizes):
        stack = stacked(twelve_sizes, "10", [GradePoint(piece="back", edge="waist", dart=1)])
        tips = [size.pieces[2].lines[0].segments[0].end for size in stack]
        assert all(math.dist(tip, tips[0]) < 1e-9 for tip in tips)
        assert bounds(stack[0].pieces[2].outline) != bounds(twelve_sizes["00"].piece("back").line)

    @pytest.mark.parametrize("number", [0, 1, 2])
    def test_a_level_lies_on_itself_where_the_rules_move_it(self, twelve_sizes, rules, number):
        point = GradePoint(piece="back" if number == 2 else "front", edge="side", level="hip")
        stack = stacked(twelve_sizes, "10", [point], rules=rules)
        base = stack[6].pieces[number].outline
        before = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
        depths = depths_on_pieces(before, depths_of_levels(before, rules.levels)["hip"])
        piece = before.pieces[number]
        where = place_of(piece, point.place(piece, {"hip": depths[piece.id]}))
        assert nearest(base, where).distance < 1e-6
        for size in stack:
            assert nearest(size.pieces[number].outline, where).distance < 1e-3, size.name

    def test_a_level_that_no_rule_moves(self, twelve_sizes, rules):
        with pytest.raises(ParameterError, match="inseam at hip of back, for no rule moves it"):
            stacked(twelve_sizes, "10", [GradePoint(piece="back", edge="inseam", level="hip")], rules=rules)

    def test_a_point_that_is_nowhere(self, sizes):
        with pytest.raises(ParameterError, match="Nothing can be stacked at waist/hem"):
            stacked(sizes, "38", [GradePoint(piece="front", edge="waist", meets="hem")])


class TestLooks:
    RANGE = tuple(range(-11, 12))

    def test_no_two_of_a_range_have_one_dash_and_width_and_colour(self):
        found = [size_look(number) for number in self.RANGE]
        assert len(set(found)) == len(found)

    @pytest.mark.parametrize("base", range(15))
    def test_in_grey_each_of_fifteen_sizes_has_its_own_dash_and_width(self, base):
        found = [(look.dashes, look.width) for look in (size_look(number - base) for number in range(15))]
        assert len(set(found)) == 15

    @pytest.mark.parametrize("base", [0, 9, 27])
    def test_no_two_of_28_sizes_look_alike(self, base):
        assert len({size_look(number - base) for number in range(28)}) == 28

    def test_neighbours_have_neither_dash_nor_colour_in_common(self):
        """So that they are told apart in grey, and by eyes that see no colours."""
        for one, other in pairwise(map(size_look, self.RANGE)):
            assert one.dashes != other.dashes
            assert one.colour != other.colour

    def test_every_colour_stands_out_from_white(self):
        """WCAG 2.1, 1.4.11: at least 3 : 1, by the relative luminance of its definition."""

        def luminance(colour):
            parts = [int(colour[k : k + 2], 16) / 255.0 for k in (1, 3, 5)]
            parts = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
            return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]

        for colour in (*COLOURS, size_look(0).colour):
            assert 1.05 / (luminance(colour) + 0.05) >= 3.0

    def test_the_base_is_drawn_through_and_widest(self):
        assert size_look(0).dashes == ()
        assert all(size_look(number).width < size_look(0).width for number in self.RANGE if number)


class TestNames:
    """Each stands on its own line: what is written beside lines that are near each other may be read as another's."""

    def test_they_stand_on_the_line_of_their_size_and_nearest_to_it(self, twelve):
        named = 0
        for k, _piece in enumerate(twelve[0].pieces):
            for size in twelve:
                for name in size.pieces[k].names:
                    off = {one.name: nearest(one.pieces[k].outline, name.at).distance for one in twelve}
                    assert off[size.name] < 1e-6
                    assert sorted(off.values())[1] > 1.0
                    named += 1
        assert named >= 12 * 3

    def test_no_two_run_into_each_other(self, twelve):
        for k, _piece in enumerate(twelve[0].pieces):
            at = [complex(*name.at) for size in twelve for name in size.pieces[k].names]
            assert all(abs(p - q) > 0.65 * NAME_HEIGHT * 2 for i, p in enumerate(at) for q in at[:i])

    def test_all_are_read_upright_or_upwards(self, twelve):
        turns = [math.degrees(name.turn_rad) for size in twelve for piece in size.pieces for name in piece.names]
        assert all(-100.0 <= turn < 80.0 for turn in turns)

    @pytest.mark.parametrize(("apart", "named"), [(0.9, False), (1.2, True)])
    def test_lines_that_the_eye_does_not_tell_apart_have_none(self, apart, named):
        lines = [[Path((Line((0.0, y), (60.0, y)),))] for y in (0.0, apart)]
        assert [bool(one) for one in size_names(("S", "M"), lines)] == [named, named]

    def test_a_piece_that_stays_the_same_has_none(self, twelve):
        assert all(not size.pieces[-1].names for size in twelve)


class TestDrawing:
    def test_a_layer_for_each_size_with_its_name_and_the_key_at_true_scale(self, sizes):
        stack = stacked(sizes, "38", apart=True)
        drawing = parse_drawing(drawing_bytes(stacked_drawing(stack, looks(stack), "all.svg")), name="all.svg")
        layers = [child for child in drawing.root.iterchildren(svg("g")) if child.get(inkscape("groupmode")) == "layer"]
        assert [layer.get(inkscape("label")) for layer in layers] == ["Size 36", "Size 38, the base", "Size 40"]
        assert drawing.root.get("width").endswith("mm")
        paths = {id(element): shape for shape in drawing.shapes for element in (shape.element,)}
        outline = next(e for e in layers[1].iter(svg("path")) if e.get(crossgrain("about")) == "back")
        drawn, true = bounds(paths[id(outline)].paths[0]), bounds(sizes["38"].piece("back").line)
        assert (drawn.width, drawn.height) == pytest.approx((true.width, true.height), abs=1e-4)
        for layer, size in zip(layers, ("36", "38", "40"), strict=True):
            words = [text.text for text in layer.iter(svg("text"))]
            assert size in words

    def test_nothing_on_it_is_a_piece(self, sizes):
        stack = stacked(sizes, "38")
        drawing = stacked_drawing(stack, looks(stack), "all.svg")
        assert shows_sizes(drawing)
        with pytest.raises(DocumentError, match="has no outlines"):
            pattern_of(drawing)

    def test_drawn_over_the_pieces_it_leaves_them_and_is_drawn_anew(self, sizes):
        drawing = read_drawing(SAMPLES / "trousers.svg")
        before = pattern_of(drawing)
        stack = stacked(sizes, "38")
        draw_sizes(drawing, stack, looks(stack))
        draw_sizes(drawing, stack[:2], looks(stack[:2]))
        assert sum(child.get(crossgrain("layer")) == "sizes" for child in drawing.root) == 2
        assert pattern_of(drawing) == before
        draw_sizes(drawing, (), ())
        assert not shows_sizes(drawing)

    def test_the_page_holds_all_of_it(self, sizes):
        stack = stacked(sizes, "38", apart=True)
        drawing, box = stacked_drawing(stack, looks(stack), "all.svg"), box_of(stack)
        assert float(drawing.root.get("viewBox").split()[2]) >= box.width
