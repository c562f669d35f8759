"""Marking: the edges of a bare outline get their names, and nothing about its line changes."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.area import winding
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import CutInstruction, Dart, Edge, Hold, Notch, Pattern, Piece, Width
from crossgrain.model.marking.wanted import Spot, WantedDart, WantedGrain, WantedHold, WantedNotch
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.operations.marking import Marking, mark
from edited_outlines import Labelled, mapped, new_start, outline, reverse

randoms = st.randoms(use_true_random=False)
NAMES = ("waist", "side", "hem", "inseam", "crotch", "centre", "facing", "placket", "band")
TROUSERS = NAMES[:6]


def bare(line: Path, id: str = "path1") -> Pattern:
    return Pattern(pieces=(Piece(id=id, edges=(Edge(name="", line=Path(line.segments)),)),))


def front(start: int = 0, *, backwards: bool = False) -> Path:
    corners = [(0.0, 10.0), (230.0, 0.0), (215.0, 1000.0), (40.0, 1000.0), (-55.0, 270.0)]
    segments = [Line(p, q) for p, q in pairwise(corners)]
    segments.append(Cubic((-55.0, 270.0), (-20.0, 268.0), (0.0, 240.0), (0.0, 190.0)))
    segments.append(Line((0.0, 190.0), (0.0, 10.0)))
    line = Path(tuple(segments[start:] + segments[:start]), True)
    return line.reversed() if backwards else line


CENTRE = OutlineSpot(point=(1.0, 191.0))


def marked(**more) -> Piece:
    return mark(bare(front()), Marking(piece="path1", edges=TROUSERS, corners=(CENTRE,), **more)).value.pieces[0]


# --- Laws --------------------------------------------------------------------------------------------------------


@given(randoms)
@settings(max_examples=40)
def test_the_line_stays_and_its_edges_run_clockwise_from_corner_to_corner(rng):
    drawn = outline(rng)
    true = range(drawn.count)
    before = bare(drawn.line)
    names = NAMES[: drawn.count]
    spots = tuple(OutlineSpot(node=drawn.labels.index(label)) for label in true)
    [piece] = mark(before, Marking(piece="path1", edges=names, corners=spots)).value.pieces
    assert piece.edge_names == names
    assert winding(piece.line) > 0
    assert path_length(piece.line) == pytest.approx(path_length(drawn.line), abs=1e-9)
    assert set(piece.line.nodes) == set(drawn.line.nodes)
    assert {edge.line.start for edge in piece.edges} == {drawn.node_of(label) for label in true}
    assert sum(piece.edges[0].line.start) == min(sum(edge.line.start) for edge in piece.edges)
    for one, after in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
        assert one.line.end == after.line.start


@given(randoms, st.integers(0, 5), st.booleans())
def test_the_names_do_not_depend_on_where_the_line_starts_and_which_way_it_runs(rng, start, backwards):
    marking = Marking(piece="path1", edges=TROUSERS, corners=(CENTRE,))
    expected = mark(bare(front()), marking).value.pieces[0]
    [piece] = mark(bare(front(start, backwards=backwards)), marking).value.pieces
    for name in TROUSERS:
        assert piece.edge(name).line.nodes == expected.edge(name).line.nodes


@given(randoms)
@settings(max_examples=20)
def test_marking_twice_is_marking_once(rng):
    marking = Marking(
        piece="path1",
        name="front",
        edges=TROUSERS,
        corners=(CENTRE,),
        grain=WantedGrain(edge="centre"),
        notches=(WantedNotch(edge="side", at=Spot(along=rng.uniform(0.0, 900.0))),),
    )
    once = mark(bare(front()), marking).value
    assert mark(once, replace(marking, piece="front")).value == once


def test_the_pattern_given_is_not_altered_and_other_pieces_stay():
    other = Piece(id="other", edges=(Edge(name="", line=Path(front().segments)),))
    before = Pattern(pieces=(*bare(front()).pieces, other))
    after = mark(before, Marking(piece="path1", name="front")).value
    assert before.pieces[0].name == ""
    assert after.pieces[1] is other


# --- Corners -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "spot",
    [
        OutlineSpot(node=5),
        OutlineSpot(point=(3.0, 189.0)),
        OutlineSpot(share=path_length(Path(front().segments[:5])) / path_length(front())),
    ],
)
def test_a_smooth_corner_is_given_as_node_point_or_share(spot):
    [piece] = mark(bare(front()), Marking(piece="path1", edges=TROUSERS, corners=(spot,))).value.pieces
    assert piece.edge("waist").line.nodes == ((0.0, 10.0), (230.0, 0.0))
    assert piece.edge("centre").line.nodes == ((0.0, 190.0), (0.0, 10.0))
    assert isinstance(piece.edge("crotch").line.segments[0], Cubic)


def test_a_smooth_corner_between_nodes_splits_the_line_there():
    [piece] = mark(
        bare(front()), Marking(piece="path1", edges=TROUSERS, corners=(OutlineSpot(point=(0.0, 100.0)),))
    ).value.pieces
    assert piece.edge("centre").line.start == pytest.approx((0.0, 100.0))
    assert len(piece.edge("crotch").line.segments) == 2


def test_start_picks_the_corner_nearest_to_it():
    [piece] = mark(
        bare(front()),
        Marking(
            piece="path1",
            edges=("hem", "inseam", "crotch", "centre", "waist", "side"),
            corners=(CENTRE,),
            start=OutlineSpot(point=(214.0, 999.0)),
        ),
    ).value.pieces
    assert piece.edges[0].line.start == (215.0, 1000.0)
    assert piece.edge("waist").line.start == (0.0, 10.0)


def test_as_many_corners_given_as_edges_are_all_the_corners():
    spots = tuple(OutlineSpot(node=node) for node in (0, 2, 4))
    [piece] = mark(bare(front()), Marking(piece="path1", edges=("a", "b", "c"), corners=spots)).value.pieces
    assert [edge.line.start for edge in piece.edges] == [(0.0, 10.0), (215.0, 1000.0), (-55.0, 270.0)]


@pytest.mark.parametrize("names", [TROUSERS[:4], (*TROUSERS, "facing")])
def test_a_count_that_does_not_fit_says_what_was_found_where_and_with_which_turn(names):
    with pytest.raises(ParameterError) as caught:
        mark(bare(front()), Marking(piece="path1", edges=names))
    message = caught.value.message
    assert f"{len(names)} edges are named" in message
    assert "the outline has 5 corners" in message
    assert "1: x 0.0 mm, y 10.0 mm, turning 88°" in message
    assert "x 40.0 mm, y 1000.0 mm" in message
    assert caught.value.piece == "path1"
    assert caught.value.advice


@pytest.mark.parametrize(
    ("spot", "said"),
    [(OutlineSpot(node=6), "no node 6"), (OutlineSpot(point=(100.0, 500.0)), "from the outline")],
)
def test_a_corner_that_is_not_on_the_outline_is_refused(spot, said):
    with pytest.raises(ParameterError, match=said):
        mark(bare(front()), Marking(piece="path1", edges=TROUSERS, corners=(spot,)))


def test_mirroring_the_outline_reverses_the_order_of_the_names_on_it():
    drawn = Labelled(front().segments, tuple(range(6)))
    flipped = mapped(drawn, Affine.scaling(-1.0, 1.0))
    names = ("waist", "centre", "crotch", "inseam", "hem", "side")
    spot = OutlineSpot(point=(0.0, 190.0))
    [piece] = mark(bare(flipped.line), Marking(piece="path1", edges=names, corners=(spot,))).value.pieces
    assert piece.edge("centre").line.nodes == ((0.0, 10.0), (0.0, 190.0))


# --- The rest ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("wanted", "grain"),
    [
        (WantedGrain(), (0.0, 1.0)),
        (WantedGrain(turn_rad=-math.pi / 2.0), (1.0, 0.0)),
        (WantedGrain(turn_rad=math.radians(10.0)), (-math.sin(math.radians(10.0)), math.cos(math.radians(10.0)))),
        (WantedGrain(edge="centre"), (0.0, -1.0)),
        (WantedGrain(edge="centre", turn_rad=math.pi / 2.0), (1.0, 0.0)),
    ],
)
def test_grain_by_the_page_or_by_an_edge(wanted, grain):
    assert marked(grain=wanted).grain == pytest.approx(grain)


def test_marks_are_placed_by_share_or_length():
    side = path_length(Path(front().segments[1:2]))
    piece = marked(
        notches=(
            WantedNotch(edge="side", at=Spot(share=0.5), count=2),
            WantedNotch(edge="side", at=Spot(along=120.0)),
        ),
        darts=(WantedDart(edge="waist", at=Spot(share=0.45), width=20.0, depth=110.0),),
        holds=(WantedHold(edge="centre", width=5.0, end=Spot(along=90.0)),),
        cut=CutInstruction(count=1, on_fold="centre"),
        outline="cut",
        name="front",
    )
    assert piece.notches == (
        Notch(edge="side", share=0.5, count=2),
        Notch(edge="side", share=120.0 / side),
    )
    assert piece.darts == (Dart(edge="waist", share=0.45, width=20.0, depth=110.0),)
    assert piece.holds == (Hold(edge="centre", width=5.0, end=0.5),)
    assert (piece.cut.on_fold, piece.outline, piece.name) == ("centre", "cut", "front")


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"notches": (WantedNotch(edge="back", at=Spot(share=0.5)),)}, "no edge named back"),
        ({"notches": (WantedNotch(edge="centre", at=Spot(along=181.0)),)}, "lies off the edge"),
        ({"darts": (WantedDart(edge="waist", at=Spot(share=0.01), width=20.0, depth=90.0),)}, "beyond the edge"),
        ({"holds": (WantedHold(edge="centre", width=5.0, start=Spot(along=100.0), end=Spot(share=0.2)),)}, "before"),
        ({"cut": CutInstruction(on_fold="back")}, "no edge named back"),
        ({"grain": WantedGrain(edge="back")}, "no edge named back"),
    ],
)
def test_a_mark_that_does_not_fit_is_refused(more, said):
    with pytest.raises(ParameterError, match=said):
        marked(**more)


def test_naming_again_keeps_what_still_fits_and_tells_what_was_dropped():
    piece = marked(
        notches=(WantedNotch(edge="side", at=Spot(share=0.5)),), holds=(WantedHold(edge="centre", width=5.0),)
    )
    widths = tuple(replace(edge, allowance=Width.of(10.0)) if edge.name == "side" else edge for edge in piece.edges)
    names = ("top", "side", "hem", "inseam", "fork", "front")
    outcome = mark(
        Pattern(pieces=(replace(piece, edges=widths),)), Marking(piece="path1", edges=names, corners=(CENTRE,))
    )
    [again] = outcome.value.pieces
    assert again.notches == piece.notches
    assert again.edge("side").allowance == Width.of(10.0)
    assert again.holds == ()
    assert [finding.edge for finding in outcome.findings] == ["centre"]


@pytest.mark.parametrize(
    "wrong",
    [
        {"edges": ("waist", "side", "waist")},
        {"edges": ("waist", "")},
        {"corners": (CENTRE,)},
        {"start": CENTRE},
    ],
)
def test_parameters_check_themselves(wrong):
    with pytest.raises(ParameterError):
        Marking(piece="path1", **wrong)


@given(randoms)
@settings(max_examples=15)
def test_a_bare_outline_may_start_and_run_anyhow(rng):
    drawn = outline(rng)
    spots = tuple(OutlineSpot(point=drawn.node_of(label)) for label in range(drawn.count))
    marking = Marking(piece="path1", edges=NAMES[: drawn.count], corners=spots)
    first = mark(bare(drawn.line), marking).value.pieces[0]
    other = mark(bare(reverse(rng, new_start(rng, drawn)).line), marking).value.pieces[0]
    assert [edge.line.nodes for edge in other.edges] == [edge.line.nodes for edge in first.edges]
