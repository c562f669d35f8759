"""Measuring from the command line: mm and inches, all that can be read, and what could not be."""

from __future__ import annotations

import pytest

from cli.drawings import BARE, write_marked
from cli.program import call
from crossgrain.cli.exits import Exit


@pytest.fixture
def square(tmp_path):
    """A drawing whose figures are known: 100 × 60 mm, as in the references."""
    path = tmp_path / "square.svg"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="300mm" viewBox="0 0 300 300">'
        '<path id="square" d="M 20,20 h 100 v 60 h -100 z"/></svg>',
        encoding="utf-8",
    )
    return path


@pytest.fixture
def marked(tmp_path, capsys):
    path = write_marked(tmp_path)
    capsys.readouterr()
    return path


def test_a_square_of_known_size_in_mm_and_inches(capsys, square):
    result = call(capsys, "measure", square, "--piece", "square", "--level", "30mm")
    assert (result.code, result.err) == (Exit.FINE, "")
    for text in ("320.0 mm (12 5/8 in)", "60.0 cm²", "100.0 mm (3 15/16 in)", "60.0 mm (2 3/8 in)"):
        assert text in result.out


def test_the_same_as_data(capsys, square):
    data = call(capsys, "measure", square, "--piece", "square", "--level", "30mm", "--json").data
    [piece] = data["pieces"]
    assert piece["perimeter"] == pytest.approx(320.0, abs=1e-6)
    assert piece["area"] == pytest.approx(6000.0, abs=1e-6)
    assert [width["width"] for width in piece["widths"]] == pytest.approx([100.0] * 4)
    assert data["girths"][0]["girth"] == pytest.approx(100.0)
    assert data["findings"] == []


def test_a_mirrored_pair_counts_twice_in_the_girth(capsys, marked):
    data = call(capsys, "measure", marked, "--level", "200mm", "--json").data
    widths = [piece["widths"][-1]["width"] for piece in data["pieces"]]
    assert data["girths"][0]["girth"] == pytest.approx(2.0 * sum(widths))


def test_edges_of_one_name_are_a_seam_with_its_difference(capsys, marked):
    data = call(capsys, "measure", marked, "--json").data
    lengths = {edge["name"]: edge["length"] for piece in data["pieces"] for edge in piece["edges"]}
    assert {seam["name"] for seam in data["seams"]} == set(lengths)
    for seam in data["seams"]:
        values = [length for _piece, length in seam["sides"]]
        assert seam["difference"] == pytest.approx(max(values) - min(values))


def test_what_cannot_be_read_is_said_and_the_rest_is_measured(capsys, marked):
    text = marked.read_text(encoding="utf-8")
    marked.write_text(text.replace("V 90", "V xx"), encoding="utf-8")
    result = call(capsys, "measure", marked, "--json")
    assert result.code == Exit.FINDINGS
    assert [piece["id"] for piece in result.data["pieces"]] == ["front", "back"]
    [finding] = result.data["findings"]
    assert finding["piece"] == "open"
    assert "Note: open: " in result.err


def test_a_marked_piece_that_was_opened_is_a_finding_with_its_place(capsys, marked):
    text = marked.read_text(encoding="utf-8")
    assert "L 350,330 H 240 Z" in text
    marked.write_text(text.replace("L 350,330 H 240 Z", "L 350,330 H 240"), encoding="utf-8")
    result = call(capsys, "measure", marked)
    assert result.code == Exit.FINDINGS
    assert "front leg" in result.out
    assert "back leg" not in result.out
    assert "open" in result.err
    assert " at x " in result.err


def test_with_pieces_named_the_rest_of_the_drawing_is_not_looked_at(capsys, tmp_path):
    path = tmp_path / "bad.svg"
    path.write_text(BARE.replace("V 90", "V xx"), encoding="utf-8")
    assert call(capsys, "measure", path, "--piece", "front").code == Exit.FINE


def test_a_level_below_the_piece_is_a_finding(capsys, square):
    result = call(capsys, "measure", square, "--piece", "square", "--level", "70mm")
    assert result.code == Exit.FINDINGS
    assert "70.0 mm" in result.err


def test_the_drawing_is_not_changed(capsys, marked):
    before = (marked.read_bytes(), marked.stat().st_mtime_ns)
    call(capsys, "measure", marked)
    assert (marked.read_bytes(), marked.stat().st_mtime_ns) == before
