"""Lead the beginning of a line to another point and direction, and let it be itself again a little farther on."""

from __future__ import annotations

import math

from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import Place, path_length, place_at, run
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, unit

_MOST_SHARE = 0.5
"""No more than this share of a line is drawn anew, so that both its ends may be."""

_NODE_NEAR = 0.1
"""A node that lies nearer to the end of the blend than this share of it is that end: no stub of a segment is left."""


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
    head, rest = run(line, Place(0, 0.0), cut), run(line, cut, Place(len(line.segments) - 1, 1.0))
    # Where the line has a corner there, as at the mouth of a dart, each side of it keeps its own direction.
    end, arriving = head.end, head.segments[-1].end_tangent
    assert arriving is not None  # a part of an edge has a length
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
    """Return how long the handles of one cubic along a line are: its own, or a third of its length."""
    if len(head.segments) == 1:
        p, q, r, w = head.segments[0].controls
        handles = math.dist(p, q), math.dist(r, w)
        if min(handles) > 0.0:
            return handles
    third = path_length(head) / 3.0
    return third, third


def _at_node(line: Path, place: Place, over: float) -> Place:
    """Return the node that lies very near a place, but for both ends of the line; or else the place itself."""
    node = Place(place.index + round(place.t), 0.0)
    if 0 < node.index < len(line.segments):
        gap = abs(path_length(run(line, *sorted((node, place))))) if node != place else 0.0
        if gap < _NODE_NEAR * over:
            return node
    return place
