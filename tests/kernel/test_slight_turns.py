"""The nodes that a traced outline's many slight turns cost beside it: none of their own."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.parallels.outline_parallel import parallel_of_outline
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line


def many_sided(turns_deg, curved):
    """Close an outline whose sides follow each other at slight outward and inward turns along its top."""
    x, y, heading = 0.0, 0.0, 0.0
    points = [(x, y)]
    for turn in turns_deg:
        heading += math.radians(turn)
        x, y = x + 40.0 * math.cos(heading), y + 40.0 * math.sin(heading)
        points.append((x, y))
    top = []
    for k, (p, q) in enumerate(pairwise(points)):
        dx, dy = (q[0] - p[0]) / 3.0, (q[1] - p[1]) / 3.0
        bow = (dy * 0.05, -dx * 0.05) if curved[k % len(curved)] else None
        if bow is None:
            top.append(Line(p, q))
        else:
            top.append(Cubic(p, (p[0] + dx + bow[0], p[1] + dy + bow[1]), (q[0] - dx + bow[0], q[1] - dy + bow[1]), q))
    end = points[-1]
    corners = [end, (end[0], 400.0), (0.0, 400.0), points[0]]
    return Path((*top, *(Line(p, q) for p, q in pairwise(corners))), True)


@given(
    st.lists(st.floats(-6.0, 6.0).filter(lambda turn: abs(turn) > 0.02), min_size=3, max_size=8),
    st.lists(st.booleans(), min_size=1, max_size=4),
    st.sampled_from([5.0, 10.0, 15.0]),
)
def test_no_sliver_is_left_beside_a_slight_turn(turns, curved, distance):
    outline = many_sided(turns, curved)
    line = parallel_of_outline(outline, [distance] * len(outline.segments))
    assert min(math.dist(segment.start, segment.end) for segment in line.segments) > 1.0


@pytest.mark.parametrize("turn", [0.05, 0.5, 2.0, 8.0, -0.05, -0.5, -2.0, -8.0])
def test_two_curves_and_the_slight_turn_between_them_make_two_curves(turn):
    outline = many_sided([0.0, turn], [True])
    line = parallel_of_outline(outline, [10.0] * len(outline.segments))
    assert sum(isinstance(segment, Cubic) for segment in line.segments) == 2
    assert len(line.segments) <= len(outline.segments) + 2  # the upper corners, where curves meet lines


def test_the_line_turns_with_the_outline():
    outline = many_sided([1.0, 3.0, -2.0], [True, False])
    turned = Affine.rotation(1.0)
    here = parallel_of_outline(outline, [10.0] * len(outline.segments)).mapped(turned)
    there = parallel_of_outline(outline.mapped(turned), [10.0] * len(outline.segments))
    assert len(here.segments) == len(there.segments)
    for p, q in zip(here.nodes, there.nodes, strict=True):
        assert math.dist(p, q) < 1e-3
