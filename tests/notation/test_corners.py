"""How corners are shaped, as text: what is written is read, and what cannot be meant is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import InputError
from crossgrain.model import SewnCorner
from crossgrain.model.cutting.sewn_corner import GUIDED, WAYS
from crossgrain.notation.corners import read_corner, read_pressed, write_corner

names = st.sampled_from(["waist", "side", "hem", "in-seam", "Bein_2"])


@st.composite
def corners(draw):
    """Draw styles of corners, edges and all."""
    way = draw(st.sampled_from(WAYS))
    least = 1 if way in GUIDED else 0
    edges = tuple(draw(st.lists(names, min_size=least, max_size=2, unique=True)))
    amount = None
    if way in ("mitred", "blunted"):
        amount = draw(st.one_of(st.none(), st.integers(11, 400).map(lambda tenths: tenths / 10.0)))
    guide = draw(st.sampled_from(edges)) if way in GUIDED else ""
    return SewnCorner(edges=edges, way=way, guide=guide, amount=amount)


@given(corners())
def test_what_is_written_is_read(corner):
    assert read_corner(write_corner(corner)) == corner


@pytest.mark.parametrize(
    ("text", "corner"),
    [
        ("hem=mirrored", SewnCorner(edges=("hem",), way="mirrored", guide="hem")),
        ("side/hem = mirrored", SewnCorner(edges=("side", "hem"), way="mirrored", guide="hem")),
        ("side/hem=mirrored about side", SewnCorner(edges=("side", "hem"), way="mirrored", guide="side")),
        ("waist/side=squared to side", SewnCorner(edges=("waist", "side"), way="squared", guide="side")),
        ("side=straight", SewnCorner(edges=("side",), way="straight", guide="side")),
        ("blunted at 1,2 cm", SewnCorner(edges=(), way="blunted", amount=12.0)),
        ("a/b=mitred limit 2,5", SewnCorner(edges=("a", "b"), way="mitred", amount=2.5)),
    ],
)
def test_the_ways_to_say_it(text, corner):
    assert read_corner(text) == corner


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("hem", "no style of a corner"),
        ("hem=", "no style of a corner"),
        ("hem=round", "no style of a corner"),
        ("hem=mirrored about", "not understood"),
        ("hem=mirrored over hem", "not understood"),
        ("hem=stepped at 3mm", "not understood"),
        ("hem=mitred limit 1e3", "not understood"),
        ("hem=mitred limit 0.5", "no such amount"),
        ("hem=blunted at 3", "3"),
        ("hem=blunted at -3mm", "below zero"),
        ("a/b/c=blunted", "between two edges"),
        ("a/a=blunted", "between two edges"),
        ("1a=blunted", "cannot be the name"),
        ("a/b=squared to c", "by which of its edges"),
        ("squared", "by which of its edges"),
    ],
)
def test_what_cannot_be_meant_is_refused(text, said):
    with pytest.raises(InputError, match=said):
        read_corner(text)


def test_where_darts_are_pressed():
    assert [read_pressed(f"waist={end}")[1] for end in ("start", "end", "open")] == ["start", "end", None]
    with pytest.raises(InputError, match="waist=start, waist=end or waist=open"):
        read_pressed("waist=left")
