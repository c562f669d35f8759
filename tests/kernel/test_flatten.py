"""Polylines against their promise, by shapely's distance."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import points as shapely_points
from shapely.geometry import LineString

from crossgrain.errors import GeometryError
from crossgrain.kernel.arc import ellipse_path
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.length import Place, point_at
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from strategies import paths


@given(paths(), st.sampled_from([1.0, 0.1, 0.01]))
def test_no_point_of_the_line_is_farther_off_than_promised(path, accuracy):
    points, index, t = flatten(path, accuracy)
    line = LineString(points)
    samples = [segment.point((i + 0.5) / 97) for segment in path.segments for i in range(97)]
    assert line.distance(shapely_points(samples)).max() <= accuracy * (1 + 1e-9) + 1e-9
    assert len(points) == len(index) == len(t)


@given(paths())
def test_each_vertex_lies_where_it_says_and_nodes_are_kept_exactly(path):
    points, index, t = flatten(path, 0.1)
    for point, i, parameter in zip(points.tolist(), index.tolist(), t.tolist(), strict=True):
        assert math.dist(point, point_at(path, Place(i, parameter))) < 1e-9
    places = list(zip(index.tolist(), t.tolist(), strict=True))
    assert places == sorted(places)
    nodes = {tuple(p) for p in points[t == 0.0].tolist()}
    assert nodes == {segment.start for segment in path.segments}
    assert tuple(points[-1].tolist()) == path.end


def test_vertices_grow_with_the_root_of_the_accuracy():
    circle = ellipse_path(0.0, 0.0, 100.0, 100.0)
    coarse, fine = len(flatten(circle, 0.1).points), len(flatten(circle, 0.001).points)
    assert 8 < fine / coarse < 12
    # Derived: chords of sagitta s on a circle number π / arccos(1 - s / r); even in the parameter costs few more.
    assert coarse <= 1.25 * math.pi / math.acos(1 - 0.1 / 100.0)


def test_a_line_is_one_chord_however_long():
    assert len(flatten(Path((Line((0.0, 0.0), (1e5, 3e4)),)), 1e-6).points) == 2


def test_what_cannot_be_followed_is_refused():
    cubic = Path((Cubic((0.0, 0.0), (1e9, 0.0), (0.0, 1e9), (1e9, 1e9)),))
    with pytest.raises(GeometryError, match="too large"):
        flatten(cubic, 1e-6)
    for accuracy in (0.0, -1.0, math.nan):
        with pytest.raises(GeometryError):
            flatten(cubic, accuracy)


def test_a_segment_without_length_keeps_its_vertex():
    dot = Cubic((5.0, 5.0), (5.0, 5.0), (5.0, 5.0), (5.0, 5.0))
    assert np.array_equal(flatten(Path((dot,)), 0.01).points, [[5.0, 5.0], [5.0, 5.0]])
