"""Widths of allowances as text: what is written is read, and what cannot be meant is refused."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import InputError
from crossgrain.model import Width
from crossgrain.notation.widths import read_edge_width, read_width_along, write_edge_width, write_width_along

amounts = st.floats(0.0, 80.0).map(lambda mm: round(mm, 3))


@st.composite
def widths(draw):
    """Draw widths of one to five stations."""
    count = draw(st.integers(1, 5))
    places = sorted(draw(st.lists(st.integers(0, 100), min_size=count, max_size=count, unique=True)))
    return Width(stations=tuple((place / 100.0, draw(amounts)) for place in places))


@given(widths())
def test_what_is_written_is_read(width):
    read = read_width_along(write_width_along(width))
    assert len(read.stations) == len(width.stations)
    assert np.allclose(read.stations, width.stations, atol=1e-4)
    edge, again = read_edge_width(write_edge_width("centre", width))
    assert (edge, again) == ("centre", read)


@pytest.mark.parametrize(
    ("text", "stations"),
    [
        ("1 cm", ((0.0, 10.0),)),
        ("10mm to 25mm", ((0.0, 10.0), (1.0, 25.0))),
        ("10mm to 10mm", ((0.0, 10.0),)),
        ("12,5 mm to 1 in", ((0.0, 12.5), (1.0, 25.4))),
        ("10mm at 0%, 10mm at 60%, 25mm at 100%", ((0.0, 10.0), (0.6, 10.0), (1.0, 25.0))),
        ("12,5mm at 10 %,25mm at 62,5%", ((0.1, 12.5), (0.625, 25.0))),
    ],
)
def test_the_ways_to_say_it(text, stations):
    assert np.allclose(read_width_along(text).stations, stations)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("hem", "does not name an edge"),
        ("hem=10", "10"),
        ("hem=-3mm", "below zero"),
        ("hem=10mm to", "to"),
        ("hem=10mm, 20mm", "where along the edge"),
        ("hem=10mm at 20%, 20mm at 10%", "out of order"),
        ("hem=10mm at 120%", "off the edge"),
        ("hem=10mm at 5mm", "5mm"),
    ],
)
def test_what_cannot_be_meant_is_refused(text, said):
    with pytest.raises(InputError, match=said):
        read_edge_width(text)
