"""Marking what is pressed, stitched and closed: placed where it is said to be, replacing what was there or not."""

from dataclasses import replace

import pytest

from crossgrain.errors import CollapseError, ParameterError
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic
from crossgrain.model import CutInstruction, Dart, Edge, Hold, Notch, Pattern, Piece
from crossgrain.model.marking.sewing_marks import Button, Buttonhole, Crease, Loop, Topstitching
from crossgrain.model.marking.wanted import Spot, WantedDart, WantedGrain
from crossgrain.model.marking.wanted_marks import (
    WantedButton,
    WantedButtonhole,
    WantedCrease,
    WantedLoop,
    WantedTopstitching,
)
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.model.piece import MARKS
from crossgrain.operations.marking import Marking, mark

NAMES = ("waist", "side", "hem", "centre")
LINES = Path.polygon([(0.0, 0.0), (200.0, 0.0), (200.0, 800.0), (0.0, 800.0)]).segments
LEG = Piece(
    id="leg",
    name="front",
    edges=tuple(Edge(name=name, line=Path((line,))) for name, line in zip(NAMES, LINES, strict=True)),
)
SIZE = {"diameter": 15.0, "thickness": 3.0}


def half(share=0.5):
    return Spot(share=share)


def marked(piece=LEG, **marking) -> Piece:
    [new] = mark(Pattern(pieces=(piece,)), Marking(piece="leg", **marking)).value.pieces
    return new


WANTED = {
    "creases": (WantedCrease(edge="hem", at=half(), to=Spot(along=600.0)), Crease(edge="hem", share=0.5, reach=0.75)),
    "loops": (WantedLoop(edge="waist", at=Spot(along=50.0)), Loop(edge="waist", share=0.25, width=10.0)),
    "buttons": (
        WantedButton(edge="waist", at=half(), **SIZE),
        Button(edge="waist", share=0.5, **SIZE, inset=15.0),  # common practice: as far inside as it is wide
    ),
    "buttonholes": (
        WantedButtonhole(edge="waist", at=half(), **SIZE, inset=12.0, lie="along"),
        Buttonhole(edge="waist", share=0.5, **SIZE, inset=12.0, lie="along"),
    ),
    "topstitching": (
        WantedTopstitching(edge="centre", width=35.0),
        Topstitching(edge="centre", width=35.0, start=1.0, end=0.0),  # from the waist, where the edge ends
    ),
}


@pytest.mark.parametrize("kind", WANTED)
def test_a_mark_is_placed_replaced_and_added(kind):
    wanted, placed = WANTED[kind]
    one = marked(**{kind: (wanted,)})
    assert getattr(one, kind) == (placed,)
    assert replace(one, **{kind: ()}) == LEG
    assert marked(one, **{kind: (wanted,)}) == one
    assert getattr(marked(one, **{kind: (wanted,)}, add=True), kind) == (placed, placed)
    assert getattr(marked(one, name="leg", **{kind: ()}), kind) == (placed,)


def test_a_drill_hole_is_given_to_every_dart_and_taken_away():
    darts = tuple(WantedDart(edge="waist", at=half(share), width=10.0, depth=90.0) for share in (0.3, 0.7))
    piece = marked(darts=darts, drill=12.0)
    assert [dart.drill for dart in piece.darts] == [12.0, 12.0]
    assert [dart.drill for dart in marked(piece, drill=0.0).darts] == [0.0, 0.0]
    assert [dart.drill for dart in marked(piece, name="leg").darts] == [12.0, 12.0]


@pytest.mark.parametrize(
    ("start", "end", "placed"),
    [
        (None, None, (1.0, 0.0)),
        (None, half(0.85), (0.0, 0.85)),
        (None, half(0.1), (1.0, 0.1)),
        (half(0.0), None, (0.0, 1.0)),
        (half(0.9), half(0.2), (0.9, 0.2)),
    ],
)
def test_topstitching_begins_at_the_far_end_or_at_the_waist(start, end, placed):
    piece = marked(topstitching=(WantedTopstitching(edge="centre", width=35.0, start=start, end=end),))
    [stitching] = piece.topstitching
    assert (stitching.start, stitching.end) == placed


