"""An open line moved to one side by amounts that vary along it."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from crossgrain.errors import CollapseError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.arrays import cubics_of, point_of, rows_of
from crossgrain.kernel.curvature import curvatures, screened
from crossgrain.kernel.fit import fit_curve
from crossgrain.kernel.length import places_at, run, segment_length
from crossgrain.kernel.parallels.joins import cut_at_crossing
from crossgrain.kernel.parallels.outer_blend import OuterBlend
from crossgrain.kernel.parallels.parallel_curve import ParallelCurve
from crossgrain.kernel.path import Path
from crossgrain.kernel.profile import Profile
from crossgrain.kernel.segment import Line, Segment, ended_at, started_at, unit
from crossgrain.kernel.spans import Complexes, Floats
from crossgrain.language import _
from crossgrain.tolerances import ACCURACY, AGREEING_TURN, COINCIDENT, NEWTON_ANGLE

_GAP_SHARE = 0.25
"""At a node where the line turns, its parallels may part by this share of the accuracy and still count as joined."""

_HAIR = 4.0
"""They may overlap, or gape, by this many times the accuracy along their own direction, which moves nothing aside."""

_SPARE = 1.5
"""What goes on to meet a line that curves away goes this many times as far as to a straight one."""

_ASIDE = 0.25
"""And by this share of the overlap, for the line that it meets bends away within that."""

_NEAR_NODE = 0.5
"""A station this near to a node of the line, mm, gives no node of its own: between the two would be a sliver shorter
than what overlaps where the line turns at the node."""

_NEARLY_STRAIGHT = 40.0
"""Lines with a radius of 20 mm that part at a small angle come together again after this many mm times the angle, in
radians: no line goes on farther than that to meet another."""

_BRIDGE = 20.0
"""Ends that still gape by up to this many times the accuracy, nearly along their own direction, meet in the middle; so
do those that overlap."""

_LEAST_SPEED = 0.05
"""A moved line that runs slower than this share of the line's own speed is all but a cusp."""

Blend = Callable[[Floats], tuple[Floats, Floats]]
"""Amounts along a line, and their slopes."""

_LOOKS: Floats = np.linspace(0.0, 1.0, 65)
"""Where along a segment its bend is looked at."""


def line_beside(
    line: Path,
    stations: Sequence[float],
    distances: Sequence[float],
    accuracy: float = ACCURACY,
    *,
    outwards: float = 0.0,
) -> Path:
    """Move an open line to one side by amounts given at stations and blended between them.

    The new line is ``C + d n``: at every place of the old one it lies ``d`` beside it, measured square to it. The blend
    is :class:`~crossgrain.kernel.profile.Profile`: no overshoot, and level at the stations that are a turning point.

    Args:
        line: an open line.
        stations: places along it, mm from its start, rising.
        distances: at each station, mm along the normal (to the left of the direction of travel as seen on the page);
            zero at the first station unless that is the start of the line, and at the last unless that is its end.
        accuracy: the distance from the true line that is not exceeded, mm, above 0.
        outwards: 1 or -1, the sign of distances that go outwards: these are measured square to the new line, so that
            the same amounts inwards give back the old one. 0 measures all square to the old one.

    Returns:
        The moved line. Where the amount is zero from one station to the next, and outside the stations, its segments
        are those of the old line. Nodes lie at the stations that move or end a stretch that does, or on the old node
        within half a millimetre; between them as few
        as the accuracy allows.

    Raises:
        CollapseError: the line bends so tightly that, moved so far, it would turn back on itself; the error says where.
        AccuracyError: a line that cannot be followed so closely.
        GeometryError: stations that do not rise, or lie off the line.

    >>> straight = Path((Line((0.0, 0.0), (300.0, 0.0)),))
    >>> moved = line_beside(straight, [0.0, 100.0, 200.0], [0.0, -6.0, 0.0])
    >>> moved.nodes
    ((0.0, 0.0), (100.0, 6.0), (200.0, 0.0), (300.0, 0.0))
    """
    if not any(distances):
        return line
    blend, outwards = _blend(line, stations, distances, outwards)
    return blended_beside(line, stations, distances, blend, accuracy, outwards=outwards)


