"""What is needed beside the pieces: counted by hand."""

from __future__ import annotations

from pathlib import Path as FilePath

import pytest
import shapely

from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Dart, Edge, Hold, Notch, Piece
from crossgrain.model.cutting.notions import notions
from crossgrain.model.marking.sewing_marks import Button, Loop
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

SAMPLES = FilePath(__file__).parent.parent.parent.parent / "samples"
PAIR = CutInstruction(count=2, mirrored=True)


def piece(name="front", cut=PAIR, **more):
    sides = Path.polygon([(0, 0), (200, 0), (200, 400), (0, 400)]).segments
    names = ("waist", "side", "hem", "centre")
    edges = tuple(Edge(name=name, line=Path((side,))) for name, side in zip(names, sides, strict=True))
    return Piece(id=name, name=name, edges=edges, cut=cut, **more)


def told(*pieces, tape=()):
    return [(one.kind, one.edge, one.count, round(one.each, 6), one.total) for one in notions(pieces, tape)]


def test_what_is_held_beside_the_opening_is_taped_and_what_is_held_on_it_is_not():
    front = piece(holds=(Hold(edge="side", width=8.0, start=0.25, end=0.75), Hold(edge="centre", width=5.0)))
    assert told(front) == [("zip", "centre", 1, 400.0, 400.0), ("tape", "side", 2, 200.0, 400.0)]


def test_an_edge_named_is_taped_whole_with_its_darts_sewn_and_once_though_it_is_held():
    back = piece("back", darts=(Dart(edge="waist", share=0.5, width=20.0, depth=100.0),))
    front = piece(holds=(Hold(edge="waist", width=8.0, start=0.5),))
    band = piece("band", CutInstruction(stabilised=True))
    assert told(front, back, band, tape=("waist",)) == [
        ("tape", "waist", 2, 200.0, 400.0),
        ("tape", "waist", 2, 180.0, 360.0),
    ]


@pytest.mark.parametrize(
    ("cut", "on_side", "on_fold"),
    [
        (CutInstruction(), 1, 1),
        (CutInstruction(count=2), 1, 1),  # the second is the inner half
        (CutInstruction(count=2, mirrored=True), 2, 2),
        (CutInstruction(count=4, mirrored=True), 2, 2),  # two outer, two inner
        (CutInstruction(mirrored=True), 1, 1),
        (CutInstruction(on_fold="centre"), 2, 1),
        (CutInstruction(count=2, on_fold="centre"), 2, 1),
    ],
)
def test_what_is_sewn_on_counts_for_each_hand_and_each_half(cut, on_side, on_fold):
    buttons = (
        Button(edge="side", share=0.5, diameter=15.0, thickness=3.0, inset=12.0),
        Button(edge="centre", share=0.5, diameter=18.0, thickness=3.0, inset=0.0),
    )
    assert told(piece(cut=cut, buttons=buttons)) == [
        ("button", "", on_side, 15.0, None),
        ("button", "", on_fold, 18.0, None),
    ]


def test_loops_that_are_alike_are_told_together_with_their_strip():
    """Common practice: 15 mm turned in at either end."""
    loops = tuple(
        Loop(edge="waist", share=share, length=length) for share, length in ((0.2, 50.0), (0.5, 50.0), (0.8, 60.0))
    )
    assert told(piece(cut=CutInstruction(), loops=loops)) == [
        ("loop", "", 2, 80.0, 160.0),
        ("loop", "", 1, 90.0, 90.0),
    ]


def test_where_nothing_is_marked_nothing_is_needed():
    assert told(piece()) == []
    assert told(piece(notches=(Notch(edge="side", share=0.5),))) == []


def test_the_sample_trousers_need_a_zip_five_loops_and_a_button():
    """The zip of the draft is 155 mm, its band 40 mm deep: loops of 40 and twice 15 mm."""
    pieces = pattern_of(read_drawing(SAMPLES / "trousers.svg")).pieces
    found = [(kind, count, each) for kind, _edge, count, each, _total in told(*pieces)]
    assert found == [("zip", 1, pytest.approx(155.0, abs=0.001)), ("loop", 5, 70.0), ("button", 1, 15.0)]


def test_tape_is_as_long_as_its_edges():
    """By shapely, on the curved sides of the sample; they have no darts."""
    pattern = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
    tapes = [one for one in notions(pattern.pieces, ("side",)) if one.kind == "tape"]
    assert [(one.piece, one.count) for one in tapes] == [("left front", 1), ("right front", 1), ("back", 2)]
    for tape in tapes:
        line = shapely.LineString(flatten(pattern.piece(tape.piece).edge("side").line, 1e-3).points)
        assert tape.each == pytest.approx(line.length, abs=0.005)
