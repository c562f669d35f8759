"""Naming the one edge between two corners, and adding marks: what is not meant stays."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import ParameterError
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.model import Edge, Notch, Pattern, Piece
from crossgrain.model.edge_at import edge_at
from crossgrain.model.marking.wanted import Spot, WantedNotch
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.operations.marking import Marking, mark

CORNERS = [(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)]
BARE = Pattern(pieces=(Piece(id="p", edges=(Edge(name="", line=Path(Path.polygon(CORNERS).segments)),)),))


def spot(x, y):
    return OutlineSpot(point=(x, y))


def named(**more):
    return mark(BARE, Marking(piece="p", edges=("waist", "side", "hem", "centre"), **more)).value


@pytest.mark.parametrize("corner", range(4))
@pytest.mark.parametrize("swapped", [False, True])
def test_on_a_bare_outline_the_others_get_numbers(corner, swapped):
    ends = [spot(*CORNERS[corner]), spot(*CORNERS[(corner + 1) % 4])]
    between = tuple(reversed(ends) if swapped else ends)
    [piece] = mark(BARE, Marking(piece="p", edges=("side",), between=between)).value.pieces
    line = piece.edge("side").line
    assert (line.start, line.end) == (CORNERS[corner], CORNERS[(corner + 1) % 4])
    assert sorted(piece.edge_names) == ["edge-1", "edge-2", "edge-3", "side"]
    assert path_length(piece.line) == pytest.approx(320.0)


def test_on_a_marked_piece_the_other_edges_and_all_marks_stay():
    before = named(notches=(WantedNotch(edge="side", at=Spot(share=0.25)), WantedNotch(edge="hem", at=Spot(share=0.5))))
    outcome = mark(before, Marking(piece="p", edges=("outseam",), between=(spot(100.0, 0.0), spot(100.0, 60.0))))
    [piece] = outcome.value.pieces
    assert piece.edge_names == ("waist", "outseam", "hem", "centre")
    assert piece.notches == (Notch(edge="outseam", share=0.25), Notch(edge="hem", share=0.5))
    assert outcome.findings == ()


def test_naming_an_edge_as_it_is_named_changes_nothing():
    before = named()
    again = mark(before, Marking(piece="p", edges=("hem",), between=(spot(100.0, 60.0), spot(0.0, 60.0))))
    assert again.value == before


def test_a_new_corner_splits_the_edge_it_lies_on():
    [piece] = mark(named(), Marking(piece="p", edges=("top",), between=(spot(0.0, 0.0), spot(40.0, 0.0)))).value.pieces
    assert piece.edge_names == ("top", "edge-1", "side", "hem", "centre")
    assert path_length(piece.edge("top").line) == pytest.approx(40.0)


@pytest.mark.parametrize(
    ("marking", "said"),
    [
        ({"edges": ("a",), "between": (spot(0.0, 0.0), spot(100.0, 60.0))}, "lie others on both sides"),
        ({"edges": ("hem",), "between": (spot(0.0, 0.0), spot(100.0, 0.0))}, "is named hem already"),
    ],
)
def test_what_cannot_be_named_is_said(marking, said):
    with pytest.raises(ParameterError, match=said):
        mark(named(), Marking(piece="p", **marking))


@pytest.mark.parametrize("count", [1, 3])
def test_an_edge_has_two_ends(count):
    with pytest.raises(ParameterError, match="two corners"):
        Marking(piece="p", edges=("a",), between=(spot(0.0, 0.0),) * count)


def test_marks_are_added_or_replaced():
    before = named(notches=(WantedNotch(edge="side", at=Spot(share=0.25)),))
    wanted = (WantedNotch(edge="", at=spot(100.0, 30.0), count=2),)
    [replaced] = mark(before, Marking(piece="p", notches=wanted)).value.pieces
    [added] = mark(before, Marking(piece="p", notches=wanted, add=True)).value.pieces
    assert replaced.notches == (Notch(edge="side", share=0.5, count=2),)
    assert added.notches == (Notch(edge="side", share=0.25), *replaced.notches)


@given(st.floats(0.0, 1.0))
def test_a_place_on_an_edge_is_found_on_that_edge(share):
    [piece] = named().pieces
    name, found = edge_at(piece, spot(100.0, 60.0 * share))
    assert (
        (name, found) == ("side", pytest.approx(share, abs=1e-6)) or share in (0.0, 1.0) or min(share, 1 - share) < 0.1
    )


def test_a_bare_outline_has_no_edge_to_mark():
    with pytest.raises(ParameterError, match="no names yet"):
        mark(BARE, Marking(piece="p", notches=(WantedNotch(edge="", at=spot(100.0, 30.0)),)))