def blended_beside(
    line: Path,
    stations: Sequence[float],
    distances: Sequence[float],
    blend: Blend,
    accuracy: float,
    *,
    outwards: float = 0.0,
) -> Path:
    """Move an open line to one side by amounts that are given all along it.

    Args:
        line: an open line.
        stations: places along it, mm from its start, rising, where a node is wanted if there is movement.
        distances: at each station, mm along the normal.
        blend: the amounts and their slopes, at places along the line.
        accuracy: the distance from the true line that is not exceeded, mm, above 0.
        outwards: as for :func:`line_beside`.

    Returns:
        The moved line, as :func:`line_beside` draws it.

    Raises:
        CollapseError: a bend so tight that the moved line would turn back on itself.
        AccuracyError: a line that cannot be followed so closely.

    >>> straight = Path((Line((0.0, 0.0), (300.0, 0.0)),))
    >>> blended_beside(straight, [0.0], [5.0], Profile([0.0], [5.0]), 0.01).nodes
    ((0.0, -5.0), (300.0, -5.0))
    """
    strands: list[_Fit | _Strand] = []
    for part in _parts(line, _cuts(line, stations, distances)):
        amounts = blend(np.array([part.start, part.end]))[0]
        moves = amounts.any()
        strands += _fits(part, blend, accuracy, outwards) if moves else [_Strand(part.line.segments, stays=True)]
    for before, after in pairwise(strands):
        if isinstance(before, _Fit) and isinstance(after, _Fit):
            before.after, after.before = _on_to_meeting(before.end, after.start, accuracy)
    drawn = [strand.drawn(accuracy) if isinstance(strand, _Fit) else strand for strand in strands]
    return Path.joined([segment for strand in _joined(drawn, accuracy) for segment in strand.segments])


def moving_beside(
    line: Path, stations: Sequence[float], distances: Sequence[float], *, outwards: float = 0.0
) -> Callable[[float], Point]:
    """Return what tells where a place of a line goes when it is moved by :func:`line_beside`.

    Args:
        line: an open line whose segments have a length.
        stations: as there.
        distances: as there.
        outwards: as there.

    Returns:
        A function from a distance along the line, mm from its start, to a point.

    >>> moving_beside(Path((Line((0.0, 0.0), (300.0, 0.0)),)), [0.0, 100.0, 200.0], [0.0, -6.0, 0.0])(100.0)
    (100.0, 6.0)
    """
    blend, outwards = _blend(line, stations, distances, outwards)

    def moved(along: float) -> Point:
        [place] = places_at(line, [along])
        segment = line.segments[place.index]
        (x, y), (dx, dy) = segment.point(place.t), unit(*segment.derivative(place.t))
        amount, slope = (float(value[0]) for value in blend(np.array([along])))
        lean = slope if amount * outwards > 0.0 else 0.0
        straight = math.sqrt(max(1.0 - lean * lean, 0.0))
        return (x + amount * (straight * dy - lean * dx), y - amount * (straight * dx + lean * dy))

    return moved


def _blend(
    line: Path, stations: Sequence[float], distances: Sequence[float], outwards: float
) -> tuple[Profile | OuterBlend, float]:
    """Return the amounts along a line, and the sign of those that are measured square to the new line."""
    plain = Profile(stations, distances)
    if not any(distance * outwards > 0.0 for distance in distances):
        return plain, 0.0
    outer = OuterBlend(line, stations, distances, outwards)
    return (plain, 0.0) if outer.is_steep else (outer, outwards)


class _Strand(NamedTuple):
    """A run of the new line, and whether it is one of the old line that stays where it is."""

    segments: tuple[Segment, ...]
    stays: bool = False


class _Part(NamedTuple):
    """A part of a line, from ``start`` to ``end`` along it, mm."""

    line: Path
    start: float
    end: float


def _cuts(line: Path, stations: Sequence[float], distances: Sequence[float]) -> list[float]:
    """Return where the line is cut: at the stations beside which something moves, or at a node just by them."""
    around = [0.0, *distances, 0.0]
    nodes = np.cumsum([0.0, *map(segment_length, line.segments)])
    cuts = [0.0]
    for k, station in enumerate(stations):
        if any(around[k : k + 3]):
            node = float(nodes[np.argmin(np.abs(nodes - station))])
            place = node if distances[k] and abs(node - station) <= _NEAR_NODE else station
            if COINCIDENT < place < nodes[-1] - COINCIDENT and place - cuts[-1] > COINCIDENT:
                cuts.append(place)
    return [*cuts, float(nodes[-1])]


