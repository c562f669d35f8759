"""A line moved outwards is the one whose parallel inwards is the old line: each way undoes the other."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.kernel.length import path_length
from crossgrain.kernel.parallels.line_beside import line_beside, moving_beside
from crossgrain.kernel.parallels.outer_blend import OuterBlend
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from moved_lines import apart, dense_line
from pieces import traced_pieces, upright_pieces

FEW = settings(max_examples=25)


@st.composite
def seams(draw, pieces=upright_pieces):
    piece = draw(pieces())
    line = piece.edge(draw(st.sampled_from(["side", "inseam"]))).line
    return line.reversed() if draw(st.booleans()) else line


@st.composite
def gentle(draw, lines=seams):
    """A seam, a station in its middle third, amounts there and at both ends, and which sign is outwards."""
    line = draw(lines())
    share = draw(st.floats(0.35, 0.65))
    amounts = [round(draw(st.floats(-9.0, 9.0)), 2) for _station in range(3)]
    return line, [0.0, share * path_length(line), path_length(line)], amounts, draw(st.sampled_from([-1.0, 1.0]))


def carried(line, new, stations, amounts, outwards):
    """Where stations lie along the new line."""
    there = moving_beside(line, stations, amounts, outwards=outwards)
    drawn = dense_line(new, 0.05)
    return [0.0, drawn.project(shapely.Point(there(stations[1]))), path_length(new)]


@FEW
@given(gentle())
def test_there_and_back_is_the_line_again(case):
    line, stations, amounts, outwards = case
    new = line_beside(line, stations, amounts, outwards=outwards)
    back_at = carried(line, new, stations, amounts, outwards)
    back = line_beside(new, back_at, [-amount for amount in amounts], outwards=outwards)
    assert apart(dense_line(back), dense_line(line)) <= 0.02


@FEW
@given(gentle())
def test_what_is_taken_in_all_along_is_not_touched_by_it(case):
    line, stations, amounts, outwards = case
    inwards = [-outwards * abs(amount) for amount in amounts]
    assert line_beside(line, stations, inwards, outwards=outwards) == line_beside(line, stations, inwards)


@FEW
@given(gentle())
def test_outwards_each_place_of_the_old_line_lies_at_its_amount_from_the_new_one(case):
    """The new line is the envelope of circles about the old one: nothing of it is nearer. By shapely."""
    line, stations, amounts, outwards = case
    out = [outwards * abs(amount) for amount in amounts]
    new = dense_line(line_beside(line, stations, out, outwards=outwards), 0.05)
    blend = OuterBlend(line, stations, out, outwards)
    old = dense_line(line, 0.5)
    # Near its ends the new line ends before the circle touches it.
    inner = np.linspace(0.1, 0.9, 17) * old.length
    asked = np.abs(blend(inner)[0])
    found = [old.interpolate(s).distance(new) for s in inner]
    assert found == pytest.approx(asked, abs=0.015)


@FEW
@given(gentle())
def test_at_the_stations_it_lies_at_the_amount_on_the_old_normal(case):
    line, stations, amounts, outwards = case
    out = [outwards * abs(amount) for amount in amounts]
    new = dense_line(line_beside(line, stations, out, outwards=outwards), 0.05)
    plain = moving_beside(line, stations, out)(stations[1])
    assert shapely.Point(plain).distance(new) <= 0.01


@FEW
@given(gentle(lambda: seams(traced_pieces)))
def test_a_traced_line_comes_back_too(case):
    line, stations, amounts, outwards = case
    new = line_beside(line, stations, amounts, outwards=outwards)
    back_at = carried(line, new, stations, amounts, outwards)
    back = line_beside(new, back_at, [-amount for amount in amounts], outwards=outwards)
    assert apart(dense_line(back), dense_line(line)) <= 0.1


@given(gentle(), st.floats(0.0, 1.0))
def test_places_of_the_line_lie_on_the_new_one(case, share):
    line, stations, amounts, outwards = case
    new = dense_line(line_beside(line, stations, amounts, outwards=outwards))
    there = moving_beside(line, stations, amounts, outwards=outwards)(share * path_length(line))
    assert shapely.Point(there).distance(new) <= 0.012


BENDS = {
    "straight": Line((0.0, 0.0), (600.0, 0.0)),
    "bent": Cubic((0.0, 0.0), (200.0, 60.0), (400.0, 60.0), (600.0, 0.0)),
    "bent both ways": Cubic((0.0, 0.0), (200.0, -60.0), (400.0, 60.0), (600.0, 0.0)),
}


def there_and_back(line, stations, amounts, outwards):
    new = line_beside(line, stations, amounts, outwards=outwards)
    there = moving_beside(line, stations, amounts, outwards=outwards)
    drawn = dense_line(new, 0.01)
    back_at = [drawn.project(shapely.Point(there(station))) for station in stations]
    back = line_beside(new, back_at, [-amount for amount in amounts], outwards=outwards)
    return apart(dense_line(back), dense_line(line))


@pytest.mark.parametrize("outwards", [1.0, -1.0])
@pytest.mark.parametrize(
    ("stations", "amounts"),
    [([100.0, 200.0, 300.0, 500.0], [0.0, 12.0, -10.0, 0.0]), ([100.0, 200.0, 280.0, 500.0], [0.0, 12.0, -10.0, 0.0]),
     ([100.0, 156.0, 212.0], [0.0, 12.0, 0.0])],
)  # fmt: skip
@pytest.mark.parametrize("name", BENDS)
def test_steep_amounts_come_back_too_where_there_is_such_a_line(name, stations, amounts, outwards):
    line = Path((BENDS[name],))
    assert not OuterBlend(line, stations, amounts, outwards).is_steep
    assert there_and_back(line, stations, amounts, outwards) <= 0.02


@pytest.mark.parametrize("flank", [10.0, 40.0, 48.0, 56.0])
def test_where_there_is_hardly_such_a_line_letting_out_is_drawn_all_the_same(flank):
    """A bump has a line outside it whose parallel it is as long as 4 k D <= 1, along that line: k = 6 D / h²."""
    line, stations, amounts = Path((BENDS["straight"],)), [200.0 - flank, 200.0, 200.0 + flank], [0.0, 12.0, 0.0]
    assert OuterBlend(line, stations, amounts, 1.0).is_steep == (flank < 52.0)
    new = line_beside(line, stations, amounts, outwards=1.0)
    assert shapely.Point(200.0, -12.0).distance(dense_line(new)) <= 0.01


def test_amounts_that_change_too_steeply_are_measured_square_to_the_old_line():
    """A bump of 30 mm over 60 mm has no line outside it whose parallel it is: that would fold."""
    line = Path((Line((0.0, 0.0), (300.0, 0.0)),))
    stations, amounts = [100.0, 130.0, 160.0], [0.0, 30.0, 0.0]
    assert OuterBlend(line, stations, amounts, 1.0).is_steep
    assert line_beside(line, stations, amounts, outwards=1.0) == line_beside(line, stations, amounts)


def test_a_straight_line_let_out_evenly_rising_leans_by_the_arc_sine():
    """Amounts that rise by 1 in 10 along the new line: circles about the old one are touched by a line at asin(d')."""
    line = Path((Line((0.0, 0.0), (1000.0, 0.0)),))
    blend = OuterBlend(line, [0.0, 500.0, 1000.0], [0.0, 40.0, 80.0], 1.0)
    middle = np.array([500.0])
    amount, slope = blend(middle)
    new = line_beside(line, [0.0, 500.0, 1000.0], [0.0, 40.0, 80.0], outwards=1.0)
    lean = math.asin(float(slope[0]))
    x, y = moving_beside(line, [0.0, 500.0, 1000.0], [0.0, 40.0, 80.0], outwards=1.0)(500.0)
    assert (x, y) == pytest.approx((500.0 - amount[0] * math.sin(lean), -amount[0] * math.cos(lean)))
    assert shapely.Point(x, y).distance(dense_line(new)) <= 0.01
    assert amount[0] == pytest.approx(40.0 * math.cos(lean), abs=2e-3)


@pytest.mark.parametrize("is_against", [False, True])
@pytest.mark.parametrize("amount", [-8.0, 8.0])
def test_a_polygon_about_a_bend_comes_back_as_the_bend_does(is_against, amount):
    """A quarter of a circle traced with a node every 15 mm. Unless the mitres at its nodes are counted as parts of the
    new line, places on it are off by the turn times the amount, and the line comes back 0.08 mm aside."""
    nodes = [(400.0 * math.cos(a), 400.0 * math.sin(a)) for a in np.linspace(0.0, 1.5, 41)]
    line = Path(tuple(Line(p, q) for p, q in pairwise(nodes)))
    line = line.reversed() if is_against else line
    total = path_length(line)
    case = line, [0.0, total / 2.0, total], [0.0, amount, 0.4 * amount], 1.0
    new = line_beside(*case[:3], outwards=1.0)
    back = line_beside(new, carried(case[0], new, *case[1:]), [-one for one in case[2]], outwards=1.0)
    assert apart(dense_line(back), dense_line(line)) <= 0.02
