"""The parallel of a closed outline: its corners joined, its loops cut out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from crossgrain.errors import OpenOutlineError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import signed_area, winding
from crossgrain.kernel.clearance import keeps_clear
from crossgrain.kernel.crossing import path_crossings
from crossgrain.kernel.curvature import cusps, simplified
from crossgrain.kernel.joins import JoinStyle, corner_turn, cut_at_crossing, drawn_on, gap, stepped
from crossgrain.kernel.parallel import Strand, parallels
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment, section, started_at
from crossgrain.kernel.trimming import keeps_off_itself, trimmed
from crossgrain.language import _
from crossgrain.tolerances import ACCURACY, COINCIDENT

MITRE_LIMIT = 3.0
"""A mitre's point may lie this many widths from the corner: corners down to 39° stay whole, which is what is drawn by
hand; sharper ones would be paper thorns."""

_SLIGHT_TURN = math.radians(15.0)
"""Up to this turn the parallels' short ways to the mitre's point are drawn as part of their curves, not as lines of
their own: a traced line is full of such turns, and nobody wants two extra nodes at each."""

_SNAP_SHARE = 0.25
"""Ends of parallels nearer than this share of the accuracy are moved onto each other."""


def parallel_of_outline(
    outline: Path,
    distances: Sequence[float],
    *,
    style: JoinStyle = "mitre",
    limit: float = MITRE_LIMIT,
    accuracy: float = ACCURACY,
) -> Path:
    """Draw the line beside a closed outline, at a distance of its own for each segment.

    Args:
        outline: a closed path that does not cross itself, wound either way.
        distances: for each segment the distance in mm, positive outwards; all of one sign, or zero.
        style: how gaping corners are closed: ``mitre`` or ``round``. Corners where the distance changes are always
            mitred or stepped.
        limit: the greatest distance of a mitre's point from its corner, in widths; above 1.
        accuracy: the distance from the true parallel that no curve exceeds, mm, above 0.

    Returns:
        A closed path, wound as the outline, starting beside the first corner of it. Inside corners are cut where
        the parallels cross; where the distance exceeds the radius of curvature the loop is cut out.

    Raises:
        OpenOutlineError: the outline is not closed.
        CollapseError: nothing is left at this distance, or it falls apart.
        AccuracyError: a curve that cannot be followed so closely.

    >>> square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    >>> [(round(x, 9), round(y, 9)) for x, y in parallel_of_outline(square, [2.0] * 4).nodes]
    [(-2.0, -2.0), (12.0, -2.0), (12.0, 12.0), (-2.0, 12.0)]
    """
    if not outline.closed:
        raise OpenOutlineError(_("The outline does not close."), position=outline.end, advice=_("Join its ends."))
    if winding(outline) < 0:
        turned = parallel_of_outline(
            outline.reversed(), list(distances)[::-1], style=style, limit=limit, accuracy=accuracy
        )
        return turned.reversed()
    runs, widths = _runs(outline, distances, accuracy)
    strands = parallels(runs, widths, accuracy, _going_on(runs, widths, style))
    raw = _closed(strands, style, limit, accuracy)
    line = _inside(raw, strands, outline, distances, style, limit, accuracy) if min(distances) < 0.0 else trimmed(raw)
    return Path(tuple(_straightened(line.segments)), True)


def _inside(
    raw: Path,
    strands: list[Strand],
    outline: Path,
    distances: Sequence[float],
    style: JoinStyle,
    limit: float,
    accuracy: float,
) -> Path:
    """Return the true line inside an outline.

    Where edges are used up, a corner's parallels may cross beyond what is left of them, and a line cut there is wrong.
    So if the line crosses itself, or comes too near, its inside corners are left uncut, each joined by way of the
    outline's own corner: then the line goes round every point as often as it should, and trimming finds what is left.
    """
    rightly_round = keeps_off_itself(raw) and signed_area(raw) > 0.0
    if rightly_round and keeps_clear(raw, outline, distances, accuracy, everywhere=True):
        return raw
    uncut = _closed(strands, style, limit, accuracy, cut_inside=False)
    return trimmed(uncut, lambda loop: keeps_clear(loop, outline, distances, accuracy))


def _runs(outline: Path, distances: Sequence[float], accuracy: float) -> tuple[list[list[Segment]], list[float]]:
    """Divide an outline into runs of one distance each that follow each other smoothly; lines stand alone."""
    live = [
        (part, distance)
        for segment, distance in zip(outline.segments, distances, strict=True)
        if (plain := simplified(segment)) is not None
        for part in _divided_at_cusps(plain)
    ]
    breaks = [k for k in range(len(live)) if not _smooth(*live[k - 1], *live[k], accuracy)]
    first = breaks[0] if breaks else 0
    live = live[first:] + live[:first]
    starts = {k - first for k in breaks} or {0}
    runs: list[list[Segment]] = []
    widths: list[float] = []
    for k, (segment, distance) in enumerate(live):
        if k in starts or not runs:
            runs.append([])
            widths.append(distance)
        runs[-1].append(segment)
    return runs, widths


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


def _smooth(before: Segment, d_before: float, after: Segment, d_after: float, accuracy: float) -> bool:
    """Say whether the parallel goes on from one segment to the next without a gap that shows."""
    if isinstance(before, Line) or isinstance(after, Line) or d_before != d_after:
        return False
    return abs(_turn(before.end_tangent, after.start_tangent)) * abs(d_after) <= _SNAP_SHARE * accuracy


def _turn(a: Point | None, b: Point | None) -> float:
    if a is None or b is None:
        return 0.0
    return math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])


def _going_on(runs: list[list[Segment]], widths: list[float], style: JoinStyle) -> list[tuple[float, float]]:
    """Return how far each parallel goes on to the points of slight mitres at its ends."""
    at_start = []
    for k, run in enumerate(runs):
        turn = _turn(runs[k - 1][-1].end_tangent, run[0].start_tangent)
        slight = style == "mitre" and widths[k - 1] == widths[k] and turn * widths[k] > 0.0 and abs(turn) < _SLIGHT_TURN
        at_start.append(abs(widths[k]) * math.tan(abs(turn) / 2.0) if slight else 0.0)
    return [(at_start[k], at_start[(k + 1) % len(runs)]) for k in range(len(runs))]


def _closed(strands: list[Strand], style: JoinStyle, limit: float, accuracy: float, *, cut_inside: bool = True) -> Path:
    """Join strands round the outline into one raw closed path, cut at inside corners where that can be done simply."""
    count = len(strands)
    bodies = [strand.segments for strand in strands]
    between: list[tuple[Segment, ...]] = [()] * count
    for k in range(count):
        after = (k + 1) % count
        a, b = strands[k], strands[after]
        start, end = bodies[k][-1].end, bodies[after][0].start
        if start == end:
            continue
        if math.dist(start, end) <= max(_SNAP_SHARE * accuracy, COINCIDENT):
            bodies[after] = (started_at(bodies[after][0], start), *bodies[after][1:])
            continue
        turn = corner_turn(a, b)
        widest = max(a.end_distance, b.start_distance, key=abs)
        if math.pi - abs(turn) <= COINCIDENT:
            # Straight back: rounding decides on the sign. Taken as gaping, a false cap lies within the line's loops.
            turn = math.copysign(math.pi, widest)
        if turn * widest >= 0.0 or abs(turn) < COINCIDENT:
            wider = max(a, b, key=lambda strand: abs(strand.start_distance))
            cut = drawn_on(turn, a, b, bodies[k], bodies[after]) if a.end_distance != b.start_distance else None
            link = Line(cut[0][-1].end, cut[1][0].start) if cut is not None else None
            if cut is None or link is None or _passes_through(link, a.end, wider.beside):
                between[k] = gap(turn, a, b, style, limit)
                continue
            bodies[k], bodies[after] = cut
            between[k] = (link,)
            continue
        if after == k and cut_inside:
            bodies[k] = _cut_at_own_ends(bodies[k])
            continue
        same = a.end_distance == b.start_distance
        cut = cut_at_crossing(bodies[k], bodies[after]) if cut_inside or not same else None
        if cut is None and not same:
            cut = stepped(a, b, bodies[k], bodies[after])
        if cut is not None:
            bodies[k], bodies[after] = cut
            if bodies[k][-1].end != bodies[after][0].start:
                between[k] = (Line(bodies[k][-1].end, bodies[after][0].start),)
        else:
            between[k] = tuple(Line(p, q) for p, q in ((start, a.end), (a.end, end)) if math.dist(p, q) > COINCIDENT)
    return Path.joined([segment for k in range(count) for segment in (*bodies[k], *between[k])], closed=True)


def _passes_through(link: Line, corner: Point, edges: Sequence[Segment]) -> bool:
    """Say whether a line drawn on past a corner cuts into the edges there: one of them bends out before it."""
    crossings = path_crossings(Path((link,)), Path(tuple(edges)))
    return any(math.dist(crossing.point, corner) > 2.0 * COINCIDENT for crossing in crossings)


def _cut_at_own_ends(body: tuple[Segment, ...]) -> tuple[Segment, ...]:
    """Cut the only strand of an outline with one slight corner where its end crosses its start."""
    cut = cut_at_crossing(body[-1:], body[:1]) if len(body) > 1 else None
    if cut is None:
        return (*body, Line(body[-1].end, body[0].start))
    (last,), (first,) = cut
    return (first, *body[1:-1], last)


def _straightened(segments: Sequence[Segment]) -> list[Segment]:
    """Make one line of lines that go straight on, round the whole closed run."""
    out: list[Segment] = []
    for segment in segments:
        if out and _goes_on(out[-1], segment):
            out[-1] = Line(out[-1].start, segment.end)
        else:
            out.append(segment)
    if len(out) > 2 and _goes_on(out[-1], out[0]):
        out[0] = Line(out.pop().start, out[0].end)
    return out


def _goes_on(before: Segment, after: Segment) -> bool:
    if not (isinstance(before, Line) and isinstance(after, Line)):
        return False
    (x0, y0), (x1, y1), (x2, y2) = before.start, before.end, after.end
    whole = math.hypot(x2 - x0, y2 - y0)
    # The node between lies on the line from end to end, and not beyond either end of it.
    beside = abs((x1 - x0) * (y2 - y0) - (y1 - y0) * (x2 - x0))
    forwards = (x1 - x0) * (x2 - x1) + (y1 - y0) * (y2 - y1)
    return forwards > 0.0 and beside <= COINCIDENT * whole
