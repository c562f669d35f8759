"""The cut list as text: figures rounded for people, whole for programs, and a page that stands alone."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path as FilePath
from xml.etree import ElementTree

import pytest
import shapely

from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Edge, Finding, Pattern, Piece
from crossgrain.operations.cutting import Cutting, cut
from crossgrain.output.cut_list import cut_data, cut_page, cut_tables
from crossgrain.output.cut_picture import cut_picture
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

SAMPLES = FilePath(__file__).parent.parent.parent / "samples"


@pytest.fixture(scope="module")
def plan():
    pattern = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
    return cut(pattern, Cutting(garment="Slim <trousers>", all_copies=True)).value


def square(side, **more):
    line = Path(Path.polygon([(0, 0), (side, 0), (side, side), (0, side)]).segments)
    return Piece(id="p", name="p", edges=(Edge(name="edge", line=line),), **more)


def test_areas_and_lengths_are_rounded_for_people_and_length_is_rounded_up():
    """Arithmetic: 2 × 100 × 100 cm = 2 m²; 2 m² ÷ (1.4 m × 75 %) = 190.48 cm, so 191."""
    plan = cut(Pattern(pieces=(square(1000.0, cut=CutInstruction(count=2)),)), Cutting()).value
    pieces, needs, notions = cut_tables(plan)
    assert pieces.rows == (("p", "cloth", "2", "", "10000.0 cm²", "20000.0 cm²", "none"),)
    assert needs.rows == (("cloth", "1400 mm", "2.00 m²", "75 %", "about 191 cm"),)
    assert notions.rows == ()
    assert "estimate" in needs.title


def test_for_programs_nothing_is_rounded(plan):
    data = json.loads(json.dumps(cut_data(plan), allow_nan=False))
    for row, told in zip(plan.rows, data["rows"], strict=True):
        assert told["area"] == row.area
        assert told["total"] == row.count * row.area
        assert told["on_fold"] == row.on_fold
    assert [told["each"] for told in data["notions"]] == [notion.each for notion in plan.notions]
    for piece, told in zip(plan.pieces, data["laid_out"], strict=True):
        assert math.isclose(told["matrix"][4], piece.move.e)


def test_the_page_stands_alone_and_says_what_to_look_at(plan):
    page = cut_page(plan, [Finding(piece="back", message="It is <wide>.", severity="caution")])
    assert page.startswith("<!DOCTYPE html>")
    assert "Cut list of Slim &lt;trousers&gt;" in page
    assert "It is &lt;wide&gt;." in page
    assert not re.search(r"(src|href)=", page)
    for row in plan.rows:
        assert f"<td>{row.piece}</td>" in page
    assert "<svg" not in cut_page(cut(Pattern(), Cutting()).value)


def test_the_picture_shows_every_piece_within_its_frame_and_fits_the_paper(plan):
    """Vertices of the paths, read back by hand; the frame by shapely."""
    picture = ElementTree.fromstring(cut_picture(plan))
    left, top, width, height = (float(number) for number in picture.get("viewBox").split())
    frame = shapely.box(left, top, left + width, top + height)
    paths = [path for path in picture.iter("path") if path.get("class") == "after"]
    assert len(paths) == len(plan.pieces)
    for path in paths:
        numbers = [float(number) for number in re.findall(r"-?[0-9.]+", path.get("d"))]
        assert frame.contains(shapely.MultiPoint(list(zip(numbers[::2], numbers[1::2], strict=True))))
    assert float(picture.get("width").removesuffix("mm")) <= 186.0
    assert [text.text for text in picture.iter("text")].count("back") == 2
