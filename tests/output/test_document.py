"""The page shows what it is given, where it is, and reaches for nothing outside itself."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree, html

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.length import point_at_share
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import CutInstruction, Dart, Edge, Finding, Hold, Notch, Piece, Width
from crossgrain.output.document import document, finding_list, legend, piece_figure
from crossgrain.output.path_text import path_text
from crossgrain.output.piece_drawing import SCALE, draw_piece
from strategies import segments

nasty_names = st.sampled_from(["front", "<b>", "a & b", '"quoted"', "</svg><script>alert(1)</script>", "ärmel", "]]>"])


def piece(affine=None, **changes):
    """A leg of sorts, 200 wide and 900 long, its waist curved."""
    affine = affine or Affine()
    edges = (
        Edge(
            name="waist",
            line=Path((Cubic((0, 0), (60, 15), (140, 15), (200, 0)),)).mapped(affine),
            allowance=Width.of(10.0),
        ),
        Edge(name="side", line=Path((Line((200, 0), (170, 900)),)).mapped(affine), allowance=Width.of(10.0)),
        Edge(name="hem", line=Path((Line((170, 900), (30, 900)),)).mapped(affine), allowance=Width.of(30.0)),
        Edge(name="inseam", line=Path((Line((30, 900), (0, 0)),)).mapped(affine)),
    )
    x, y = affine.of_vector((0.0, 1.0))
    size = (x * x + y * y) ** 0.5
    return Piece(**{"id": "p1", "name": "front", "edges": edges, "grain": (x / size, y / size)} | changes)


rigid = st.builds(
    lambda angle, dx, dy, mirrored: (
        Affine.scaling(-1.0 if mirrored else 1.0, 1.0).then(Affine.rotation(angle)).then(Affine.translation(dx, dy))
    ),
    st.floats(-3.0, 3.0),
    st.floats(-500, 500),
    st.floats(-500, 500),
    st.booleans(),
)


def drawing_of(text):
    return etree.fromstring(text.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1))


class TestPathText:
    @given(segment=segments())
    def test_another_library_reads_the_same_line_within_a_hundredth(self, segment):
        import svgpathtools

        text = path_text(Path((segment,)))
        read = svgpathtools.parse_path(text)
        if len(read) == 0:  # it drops a line without length
            assert segment.start == pytest.approx(segment.end, abs=0.01)
            return
        for t in (0.0, 0.3, 1.0):
            z = read[0].point(t)
            assert (z.real, z.imag) == pytest.approx(segment.point(t), abs=0.0101)


def aside(svg, line):
    """How far the name of the side stands from the middle of its edge."""
    text = next(text for text in svg.iter("{*}text") if text.text == "side")
    x, y = map(float, re.search(r"translate\((\S+) (\S+)\)", text.get("transform")).groups())
    return math.dist((x, y), point_at_share(line, 0.5))


class TestDrawing:
    @given(affine=rigid)
    def test_everything_drawn_lies_on_the_sheet_at_a_fifth_of_true_size(self, affine):
        one, other = piece(affine), piece(affine.then(Affine.translation(30, 0)))
        svg = drawing_of(draw_piece(one, other))
        x, y, width, height = map(float, svg.get("viewBox").split())
        for box in (bounds(one.line), bounds(other.line)):
            assert x <= box.left <= box.right <= x + width
            assert y <= box.top <= box.bottom <= y + height
        assert float(svg.get("width").removesuffix("mm")) == pytest.approx(width * SCALE, abs=0.01)
        assert float(svg.get("height").removesuffix("mm")) == pytest.approx(height * SCALE, abs=0.01)

    def test_before_and_after_are_two_lines_and_the_cut_line_a_third(self):
        one = piece()
        counterpart = one.line.mapped(Affine.scaling(1.1, 1.1))
        svg = drawing_of(draw_piece(one, piece(Affine.scaling(0.9, 1.0), counterpart=counterpart)))
        drawn = {path.get("class"): path.get("d") for path in svg.iter("{*}path")}
        assert drawn["before"] == path_text(one.line)
        assert drawn["after"] == path_text(one.line.mapped(Affine.scaling(0.9, 1.0)))
        assert drawn["other"] == path_text(counterpart)

    def test_every_edge_is_named_outside_all_lines(self):
        svg = drawing_of(draw_piece(piece(Affine.translation(40, 0)), piece()))
        texts = {text.text: text for text in svg.iter("{*}text")}
        assert list(texts) == ["waist", "side", "hem", "inseam"]
        assert float(texts["waist"].get("y")) < -10.0 + 11.25
        assert float(texts["hem"].get("y")) > 930.0 + 9.0
        assert float(re.search(r"translate\(([-\d.]+)", texts["side"].get("transform"))[1]) > 185.0 + 40.0

    def test_every_kind_of_mark_is_a_line_of_its_own(self):
        marked = piece(
            notches=(Notch(edge="side", share=0.4, count=2),),
            darts=(Dart(edge="waist", share=0.5, width=20, depth=100),),
            holds=(Hold(edge="side", width=5),),
        )
        svg = drawing_of(draw_piece(piece(), marked))
        classes = [path.get("class") for path in svg.iter("{*}path")]
        assert classes == ["before", "after", "grain", "notch", "dart", "hold"]
        assert [path.get("class") for path in drawing_of(draw_piece(marked, piece())).iter("{*}path")] == classes[:3]

    def test_an_edge_shorter_than_a_letter_is_not_named(self):
        one = piece()
        hem = one.edge("hem").line
        step, rest = Path((Line(hem.start, (165.0, 900.0)),)), Path((Line((165.0, 900.0), hem.end),))
        edges = (*one.edges[:2], Edge(name="step", line=step), Edge(name="hem", line=rest), one.edges[3])
        svg = drawing_of(draw_piece(one, piece(edges=edges)))
        assert [text.text for text in svg.iter("{*}text")] == ["waist", "side", "hem", "inseam"]

    def test_the_name_of_a_hollow_edge_stands_clear_of_it(self):
        one = piece()
        hollow = Path((Cubic((200, 0), (120, 60), (120, 140), (170, 900)),))
        edges = (one.edges[0], Edge(name="side", line=hollow, allowance=Width.of(10.0)), *one.edges[2:])
        bent = drawing_of(draw_piece(piece(edges=edges), piece(edges=edges)))
        straight = drawing_of(draw_piece(one, one))
        assert aside(bent, hollow) > aside(straight, one.edges[1].line)

    def test_a_bare_outline_is_drawn_without_names(self):
        line = piece().line
        bare = Piece(id="p", edges=(Edge(name="", line=Path(line.segments)),))
        svg = drawing_of(draw_piece(bare, bare))
        assert not list(svg.iter("{*}text"))


class TestPage:
    @given(name=nasty_names, edge=nasty_names)
    def test_names_are_shown_as_they_are_and_never_as_markup(self, name, edge):
        edges = (Edge(name=edge, line=piece().edges[0].line), *piece().edges[1:])
        renamed = piece(name=name, edges=edges, cut=CutInstruction(on_fold=edge))
        finding = Finding(piece=name, edge=edge, message=f"Look at {name}.")
        page = document(name, [piece_figure(piece(name=name), renamed), finding_list([finding])])
        assert "<script" not in page
        tree = html.document_fromstring(page)
        assert tree.findtext(".//title") == name
        assert name in tree.find(".//figcaption").text_content()
        assert edge in tree.find(".//figcaption").text_content()
        assert f"Look at {name}." in tree.find(".//li").text_content()

    def test_nothing_is_fetched(self):
        page = document("Reduced", [legend(), piece_figure(piece(), piece())])
        assert "default-src 'none'" in page
        tree = html.document_fromstring(page)
        assert not [element.tag for element in tree.iter() if element.get("src") or element.get("href")]
        assert not re.search(r"url\(|@import|//", page.replace("<!--", ""))

    def test_before_is_dashed_and_after_is_not_so_that_grey_paper_tells_them_apart(self):
        rules = dict(re.findall(r"svg \.(\w+) \{([^}]*)\}", document("Reduced", [])))
        assert "stroke-dasharray" in rules["before"]
        assert "stroke-dasharray" not in rules["after"] + rules["other"]
        widths = {name: float(re.search(r"stroke-width: ([\d.]+)", rules[name])[1]) for name in ("after", "other")}
        assert widths["after"] > 2 * widths["other"]

    def test_every_line_of_a_figure_stands_in_the_legend(self):
        figure = piece_figure(piece(), piece(counterpart=piece().line))
        drawn = set(re.findall(r'class="(before|after|other)"', figure))
        assert drawn == set(re.findall(r'class="(before|after|other)"', legend()))

    def test_cautions_and_notes_are_told_apart_by_word(self):
        findings = [
            Finding(piece="front", message="It presses.", severity="caution"),
            Finding(piece="back", message="It gapes.", advice="True it."),
        ]
        text = html.document_fromstring(finding_list(findings)).text_content()
        assert "Caution – front: It presses." in text
        assert "Note – back: It gapes. True it." in text

    def test_the_cut_is_told(self):
        cut = CutInstruction(count=2, mirrored=True, on_fold="centre", stabilised=True)
        assert "cut 2, mirrored, on the fold at centre, stabilised" in piece_figure(piece(), piece(cut=cut))
