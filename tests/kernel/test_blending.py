"""Laws of leading a line elsewhere: where it starts, how it joins what it was, and how little of it changes."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.blending import led_from
from crossgrain.kernel.curvature import node_turns
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from strategies import rigid_motions

NEAR = 0.01
"""How far a gentle line may stray that is led to where it is, mm: the accuracy of every drawn curve."""

NEAR_OVER_NODES = 0.06
"""The same where one cubic stands in for several. Of 3,000 such lines one in two strays by 0.0001 mm, one in a hundred
by 0.013 (by 0.025 where it turns both ways), and none by 0.05."""


@st.composite
def gentle_lines(draw):
    """Draw waists and hems: 150 to 300 mm, no bend tighter than a radius of some 150 mm, a node every 25 mm or more."""
    length = draw(st.floats(150.0, 300.0))
    one, two = draw(st.floats(-0.05, 0.05)) * length, draw(st.floats(-0.01, 0.01)) * length
    inner = draw(st.lists(st.integers(1, 5), max_size=4, unique=True))
    at = [0.0, *(length * k / 6.0 for k in sorted(inner)), length]

    def point(x):
        return (x, one * math.sin(math.pi * x / length) + two * math.sin(2.0 * math.pi * x / length))

    def slope(x):
        turn = math.pi / length
        return one * turn * math.cos(turn * x) + 2.0 * two * turn * math.cos(2.0 * turn * x)

    segments = []
    for a, b in pairwise(at):
        (x0, y0), (x1, y1), third = point(a), point(b), (b - a) / 3.0
        segments.append(
            Cubic((x0, y0), (x0 + third, y0 + third * slope(a)), (x1 - third, y1 - third * slope(b)), (x1, y1))
        )
    return Path(tuple(segments))


@st.composite
def leads(draw):
    """Draw where a line is led to: a shift, a turn, and over what length."""
    shift = (draw(st.floats(-6.0, 6.0)), draw(st.floats(-6.0, 6.0)))
    return shift, math.radians(draw(st.floats(-12.0, 12.0))), draw(st.floats(30.0, 120.0))


def led(line, lead):
    (dx, dy), turn, over = lead
    x, y = line.start
    way = complex(*line.segments[0].start_tangent) * complex(math.cos(turn), math.sin(turn))
    return (x + dx, y + dy), (way.real, way.imag), led_from(line, (x + dx, y + dy), (way.real, way.imag), over)


def dense(line):
    return shapely.LineString([s.point(t) for s in line.segments for t in np.linspace(0.0, 1.0, 200)])


def strayed(new, line):
    """How far what was drawn anew lies from the old line, mm."""
    points = shapely.points([new.segments[0].point(t) for t in np.linspace(0.0, 1.0, 60)])
    return float(shapely.distance(points, dense(line)).max())


def angle_between(one, other):
    return abs(math.atan2(one[0] * other[1] - one[1] * other[0], one[0] * other[0] + one[1] * other[1]))


lines = st.one_of(gentle_lines(), st.floats(100.0, 300.0).map(lambda x: Path((Line((0.0, 0.0), (x, 0.0)),))))


class TestLed:
    @given(lines, leads())
    def test_it_starts_at_the_point_in_the_direction(self, line, lead):
        start, way, new = led(line, lead)
        assert new.start == start
        assert new.end == line.end
        assert angle_between(new.segments[0].start_tangent, way) < 1e-9

    @given(lines, leads())
    def test_from_the_end_of_the_blend_on_it_is_the_old_line(self, line, lead):
        *_, new = led(line, lead)
        over = lead[2]
        rest = Path(new.segments[1:])
        total = path_length(line)
        assert total - path_length(rest) <= min(over, total / 2.0) + 0.1 * over + 1e-6
        assert dense(line).distance(shapely.points(rest.start)) < 1e-3  # the chords of the comparison
        # What is whole of it is the same to the bit; the segment that was cut has the old line's own points.
        kept = rest.segments[1:]
        assert kept == line.segments[len(line.segments) - len(kept) :]
        first, old = rest.segments[0], line.segments[len(line.segments) - len(kept) - 1]
        assert first.end == old.end
        share = path_length(Path((first,))) / path_length(Path((old,)))
        assert share <= 1.0 + 1e-9
        far = dense(Path((old,)))
        assert max(far.distance(shapely.points(first.point(t))) for t in np.linspace(0.0, 1.0, 20)) < 1e-3

    @given(gentle_lines(), leads())
    def test_its_tangent_is_continuous_where_the_old_lines_was(self, line, lead):
        *_, new = led(line, lead)
        assert max(abs(node_turns(line)), default=0.0) < 1e-9
        assert max(abs(node_turns(new))) < 1e-6

    @given(lines, leads())
    def test_it_has_at_most_one_node_more(self, line, lead):
        *_, new = led(line, lead)
        assert len(new.nodes) <= len(line.nodes) + 1

    @given(lines, leads(), rigid_motions(), st.booleans())
    def test_turned_and_mirrored_it_gives_the_same_turned_and_mirrored(self, line, lead, motion, mirror):
        if mirror:
            motion = Affine.scaling(-1.0, 1.0).then(motion)
        start, way, new = led(line, lead)
        there = led_from(line.mapped(motion), motion.of(start), motion.of_vector(way), lead[2])
        assert len(there.segments) == len(new.segments)
        for found, wanted in zip(there.segments, new.mapped(motion).segments, strict=True):
            assert max(map(math.dist, found.controls, wanted.controls)) < 1e-5

    @given(lines, st.floats(30.0, 150.0))
    def test_led_to_where_it_is_a_gentle_line_stays(self, line, over):
        *_, new = led(line, ((0.0, 0.0), 0.0, over))
        assert strayed(new, line) < (NEAR if len(new.segments) > len(line.segments) else NEAR_OVER_NODES)

    @given(gentle_lines(), leads())
    def test_it_strays_no_farther_than_it_is_led(self, line, lead):
        """No bulge: the shift, and what the turn makes of the blend (at most 4/27 of it, Hermite's cubic)."""
        (dx, dy), turn, over = lead
        *_, new = led(line, lead)
        most = math.hypot(dx, dy) + 4.0 / 27.0 * 1.5 * over * math.tan(abs(turn)) + NEAR_OVER_NODES
        assert strayed(new, line) <= most


class TestOddLines:
    """What editors leave in outlines."""

    @pytest.mark.parametrize("size", [0.0, 1e-153, 1e-9])
    @pytest.mark.parametrize("at", [0, 1, 2])
    def test_a_segment_of_no_length_changes_nothing(self, size, at):
        segments = [Line((0.0, 0.0), (40.0, 0.0)), Line((40.0, 0.0), (200.0, 0.0))]
        x = (0.0, 40.0, 200.0)[at]
        dotted = [*segments[:at], Line((x, 0.0), (x, size)), *segments[at:]]
        if at < 2:
            dotted[at + 1] = Line((x, size), segments[at].end)
        plain, odd = (led_from(Path(tuple(s)), (0.0, 2.0), (1.0, 0.0), 80.0) for s in (segments, dotted))
        assert dense(odd).hausdorff_distance(dense(plain)) < 1e-6

    @pytest.mark.parametrize("beside", [-1e-12, 0.0, 1e-12])
    def test_a_blend_that_ends_at_a_node_to_rounding_ends_there(self, beside):
        line = Path((Line((0.0, 0.0), (80.0 + beside, 0.0)), Line((80.0 + beside, 0.0), (200.0, 0.0))))
        assert led_from(line, (0.0, 2.0), (1.0, 0.0), 80.0).segments[1:] == line.segments[1:]

    def test_a_traced_line_is_drawn_smooth(self):
        """Nodes every 10 mm, 0.2 mm off to either side."""
        nodes = [(10.0 * k, 0.2 * (-1) ** k) for k in range(25)]
        line = Path(tuple(Line(p, q) for p, q in pairwise(nodes)))
        new = led_from(line, (0.0, 3.0), (1.0, 0.0), 80.0)
        assert len(new.segments) == 1 + 16
        assert strayed(new, line) <= 3.3
