"""Ease on a seam of the sample trousers: where it lies, and that the check reads of it in the drawing's journal."""

from __future__ import annotations

import pathlib
import shutil
from itertools import pairwise

import numpy as np
import pytest
import shapely

from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

SAMPLES = pathlib.Path(__file__).parent.parent.parent / "samples"
EASE = "back=4mm between knee and hip"
FRONTS = ("front-left", "front-right")
STRETCHES = ("waist to hip", "hip to knee", "knee to hem")


@pytest.fixture(params=["", "along"], ids=["at the hem", "along"])
def eased(request, capsys, tmp_path):
    target = tmp_path / "eased.svg"
    words = ["--seam", "side", "--ease", EASE, "--body", SAMPLES / "body-size-10.toml"]
    words += ["--give", request.param] if request.param else []
    assert call(capsys, "true", SAMPLES / "trousers.svg", "-o", target, *words).code == Exit.FINE
    return target


def stretches(piece):
    """Lengths from the waist down, from notch to notch, on a polyline by shapely, mm."""
    line = piece.edge("side").line
    drawn = shapely.LineString([s.point(t) for s in line.segments for t in np.linspace(0.0, 1.0, 2000)])
    at = [0.0, *sorted(notch.share for notch in piece.notches if notch.edge == "side"), 1.0]
    lengths = [(q - p) * drawn.length for p, q in pairwise(at)]
    return lengths if line.start[1] < line.end[1] else lengths[::-1]


def test_the_stretch_differs_by_the_ease_and_the_others_agree(eased):
    pattern = pattern_of(read_drawing(eased))
    back = stretches(pattern.piece("back"))
    for id in FRONTS:
        differences = dict(zip(STRETCHES, np.subtract(back, stretches(pattern.piece(id))), strict=True))
        assert differences == pytest.approx({"waist to hip": 0.0, "hip to knee": 4.0, "knee to hem": 0.0}, abs=0.1)


def test_the_check_reads_of_it_in_the_journal(capsys, eased):
    result = call(capsys, "check", eased, "--json")
    assert (result.code, result.data["findings"]) == (Exit.FINE, [])


def test_ease_that_the_journal_does_not_tell_of_is_found(capsys, eased):
    """The same drawing without the line of its journal: 4 mm on either leg, one finding for both."""
    lines = eased.read_text(encoding="utf-8").splitlines(keepends=True)
    kept = [line for line in lines if 'operation="true"' not in line]
    assert len(kept) == len(lines) - 1
    eased.write_text("".join(kept), encoding="utf-8")
    result = call(capsys, "check", eased, "--json")
    assert result.code == Exit.FINDINGS
    [finding] = result.data["findings"]
    assert (finding["piece"], finding["edge"]) == ("left front, right front", "side")
    assert "4.0 mm longer on back" in finding["message"]


def test_trued_without_ease_the_sides_agree_again(capsys, tmp_path, eased):
    target = tmp_path / "plain.svg"
    assert call(capsys, "true", eased, "-o", target, "--seam", "side").code == Exit.FINE
    pattern = pattern_of(read_drawing(target))
    for id in FRONTS:
        assert stretches(pattern.piece(id)) == pytest.approx(stretches(pattern.piece("back")), abs=0.1)
    assert call(capsys, "check", target, "--json").data["findings"] == []


UNTRUED = SAMPLES / "trousers-untrued.svg"


def test_a_piece_that_is_named_comes_to_what_it_is_sewn_to(capsys, tmp_path):
    target = tmp_path / "back.svg"
    result = call(capsys, "true", UNTRUED, "-o", target, "--seam", "side", "--piece", "back", "--json")
    assert result.code == Exit.FINE
    assert {one["piece"] for one in result.data["changes"] if one["what"] == "length"} == {"back"}
    before, after = (pattern_of(read_drawing(file)) for file in (UNTRUED, target))
    for id in FRONTS:
        assert after.piece(id) == before.piece(id)
        assert stretches(after.piece(id)) == pytest.approx(stretches(after.piece("back")), abs=0.1)


def test_what_is_kept_stands_in_the_journal_and_is_done_again(capsys, tmp_path):
    first = tmp_path / "first.svg"
    words = ("--seam", "side", "--keep", "left front", "--keep", "right front")
    assert call(capsys, "true", UNTRUED, "-o", first, *words).code == Exit.FINE
    recipe = tmp_path / "recipe.toml"
    recipe.write_text(call(capsys, "journal", first).out, encoding="utf-8")
    assert 'keep = ["left front", "right front"]' in recipe.read_text(encoding="utf-8")
    (tmp_path / "in").mkdir()
    shutil.copy(UNTRUED, tmp_path / "in" / "again.svg")
    assert call(capsys, "run", recipe, tmp_path / "in", "-o", tmp_path / "out", "--jobs", "1").code == Exit.FINE
    again = tmp_path / "out" / "again.svg"
    assert pattern_of(read_drawing(again)) == pattern_of(read_drawing(first))


@pytest.mark.parametrize("words", [["--keep", "front", "--keep", "back"], ["--piece", "back", "--keep", "back"]])
def test_pieces_that_are_all_kept_and_differ_are_refused(capsys, tmp_path, words):
    result = call(capsys, "true", UNTRUED, "-o", tmp_path / "out.svg", "--seam", "side", *words)
    assert (result.code, list(tmp_path.iterdir())) == (Exit.REFUSED, [])
    assert "They stay as they are, and their sides differ by 6.8 mm. (piece back, left front, right front" in result.err
