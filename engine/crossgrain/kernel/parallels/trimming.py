"""Cut the loops out of a raw parallel of an outline.

A raw parallel of an outline of positive winding goes round everything that belongs to the wider (or narrower)
outline at least once, and round what does not belong to it zero times or backwards. So the true line is made of those
stretches, between crossings, that have belonging on their inner side and none on their outer side.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from crossgrain.errors import CollapseError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.length import Place, point_at
from crossgrain.kernel.meetings.crossing import Crossing, self_crossings
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.parallels.sides import windings_along
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Segment, ended_at, section, started_at
from crossgrain.language import _
from crossgrain.tolerances import COINCIDENT, TRIM_PROBE

Floats = NDArray[np.float64]


def trimmed(raw: Path, belongs: Callable[[Path], bool] | None = None) -> Path:
    """Return the true line of a raw parallel.

    Args:
        raw: a closed path, the parallel of an outline of positive winding with its corners joined.
        belongs: says of a loop whether it is one; for lines inside an outline, where a loop that has come out on the
            other side looks like any other.

    Returns:
        The one loop that bounds what the raw line goes round, from the same segments, cut only where they meet. The
        raw path itself where it does not meet itself. Holes, where the line comes together again behind a narrow
        inlet, are filled.

    Raises:
        CollapseError: nothing is left, or it falls apart into several.
    """
    crossings = () if keeps_off_itself(raw) else self_crossings(raw)
    if not crossings:
        if signed_area(raw) <= 0.0 or (belongs is not None and not belongs(raw)):
            raise _nothing_left(raw)
        return raw
    stretches = _stretches(raw, crossings)
    keep = _each_once(_bounding(raw, crossings, stretches))
    loops = [loop for loop in _loops(keep) if signed_area(loop) > 0.0 and (belongs is None or belongs(loop))]
    if not loops:
        raise _nothing_left(raw)
    loops.sort(key=signed_area)
    if len(loops) > 1 and signed_area(loops[-2]) > TRIM_PROBE**2:
        raise CollapseError(
            _("At this distance the outline falls apart into {count} pieces.").format(count=len(loops)),
            position=loops[-2].start,
            advice=_("Give a smaller width, or widen the narrow place."),
        )
    return loops[-1]


def _nothing_left(raw: Path) -> CollapseError:
    return CollapseError(
        _("Nothing is left of the outline at this distance."), position=raw.start, advice=_("Give a smaller width.")
    )


def _each_once(stretches: Sequence[Path]) -> list[Path]:
    """Keep one of the stretches that lie on each other, as where two mitres meet on one straight line."""
    out: list[Path] = []
    for stretch in stretches:
        if not any(_same(stretch, other) for other in out):
            out.append(stretch)
    return out


def _same(a: Path, b: Path) -> bool:
    if a.start != b.start or a.end != b.end:
        return False
    return abs(nearest(b, a.segments[0].point(0.5)).distance) <= TRIM_PROBE


def keeps_off_itself(raw: Path) -> bool:
    """Say whether a closed path keeps clear of itself, but for loops too thin to matter, as a fine polyline shows.

    >>> keeps_off_itself(Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)]))
    True
    """
    ring = shapely.linearrings(flatten(raw, TRIM_PROBE / 2.0).points)
    if not shapely.is_simple(ring):
        return False
    return not _has_tight_turn(raw)


def _has_tight_turn(raw: Path) -> bool:
    """Say whether the path turns back at a node, as it does at a cusp and at the loops too small to be seen."""
    for before, after in zip(raw.segments, (*raw.segments[1:], raw.segments[0]), strict=True):
        a, b = before.end_tangent, after.start_tangent
        if a is not None and b is not None and a[0] * b[0] + a[1] * b[1] < -0.7:
            return True
    return False


def _stretches(raw: Path, crossings: Sequence[Crossing]) -> dict[Place, Path]:
    """Cut a closed path at its crossings; the two stretches that meet at one end in the very same point.

    Returns:
        The stretches, each with the place where it begins.
    """
    cuts: dict[Place, Point] = {}
    met: list[Point] = []
    for crossing in crossings:
        point = _known(crossing.point, met)
        cuts[crossing.a] = cuts[crossing.b] = point
        if crossing.a_end is not None and crossing.b_end is not None:
            cuts[crossing.a_end] = cuts[crossing.b_end] = _known(point_at(raw, crossing.a_end), met)
    order = sorted(cuts)
    out = {}
    for start, end in zip(order, [*order[1:], order[0]], strict=True):
        pieces = _between(raw, start, end)
        if pieces:
            out[start] = _pinned(pieces, cuts[start], cuts[end])
    return out


def _known(point: Point, met: list[Point]) -> Point:
    """Return the point met before that is the same but for rounding, or else the point itself, met now."""
    for other in met:
        if math.dist(point, other) <= 2.0 * COINCIDENT:
            return other
    met.append(point)
    return point


def _between(raw: Path, start: Place, end: Place) -> list[Segment]:
    """Return the segments from one place on a closed path to another, going forwards and round past its start."""
    segments, count = raw.segments, len(raw.segments)
    if start.index == end.index and start.t < end.t:
        pieces = [section(segments[start.index], start.t, end.t)]
    else:
        pieces = [section(segments[start.index], start.t, 1.0)] if start.t < 1.0 else []
        index = (start.index + 1) % count
        while index != end.index:
            pieces.append(segments[index])
            index = (index + 1) % count
        if end.t > 0.0:
            pieces.append(section(segments[end.index], 0.0, end.t))
    return [piece for piece in pieces if max(math.dist(piece.start, c) for c in piece.controls[1:]) > COINCIDENT]


def _pinned(pieces: list[Segment], start: Point, end: Point) -> Path:
    pieces[0] = started_at(pieces[0], start)
    pieces[-1] = ended_at(pieces[-1], end)
    for k in range(1, len(pieces)):
        pieces[k] = started_at(pieces[k], pieces[k - 1].end)
    return Path(tuple(pieces))


def _bounding(raw: Path, crossings: Sequence[Crossing], stretches: Mapping[Place, Path]) -> list[Path]:
    """Return the stretches that have what belongs on their inner side and what does not on their outer side.

    How often the line goes round what lies on either side is counted from the crossings; measured, at a point beside
    each stretch, is only the one number that they all start from, which the longest of them have right.
    """
    polyline = flatten(raw, TRIM_PROBE / 4.0).points
    measured = {place: _sides(stretch, polyline) for place, stretch in stretches.items()}
    counted = windings_along(raw, crossings)
    if counted is None:
        return [stretches[place] for place, (outside, inside, _size) in measured.items() if outside <= 0 < inside]
    votes: dict[int, float] = defaultdict(float)
    for place, (_outside, inside, size) in measured.items():
        votes[inside - counted[place]] += size
    start = max(votes, key=votes.__getitem__)
    return [stretch for place, stretch in stretches.items() if counted[place] + start == 1]


def _sides(stretch: Path, polyline: Floats) -> tuple[int, int, float]:
    """Return how often a polyline goes round what lies just outside and just inside a stretch, and how long that is."""
    segment = max(stretch.segments, key=lambda s: math.dist(s.start, s.end))
    x, y = segment.point(0.5)
    dx, dy = segment.derivative(0.5)
    size = math.hypot(dx, dy) or 1.0
    nx, ny = dy / size * TRIM_PROBE, -dx / size * TRIM_PROBE
    outside, inside = _windings(polyline, np.array([[x + nx, y + ny], [x - nx, y - ny]])).tolist()
    return outside, inside, math.dist(segment.start, segment.end)


def _windings(polyline: Floats, points: Floats) -> Floats:
    """Return how often a closed polyline goes round each point, positive for positive winding."""
    x0, y0, x1, y1 = polyline[:-1, 0], polyline[:-1, 1], polyline[1:, 0], polyline[1:, 1]
    px, py = points[:, :1], points[:, 1:]
    left = (x1 - x0) * (py - y0) - (px - x0) * (y1 - y0)
    up = (y0 <= py) & (y1 > py) & (left > 0.0)
    down = (y0 > py) & (y1 <= py) & (left < 0.0)
    out: Floats = up.sum(axis=1) - down.sum(axis=1)
    return out


def _loops(stretches: list[Path]) -> list[Path]:
    """Join stretches end to start into closed paths; what closes nowhere is left out."""
    while True:
        begun, ended = {stretch.start for stretch in stretches}, {stretch.end for stretch in stretches}
        linked = [stretch for stretch in stretches if stretch.end in begun and stretch.start in ended]
        if len(linked) == len(stretches):
            break
        stretches = linked
    starts: dict[Point, list[Path]] = {}
    for stretch in stretches:
        starts.setdefault(stretch.start, []).append(stretch)
    loops = []
    left = list(stretches)
    while left:
        chain = [left[0]]
        left.remove(chain[0])
        starts[chain[0].start].remove(chain[0])
        while chain[-1].end != chain[0].start and starts.get(chain[-1].end):
            follower = starts[chain[-1].end].pop()
            left.remove(follower)
            chain.append(follower)
        if chain[-1].end == chain[0].start:
            loops.append(Path(tuple(segment for stretch in chain for segment in stretch.segments), True))
    return loops
