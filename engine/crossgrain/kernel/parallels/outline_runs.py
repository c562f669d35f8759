"""A closed outline as runs of one distance each, and the parallels of these: strands not yet joined at their ends."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, NamedTuple

from crossgrain.errors import AccuracyError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.curvature import curvature, cusps, simplified
from crossgrain.kernel.parallels.joins import JoinStyle
from crossgrain.kernel.parallels.parallel import Strand, parallels
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment, section

_SLIGHT_TURN: Final = math.radians(15.0)
"""Up to this turn the parallels' short ways to the mitre's point are drawn as part of their curves, not as lines of
their own: a traced line is full of such turns, and nobody wants two extra nodes at each."""

SNAP_SHARE: Final = 0.25
"""Ends of parallels nearer than this share of the accuracy are moved onto each other."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Changing:
    """A distance that changes along a run of segments; one and the same object stands for each of them.

    Args:
        stations: places along a measure, mm, rising, each with the distance there, mm; blended between them, constant
            outside, as :class:`~crossgrain.kernel.profile.Profile` does.
        begins: where on the measure the run begins, mm.
        backwards: whether the run goes backwards along the measure.
        of_new: whether the measure is the length of the line that is drawn, and distances are square to that: so that
            the run is the parallel of what is drawn. Until that is known
            (:func:`~crossgrain.kernel.parallels.settled_laws.settled`), stations are shares from corner to corner.
    """

    stations: tuple[tuple[float, float], ...]
    begins: float = 0.0
    backwards: bool = False
    of_new: bool = False

    @property
    def least(self) -> float:
        """The least of the distances, mm."""
        return min(distance for _along, distance in self.stations)

    def reversed(self, length: float) -> Changing:
        """Return the same law for the run of this length, travelled the other way."""
        if self.of_new:
            return replace(self, stations=tuple((1.0 - share, mm) for share, mm in reversed(self.stations)))
        ends = self.begins + (-length if self.backwards else length)
        return Changing(stations=self.stations, begins=ends, backwards=not self.backwards)


Distance = float | Changing


class Run(NamedTuple):
    """Segments that follow each other smoothly at one distance, and the number of the first in the outline."""

    segments: list[Segment]
    distance: Distance
    first: int


def runs_of(outline: Path, distances: Sequence[Distance], accuracy: float, apart: Collection[int] = ()) -> list[Run]:
    """Divide an outline into runs of one distance each that follow each other smoothly; lines stand alone.

    Args:
        outline: a closed path.
        distances: for each of its segments the distance, or how it changes.
        accuracy: gaps that are small against it do not show, mm.
        apart: numbers of segments that begin a run in any case.

    Returns:
        The runs, in the order of the outline. One whose distance changes takes in all its segments.

    >>> square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    >>> [run.first for run in runs_of(square, [2.0] * 4, 0.01)]
    [0, 1, 2, 3]
    """
    live: list[tuple[Segment, Distance, int]] = []
    begins = set()
    pending = False
    for number, (segment, distance) in enumerate(zip(outline.segments, distances, strict=True)):
        pending = pending or number in apart
        plain = simplified(segment)
        if plain is None:
            continue
        if pending:
            begins.add(len(live))
            pending = False
        live += [(part, distance, number) for part in _divided_at_cusps(plain)]
    if pending:
        begins.add(0)
    breaks = [k for k in range(len(live)) if k in begins or not _smooth(live[k - 1], live[k], accuracy)]
    first = breaks[0] if breaks else 0
    starts = {k - first for k in breaks} or {0}
    runs: list[Run] = []
    for k, (segment, distance, number) in enumerate(live[first:] + live[:first]):
        if k in starts or not runs:
            runs.append(Run([], distance, number))
        runs[-1].segments.append(segment)
    return runs


