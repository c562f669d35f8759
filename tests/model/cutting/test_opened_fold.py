"""A half opened out at its fold: twice the half, the same on both sides, the drawn half untouched."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from crossgrain.errors import GeometryError
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import CutInstruction, Edge, Pattern, Piece
from crossgrain.model.cutting.opened_fold import opened_fold
from crossgrain.operations.allowance import Allowance, allow
from pieces import turned, upright_pieces


def on_fold(piece):
    return replace(piece, cut=CutInstruction(on_fold="centre"))


def reaches_over(half):
    """Whether there is cloth on both sides of the line of the fold."""
    fold = half.edge("centre").line
    along = np.subtract(fold.end, fold.start)
    points = np.array(flatten(half.line, 0.01).points) - fold.start
    beside = (along[0] * points[:, 1] - along[1] * points[:, 0]) / math.hypot(*along)
    return beside.min() < -0.02 and beside.max() > 0.02


@settings(max_examples=40, deadline=None)
@given(turned(upright_pieces()).map(on_fold))
def test_the_whole_is_twice_the_half_and_its_own_mirror_image(half):
    if reaches_over(half):
        with pytest.raises(GeometryError, match="reaches over the line of its own fold"):
            opened_fold(half)
        return
    whole = opened_fold(half)
    assert abs(signed_area(whole.outline)) == pytest.approx(2.0 * abs(signed_area(half.line)), rel=1e-9)
    own = {segment for edge in half.edges if edge.name != "centre" for segment in edge.line.segments}
    assert own <= set(whole.outline.segments)
    shape = shapely.Polygon(flatten(whole.outline, 0.01).points)
    image = shapely.Polygon(flatten(whole.outline.mapped(whole.mirror), 0.01).points)
    assert shape.symmetric_difference(image).area < 1e-3 * shape.length
    assert shape.is_valid


@settings(max_examples=15, deadline=None)
@given(turned(upright_pieces()).map(on_fold), st.floats(2.0, 15.0))
def test_the_cut_line_is_opened_with_it(half, width):
    assume(not reaches_over(half))
    [half] = allow(Pattern(pieces=(half,)), Allowance(width=width)).value.pieces
    whole = opened_fold(half)
    assert whole.counterpart.closed
    assert abs(signed_area(whole.counterpart)) == pytest.approx(2.0 * abs(signed_area(half.counterpart)), rel=1e-6)
    outline, around = (shapely.Polygon(flatten(one, 0.01).points) for one in (whole.outline, whole.counterpart))
    assert around.buffer(0.02).contains(outline)


def half_square(fold, **more):
    sides = [Line((0.0, 0.0), (35.0, 0.0)), fold, Line((35.0, 170.0), (0.0, 170.0)), Line((0.0, 170.0), (0.0, 0.0))]
    names = ("waist", "fold", "foot", "centre")
    edges = tuple(Edge(name=name, line=Path((side,))) for name, side in zip(names, sides, strict=True))
    return Piece(id="guard", name="guard", edges=edges, cut=CutInstruction(on_fold="fold"), **more)


def test_a_fold_that_bends_is_refused_with_the_edge():
    bent = Cubic((35.0, 0.0), (37.0, 60.0), (37.0, 110.0), (35.0, 170.0))
    with pytest.raises(GeometryError, match="not straight") as caught:
        opened_fold(half_square(bent))
    assert (caught.value.piece, caught.value.edge) == ("guard", "fold")


def test_a_fold_with_cloth_beyond_it_is_refused():
    straight = Line((35.0, 0.0), (35.0, 170.0))
    beyond = Path.polygon([(-10, -10), (40, -10), (40, 180), (-10, 180)])
    with pytest.raises(GeometryError, match="none on the fold"):
        opened_fold(half_square(straight, counterpart=beyond))


def test_by_hand():
    """35 × 170 on the fold, 10 mm around: opened 70 × 170 and 90 × 190 (arithmetic)."""
    straight = Line((35.0, 0.0), (35.0, 170.0))
    around = Path.polygon([(-10, -10), (35, -10), (35, 180), (-10, 180)])
    whole = opened_fold(half_square(straight, counterpart=around))
    assert abs(signed_area(whole.outline)) == pytest.approx(70.0 * 170.0)
    assert abs(signed_area(whole.counterpart)) == pytest.approx(90.0 * 190.0)
    assert math.dist(whole.mirror.of((0.0, 5.0)), (70.0, 5.0)) < 1e-12
