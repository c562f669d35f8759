"""A piece with one edge drawn anew closes, keeps its other edges, and never crosses itself."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import ParameterError, SelfCrossingError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.area import winding
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import Edge, Piece
from crossgrain.model.seams.moved_edge import with_moved_edge
from pieces import turned, upright_pieces


@given(turned(upright_pieces()), st.sampled_from(["waist", "side", "hem", "inseam", "centre"]))
def test_an_edge_that_stays_leaves_every_edge_as_it_is(piece, name):
    assert with_moved_edge(piece, name, piece.edge(name).line) == piece.edges


@given(upright_pieces(), st.floats(-15.0, 15.0))
def test_the_edges_close_and_the_others_stay(piece, by):
    hem = piece.edge("hem").line.mapped(Affine.translation(0.0, by))
    edges = with_moved_edge(piece, "hem", hem)
    for before, after in zip(edges, [*edges[1:], edges[0]], strict=True):
        assert before.line.end == after.line.start
    new = replace(piece, edges=edges)
    assert winding(new.line) == winding(piece.line)
    assert [new.edge(name) for name in ("waist", "centre")] == [piece.edge(name) for name in ("waist", "centre")]
    assert all(node[1] == pytest.approx(hem.start[1]) for node in new.edge("hem").line.nodes)


def test_one_edge_has_no_corner_to_slide_along():
    ring = Path.polygon([(0, 0), (100, 0), (100, 100), (0, 100)])
    piece = Piece(id="p", edges=(Edge(name="", line=Path(ring.segments)),))
    with pytest.raises(ParameterError, match="no corner"):
        with_moved_edge(piece, "", piece.edges[0].line)


@given(upright_pieces())
def test_an_outline_that_would_cross_itself_is_refused_where_it_does(piece):
    """The side bulges through the piece and out of its other side."""
    line = piece.edge("side").line
    bulge = (-500.0, 300.0)
    with pytest.raises(SelfCrossingError) as caught:
        with_moved_edge(piece, "side", Path((Line(line.start, bulge), Line(bulge, line.end))))
    assert (caught.value.piece, caught.value.edge) == ("leg", "side")
    assert caught.value.position is not None
    assert caught.value.advice
