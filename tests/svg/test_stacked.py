"""The stacked drawing: a layer for each size, at true scale, told apart without colour, and no piece in it."""

from itertools import pairwise
from pathlib import Path as File

import pytest

from crossgrain.errors import DocumentError, ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import bounds
from crossgrain.model import Pattern
from crossgrain.model.sizes.grade_point import GradePoint
from crossgrain.model.sizes.size_look import COLOURS, size_look
from crossgrain.model.sizes.stacked_sizes import box_of, stacked
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

    def test_a_point_that_is_nowhere(self, sizes):
        with pytest.raises(ParameterError, match="Nothing can be stacked at waist/hem"):
            stacked(sizes, "38", [GradePoint(piece="front", edge="waist", meets="hem")])


class TestLooks:
    RANGE = tuple(range(-11, 12))

    def test_no_two_of_a_range_have_one_dash_and_width_and_colour(self):
        found = [size_look(number) for number in self.RANGE]
        assert len(set(found)) == len(found)

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
