"""The sides of a seam are looked at from one end, however their pieces are drawn."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Pattern
from crossgrain.model.seams.seam import end_names, sides_of
from moved_lines import Walked
from pieces import against, moved, one, turned, upright_pieces


@given(turned(upright_pieces()), turned(upright_pieces()), st.sampled_from(["side", "inseam"]))
def test_every_side_runs_from_the_same_end(front, back, seam):
    pattern = Pattern(pieces=(replace(front, id="front"), replace(back, id="back")))
    for side in sides_of(pattern, seam):
        assert side.first_neighbour == {"side": "waist", "inseam": "centre"}[seam]
        assert side.last_neighbour == "hem"
        corner = side.piece.edge(side.first_neighbour).line
        assert side.line.start in (corner.start, corner.end)


@given(turned(upright_pieces()), st.sampled_from(["side", "inseam", "waist", "hem"]))
def test_inwards_points_into_the_piece(piece, seam):
    import numpy as np
    import shapely

    from moved_lines import dense_line

    [side] = sides_of(one(piece), seam)
    [point], [normal] = Walked(side.line).frames([Walked(side.line).total / 2.0])
    probe = point + 0.5 * side.inwards * normal
    ring = shapely.Polygon(np.array(dense_line(Path(piece.line.segments)).coords))
    assert ring.contains(shapely.Point(probe.real, probe.imag))


@given(upright_pieces(), st.sampled_from(["side", "inseam", "centre"]))
def test_a_side_turned_twice_is_itself(piece, seam):
    [side] = sides_of(one(piece), seam)
    assert side.turned().turned() == side
    assert side.turned().inwards == -side.inwards
    assert side.turned().first_neighbour == side.last_neighbour


@given(upright_pieces())
def test_the_other_way_round_is_the_same_side(piece):
    [a], [b] = sides_of(one(piece), "side"), sides_of(one(against(piece)), "side")
    assert a.line == b.line
    assert a.is_turned is not b.is_turned
    assert a.inwards == b.inwards


@given(upright_pieces())
def test_where_no_end_has_a_shared_name_the_upper_one_on_the_body_is_first(piece):
    """Alone and lying on its head: the waist tells what is up."""
    lying = moved(piece, Affine.rotation(math.pi))
    [side] = sides_of(one(lying), "side")
    assert side.first_neighbour == "waist"


@pytest.mark.parametrize(
    ("cut", "copies"),
    [(CutInstruction(), 1), (CutInstruction(count=2, mirrored=True), 2), (CutInstruction(on_fold="centre"), 2)],
)
def test_copies_are_the_seams_a_garment_has(cut, copies):
    @given(upright_pieces())
    def holds(piece):
        [side] = sides_of(one(replace(piece, cut=cut)), "side")
        assert side.copies == copies

    holds()


@given(upright_pieces())
def test_ends_are_known_by_their_neighbours(piece):
    assert end_names(sides_of(one(piece), "side")) == (frozenset({"waist"}), frozenset({"hem"}))


@given(upright_pieces())
def test_what_is_no_seam_is_refused(piece):
    with pytest.raises(ParameterError, match="sleeve") as caught:
        sides_of(one(piece), "sleeve")
    assert "centre, hem, inseam, side, waist" in caught.value.advice
    with pytest.raises(ParameterError, match="fold"):
        sides_of(one(replace(piece, cut=CutInstruction(on_fold="centre"))), "centre")