def _parts(line: Path, cuts: Sequence[float]) -> list[_Part]:
    """Cut a line at places along it, its ends among them."""
    return [
        _Part(run(line, p, q), s, t)
        for (p, q), (s, t) in zip(pairwise(places_at(line, cuts)), pairwise(cuts), strict=True)
    ]


def _fits(part: _Part, blend: Blend, accuracy: float, outwards: float) -> list[_Fit]:
    """Return what draws one part at its distance, smooth run by smooth run."""
    runs, starts = _runs(part, blend, accuracy)
    return [_Fit(one, start, blend, outwards) for one, start in zip(runs, starts, strict=True)]


def _runs(part: _Part, blend: Blend, accuracy: float) -> tuple[list[list[Segment]], list[float]]:
    """Divide a part where its line turns at a node, where moved runs would not meet, or kink; return the starts."""
    runs: list[list[Segment]] = []
    starts: list[float] = []
    along = part.start
    for segment in screened(part.line).segments:
        amount = abs(float(blend(np.array([along]))[0][0]))
        turn = _turn(runs[-1][-1].end_tangent, segment.start_tangent) if runs else math.inf
        if turn > AGREEING_TURN or turn * amount > _GAP_SHARE * accuracy:
            runs.append([])
            starts.append(along)
        runs[-1].append(segment)
        along += segment_length(segment)
    return runs, starts


def _turn(arriving: Point | None, leaving: Point | None) -> float:
    assert arriving is not None  # screened segments have a length
    assert leaving is not None
    return abs(math.atan2(_cross(arriving, leaving), arriving[0] * leaving[0] + arriving[1] * leaving[1]))


class _Fit:
    """One smooth run at its distance, and how far it goes on straight before its start and after its end, mm."""

    def __init__(self, segments: Sequence[Segment], along: float, blend: Blend, outwards: float) -> None:
        rows = rows_of(segments)
        self._segments = segments
        self._blend = blend
        self._along = along
        self._check_bend(rows)
        self._curve = ParallelCurve(rows, lambda s: blend(along + s), outwards)
        self._from, self._to, _home = self._curve.lay_runs(np.array([0]), np.array([len(rows) - 1]))
        self.before = self.after = 0.0
        points, directions, _parameter = self._curve(np.array([0]), np.array([[self._from[0], self._to[0]]]))
        self.start = Ray(point_of(points[0, 0]), point_of(directions[0, 0]))
        self.end = Ray(point_of(points[0, 1]), point_of(directions[0, 1]))

    def drawn(self, accuracy: float) -> _Strand:
        """Draw it by few cubics; a line that stays straight stays a line."""
        start, end = self.start.at(-self.before), self.end.at(self.after)
        if len(self._segments) == 1 and isinstance(self._segments[0], Line):
            stations = self._along + np.array([0.0, segment_length(self._segments[0])])
            if np.ptp(self._blend(stations)[0]) == 0.0:
                return _Strand((Line(start, end),))
        fitted = fit_curve(self._curve, self._from - self.before, self._to + self.after, accuracy)
        return _Strand(cubics_of(fitted.controls.tolist()))

    def _check_bend(self, rows: Complexes) -> None:
        """Refuse a distance at which the moved line would stand still or turn back."""
        controls = np.repeat(np.stack([rows.real, rows.imag], axis=2), len(_LOOKS), axis=0)
        bend = curvatures(controls, np.tile(_LOOKS, len(rows))).reshape(len(rows), -1)
        amounts = self._blend((self._along + _walked(rows, self._segments)).ravel())[0]
        speed = 1.0 + bend * amounts.reshape(bend.shape)
        if speed.min() < _LEAST_SPEED:
            number, look = (int(k) for k in np.unravel_index(speed.argmin(), speed.shape))
            raise CollapseError(
                _("The line bends with a radius of {radius:.1f} mm there, and cannot be moved so far.").format(
                    radius=1.0 / abs(float(bend[number, look]))
                ),
                position=self._segments[number].point(float(_LOOKS[look])),
                advice=_("Move it by less than that there, or redraw the bend."),
            )


