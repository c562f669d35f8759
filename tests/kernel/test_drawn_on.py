"""A line drawn on past its end is the old one where it was cut, and goes on as it was going where it was not."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.kernel.drawn_on import drawn_on_at_end, drawn_on_at_start
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line, section
from moved_lines import apart, dense_line
from pieces import upright_pieces
from strategies import lines

reaches = st.floats(0.5, 20.0)
edges = st.builds(
    lambda piece, name: piece.edge(name).line, upright_pieces(), st.sampled_from(["side", "waist", "hem"])
)


@given(edges, reaches)
def test_what_was_there_stays(line, reach):
    longer = drawn_on_at_end(line, reach)
    assert longer.start == line.start
    assert longer.segments[: len(line.segments) - 1] == line.segments[:-1]
    from shapely.ops import substring

    there = substring(dense_line(longer, 0.1), 0.0, path_length(line))
    assert apart(there, dense_line(line, 0.1)) <= 2e-3  # the judge's polylines


@given(edges, reaches)
def test_it_goes_on_for_about_the_reach_without_a_kink(line, reach):
    longer = drawn_on_at_end(line, reach)
    assert 0.7 * reach <= path_length(longer) - path_length(line) <= 1.6 * reach
    if len(longer.segments) > len(line.segments):
        assert longer.segments[-1].start_tangent == pytest.approx(line.segments[-1].end_tangent, abs=1e-9)


@given(edges, reaches)
def test_at_the_start_it_is_the_same_seen_from_the_other_end(line, reach):
    one, other = drawn_on_at_start(line, reach), drawn_on_at_end(line.reversed(), reach)
    assert one.reversed() == other
    assert one.end == line.end


@given(edges, st.floats(0.6, 0.95))
def test_a_line_that_was_cut_and_is_drawn_on_is_the_old_one(line, share):
    last = line.segments[-1]
    cut = Path((*line.segments[:-1], section(last, 0.0, share)))
    missing = path_length(line) - path_length(cut)
    longer = drawn_on_at_end(cut, missing)
    assert len(longer.segments) == len(line.segments) or isinstance(longer.segments[-1], Line)
    if len(longer.segments) == len(line.segments) and isinstance(last, Cubic):
        # The same cubic: its control points, cut again at the old end, are those of the old segment.
        on = longer.segments[-1]
        t = np.linspace(0.0, 1.0, 50)
        points = np.array([on.point(float(s)) for s in t])
        scale = share * math.hypot(*on.derivative(0.0)) / (math.hypot(*cut.segments[-1].derivative(0.0)) or 1.0)
        expected = np.array([last.split(1.0)[0].point(float(s * scale)) for s in t])
        assert points == pytest.approx(expected, abs=1e-6)


@given(lines(), reaches)
def test_a_straight_line_goes_on_straight(line, reach):
    if math.dist(line.start, line.end) < 1.0:
        return
    [longer] = drawn_on_at_end(Path((line,)), reach).segments
    size = math.dist(line.start, line.end)
    ux, uy = (line.end[0] - line.start[0]) / size, (line.end[1] - line.start[1]) / size
    assert longer.end == pytest.approx((line.end[0] + reach * ux, line.end[1] + reach * uy), abs=1e-9)


def test_a_hooked_end_goes_on_straight():
    """A handle that curls by more than 20° over the reach is a slip; the end's own direction is kept."""
    line = Path((Cubic((0.0, 0.0), (40.0, 0.0), (60.0, 0.0), (60.0, 15.0)),))
    longer = drawn_on_at_end(line, 30.0)
    assert longer.segments[0] == line.segments[0]
    assert longer.end == pytest.approx((60.0, 45.0))


def test_an_end_whose_handle_is_drawn_in_goes_on_along_its_chord():
    line = Path((Cubic((0.0, 0.0), (20.0, 0.0), (60.0, 0.0), (60.0, 0.0)),))
    assert drawn_on_at_end(line, 10.0).end == pytest.approx((70.0, 0.0))
