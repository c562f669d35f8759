"""``crossgrain mark``: what is pressed, stitched and closed goes into the drawing as it was typed."""

from __future__ import annotations

import pathlib

import pytest

from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.model.marking.sewing_marks import Button, Buttonhole, Crease, Loop, Topstitching
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

TROUSERS = pathlib.Path(__file__).parent.parent.parent / "samples" / "trousers.svg"
SIZE = {"diameter": 15.0, "thickness": 3.0}


@pytest.mark.parametrize(
    ("piece", "words", "kind", "marks"),
    [
        (
            "front-right",
            ["--crease", "hem=50% to 75%"],
            "creases",
            (Crease(edge="hem", share=0.5, reach=0.75),),
        ),
        (
            "waistband",
            ["--loop", "waist=25%", "--loop", "waist=75% width 12mm length 6cm"],
            "loops",
            (Loop(edge="waist", share=0.25), Loop(edge="waist", share=0.75, width=12.0, length=60.0)),
        ),
        (
            "waistband",
            ["--button", "left=50% 15mm by 3mm"],
            "buttons",
            (Button(edge="left", share=0.5, **SIZE, inset=15.0),),
        ),
        (
            "waistband",
            ["--buttonhole", "right=50% 15mm by 3mm from 12mm along"],
            "buttonholes",
            (Buttonhole(edge="right", share=0.5, **SIZE, inset=12.0, lie="along"),),
        ),
        (
            "front-left",
            ["--topstitch", "centre=40mm"],
            "topstitching",
            (Topstitching(edge="centre", width=40.0, start=1.0, end=0.0),),
        ),
    ],
)
def test_a_mark_is_read_again_as_it_was_typed(capsys, tmp_path, piece, words, kind, marks):
    target = tmp_path / "marked.svg"
    assert call(capsys, "mark", TROUSERS, "-o", target, "--piece", piece, *words).code == Exit.FINE
    read = pattern_of(read_drawing(target))
    assert getattr(read.piece(piece), kind) == marks
    others = [one for one in pattern_of(read_drawing(TROUSERS)).pieces if one.id != piece]
    assert [one for one in read.pieces if one.id != piece] == others
    assert call(capsys, "check", target).code == Exit.FINE


def test_darts_are_drilled_and_notches_given_a_kind(capsys, tmp_path):
    target = tmp_path / "marked.svg"
    words = ["--drill", "1/2 in", "--notch", "side=50% double V"]
    assert call(capsys, "mark", TROUSERS, "-o", target, "--piece", "back", *words).code == Exit.FINE
    piece = pattern_of(read_drawing(target)).piece("back")
    assert [dart.drill for dart in piece.darts] == pytest.approx([12.7])
    assert [(notch.count, notch.kind) for notch in piece.notches] == [(2, "V")]


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["--button", "left=50%"], Exit.USAGE, "no width or no thickness"),
        (["--loop", "waist"], Exit.USAGE, "waist=25%"),
        (["--drill", "10"], Exit.USAGE, "no unit"),
        (["--drill", "10mm"], Exit.REFUSED, "no dart to drill"),
        (["--crease", "waist=50%"], Exit.REFUSED, "does not lead into the piece"),
        (["--loop", "cuff=50%"], Exit.REFUSED, "no edge named cuff"),
        (["--topstitch", "top=35mm from 20% to 20%"], Exit.REFUSED, "ends where it begins"),
    ],
)
def test_what_cannot_be_marked_is_said_in_a_sentence_and_nothing_is_written(capsys, tmp_path, words, code, said):
    target = tmp_path / "marked.svg"
    result = call(capsys, "mark", TROUSERS, "-o", target, "--piece", "waistband", *words)
    assert result.code == code
    assert said in result.err
    assert not target.exists()


def test_notches_move_into_the_allowance_with_the_cut_line_and_back_without_it(capsys, tmp_path):
    cut, bare = tmp_path / "cut.svg", tmp_path / "bare.svg"
    into = ["allow", TROUSERS, "-o", cut, "--piece", "back", "--width", "10mm"]
    assert call(capsys, *into).code == Exit.FINE
    assert call(capsys, "reduce", cut, "-o", bare, "--piece", "back", "--by", "5%").code in (Exit.FINE, Exit.FINDINGS)
    shown = {}
    for path in (TROUSERS, cut, bare):
        drawing = read_drawing(path)
        line = pattern_of(drawing).piece("back").line
        strokes = [shape.paths[0] for shape in drawing.shapes if shape.id.startswith("back-notch")]
        box = (min(x for x, _y in line.nodes), max(x for x, _y in line.nodes))
        shown[path] = sum(1 for stroke in strokes if stroke.start[0] < box[0] - 5.0 or stroke.start[0] > box[1] + 5.0)
        assert len(strokes) == (5 if path == cut else 3)  # with two slits at the dart
    assert shown == {TROUSERS: 0, cut: 1, bare: 0}