def _walked(rows: Complexes, segments: Sequence[Segment]) -> Floats:
    """Return how far along a line the places lie at which its segments are looked at, mm, to a thousandth of each."""
    p, q, r, w = rows.T[:, :, None]
    s, t = 1.0 - _LOOKS, _LOOKS
    rate = np.abs(s * s * (q - p) + 2.0 * s * t * (r - q) + t * t * (w - r))
    walked = np.cumsum(rate[:, 1:] + rate[:, :-1], axis=1)
    lengths = np.array([segment_length(segment) for segment in segments])
    before = np.concatenate([[0.0], np.cumsum(lengths)[:-1]])
    within = np.concatenate([np.zeros((len(rows), 1)), walked / walked[:, -1:]], axis=1)
    out: Floats = before[:, None] + lengths[:, None] * within
    return out


class Ray(NamedTuple):
    """A point and the unit direction in which a line passes it."""

    point: Point
    direction: Point

    def at(self, distance: float) -> Point:
        """Return the point so far ahead, mm; itself at 0."""
        (x, y), (dx, dy) = self
        return (x + distance * dx, y + distance * dy) if distance else self.point


def _on_to_meeting(end: Ray, start: Ray, accuracy: float) -> tuple[float, float]:
    """Return how far an arriving line goes on straight, and a leaving one comes from, for the two to meet.

    Where the amounts rise or fall, lines that turn at a node lean against its bisector: there one may have to go on
    and the other to be cut. What meets where it will be cut goes a little farther than it must. Where the turn is so
    slight that they would bend away from each other before they meet, neither goes on.
    """
    dx, dy = start.point[0] - end.point[0], start.point[1] - end.point[1]
    across = _cross(end.direction, start.direction)
    if abs(across) <= NEWTON_ANGLE or _is_hair(end.direction, (dx, dy), accuracy):
        return 0.0, 0.0
    on_end, on_start = _cross((dx, dy), start.direction) / across, -_cross((dx, dy), end.direction) / across
    if on_end > 0.0 and on_start > 0.0:
        return on_end, on_start
    if max(on_end, on_start) > _NEARLY_STRAIGHT * abs(across):
        return 0.0, 0.0
    more = _ASIDE * math.hypot(dx, dy)
    return _SPARE * max(on_end, 0.0) + more, _SPARE * max(on_start, 0.0) + more


def _joined(strands: list[_Strand], accuracy: float) -> list[_Strand]:
    """Let each strand start where the one before it ends: cut both where they cross, close what a hair leaves open."""
    out = strands[:1]
    for after in strands[1:]:
        before = out[-1]
        (x, y), (u, v) = before.segments[-1].end, after.segments[0].start
        if not _is_hair(before.segments[-1].end_tangent, (u - x, v - y), accuracy):
            cut = cut_at_crossing(before.segments, after.segments)
            if cut is not None:
                before, after = (_Strand(segments) for segments in cut)
            elif not (before.stays or after.stays) and _is_overlap(before.segments[-1], (u - x, v - y), accuracy):
                middle = ((x + u) / 2.0, (y + v) / 2.0)
                before = _Strand((*before.segments[:-1], ended_at(before.segments[-1], middle)))
            else:
                after = _Strand((Line((x, y), (u, v)), *after.segments))
        if after.stays:
            before = _Strand((*before.segments[:-1], ended_at(before.segments[-1], after.segments[0].start)))
        else:
            after = _Strand((started_at(after.segments[0], before.segments[-1].end), *after.segments[1:]))
        out[-1:] = [before, after]
    return out


def _is_hair(direction: Point | None, apart: Point, accuracy: float) -> bool:
    """Tell whether a line that comes to its end and the next one part by so little that their ends can be made one."""
    aside = 0.0 if direction is None else abs(_cross(direction, apart))
    return math.hypot(*apart) <= _HAIR * accuracy and aside <= _GAP_SHARE * accuracy


def _is_overlap(before: Segment, apart: Point, accuracy: float) -> bool:
    """Tell whether a line from its end to the next one's start would be a spur, or hardly a line."""
    tangent = before.end_tangent
    turns_back = tangent is not None and tangent[0] * apart[0] + tangent[1] * apart[1] < 0.0
    return turns_back or math.hypot(*apart) <= _BRIDGE * accuracy


def _cross(u: Point, v: Point) -> float:
    return u[0] * v[1] - u[1] * v[0]
