"""The drawings in ``samples/`` are what the draft writes, and read back as what was drafted."""

from __future__ import annotations

import math
import pathlib
import re
from itertools import combinations, pairwise

import draft
import pytest
from drafting.trace import JITTER
from drafting.trousers import trousers
from shapely.geometry import LineString, Point, Polygon

from crossgrain.kernel.corners import corners
from crossgrain.kernel.length import path_length, segment_length
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.svg import read_drawing
from crossgrain.svg.pattern import pattern_of
from crossgrain.tolerances import CORNER_TURN

SAMPLES = pathlib.Path(__file__).parents[2] / "samples"

FILES = ["trousers.svg", "trousers-untrued.svg", "traced-front.svg", "bare-front.svg", "bare-back.svg"]
MARKED = {"trousers.svg": True, "trousers-untrued.svg": False}


def polyline(segments):
    return [segment.point(t / 60) for segment in segments for t in range(60)]


def turns(line):
    """The turns at the nodes of a closed line, in degrees."""
    out = []
    for before, after in pairwise([line.segments[-1], *line.segments]):
        (x, y), (u, v) = before.end_tangent, after.start_tangent
        out.append(math.degrees(math.atan2(x * v - y * u, x * u + y * v)))
    return out


def test_the_draft_writes_the_same_bytes_again(tmp_path):
    draft.main(tmp_path)
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted(FILES)
    for name in FILES:
        assert (tmp_path / name).read_bytes() == (SAMPLES / name).read_bytes(), name


@pytest.mark.parametrize("name", MARKED)
class TestMarkedSheets:
    def test_pieces_read_back_as_drafted(self, name):
        read = pattern_of(read_drawing(SAMPLES / name))
        for found, drafted in zip(read.pieces, trousers(trued=MARKED[name]).pieces, strict=True):
            assert (found.id, found.name, found.cut, found.outline) == (
                drafted.id, drafted.name, drafted.cut, drafted.outline,
            )  # fmt: skip
            assert found.edge_names == drafted.edge_names
            for edge in drafted.edges:
                assert path_length(found.edge(edge.name).line) == pytest.approx(path_length(edge.line), abs=1e-3)
                assert len(found.edge(edge.name).line.segments) == len(edge.line.segments)
            assert found.grain == pytest.approx((0.0, 1.0), abs=1e-6)
            assert found.holds == drafted.holds
            assert [(notch.edge, notch.count) for notch in found.notches] == [
                (notch.edge, notch.count) for notch in drafted.notches
            ]
            assert [notch.share for notch in found.notches] == pytest.approx(
                [notch.share for notch in drafted.notches], abs=1e-6
            )
            assert [(dart.edge, dart.width, dart.depth) for dart in found.darts] == [
                (dart.edge, dart.width, dart.depth) for dart in drafted.darts
            ]

    def test_pieces_lie_clear_of_each_other_on_the_page(self, name):
        drawing = read_drawing(SAMPLES / name)
        shapes = [Polygon(polyline(piece.line.segments)) for piece in pattern_of(drawing).pieces]
        assert all(one.distance(other) >= 30.0 for one, other in combinations(shapes, 2))
        width, height = (float(number) for number in drawing.root.get("viewBox").split()[2:])
        for left, top, right, bottom in (shape.bounds for shape in shapes):
            assert left >= 30.0
            assert top >= 80.0
            assert right <= width - 30.0
            assert bottom <= height - 30.0

    def test_the_test_square_is_at_true_scale(self, name):
        (square,) = read_drawing(SAMPLES / name).shape("test-square-line").paths
        assert [segment_length(segment) for segment in square.segments] == pytest.approx([100.0] * 4, abs=1e-6)


@pytest.mark.parametrize(("name", "id", "drafted"), [("bare-front.svg", "front", 1), ("bare-back.svg", "back", 2)])
def test_a_bare_outline_is_the_drafted_one_without_facts(name, id, drafted):
    assert "crossgrain" not in (SAMPLES / name).read_text(encoding="utf-8")
    (line,) = read_drawing(SAMPLES / name).shape(id).paths
    piece = trousers().pieces[drafted]
    assert path_length(line) == pytest.approx(path_length(piece.line), abs=1e-3)
    assert len(line.segments) == len(piece.line.segments)


class TestTrace:
    @pytest.fixture
    def line(self):
        (line,) = read_drawing(SAMPLES / "traced-front.svg").shape("front-trace").paths
        return line

    @pytest.fixture
    def paper(self):
        (line,) = read_drawing(SAMPLES / "bare-front.svg").shape("front").paths
        return LineString([*polyline(line.segments), line.start])

    def test_it_is_a_plain_path_in_turned_and_scaled_groups(self):
        text = (SAMPLES / "traced-front.svg").read_text(encoding="utf-8")
        assert "crossgrain" not in text
        assert re.findall(r"(\w+)\([^)]*\)", text) == ["translate", "rotate", "scale"]
        assert text.count("<path") == 1

    def test_it_has_eighty_nodes_in_a_mix_of_lines_and_curves(self, line):
        assert line.closed
        assert len(line.nodes) == 80
        kinds = [type(segment) for segment in line.segments]
        assert kinds.count(Line) >= 25
        assert kinds.count(Cubic) >= 25

    def test_its_nodes_lie_off_the_paper_by_the_jitter_and_no_more(self, line, paper):
        # The margins on both pages are the same, so that the two outlines lie on one another.
        off = [paper.distance(Point(node)) for node in line.nodes]
        assert max(off) <= JITTER + 0.005
        assert max(off) > 0.8 * JITTER
        assert max(paper.distance(Point(point)) for point in polyline(line.segments)) <= 2.0 * JITTER

    def test_its_tangents_are_slightly_broken(self, line):
        bends = sorted(abs(turn) for turn in turns(line))
        assert sum(0.2 < bend < 10.0 for bend in bends) >= 50
        assert all(bend < 10.0 for bend in bends[:-5])

    def test_its_five_corners_are_found(self, line):
        found = corners(line, CORNER_TURN)
        assert len(found) == 5

    def test_it_does_not_cross_itself(self, line):
        shape = Polygon(polyline(line.segments))
        assert shape.is_valid
        assert shape.area == pytest.approx(Polygon(polyline(trousers().pieces[1].line.segments)).area, rel=0.002)


@pytest.mark.parametrize("number", range(6))
def test_the_corners_of_the_drafted_pieces_are_found_by_their_turn(number):
    piece = trousers().pieces[number]
    expected = {
        "front-left": 7, "front-right": 5, "back": 5, "waistband": 4, "fly-facing": 3, "fly-guard": 4,
    }  # fmt: skip
    assert len(corners(piece.line, CORNER_TURN)) == expected[piece.id]
