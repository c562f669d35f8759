"""Layers of our own: seen, replaced, switched off by the maker, and never read as pieces."""

from __future__ import annotations

import re

import pytest
from lxml import etree

from cli.drawings import write_bare, write_marked
from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

SHOW = ["--show", "labels", "--show", "notes", "--show", "before"]


@pytest.fixture
def marked(tmp_path, capsys):
    path = write_marked(tmp_path)
    capsys.readouterr()
    return path


def layer(path, name):
    """Return the layer of that name as it is written; empty where there is none."""
    found = etree.parse(path).getroot().findall(f"*[@{{urn:crossgrain:1}}layer='{name}']")
    return etree.tostring(found[0], encoding="unicode") if found else ""


def reduced(capsys, source, target, *words):
    assert call(capsys, "reduce", source, "-o", target, "--by", "10%", *words).code == Exit.FINE
    return target


def test_what_is_shown_changes_no_piece(capsys, marked, tmp_path):
    plain = reduced(capsys, marked, tmp_path / "plain.svg")
    shown = reduced(capsys, marked, tmp_path / "shown.svg", *SHOW)
    assert pattern_of(read_drawing(shown)) == pattern_of(read_drawing(plain))
    assert not layer(plain, "labels")
    assert layer(shown, "labels")
    assert layer(shown, "before")


def test_each_edge_is_named_with_what_changed(capsys, marked, tmp_path):
    text = layer(reduced(capsys, marked, tmp_path / "1.svg", *SHOW), "labels")
    for edge in ("waist", "side", "hem", "inseam"):
        assert re.search(rf">{edge} [0-9.]+ (→ [0-9.]+ )?mm<", text), edge
    assert ">hem 90.0 → 81.0 mm<" in text


def test_the_outline_before_is_the_line_it_was(capsys, marked, tmp_path):
    target = reduced(capsys, marked, tmp_path / "1.svg", "--show", "before")
    assert 'd="M30,40 C70,50 110,50 150,40 L135,350' in layer(target, "before")
    root_order = [m[1] for m in re.finditer(r'<(?:g|path) [^>]*id="(crossgrain-before|layer)"', target.read_text())]
    assert root_order == ["crossgrain-before", "layer"], "it lies underneath"


def test_doing_more_replaces_the_labels_of_that_piece_alone(capsys, marked, tmp_path):
    first = reduced(capsys, marked, tmp_path / "1.svg", *SHOW)
    second = reduced(capsys, first, tmp_path / "2.svg", *SHOW, "--piece", "front")
    old, new = layer(first, "labels"), layer(second, "labels")
    assert len(re.findall("crossgrain:about=", new)) == len(re.findall("crossgrain:about=", old)) == 2
    assert ">hem 81.0 → 72.9 mm<" in new
    assert ">hem 90.0 → 81.0 mm<" not in new
    assert ">hem 110.0 → 99.0 mm<" in new


def test_a_layer_that_was_hidden_stays_hidden(capsys, marked, tmp_path):
    first = reduced(capsys, marked, tmp_path / "1.svg", *SHOW)
    text = first.read_text(encoding="utf-8").replace('id="crossgrain-labels"', 'id="crossgrain-labels" display="none"')
    first.write_text(text, encoding="utf-8")
    assert 'display="none"' in layer(reduced(capsys, first, tmp_path / "2.svg", *SHOW), "labels")


def test_notes_stand_in_the_drawing(capsys, marked, tmp_path):
    source = tmp_path / "stiff.svg"
    assert call(capsys, "mark", marked, "-o", source, "--piece", "back", "--cut", "1 stabilised").code == Exit.FINE
    target = tmp_path / "1.svg"
    result = call(capsys, "reduce", source, "-o", target, "--by", "10%", "--show", "notes")
    assert result.code == Exit.FINDINGS
    assert "Note: It is stabilised" in layer(target, "labels")


class TestMeasures:
    def test_a_table_beside_the_pieces(self, capsys, marked, tmp_path):
        target = tmp_path / "measured.svg"
        assert call(capsys, "measure", marked, "-o", target).code == Exit.FINE
        text = layer(target, "labels")
        assert ">Edges<" in text
        assert re.search(r">front leg +hem +90.0 mm", text)
        assert pattern_of(read_drawing(target)) == pattern_of(read_drawing(marked))

    def test_a_page_that_asks_nothing_of_the_network(self, capsys, tmp_path):
        page = tmp_path / "page.html"
        bare = write_bare(tmp_path)
        assert call(capsys, "measure", bare, "--piece", "front", "--page", page).code == Exit.FINE
        text = page.read_text(encoding="utf-8")
        assert text.startswith("<!DOCTYPE html>")
        assert "<td>front</td>" in text
        assert not re.search(r"(src|href)=", text)
