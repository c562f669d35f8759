"""Shape what lies between two parallels that part at a corner: blunted, squared, drawn straight on, stepped, mirrored.

``a`` arrives at the corner and ``b`` leaves it. Each shape is written for the one way round; for the other both
lines are turned, shaped and turned back.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, Literal

import numpy as np

from crossgrain.errors import CollapseError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.meetings.crossing import path_crossings
from crossgrain.kernel.meetings.nearest import nearest_points
from crossgrain.kernel.parallels.joins import corner_turn, cut_at_crossing, solid
from crossgrain.kernel.parallels.mirrored_end import mirrored
from crossgrain.kernel.parallels.parallel import Strand
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment, unit
from crossgrain.language import _
from crossgrain.tolerances import ACCURACY, COINCIDENT, TRIM_PROBE

FARTHEST: Final = 10.0
"""A corner that is shaped may stand out this many widths: a point of 12° drawn straight on does, and no cloth is that
thin to any purpose beyond it."""

_LOOKS: Final = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Where along a line that shapes a corner its distance from the edges is looked at."""

Way = Literal["mitre", "blunt", "square", "straight", "mirror", "step"]
Bodies = tuple[tuple[Segment, ...], tuple[Segment, ...], tuple[Segment, ...]]


@dataclass(frozen=True, slots=True)
class Join:
    """How a corner between two parallels is closed.

    Args:
        way: ``mitre``: both go on to their point; ``blunt``: cut off square to the corner's middle line; ``square``:
            one ends at right angles where its own line goes on to meet the other's parallel; ``straight``: one goes
            straight on to the other; ``mirror``: what lies outside one is the mirror image of what lies inside it;
            ``step``: the narrower is mitred and the wider one ends square.
        by: for ``square`` the one that ends at right angles, for ``straight`` the one that goes on, for ``mirror`` the
            one that is the mirror: ``before`` the corner or ``after`` it.
        amount: for ``mitre`` the limit in widths; for ``blunt`` how far out it is cut, mm; None for what is usual.
    """

    way: Way
    by: Literal["before", "after"] = "before"
    amount: float | None = None

    def reversed(self) -> Join:
        """Return the same join for the line travelled the other way."""
        return replace(self, by="after" if self.by == "before" else "before")


def shaped(a: Strand, b: Strand, join: Join) -> Bodies:
    """Close a gaping corner.

    Args:
        a: the parallel that arrives, its segments as they now are.
        b: the parallel that leaves.
        join: how; not a mitre.

    Returns:
        What is left of ``a``, what lies between, what is left of ``b``.

    Raises:
        CollapseError: it cannot be drawn there; the position is the corner.

    >>> a = Strand((Line((0.0, -9.0), (50.0, -9.0)),), (0.0, 0.0), (50.0, 0.0), (1.0, 0.0), (1.0, 0.0), 9.0, 9.0, ())
    >>> b = Strand((Line((59.0, 0.0), (59.0, 50.0)),), (50.0, 0.0), (50.0, 50.0), (0.0, 1.0), (0.0, 1.0), 9.0, 9.0, ())
    >>> [line.end for line in shaped(a, b, Join("square", by="after"))[1]]
    [(59.0, -9.0), (59.0, 0.0)]
    """
    arriving, between, leaving = (solid(line) for line in _shaped(a, b, join))
    # Curves are what is left of the parallels themselves; what goes on from them is straight.
    ends = [one for one in (*arriving[-1:], *leaving[:1]) if isinstance(one, Line)]
    added = [one for one in (*ends, *between) if one not in (*a.segments, *b.segments)]
    if not _leaves_cloth(added, a, b):
        raise CollapseError(
            _("Shaped so, the corner would cut into the cloth outside the edge beside it, which bends outwards."),
            position=a.end,
            advice=_("Choose another style for the corner."),
        )
    return arriving, between, leaving


def _shaped(a: Strand, b: Strand, join: Join) -> Bodies:
    if join.way == "blunt":
        return _blunted(a, b, join.amount)
    if join.way == "step":
        return _stepped(a, b)
    if join.by == "after":
        arriving, between, leaving = _shaped(b.reversed(), a.reversed(), join.reversed())
        return _turned(leaving), _turned(between), _turned(arriving)
    if join.way == "square":
        return _squared(a, b)
    if join.way == "straight":
        return _straight(a, b)
    # The mirror arrives: turned round, it leaves.
    arriving, between, leaving = mirrored(b.reversed(), a.reversed())
    return _turned(leaving), _turned(between), _turned(arriving)


def _leaves_cloth(added: Sequence[Segment], a: Strand, b: Strand) -> bool:
    """Tell whether lines that shape a corner keep the narrower width's distance from the edges on both sides of it."""
    narrow = min(abs(a.end_distance), abs(b.start_distance)) - ACCURACY
    if not added or narrow <= 0.0:
        return not added or not any(_crosses(added, edge, a.end) for edge in (a.beside, b.beside))
    points = np.array([one.point(t) for one in added for t in _LOOKS])
    return all((nearest_points(Path(edge), points).distances >= narrow).all() for edge in (a.beside, b.beside) if edge)


def _crosses(added: Sequence[Segment], edge: tuple[Segment, ...], corner: Point) -> bool:
    met = [one for line in added for one in path_crossings(Path((line,)), Path(edge))] if edge else []
    return any(one.kind == "cross" and math.dist(one.point, corner) > TRIM_PROBE for one in met)


def _turned(line: tuple[Segment, ...]) -> tuple[Segment, ...]:
    return tuple(segment.reversed() for segment in reversed(line))


