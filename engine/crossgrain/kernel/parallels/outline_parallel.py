"""The parallel of a closed outline: its corners joined, its loops cut out."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from crossgrain.errors import OpenOutlineError
from crossgrain.kernel.area import signed_area, winding
from crossgrain.kernel.length import segment_length
from crossgrain.kernel.parallels.clearance import keeps_clear
from crossgrain.kernel.parallels.closing import Join, closed
from crossgrain.kernel.parallels.joins import JoinStyle
from crossgrain.kernel.parallels.outline_runs import Changing, Distance, runs_of, strands_of
from crossgrain.kernel.parallels.parallel import Strand
from crossgrain.kernel.parallels.trimming import keeps_off_itself, trimmed
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment
from crossgrain.language import _
from crossgrain.tolerances import ACCURACY, COINCIDENT

MITRE_LIMIT = 3.0
"""A mitre's point may lie this many widths from the corner: corners down to 39° stay whole, which is what is drawn by
hand; sharper ones would be paper thorns."""


def parallel_of_outline(
    outline: Path,
    distances: Sequence[Distance],
    *,
    style: JoinStyle = "mitre",
    limit: float = MITRE_LIMIT,
    accuracy: float = ACCURACY,
    joins: Mapping[int, Join] | None = None,
) -> Path:
    """Draw the line beside a closed outline, at a distance of its own for each segment.

    Args:
        outline: a closed path that does not cross itself, wound either way.
        distances: for each segment the distance in mm, positive outwards, or how it changes along it and its
            neighbours; all of one sign, or zero.
        style: how gaping corners are closed: ``mitre`` or ``round``. Corners where the distance changes are always
            mitred or stepped.
        limit: the greatest distance of a mitre's point from its corner, in widths; above 1.
        accuracy: the distance from the true parallel that no curve exceeds, mm, above 0.
        joins: how corners are closed that are closed otherwise: by the number of the segment that leaves the corner.
            Only corners that gape take one.

    Returns:
        A closed path, wound as the outline, starting beside the first corner of it. Inside corners are cut where
        the parallels cross; where the distance exceeds the radius of curvature the loop is cut out.

    Raises:
        OpenOutlineError: the outline is not closed.
        CollapseError: nothing is left at this distance, or it falls apart.
        AccuracyError: a curve that cannot be followed so closely.
        CollapseError: also a join that cannot be drawn there; its position is the corner.

    >>> square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    >>> [(round(x, 9), round(y, 9)) for x, y in parallel_of_outline(square, [2.0] * 4).nodes]
    [(-2.0, -2.0), (12.0, -2.0), (12.0, 12.0), (-2.0, 12.0)]
    """
    if not outline.closed:
        raise OpenOutlineError(_("The outline does not close."), position=outline.end, advice=_("Join its ends."))
    if winding(outline) < 0:
        turned = parallel_of_outline(
            outline.reversed(),
            _other_way(outline, distances),
            style=style,
            limit=limit,
            accuracy=accuracy,
            joins={
                (len(outline.segments) - number) % len(outline.segments): join.reversed()
                for number, join in (joins or {}).items()
            },
        )
        return turned.reversed()
    runs = runs_of(outline, distances, accuracy, joins or ())
    if any(isinstance(one, Changing) and one.of_new for one in distances):
        from crossgrain.kernel.parallels.settled_laws import settled

        runs = settled(runs, style, accuracy)
    strands = strands_of(runs, style, accuracy)
    at = {k: joins[run.first] for k, run in enumerate(runs) if run.first in joins} if joins else {}
    raw = closed(strands, style, limit, accuracy, joins=at)
    least = min(one.least if isinstance(one, Changing) else one for one in distances)
    line = _inside(raw, strands, outline, distances, style, limit, accuracy) if least < 0.0 else trimmed(raw)
    return Path(tuple(_straightened(line.segments)), True)


def _other_way(outline: Path, distances: Sequence[Distance]) -> list[Distance]:
    """Return the distances of an outline's segments when it is travelled the other way."""
    turned: dict[int, Changing] = {}
    for one in distances:
        if isinstance(one, Changing) and id(one) not in turned:
            run = [part for part, law in zip(outline.segments, distances, strict=True) if law is one]
            turned[id(one)] = one.reversed(sum(segment_length(part) for part in run))
    return [turned[id(one)] if isinstance(one, Changing) else one for one in reversed(distances)]


def _inside(
    raw: Path,
    strands: list[Strand],
    outline: Path,
    distances: Sequence[Distance],
    style: JoinStyle,
    limit: float,
    accuracy: float,
) -> Path:
    """Return the true line inside an outline.

    Where edges are used up, a corner's parallels may cross beyond what is left of them, and a line cut there is wrong.
    So if the line crosses itself, or comes too near, its inside corners are left uncut, each joined by way of the
    outline's own corner: then the line goes round every point as often as it should, and trimming finds what is left.
    """
    # Where the distance changes, it is the least of it that must be kept everywhere.
    least = [max(mm for _at, mm in one.stations) if isinstance(one, Changing) else one for one in distances]
    rightly_round = keeps_off_itself(raw) and signed_area(raw) > 0.0
    if rightly_round and keeps_clear(raw, outline, least, accuracy, everywhere=True):
        return raw
    uncut = closed(strands, style, limit, accuracy, cut_inside=False)
    return trimmed(uncut, lambda loop: keeps_clear(loop, outline, least, accuracy))


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
