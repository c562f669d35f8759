"""What is written of stations is read again, and what cannot be read gets one sentence."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import CrossgrainError, ParameterError
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.model.seams.station import Station
from crossgrain.notation.stations import read_basting, read_side_share, read_station, write_basting, write_station

names = st.sampled_from(["waist", "hip", "hem", "crotch", "zip-end", "knee_2"])
starts = st.one_of(st.just(""), names)
stations = st.one_of(
    st.builds(Station, name=names),
    st.builds(Station, share=st.integers(0, 10000).map(lambda n: n / 10000.0), start=starts),
    st.builds(Station, along=st.integers(0, 200_000).map(lambda n: n / 100.0), start=starts),
    st.builds(Station, notch=st.integers(1, 40), start=starts),
    st.builds(
        Station,
        spot=st.builds(OutlineSpot, node=st.integers(0, 400)),
        piece=st.sampled_from(["", "front", "left front", "path-12"]),
    ),
)


@given(stations)
def test_a_station_written_and_read_is_the_same(station):
    read = read_station(write_station(station))
    assert (read.name, read.notch, read.spot, read.start, read.piece) == (
        station.name,
        station.notch,
        station.spot,
        station.start,
        station.piece,
    )
    assert read.share == pytest.approx(station.share, abs=1e-9)
    assert read.along == pytest.approx(station.along, abs=1e-9)


@given(stations, st.integers(-5000, 5000).map(lambda n: n / 100.0))
def test_an_amount_written_and_read_is_the_same(station, amount):
    read, value = read_basting(write_basting(station, amount))
    assert write_station(read) == write_station(station)
    assert value == pytest.approx(amount, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "station", "amount"),
    [
        ("waist=0mm", Station(name="waist"), 0.0),
        (" hip = 12,5 mm ", Station(name="hip"), 12.5),
        ("60%=1cm", Station(share=0.6), 10.0),
        ("60 % from hem=-3/8 in", Station(share=0.6, start="hem"), -9.525),
        ("120mm from waist=6mm", Station(along=120.0, start="waist"), 6.0),
        ("4 1/2 in from hem=1/4in", Station(along=114.3, start="hem"), 6.35),
        ("notch 2=5mm", Station(notch=2), 5.0),
        ("notch  1  from  hem=5mm", Station(notch=1, start="hem"), 5.0),
        ("node 12=5mm", Station(spot=OutlineSpot(node=12)), 5.0),
        ("node 0 of left front=5mm", Station(spot=OutlineSpot(node=0), piece="left front"), 5.0),
    ],
)
def test_as_makers_write_it(text, station, amount):
    read, value = read_basting(text)
    assert read == station
    assert value == pytest.approx(amount)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "=",
        "hip",
        "hip=",
        "=12mm",
        "hip=12",
        "hip=12px",
        "hip=nan mm",
        "hip=inf mm",
        "hip 12mm",
        "60=12mm",
        "160%=12mm",
        "-5%=12mm",
        "-20mm from waist=5mm",
        "notch 0=5mm",
        "notch two=5mm",
        "notch 1 of front=5mm",
        "node 3 from waist=5mm",
        "hip from waist=5mm",
        "20% from =5mm",
        "hip=12mm=4mm",
        "two words=12mm",
        "60%%=12mm",
    ],
)
def test_what_cannot_be_read_gets_one_sentence_with_what_to_write(text):
    with pytest.raises(CrossgrainError) as caught:
        read_basting(text)
    said = str(caught.value)
    assert said
    assert "\n" not in said
    assert said.endswith((".", "”"))


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused_in_a_sentence(text):
    try:
        station, _amount = read_basting(text)
    except CrossgrainError as error:
        said = str(error)
    else:
        said = write_station(station)
    assert said


def test_shares_of_sides():
    assert read_side_share("left front = 40 %") == ("left front", 0.4)
    for text in ("40%", "=40%", "front=", "front=4", "front"):
        with pytest.raises(CrossgrainError):
            read_side_share(text)


@pytest.mark.parametrize(
    "how",
    [{}, {"name": "hip", "share": 0.5}, {"share": 0.5, "along": 3.0}, {"share": 1.5}, {"share": -0.1}, {"notch": 0}],
)
def test_a_station_is_one_place(how):
    with pytest.raises(ParameterError):
        Station(**how)
