"""The written forms of what an edge depends on."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import ParameterError, UnitError
from crossgrain.model.dependents.follows import Follows, Term
from crossgrain.model.dependents.traces import Reach, Traces
from crossgrain.model.dependents.zips import Zip
from crossgrain.notation.follows import read_dependence, read_followed, write_dependence, write_followed

names = st.sampled_from(["waist", "centre", "side-back", "ourlet"])
pieces = st.sampled_from(["front", "left front", "poche à l’italienne"])
shares = st.integers(0, 100_000_000).map(lambda number: number / 100_000_000)
lengths = st.integers(1, 9_999_999).map(lambda number: number / 10_000)
reaches = st.one_of(
    shares.map(lambda share: Reach(share=share)),
    st.builds(Reach, share=st.sampled_from([0.0, 1.0]), more=st.one_of(lengths, lengths.map(lambda mm: -mm))),
)


@given(names, pieces, names, reaches, reaches, st.booleans())
def test_what_is_written_of_a_tracing_is_read_back(edge, piece, traced, start, end, turned):
    traces = Traces(edge=edge, piece=piece, traced=traced, start=start, end=end, reversed=turned)
    read = read_dependence(write_dependence(traces))
    assert (read.edge, read.piece, read.traced, read.reversed) == (edge, piece, traced, turned)
    for found, wanted in ((read.start, start), (read.end, end)):
        assert found.share == pytest.approx(wanted.share, abs=1e-9)
        assert found.more == pytest.approx(wanted.more, abs=1e-9)
    assert write_dependence(read) == write_dependence(traces)


@given(names, st.one_of(st.none(), lengths))
def test_what_is_written_of_a_zip_is_read_back(edge, was):
    assert read_dependence(write_dependence(Zip(edge=edge))) == Zip(edge=edge)
    if was is not None:
        zip = Zip(edge=edge, was=was)
        assert read_followed(write_followed(zip)) == (write_dependence(zip), (pytest.approx(was),))


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("waist=35mm + back", Follows(edge="waist", terms=(Term(length=35.0), Term(piece="back")))),
        ("centre traces left front", Traces(edge="centre", piece="left front", traced="centre")),
        (
            "  outer   traces back / side from 1,5 cm before start  to 80 %",
            Traces(edge="outer", piece="back", traced="side", start=Reach(more=-15.0), end=Reach(share=0.8)),
        ),
        ("waist traces back from 35mm before end", Traces(edge="waist", piece="back", traced="waist",
                                                          start=Reach(share=1.0, more=-35.0))),
        ("waist traces back to 2 in after start reversed", Traces(edge="waist", piece="back", traced="waist",
                                                                  end=Reach(more=50.8), reversed=True)),
        ("zip along  side", Zip(edge="side")),
    ],
)  # fmt: skip
def test_a_hand_writes_it_so(text, meant):
    assert read_dependence(text) == meant


@pytest.mark.parametrize(
    ("text", "error", "said"),
    [
        ("centre traces", ParameterError, "does not say what an edge follows"),
        ("2nd traces front", ParameterError, "cannot be the name of an edge"),
        ("centre traces front/", ParameterError, "cannot be the name of an edge"),
        ("centre traces /centre", ParameterError, "traces nothing"),
        ("centre traces front from 15", UnitError, "no unit"),
        ("centre traces front from 15mm below start", UnitError, "15mm below start"),
        ("centre traces front from 120%", ParameterError, "lies off it"),
        ("centre traces front to 5mm to 9mm", ParameterError, "twice"),
        ("zip along", ParameterError, "does not say what an edge follows"),
        ("zip along two sides", ParameterError, "cannot be the name of an edge"),
        ("", ParameterError, "does not say what an edge follows"),
    ],
)
def test_what_cannot_be_read(text, error, said):
    with pytest.raises(error, match=said) as caught:
        read_dependence(text)
    assert caught.value.advice


def test_lengths_of_another_edge_are_not_taken_for_its_own():
    with pytest.raises(ParameterError, match="lies off it"):
        Reach(share=0.5, more=3.0)
