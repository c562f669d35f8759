"""Lead the beginning of a line to another point and direction, and let it be itself again a little farther on."""

from __future__ import annotations

import math

import numpy as np

from crossgrain.kernel.affine import Point
from crossgrain.kernel.curvature import screened
from crossgrain.kernel.length import Place, distance_of, path_length, place_at, places_at, point_at, run
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, unit
from crossgrain.kernel.spans import Complexes, Floats, Ints, fit_spans
from crossgrain.tolerances import ACCURACY

_MOST_SHARE = 0.5
"""No more than this share of a line is drawn anew, so that both its ends may be."""

_NODE_NEAR = 0.1
"""A node that lies nearer to the end of the blend than this share of it is that end: no stub of a segment is left."""

_SHORTEST = 0.05
"""A handle shorter than this share of the line it is drawn along makes it bend within a hair of its end."""


def led_from(line: Path, start: Point, direction: Point, over: float) -> Path:
    """Return a line that starts at another point in another direction.

    The first part of the line is drawn anew as one cubic, which joins the rest as the line itself did: what bends in it
    is what has to.

    Args:
        line: an open line.
        start: where it is to start, near its own start, mm.
        direction: in what direction, any length above 0.
        over: along how much of it the change is spread, mm; at most half of the line.

    Returns:
        The line; from there on it is what it was. It has at most one node more.

    >>> from crossgrain.kernel.segment import Line
    >>> hem = led_from(Path((Line((0.0, 0.0), (200.0, 0.0)),)), (0.0, 1.0), (1.0, 0.0), 50.0)
    >>> hem.start, len(hem.segments), hem.segments[1].start
    ((0.0, 1.0), 2, (50.0, 0.0))
    """
    total = path_length(line)
    cut = _at_node(line, place_at(line, min(over, _MOST_SHARE * total)), over)
    head, rest = screened(run(line, Place(0, 0.0), cut)), run(line, cut, Place(len(line.segments) - 1, 1.0))
    # Where the line has a corner there, as at the mouth of a dart, each side of it keeps its own direction.
    end, arriving = head.end, head.segments[-1].end_tangent
    assert arriving is not None  # what was screened has a length
    first, last = _handles(head)
    stretch = math.dist(start, end) / math.dist(head.start, end)
    (dx, dy), (ax, ay) = unit(*direction), arriving
    blend = Cubic(
        start,
        (start[0] + first * stretch * dx, start[1] + first * stretch * dy),
        (end[0] - last * stretch * ax, end[1] - last * stretch * ay),
        end,
    )
    return Path((blend, *rest.segments))


def _handles(head: Path) -> tuple[float, float]:
    """Return how long the handles of one cubic along a line are: its own, or those that follow it best."""
    if len(head.segments) == 1:
        p, q, r, w = head.segments[0].controls
        handles = math.dist(p, q), math.dist(r, w)
        if min(handles) > 0.0:
            return handles
    total = path_length(head)
    [[p, q, r, w]], _error = fit_spans(_Along(head), np.array([0]), np.array([0.0]), np.array([total]), ACCURACY)
    handles = float(abs(q - p)), float(abs(w - r))
    # Handles of no length or of all of it are no drawing: one cubic cannot follow a line with corners.
    return handles if all(_SHORTEST * total < handle < total for handle in handles) else (total / 3.0, total / 3.0)


class _Along:
    """A line by its length, as one run."""

    def __init__(self, line: Path) -> None:
        self._line = line

    def __call__(self, _run: Ints, u: Floats, /) -> tuple[Complexes, Complexes, Floats]:
        [row] = u
        places = places_at(self._line, row)
        points = np.array([complex(*point_at(self._line, place)) for place in places])
        tangents = np.array([complex(*self._tangent(place)) for place in places])
        return points[None, :], tangents[None, :], u

    def _tangent(self, place: Place) -> Point:
        segment = self._line.segments[place.index]
        ends = {0.0: segment.start_tangent, 1.0: segment.end_tangent}
        found = ends[place.t] if place.t in ends else segment.derivative(place.t)
        # Where a line stands still within, at a cusp, the way on to its end will do.
        on = found if found and any(found) else (segment.end[0] - segment.start[0], segment.end[1] - segment.start[1])
        return unit(*on)


def _at_node(line: Path, place: Place, over: float) -> Place:
    """Return the node that lies very near a place, but for both ends of the line; or else the place itself."""
    node = Place(place.index + round(place.t), 0.0)
    is_inside = 0 < node.index < len(line.segments)
    is_near = is_inside and abs(distance_of(line, node) - distance_of(line, place)) < _NODE_NEAR * over
    return node if is_near else place
