"""Widths at levels against shapely, areas and hand-made cases."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from crossgrain.errors import GeometryError, OpenOutlineError
from crossgrain.kernel.arc import ellipse_path
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.meetings import sections
from crossgrain.kernel.meetings.sections import chords, chords_at, width_at
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from strategies import angles, rigid_motions, simple_outlines

ACROSS = (1.0, 0.0)


@given(simple_outlines(), angles, st.floats(0.02, 0.98))
def test_chords_are_where_shapely_cuts_the_polygon(outline, angle, share):
    direction = (math.cos(angle), math.sin(angle))
    polygon = flatten(outline, 1e-4).points
    heights = polygon @ (-direction[1], direction[0])
    level = heights.min() + share * np.ptp(heights)
    foot = np.array([-direction[1], direction[0]]) * level
    far = 5000.0 * np.array(direction)
    theirs = Polygon(polygon).intersection(LineString([foot - far, foot + far]))
    assert width_at(outline, direction, level) == pytest.approx(theirs.length, abs=0.2)


@settings(max_examples=40)
@given(simple_outlines(), angles)
def test_widths_over_the_height_add_up_to_the_area(outline, angle):
    # Cavalieri: the area is the integral of the widths; by the midpoint rule on 100 levels.
    direction = (math.cos(angle), math.sin(angle))
    heights = flatten(outline, 0.01).points @ (-direction[1], direction[0])
    step = np.ptp(heights) / 100
    levels = heights.min() + (np.arange(100) + 0.5) * step
    total = sum(end - start for level in chords_at(outline, direction, levels) for start, end in level) * step
    assert total == pytest.approx(signed_area(outline), rel=2e-2)


@settings(max_examples=20)
@given(simple_outlines(), angles, st.integers(1, 40))
def test_levels_looked_at_in_blocks_are_those_looked_at_together(outline, angle, block):
    # A traced outline of thousands of nodes is looked at at as many levels: all at once would fill the memory.
    direction = (math.cos(angle), math.sin(angle))
    heights = flatten(outline, 0.01).points @ (-direction[1], direction[0])
    levels = np.linspace(heights.min() - 1.0, heights.max() + 1.0, 23)
    together = chords_at(outline, direction, levels)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sections, "_BLOCK", block)
        apart = chords_at(outline, direction, levels)
    assert [len(inside) for inside in apart] == [len(inside) for inside in together]
    # A block of meetings is worked on until the last of them has settled: the others gain a rounding by it.
    ends = [np.array([end for inside in some for interval in inside for end in interval]) for some in (apart, together)]
    assert np.allclose(*ends, rtol=0.0, atol=1e-9)
    assert len(together) == 23


@given(simple_outlines(), angles, st.floats(-50.0, 50.0))
def test_every_end_of_a_chord_lies_on_the_outline(outline, angle, offset):
    direction = (math.cos(angle), math.sin(angle))
    x, y = bounds(outline).centre
    level = -direction[1] * x + direction[0] * y + offset
    line = LineString(flatten(outline, 1e-4).points)
    for interval in chords(outline, direction, level):
        assert interval[0] < interval[1]
        for s in interval:
            point = (s * direction[0] - level * direction[1], s * direction[1] + level * direction[0])
            assert line.distance(LineString([point, point])) < 2e-4


@given(simple_outlines(), st.floats(0.0, 1.0), rigid_motions())
def test_moving_the_drawing_keeps_the_width(outline, share, motion):
    box = bounds(outline)
    level = box.top + share * box.height
    x, y = motion.of((0.0, level))
    direction = motion.of_vector(ACROSS)
    # At a node or an extreme the width may jump: compare only where it does not.
    near = [width_at(outline, ACROSS, level + d) for d in (-1e-6, 0.0, 1e-6)]
    assume(max(near) - min(near) < 1e-2)
    moved = width_at(outline.mapped(motion), direction, -direction[1] * x + direction[0] * y)
    assert moved == pytest.approx(near[1], abs=2e-2)


@given(simple_outlines())
def test_the_way_round_does_not_matter(outline):
    levels = np.linspace(bounds(outline).top, bounds(outline).bottom, 7)
    for there, back in zip(
        chords_at(outline, ACROSS, levels), chords_at(outline.reversed(), ACROSS, levels), strict=True
    ):
        assert np.ravel(there) == pytest.approx(np.ravel(back), abs=1e-6)


@given(simple_outlines(kinds=("line",)))
def test_through_every_node_the_line_cuts_what_shapely_cuts(outline):
    polygon = Polygon(outline.nodes)
    # Shapely takes an edge that slopes by a rounding for sloping; we take it for level.
    heights = sorted(y for _x, y in outline.nodes)
    assume(all(b - a > 1e-6 for a, b in pairwise(heights)))
    for _x, y in outline.nodes:
        theirs = polygon.intersection(LineString([(-5000.0, y), (5000.0, y)]))
        assert width_at(outline, ACROSS, y) == pytest.approx(theirs.length, abs=1e-6)


def test_a_chord_of_a_circle_is_what_pythagoras_says():
    circle = ellipse_path(10.0, 20.0, 50.0, 50.0)
    [(start, end)] = chords(circle, ACROSS, 50.0)  # 30 below the centre
    assert (start, end) == pytest.approx((-30.0, 50.0), abs=3e-4)
    assert width_at(circle, ACROSS, 20.0) == pytest.approx(100.0, abs=1e-9)  # through two nodes
    assert chords(circle, ACROSS, 70.0) == ()  # touches the lowest point
    assert chords(circle, ACROSS, 71.0) == ()


def test_along_an_edge_the_edge_counts():
    piece = Path.polygon([(0, 0), (30, 0), (30, 20), (20, 20), (20, 10), (10, 10), (10, 20), (0, 20)])
    assert chords(piece, ACROSS, 0.0) == ((0.0, 30.0),)
    assert chords(piece, ACROSS, 10.0) == ((0.0, 30.0),)  # along the bottom of the slot
    assert chords(piece, ACROSS, 15.0) == ((0.0, 10.0), (20.0, 30.0))
    assert chords(piece, ACROSS, 20.0) == ((0.0, 10.0), (20.0, 30.0))
    assert chords(piece, (0.0, 1.0), -30.0) == ((0.0, 20.0),)
    assert chords(piece, (0.0, 1.0), -25.0) == ((0.0, 20.0),)


def test_a_curve_that_dips_below_the_level_between_nodes_on_it_is_seen():
    sagging = Path(
        (
            Line((0, 0), (40, 0)),
            Line((40, 0), (40, 30)),
            Cubic((40, 30), (30, 20), (10, 20), (0, 30)),
            Line((0, 30), (0, 0)),
        ),
        True,
    )
    assert width_at(sagging, ACROSS, 30.0) == 0.0
    assert width_at(sagging, ACROSS, 22.5) == pytest.approx(40.0)  # touches the top of the curve
    inner = chords(sagging, ACROSS, 25.0)
    assert len(inner) == 2
    assert inner[0][1] + inner[1][0] == pytest.approx(40.0)


def test_bad_questions_are_refused():
    square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    with pytest.raises(OpenOutlineError):
        chords(Path((Line((0, 0), (1, 0)),)), ACROSS, 0.0)
    for direction, level in (((0.0, 0.0), 1.0), ((math.nan, 0.0), 1.0), (ACROSS, math.inf)):
        with pytest.raises(GeometryError):
            chords(square, direction, level)
