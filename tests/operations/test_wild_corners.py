"""Corners of every style on outlines of every shape: a right line, or an error that names the edges and what to do."""

import os

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.errors import CollapseError
from crossgrain.kernel.area import winding
from crossgrain.kernel.meetings.crossing import path_crossings, self_crossings
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import Edge, Piece, SewnCorner, Width
from crossgrain.model.cutting.sewn_corner import GUIDED, WAYS
from crossgrain.operations.allowance import Allowance, allow
from outline_widths import dense, distances
from pieces import one
from strategies import simple_outlines

OUTLINES = int(os.environ.get("CROSSGRAIN_OUTLINES", "40"))
"""How many outlines are drawn where the issue asks for 500; fewer in every run of the tests."""


@st.composite
def styled(draw):
    """Draw an outline with an edge for each segment, a width for each edge, and styles for some corners."""
    outline = draw(simple_outlines(most=8))
    names = [f"e{k}" for k in range(len(outline.segments))]
    edges = tuple(Edge(name=name, line=Path((s,))) for name, s in zip(names, outline.segments, strict=True))
    corners = []
    for _ in range(draw(st.integers(1, 4))):
        k = draw(st.integers(0, len(names) - 1))
        pair = draw(st.sampled_from([(names[k - 1], names[k]), (names[k],)]))
        way = draw(st.sampled_from(WAYS))
        guide = draw(st.sampled_from(pair)) if way in GUIDED else ""
        corners.append(SewnCorner(edges=pair, way=way, guide=guide))
    widths = [draw(st.floats(3.0, 30.0)) for _ in names]
    return Piece(id="p", edges=edges), tuple(corners), widths


@settings(max_examples=OUTLINES, deadline=None)
@given(styled())
def test_a_right_line_or_an_error_that_names_the_edges(drawn):
    piece, corners, widths = drawn
    named = tuple((edge.name, Width.of(mm)) for edge, mm in zip(piece.edges, widths, strict=True))
    try:
        [new] = allow(one(piece), Allowance(edges=named, corners=corners)).value.pieces
    except CollapseError as error:
        said = (error.edge, error.advice)
        assert all(said), error  # noqa: PT017  # either is right; a refusal says where, and what to do
        return
    check_right(new.counterpart, piece, widths)


def check_right(cut, piece, widths):
    """A cut line that goes round the piece as the piece goes round, and leaves cloth everywhere."""
    assert not self_crossings(cut)
    assert winding(cut) == winding(piece.line)
    assert not path_crossings(cut, piece.line)
    # Nowhere is there less cloth than the narrowest width.
    assert distances(dense(cut), piece.line, 0.2).min() >= min(widths) - 0.02


def allowed(lines, widths, corner):
    """Return a piece with an edge for each line, and its cut line at these widths."""
    piece = Piece(id="p", edges=tuple(Edge(name=name, line=Path((line,))) for name, line in lines.items()))
    named = tuple((name, Width.of(mm)) for name, mm in zip(lines, widths, strict=True))
    [new] = allow(one(piece), Allowance(edges=named, corners=(corner,))).value.pieces
    return piece, new.counterpart


def test_a_shape_that_would_cut_into_a_bend_is_refused_with_its_corner():
    """The neck bends out below the shoulder: the shoulder's line, gone on straight, would pass through it."""
    lines = {
        "front": Line((121.0, -33.0), (9.0, 191.0)),
        "hem": Cubic((9.0, 191.0), (-41.0, 148.0), (-196.0, 161.0), (-188.0, 63.0)),
        "neck": Cubic((-188.0, 63.0), (-205.0, 33.0), (-131.0, -32.0), (-144.0, -53.0)),
        "shoulder": Cubic((-144.0, -53.0), (-133.0, -107.0), (31.0, -96.0), (71.0, -128.0)),
        "back": Cubic((71.0, -128.0), (111.0, -124.0), (211.0, -111.0), (121.0, -33.0)),
    }
    corner = SewnCorner(edges=("neck", "shoulder"), way="squared", guide="shoulder")
    with pytest.raises(CollapseError, match="cut into the cloth") as caught:
        allowed(lines, (4.0, 13.0, 17.0, 25.0, 17.0), corner)
    assert caught.value.edge == "neck/shoulder"
    assert caught.value.position == (-144.0, -53.0)


@pytest.mark.parametrize("width", [8.0, 9.0])
@pytest.mark.parametrize("end", [(-15.0, 25.98), (-10.0, 17.32)])
@pytest.mark.parametrize(
    "corner",
    [SewnCorner(edges=("neck",), way="mirrored", guide="neck"), SewnCorner(edges=("hem", "collar"), way="mitred")],
)
def test_a_wide_bend_at_a_slight_corner_leaves_the_narrow_edge_its_cloth(width, end, corner):
    """Right at the corner the neck bends more tightly than its width; begun beyond that, its line cut in there once."""
    lines = {
        "collar": Line((40.0, 0.0), (20.0, 34.64)),
        "neck": Cubic((20.0, 34.64), (10.35, 38.64), (-5.18, 19.32), end),
        "shoulder": Line(end, (-40.0, 0.0)),
        "back": Line((-40.0, 0.0), (-20.0, -34.64)),
        "seat": Line((-20.0, -34.64), (20.0, -34.64)),
        "hem": Line((20.0, -34.64), (40.0, 0.0)),
    }
    widths = (3.0, width, 3.0, 3.0, 3.0, 3.0)
    piece, cut = allowed(lines, widths, corner)
    check_right(cut, piece, widths)
