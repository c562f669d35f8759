"""The written form of what is pressed, stitched and closed: what is written is read again."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import InputError
from crossgrain.model.marking.sewing_marks import Button, Buttonhole, Crease, Loop, Topstitching
from crossgrain.model.marking.wanted import Spot
from crossgrain.notation.sewing_marks import (
    read_button,
    read_buttonhole,
    read_crease,
    read_loop,
    read_topstitching,
    write_button,
    write_buttonhole,
    write_crease,
    write_loop,
    write_topstitching,
)

names = st.from_regex(r"\A[^\W\d_][\w-]{0,8}\Z")
shares = st.floats(0.0, 1.0)
lengths = st.floats(0.001, 500.0)


def near(value):
    """The length as far as it is written."""
    return pytest.approx(value, abs=6e-5)


def share(value):
    return pytest.approx(value, abs=1e-8)


# --- Laws --------------------------------------------------------------------------------------------------------


@given(names, shares, st.floats(0.001, 1.0))
def test_creases(edge, at, reach):
    read = read_crease(write_crease(Crease(edge=edge, share=at, reach=reach)))
    assert (read.edge, read.at.share, read.to.share) == (edge, share(at), share(reach))


@given(names, shares, lengths, st.one_of(st.none(), lengths))
def test_loops(edge, at, width, length):
    read = read_loop(write_loop(Loop(edge=edge, share=at, width=width, length=length)))
    assert (read.edge, read.at.share, read.width) == (edge, share(at), near(width))
    assert read.length == (None if length is None else near(length))


@given(names, shares, lengths, lengths, lengths)
def test_buttons(edge, at, diameter, thickness, inset):
    button = Button(edge=edge, share=at, diameter=diameter, thickness=thickness, inset=inset)
    read = read_button(write_button(button))
    assert (read.edge, read.at.share) == (edge, share(at))
    assert (read.diameter, read.thickness, read.inset) == (near(diameter), near(thickness), near(inset))


@given(names, shares, lengths, lengths, lengths, st.sampled_from(["across", "along"]))
def test_buttonholes(edge, at, diameter, thickness, inset, lie):
    hole = Buttonhole(edge=edge, share=at, diameter=diameter, thickness=thickness, inset=inset, lie=lie)
    read = read_buttonhole(write_buttonhole(hole))
    assert (read.edge, read.at.share, read.lie) == (edge, share(at), lie)
    assert (read.diameter, read.thickness, read.inset) == (near(diameter), near(thickness), near(inset))


@given(names, lengths, st.floats(0.0, 0.4), st.floats(0.6, 1.0), st.booleans())
def test_topstitching(edge, width, one, other, turned):
    start, end = (other, one) if turned else (one, other)
    read = read_topstitching(write_topstitching(Topstitching(edge=edge, width=width, start=start, end=end)))
    assert (read.edge, read.width) == (edge, near(width))
    assert (read.start.share, read.end.share) == (share(start), share(end))


# --- By hand -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "at", "diameter"),
    [
        ("waist=95% 15mm by 3mm from 12mm", Spot(share=0.95), 15.0),
        ("waist = 12,5 % 15 mm by 3 mm", Spot(share=0.125), 15.0),
        ("waist=120mm 5/8 in by 1/8 in from 1/2 in", Spot(along=120.0), 15.875),
        ("waist=1 1/2 in ⅝ in by 3mm", Spot(along=38.1), 15.875),
        ('waist=4" 0.5" by 3mm', Spot(along=101.6), 12.7),
    ],
)
def test_the_place_of_a_button_is_told_from_its_width(text, at, diameter):
    read = read_button(text)
    assert (read.at, read.diameter) == (at, pytest.approx(diameter))


def test_what_is_left_out_is_what_is_usual():
    assert read_loop("waist=25%").width == 10.0
    assert read_button("waist=25% 15mm by 3mm").inset is None
    assert read_buttonhole("waist=25% 15mm by 3mm").lie == "across"
    assert read_crease("hem=50%").to == Spot(share=1.0)
    assert read_crease("hem=50% to 700mm").to == Spot(along=700.0)
    assert (read_topstitching("centre=35mm").start, read_topstitching("centre=35mm").end) == (None, None)


@pytest.mark.parametrize(
    ("read", "text", "said"),
    [
        (read_crease, "hem", "does not name an edge"),
        (read_crease, "hem=50% from 10%", "50% from 10%"),
        (read_loop, "waist=25% wide 10mm", "25% wide 10mm"),
        (read_button, "waist=95% by 3mm", "no width or no thickness"),
        (read_button, "waist=95% 15mm", "no width or no thickness"),
        (read_button, "waist=95% 15 by 3mm", "no unit"),
        (read_button, "waist=95% 15mm by 3mm from", "“”"),
        (read_buttonhole, "along", "does not name an edge"),
        (read_buttonhole, "right=50% 15mm by 3mm aslant", "3mm aslant"),
        (read_topstitching, "centre=35mm from 100% from 5%", "twice"),
        (read_topstitching, "centre=35%", "no unit for this"),
    ],
)
def test_what_is_not_understood_is_said_with_what_to_write(read, text, said):
    with pytest.raises(InputError) as caught:
        read(text)
    assert said in caught.value.message
    assert caught.value.advice