def test_on_an_edge_that_does_not_meet_the_waist_it_begins_at_the_start():
    [stitching] = marked(topstitching=(WantedTopstitching(edge="hem", width=35.0),)).topstitching
    assert (stitching.start, stitching.end) == (0.0, 1.0)


DRESSED = replace(
    LEG,
    cut=CutInstruction(on_fold="centre"),
    notches=(Notch(edge="side", share=0.5, kind="V"),),
    darts=(Dart(edge="waist", share=0.5, width=10.0, depth=90.0, drill=10.0),),
    holds=(Hold(edge="centre", width=5.0),),
    creases=(Crease(edge="hem"),),
    loops=(Loop(edge="waist", share=0.2),),
    buttons=(Button(edge="waist", share=0.1, **SIZE, inset=12.0),),
    buttonholes=(Buttonhole(edge="waist", share=0.1, **SIZE, inset=12.0),),
    topstitching=(Topstitching(edge="centre", width=35.0),),
)


@pytest.mark.parametrize(("edge", "number"), [("waist", 0), ("side", 1), ("hem", 2), ("centre", 3)])
def test_a_renamed_edge_keeps_its_marks(edge, number):
    corners = (OutlineSpot(node=number), OutlineSpot(node=(number + 1) % 4))
    piece = marked(DRESSED, edges=("other",), between=corners)
    for kind in MARKS:
        for mine, theirs in zip(getattr(piece, kind), getattr(DRESSED, kind), strict=True):
            assert mine == replace(theirs, edge="other" if theirs.edge == edge else theirs.edge)


def test_marks_whose_edge_is_gone_are_dropped_and_each_is_said():
    outcome = mark(Pattern(pieces=(DRESSED,)), Marking(piece="leg", edges=("top", "side", "hem", "middle")))
    [piece] = outcome.value.pieces
    assert piece.notches == DRESSED.notches
    assert piece.creases == DRESSED.creases
    for kind in ("darts", "holds", "loops", "buttons", "buttonholes", "topstitching"):
        assert getattr(piece, kind) == ()
    assert [finding.edge for finding in outcome.findings] == ["waist", "centre", "waist", "waist", "waist", "centre"]


BOW = Cubic((0.0, 800.0), (-150.0, 100.0), (-150.0, 40.0), (0.0, 0.0))
BOWED = replace(LEG, edges=(*LEG.edges[:-1], Edge(name="centre", line=Path((BOW,)))))


@pytest.mark.parametrize(
    ("marking", "error", "said"),
    [
        ({"drill": 10.0}, ParameterError, "no dart to drill"),
        (
            {"darts": (WantedDart(edge="waist", at=half(), width=10.0, depth=9.0),), "drill": 10.0},
            ParameterError,
            "outside a dart 9.0 mm deep",
        ),
        (
            {"creases": (WantedCrease(edge="hem", at=half(0.0)),), "grain": WantedGrain(turn_rad=0.1)},
            ParameterError,
            "does not lead into the piece",
        ),
        (
            {"creases": (WantedCrease(edge="hem", to=Spot(along=801.0)),)},
            ParameterError,
            "longer than its way, which is 800.0 mm",
        ),
        ({"loops": (WantedLoop(edge="cuff", at=half()),)}, ParameterError, "no edge named cuff"),
        ({"loops": (WantedLoop(edge="waist", at=half(), width=0.0),)}, ParameterError, "has no size"),
        ({"buttons": (WantedButton(edge="waist", at=Spot(along=300.0), **SIZE),)}, ParameterError, "lies off the edge"),
        (
            {"buttonholes": (WantedButtonhole(edge="waist", at=half(), diameter=15.0, thickness=0.0),)},
            ParameterError,
            "has no size",
        ),
        (
            {"topstitching": (WantedTopstitching(edge="centre", width=35.0, start=half(), end=half()),)},
            ParameterError,
            "ends where it begins",
        ),
    ],
)
def test_what_cannot_be_marked_is_refused_with_the_reason(marking, error, said):
    with pytest.raises(error) as caught:
        marked(**marking)
    assert said in caught.value.message
    assert caught.value.advice


def test_topstitching_on_an_edge_that_bends_too_much_is_refused():
    with pytest.raises(CollapseError) as caught:
        marked(BOWED, topstitching=(WantedTopstitching(edge="centre", width=200.0),))
    assert caught.value.advice
