"""A distance that changes along a measure: a run that begins somewhere on it is part of the whole, either way round."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.kernel.length import Place, path_length, places_at, run
from crossgrain.kernel.parallels.changing_strand import changing_strand
from crossgrain.kernel.parallels.outline_runs import Changing
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic
from outline_widths import apart, dense, distances

CURVE = Path((Cubic((0.0, 0.0), (60.0, -30.0), (140.0, -30.0), (200.0, 0.0)),))
STATIONS = ((0.0, 8.0), (90.0, 12.0), (200.0, 30.0))


def part(share):
    begins = share * path_length(CURVE)
    [place] = places_at(CURVE, [begins])
    return run(CURVE, place, Place(0, 1.0)), begins


@settings(max_examples=15)
@given(st.floats(0.1, 0.8))
def test_a_part_lies_on_the_whole(share):
    line, begins = part(share)
    whole = changing_strand(CURVE.segments, STATIONS, 0.001)
    some = changing_strand(line.segments, STATIONS, 0.001, begins=begins)
    assert distances(dense(Path(some.segments)), Path(whole.segments)).max() <= 0.01
    assert some.leans[0]
    assert not some.leans[1]


@settings(max_examples=15)
@given(st.floats(0.1, 0.8))
def test_backwards_it_is_the_same_line_on_its_other_side(share):
    line, begins = part(share)
    forwards = changing_strand(line.segments, STATIONS, 0.001, begins=begins)
    back = line.reversed()
    ends = begins + path_length(line)
    negative = tuple((along, -mm) for along, mm in STATIONS)
    backwards = changing_strand(back.segments, negative, 0.001, begins=ends, backwards=True)
    assert apart(Path(backwards.segments), Path(forwards.segments)) <= 0.01
    assert backwards.leans == forwards.leans[::-1]


def test_turned_round_a_law_gives_the_same_distances_and_twice_it_is_itself():
    law = Changing(stations=STATIONS, begins=20.0)
    turned = law.reversed(100.0)
    assert (turned.begins, turned.backwards) == (120.0, True)
    again = turned.reversed(100.0)
    assert (again.stations, again.begins, again.backwards) == (law.stations, law.begins, law.backwards)


def test_where_the_distance_stays_it_does_not_lean():
    level = changing_strand(CURVE.segments, ((50.0, 10.0), (150.0, 20.0)), 0.01)
    assert level.leans == (False, False)
    assert (level.start_distance, level.end_distance) == pytest.approx((10.0, 20.0))
