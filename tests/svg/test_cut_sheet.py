"""The cut sheet: layers by purpose that can be switched, lines told apart without colour, words where they were put."""

from __future__ import annotations

import pathlib
import subprocess
import sysconfig
from itertools import combinations

import pytest
import shapely
from lxml import etree

from crossgrain.errors import DocumentError
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.flatten import flatten
from crossgrain.model import Pattern
from crossgrain.model.cutting.lettering import text_width
from crossgrain.model.marking.mark_lines import MARK_KINDS
from crossgrain.operations.allowance import Allowance, allow
from crossgrain.operations.cutting import Cutting, cut
from crossgrain.svg.build import new_drawing
from crossgrain.svg.cut_sheet import PURPOSES, beside, draw_cut_pieces
from crossgrain.svg.looks import line_style
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import parse_drawing, read_drawing
from crossgrain.svg.writer import drawing_bytes

SAMPLES = pathlib.Path(__file__).parents[2] / "samples"
RESVG = pathlib.Path(sysconfig.get_path("scripts")) / "resvg"
FONT = "DejaVu Sans"
MM_PER_PX = 25.4 / 96
SVG, INKSCAPE, OURS = (
    "{http://www.w3.org/2000/svg}",
    "{http://www.inkscape.org/namespaces/inkscape}",
    "{urn:crossgrain:1}",
)

has_font = pytest.mark.skipif(
    FONT not in subprocess.run([RESVG, "--list-fonts"], capture_output=True, text=True, check=False).stdout,
    reason=f"{FONT} is not installed: apt-get install fonts-dejavu-core",
)


@pytest.fixture(scope="module")
def plan():
    pattern = allow(pattern_of(read_drawing(SAMPLES / "trousers.svg")), Allowance(width=10.0)).value
    return cut(pattern, Cutting(garment="Slim trousers", all_copies=True)).value


@pytest.fixture
def sheet(plan):
    drawing = new_drawing(plan.width, plan.height)
    draw_cut_pieces(drawing, plan)
    return drawing


def layers(drawing):
    [whole] = [g for g in drawing.root.iterchildren(SVG + "g") if g.get(OURS + "layer") == "cut-pieces"]
    return {g.get(OURS + "layer"): g for g in whole.iterchildren(SVG + "g")}


def test_there_is_a_layer_for_each_purpose_and_each_holds_only_that(sheet, plan):
    found = layers(sheet)
    assert tuple(found) == PURPOSES
    for layer in found.values():
        assert layer.get(INKSCAPE + "groupmode") == "layer"
        assert layer.get(INKSCAPE + "label")
    assert len(found["cut-lines"]) == len(plan.pieces) > 12
    assert len(found["cut-stitch-lines"]) == sum(not piece.is_template for piece in plan.pieces) == 12
    assert {path.get("style") for path in found["cut-lines"]} == {line_style("scissors")}
    assert {path.get("style") for path in found["cut-stitch-lines"]} == {line_style("stitch")}
    assert not list(found["cut-marks"].iter(SVG + "text"))
    words = " ".join(found["cut-words"].itertext())
    for said in ("Slim trousers", "waistband", "100 mm", "cut line", "stitch line", "Cut from stabiliser"):
        assert said in words


def test_what_is_written_is_what_was_laid_out(sheet, plan):
    written = parse_drawing(drawing_bytes(sheet), name="sheet.svg")
    shapes = {shape.id: shape for shape in written.shapes}
    for piece in plan.pieces:
        id = f"{piece.piece.id}-{piece.number}" + ("-template" if piece.is_template else "")
        id += "-stabiliser" if piece.material == "stabiliser" else ""
        for line, start in ((piece.cut, "cut"), *([] if piece.is_template else [(piece.stitch, "stitch")])):
            [drawn] = shapes[f"{start}-{id}"].paths
            for wanted, found in zip(line.nodes, drawn.nodes, strict=True):
                assert found == pytest.approx(wanted, abs=1e-6)


def test_nothing_on_it_is_ever_read_as_a_piece(sheet):
    with pytest.raises(DocumentError, match="no outlines"):
        pattern_of(parse_drawing(drawing_bytes(sheet), name="sheet.svg"))


