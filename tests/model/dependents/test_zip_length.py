"""The zip is as long as its opening: the extension tells it, else the notch."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Edge, Hold, Notch, Piece
from crossgrain.model.dependents.zip_length import ZipLength, zip_length, zip_lengths
from crossgrain.model.dependents.zips import Zip
from pieces import against, turned, upright_pieces

SIDES = Path.polygon([(0, 0), (200, 0), (200, 240), (0, 240)]).segments
EDGES = tuple(
    Edge(name=name, line=Path((side,))) for name, side in zip(("waist", "side", "hem", "centre"), SIDES, strict=True)
)


def front(**more):
    return Piece(id="front", name="front", edges=EDGES, **more)


@given(turned(upright_pieces()), st.floats(0.05, 0.95))
def test_however_the_piece_lies_the_notch_is_counted_from_the_waist(piece, share):
    """The centre of these pieces runs up to the waist."""
    line = piece.edge("centre").line
    waist = piece.edge("waist").line
    starts = min(math.dist(line.start, waist.start), math.dist(line.start, waist.end)) < 1e-6
    marked = replace(piece, notches=(Notch(edge="centre", share=share),))
    wanted = (share if starts else 1.0 - share) * path_length(line)
    assert zip_length([marked]).length == pytest.approx(wanted)
    assert zip_length([against(marked)]).length == pytest.approx(wanted)


def test_the_extension_tells_it_before_any_notch_and_the_longest_counts():
    held = front(holds=(Hold(edge="centre", width=5.0, start=0.3, end=1.0),))
    notched = front(notches=(Notch(edge="centre", share=0.5), Notch(edge="side", share=0.1)))
    assert zip_length([held, notched]) == ZipLength(piece="front", edge="centre", length=pytest.approx(168.0))
    assert zip_length([notched]).length == pytest.approx(120.0)
    assert zip_length([held, replace(held, name="other", holds=(Hold(edge="centre", width=5.0),))]).piece == "other"


def test_of_several_notches_the_lowest_is_the_end():
    """The centre runs up from the hem: its end is the waist."""
    assert (
        zip_length([front(notches=(Notch(edge="centre", share=0.8), Notch(edge="centre", share=0.4)))]).length == 144.0
    )


@pytest.mark.parametrize(
    "piece",
    [
        front(),
        front(holds=(Hold(edge="side", width=5.0),)),
        front(holds=(Hold(edge="centre", width=5.0),), cut=CutInstruction(stabilised=True)),
        Piece(id="bare", edges=(Edge(name="", line=Path(SIDES)),)),
    ],
    ids=["nothing marked", "another edge", "a facing", "bare"],
)
def test_where_nothing_marks_an_opening_there_is_no_zip(piece):
    assert zip_length([piece]) is None
    assert zip_lengths([piece]) == ()


def test_another_edge_may_be_the_opening():
    piece = front(holds=(Hold(edge="side", width=5.0, start=0.0, end=0.5),))
    assert zip_length([piece], "side").length == pytest.approx(120.0)


def test_where_zips_are_marked_only_these_are_told_and_each_opening_once():
    whole = front(zips=(Zip(edge="side"),), holds=(Hold(edge="centre", width=5.0),))
    held = front(zips=(Zip(edge="side"), Zip(edge="hem")), holds=(Hold(edge="side", width=5.0, start=0.0, end=0.25),))
    assert zip_lengths([whole]) == (ZipLength(piece="front", edge="side", length=240.0),)
    assert [(one.edge, one.length) for one in zip_lengths([whole, held])] == [("side", 60.0), ("hem", 200.0)]
