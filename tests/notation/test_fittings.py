"""Records of fittings as text: what is written is read, and what stood there still stands."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import DocumentError
from crossgrain.model.seams.fitting import MEASURED, Basted, FittingRecord
from crossgrain.model.seams.station import Station
from crossgrain.notation.fittings import new_record, read_record, with_basted

lengths = st.integers(-400_000, 400_000).map(lambda number: number / 10_000.0)
stations = st.one_of(
    st.sampled_from(["waist", "hip", "knee", "hem"]).map(lambda name: Station(name=name)),
    st.integers(0, 100).map(lambda percent: Station(share=percent / 100.0, start="hem")),
    st.integers(1, 900).map(lambda mm: Station(along=float(mm))),
    st.integers(1, 9).map(lambda number: Station(notch=number)),
)
plain = st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=30)
bastings = st.builds(
    Basted,
    seam=st.sampled_from(["side", "inseam", "seat"]),
    at=st.lists(st.tuples(stations, lengths), min_size=1, max_size=4, unique_by=lambda one: one[0]).map(tuple),
    measured=st.sampled_from(MEASURED),
    seams=st.integers(1, 8),
    cloth=plain,
    note=plain,
)


@given(plain, plain, st.lists(bastings, max_size=4))
def test_what_is_written_is_read_and_every_earlier_text_is_its_beginning(person, garment, given_bastings):
    text = new_record(FittingRecord(person=person, garment=garment))
    for basted in given_bastings:
        longer = with_basted(text, basted)
        assert longer.startswith(text)
        text = longer
    assert read_record(text, "record.toml") == FittingRecord(
        person=person, garment=garment, bastings=tuple(given_bastings)
    )
    tomllib.loads(text)


def test_a_remark_and_a_missing_last_line_end_by_the_maker_stay():
    text = '# mine\nperson = "form 2"  # she\n[[basting]]\nseam = "side"\nat = ["hip=7mm"]'
    longer = with_basted(text, Basted(seam="side", at=((Station(name="hip"), 5.0),)))
    assert longer.startswith(text + "\n")
    assert [basted.inside[0][1] for basted in read_record(longer, "r").bastings] == [7.0, 5.0]


def test_a_basting_that_cannot_be_read_is_said_with_its_line():
    text = """person = "x"

[[basting]]
seam = "side"
at = ["hip=7mm"]

[[ basting ]]  # the second
seam = "side"
at = ["hip=7mm", "waist=foo"]
"""
    with pytest.raises(DocumentError, match=r"record\.toml, line 7, basting 2: “foo” cannot be read"):
        read_record(text, "record.toml")
    inline = 'basting = [{seam = "side", at = ["hip=7mm"]}, {seam = "side", at = ["foo"]}]'
    with pytest.raises(DocumentError, match=r"record\.toml, basting 2: "):
        read_record(inline, "record.toml")


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("person = ", "record.toml cannot be read"),
        ("colour = 1", "“colour” is not known"),
        ('[[basting]]\nseam = "side"', "basting 1: “at” is no list of texts"),
        ('[[basting]]\nseam = "side"\nat = []', "“at” is no list of texts"),
        ('[[basting]]\nseam = "side"\nat = ["hip=7"]', "7"),
        ('[[basting]]\nat = ["hip=7mm"]', "“seam” is missing"),
        ('[[basting]]\nseam = "side"\nat = ["hip=7mm"]\nmeasured = "girth"', "garment girth"),
        ('[[basting]]\nseam = "side"\nat = ["hip=7mm"]\nseams = "2"', "“seams” is no whole number"),
        ('[[basting]]\nseam = "side"\nat = ["hip=7mm"]\nseams = 0', "one such seam"),
    ],
)
def test_what_cannot_be_read_is_said_with_its_place(text, sentence):
    with pytest.raises(DocumentError, match=r"record\.toml") as refusal:
        read_record(text, "record.toml")
    assert sentence in str(refusal.value)