class TestBeside:
    def test_the_drawing_itself_stays_and_a_second_time_replaces_the_first(self, plan):
        drawing = read_drawing(SAMPLES / "trousers.svg")
        before = pattern_of(drawing)
        right = max(bounds(piece.line).right for piece in before.pieces)
        draw_cut_pieces(drawing, plan, left=beside(drawing, right))
        once = drawing_bytes(drawing)
        assert pattern_of(drawing) == before
        draw_cut_pieces(drawing, plan, left=beside(drawing, right))
        assert drawing_bytes(drawing) == once
        shown = [shape for shape in drawing.shapes if shape.id.startswith("cut-")]
        assert len(shown) == len(plan.pieces)
        assert min(bounds(path).left for shape in shown for path in shape.paths) > drawing.page.width

    def test_a_layer_that_was_switched_off_stays_off(self, plan):
        drawing = read_drawing(SAMPLES / "trousers.svg")
        draw_cut_pieces(drawing, plan)
        layers(drawing)["cut-stitch-lines"].set("style", "display:none")
        draw_cut_pieces(drawing, plan)
        assert layers(drawing)["cut-stitch-lines"].get("style") == "display:none"
        assert len(layers(drawing)["cut-stitch-lines"]) == 12

    def test_the_drawing_may_be_of_no_known_width(self, plan):
        drawing = parse_drawing(
            b'<svg xmlns="http://www.w3.org/2000/svg"><path id="p" d="M0,0 H9 V9 Z"/></svg>', name="x", unit_mm=2.0
        )
        assert beside(drawing, 18.0) == 78.0
        draw_cut_pieces(drawing, plan, left=beside(drawing, 18.0))
        drawn = drawing.shape("cut-back-1").paths[0]
        assert bounds(drawn).width == pytest.approx(bounds(plan.pieces[2].cut).width, abs=1e-5)


def look(kind):
    found = dict(part.split(":") for part in line_style(kind).split(";"))
    return found["stroke-width"], found["stroke-dasharray"]


def test_without_colour_no_two_lines_look_alike():
    """Rings and bars apart: those are told by their shape."""
    kinds = [kind for kind in ("scissors", "stitch", *MARK_KINDS) if kind not in ("drill", "button", "buttonhole")]
    for one, other in combinations(kinds, 2):
        assert look(one) != look(other), (one, other)


def boxes(file):
    run = subprocess.run(
        [RESVG, "--query-all", "--sans-serif-family", FONT, file],
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    found = {}
    for row in run.stdout.splitlines():
        id, *numbers = row.rsplit(",", 4)
        x, y, width, height = (float(number) * MM_PER_PX for number in numbers)
        found[id] = shapely.box(x, y, x + width, y + height)
    return found


@has_font
class TestRendered:
    """The letters as resvg, from the package registry, sets them."""

    def test_the_words_on_each_piece_stay_within_the_line_that_is_cut(self, sheet, plan, tmp_path):
        groups = [group for group in layers(sheet)["cut-words"] if group.get(OURS + "about")]
        for number, group in enumerate(groups):
            group[0].set("id", f"words-{number}")
        file = tmp_path / "sheet.svg"
        file.write_bytes(drawing_bytes(sheet))
        found = boxes(file)
        assert len(groups) == len(plan.pieces)
        for number, piece in enumerate(plan.pieces):
            ink = found[f"words-{number}"]
            cloth = shapely.Polygon(flatten(piece.cut, 0.01).points)
            room = piece.label.box
            assert cloth.contains(ink), piece.piece.name
            assert shapely.box(room.left, room.top, room.right, room.bottom).buffer(0.3).contains(ink)

    def test_lines_are_no_wider_than_was_reckoned(self, tmp_path):
        texts = ("fly facing", "WAISTBAND", "allowance included: 10 mm, hem 30 mm", "cut 2, mirrored", "Ceinture – 2 ×")
        rows = [f'<text id="t{k}" x="0" y="{20 * k + 20}" font-size="10">{text}</text>' for k, text in enumerate(texts)]
        file = tmp_path / "words.svg"
        file.write_text(
            '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="200mm" viewBox="0 0 400 200" '
            f'font-family="sans-serif">{"".join(rows)}</svg>',
            encoding="utf-8",
        )
        found = boxes(file)
        for number, text in enumerate(texts):
            left, _top, right, _bottom = found[f"t{number}"].bounds
            assert 0.75 * text_width(text, 10.0) < right - left < text_width(text, 10.0), text


def test_an_empty_plan_is_a_head_alone():
    plan = cut(Pattern(), Cutting()).value
    drawing = new_drawing(plan.width, plan.height)
    draw_cut_pieces(drawing, plan)
    assert len(layers(drawing)["cut-lines"]) == 0
    assert "Pieces to cut" in etree.tostring(drawing.root, encoding="unicode")