def _blunted(a: Strand, b: Strand, at: float | None) -> Bodies:
    """Cut a corner off square to its middle line, so far out; at the greater width where nothing is said."""
    wide_a, wide_b = abs(a.end_distance), abs(b.start_distance)
    widest = max(wide_a, wide_b)
    at = widest if at is None else at
    if at < widest - COINCIDENT:
        raise CollapseError(
            _("A corner cannot be blunted {at:.4g} mm out: its allowance alone is {width:.4g} mm wide.").format(
                at=at, width=widest
            ),
            position=a.end,
            advice=_("Blunt it {width:.4g} mm out or farther.").format(width=widest),
        )
    half = abs(corner_turn(a, b)) / 2.0
    start, end = a.segments[-1].end, b.segments[0].start
    along_a = (at - wide_a * math.cos(half)) / math.sin(half)
    along_b = (at - wide_b * math.cos(half)) / math.sin(half)
    first, last = _ahead(start, a.end_tangent, along_a), _ahead(end, b.start_tangent, -along_b)
    # The two pass each other where the mitre's point lies nearer than that: then it is the corner.
    out = unit(a.end_tangent[0] - b.start_tangent[0], a.end_tangent[1] - b.start_tangent[1])
    across = (last[0] - first[0]) * -out[1] + (last[1] - first[1]) * out[0]
    way = a.end_tangent[0] * b.start_tangent[1] - a.end_tangent[1] * b.start_tangent[0]
    if across * math.copysign(1.0, way) <= COINCIDENT:
        return _straight(a, b)
    return a.segments, _lines(start, first, last, end), b.segments


def _squared(a: Strand, b: Strand) -> Bodies:
    """End ``a`` at right angles where its own line, gone on straight, meets ``b``."""
    reach = _reach(a, b)
    met = _met((Line(a.end, _ahead(a.end, a.end_tangent, reach)),), _begun(b, reach), a.end, reach)
    if abs(b.start_distance) <= COINCIDENT:
        return a.segments, _lines(a.segments[-1].end, a.end, b.segments[0].start), b.segments
    if met is None:
        raise _too_far(a, _("squared off"))
    ray, leaving = met
    along = math.dist(a.end, ray[-1].end)
    start = a.segments[-1].end
    return a.segments, _lines(start, _ahead(start, a.end_tangent, along), leaving[0].start), leaving


def _straight(a: Strand, b: Strand) -> Bodies:
    """Let ``a`` go straight on until it meets ``b``, which goes straight on backwards where it must."""
    reach = _reach(a, b)
    start = a.segments[-1].end
    on = Line(start, _ahead(start, a.end_tangent, reach))
    met = _met((*a.segments, on), _begun(b, reach), a.end, reach)
    if met is None:
        raise _too_far(a, _("drawn straight on"))
    return met[0], (), met[1]


def _stepped(a: Strand, b: Strand) -> Bodies:
    """Mitre the corner at the narrower width, and end the wider one square there."""
    if a.end_distance == b.start_distance:
        return _straight(a, b)
    if abs(a.end_distance) > abs(b.start_distance):
        arriving, between, leaving = _stepped(b.reversed(), a.reversed())
        return _turned(leaving), _turned(between), _turned(arriving)
    turn = abs(corner_turn(a, b))
    narrow = a.end_distance
    start, end = a.segments[-1].end, b.segments[0].start
    nx, ny = b.start_tangent[1], -b.start_tangent[0]
    if turn <= math.pi / 4.0 and abs(narrow) < abs(b.start_distance) * math.cos(turn):
        foot = (b.start[0] + narrow / math.cos(turn) * nx, b.start[1] + narrow / math.cos(turn) * ny)
        return a.segments, _lines(start, foot, end), b.segments
    along = abs(narrow) * math.tan(turn / 2.0)
    if along > FARTHEST * abs(b.start_distance):
        raise _too_far(a, _("stepped"))
    foot = (b.start[0] + narrow * nx, b.start[1] + narrow * ny)
    return a.segments, _lines(start, _ahead(start, a.end_tangent, along), foot, end), b.segments


def _met(
    a: tuple[Segment, ...], b: tuple[Segment, ...], corner: Point, reach: float
) -> tuple[tuple[Segment, ...], tuple[Segment, ...]] | None:
    """Cut two lines where they cross near the corner; None where they do not, whatever they do elsewhere."""
    cut = cut_at_crossing(a, b)
    if cut is None or not (solid(cut[0]) and solid(cut[1])) or math.dist(cut[0][-1].end, corner) > reach:
        return None
    return cut


def _reach(a: Strand, b: Strand) -> float:
    return FARTHEST * max(abs(a.end_distance), abs(b.start_distance))


def _begun(b: Strand, reach: float) -> tuple[Segment, ...]:
    """Return a parallel that leaves a corner with a straight way to its start."""
    start = b.segments[0].start
    return (Line(_ahead(start, b.start_tangent, -reach), start), *b.segments)


def _too_far(a: Strand, shape: str) -> CollapseError:
    return CollapseError(
        _("A corner so sharp or so flat cannot be {shape}: it would stand out more than {limit:.0f} widths.").format(
            shape=shape, limit=FARTHEST
        ),
        position=a.end,
        advice=_("Choose another style for it, as blunted."),
    )


def _ahead(point: Point, direction: Point, distance: float) -> Point:
    return (point[0] + direction[0] * distance, point[1] + direction[1] * distance)


def _lines(*points: Point) -> tuple[Segment, ...]:
    """Join points by lines, leaving out those that coincide with the one before."""
    kept = [points[0]]
    kept += [point for before, point in pairwise(points) if math.dist(before, point) > COINCIDENT]
    if len(kept) > 1:
        kept[-1] = points[-1]
    return tuple(Line(p, q) for p, q in pairwise(kept))