def strands_of(runs: Sequence[Run], style: JoinStyle, accuracy: float) -> list[Strand]:
    """Draw the parallel of each run.

    Raises:
        AccuracyError: a run that cannot be followed so closely.
        CollapseError: a bend that is tighter than the changing distance beside it.

    >>> square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    >>> strands_of(runs_of(square, [2.0] * 4, 0.01), "mitre", 0.01)[1].segments
    (Line(start=(12.0, 0.0), end=(12.0, 10.0)),)
    """
    going_on = _going_on(runs, style)
    even = [k for k, run in enumerate(runs) if not isinstance(run.distance, Changing)]
    widths = [run.distance for run in runs if not isinstance(run.distance, Changing)]
    lines = [runs[k].segments for k in even]
    try:
        drawn = parallels(lines, widths, accuracy, [going_on[k] for k in even])
    except AccuracyError:
        if not any(before or after for before, after in going_on):
            raise
        # A tight bend and the straight way on from it may be more than can be followed as one: then the ways to the
        # mitres' points are lines of their own.
        drawn = parallels(lines, widths, accuracy)
    if len(even) == len(runs):
        return drawn
    strands = dict(zip(even, drawn, strict=True))
    return [
        _changing(run.segments, run.distance, accuracy) if isinstance(run.distance, Changing) else strands[k]
        for k, run in enumerate(runs)
    ]


def _changing(run: list[Segment], law: Changing, accuracy: float) -> Strand:
    from crossgrain.kernel.parallels.changing_strand import changing_strand, strand_inside

    if law.of_new:
        return strand_inside(run, law.stations, accuracy)
    return changing_strand(run, law.stations, accuracy, begins=law.begins, backwards=law.backwards)


def _divided_at_cusps(segment: Segment) -> list[Segment]:
    """Divide a segment where it turns back: a cusp is a corner."""
    if isinstance(segment, Line):
        return [segment]
    p, q, r, w = (complex(*control) for control in segment.controls)
    # The speed is a mean of the three legs of the control polygon: it cannot vanish where each goes on with the last.
    if ((q - p) * (r - q).conjugate()).real > 0.0 and ((r - q) * (w - r).conjugate()).real > 0.0:
        return [segment]
    places = [0.0, *(t for t in cusps(segment) if 0.0 < t < 1.0), 1.0]
    return [section(segment, t0, t1) for t0, t1 in pairwise(places)]


def _smooth(before: tuple[Segment, Distance, int], after: tuple[Segment, Distance, int], accuracy: float) -> bool:
    """Say whether the parallel goes on from one segment to the next without a gap that shows."""
    (one, d_one, _n), (other, d_other, _m) = before, after
    if isinstance(d_one, Changing) or isinstance(d_other, Changing):
        return d_one is d_other
    if isinstance(one, Line) or isinstance(other, Line) or d_one != d_other:
        return False
    return abs(_turn(one.end_tangent, other.start_tangent)) * abs(d_other) <= SNAP_SHARE * accuracy


def _turn(a: Point | None, b: Point | None) -> float:
    if a is None or b is None:
        return 0.0
    return math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])


def _going_on(runs: Sequence[Run], style: JoinStyle) -> list[tuple[float, float]]:
    """Return how far each parallel goes on to the points of slight mitres at its ends."""
    at_start = []
    for k, run in enumerate(runs):
        width, before = run.distance, runs[k - 1].distance
        ahead = 0.0
        if style == "mitre" and not isinstance(width, Changing) and before == width:
            turn = _turn(runs[k - 1].segments[-1].end_tangent, run.segments[0].start_tangent)
            forwards = _runs_forwards(runs[k - 1].segments[-1], 1.0, width) and _runs_forwards(
                run.segments[0], 0.0, width
            )
            if turn * width > 0.0 and abs(turn) < _SLIGHT_TURN and forwards:
                ahead = abs(width) * math.tan(abs(turn) / 2.0)
        at_start.append(ahead)
    return [(at_start[k], at_start[(k + 1) % len(runs)]) for k in range(len(runs))]


def _runs_forwards(segment: Segment, t: float, width: float) -> bool:
    """Say whether the parallel runs as its line does; inside a tighter bend it runs backwards, and has no way on."""
    return 1.0 + curvature(segment, t) * width > 0.0
