"""A line across the mouth of a wedge that is folded away: peaked, so that it is straight when the wedge is shut.

Shut, the wedge's second leg lies on its first, and the wedge itself, folded in half along its middle line, lies on the
cloth beside one of the legs. Both its layers must end where that cloth ends. Half of the wedge comes to lie there by a
reflection about the leg, the other half by the turn about the tip that lays one leg on the other, which is that
reflection after one about the middle line. So the peak is the neighbouring line under the inverses of the two.
"""

from __future__ import annotations

import math
from typing import Literal

from crossgrain.errors import CollapseError
from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.crossing import path_crossings
from crossgrain.kernel.length import Place, run
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment, started_at, unit
from crossgrain.language import _
from crossgrain.tolerances import COINCIDENT

_REACH = 20.0
"""Legs go on beyond the mouth by so many widths of it, or by their own length, to meet the line."""

_WIDEST = math.radians(90.0)
"""A wedge that opens wider, folded in half, lies farther to the side than it is deep."""


def peaked(line: Path, tip: Point, first: Point, last: Point, towards: Literal["first", "last"]) -> Path:
    """Peak a closed line where it crosses the mouth of a wedge.

    Args:
        line: the line, which passes the mouth outside or on it, from the first leg to the last.
        tip: the tip of the wedge.
        first: where its mouth begins.
        last: where its mouth ends.
        towards: the side to which the wedge is laid when it is shut.

    Returns:
        The line with its peak; the rest of it is what it was. Exact: the peak is an isometric image of the line.

    Raises:
        CollapseError: the line does not pass the mouth, or the wedge opens too wide; the position is the mouth's end.

    >>> square = Path.polygon([(0, -5), (100, -5), (100, 100), (0, 100)])
    >>> [(round(x, 6), round(y, 6)) for x, y in peaked(square, (50.0, 50.0), (40.0, 0.0), (60.0, 0.0), "first").nodes]
    [(39.0, -5.0), (50.0, -9.583333), (61.0, -5.0), (100.0, -5.0), (100.0, 100.0), (0.0, 100.0), (0.0, -5.0)]
    """
    (ax, ay), (bx, by) = (first[0] - tip[0], first[1] - tip[1]), (last[0] - tip[0], last[1] - tip[1])
    if abs(math.atan2(ax * by - ay * bx, ax * bx + ay * by)) > _WIDEST:
        raise CollapseError(
            _("The dart opens wider than {angle:.0f}° and cannot be pressed flat to one side.").format(
                angle=math.degrees(_WIDEST)
            ),
            position=first,
            advice=_("Make it narrower or deeper, or leave open to which side it is pressed."),
        )
    middle = _bisector(tip, first, last)
    near, far = (first, last) if towards == "first" else (last, first)
    about_leg, about_middle = _reflection(tip, near), _reflection(tip, middle)
    at_near, at_far = _met(line, tip, near, first, last), _met(line, tip, far, first, last)
    laid = about_leg.of(middle)
    at_laid = _met(line, tip, laid, first, last)
    begin, end = (at_laid, at_near) if towards == "first" else (at_near, at_laid)
    beside = run(line, begin, end)
    inner = beside.mapped(about_leg)
    outer = inner.mapped(about_middle)
    peak = [*inner.reversed().segments, *outer.segments] if towards == "first" else []
    if towards == "last":
        peak = [*outer.segments, *inner.reversed().segments]
    rest = run(line, at_far, at_near) if towards == "first" else run(line, at_near, at_far)
    return _closed(peak, list(rest.segments))


def _closed(peak: list[Segment], rest: list[Segment]) -> Path:
    """Join a peak and the rest of the line, closing by a line what legs of unequal length leave open."""
    out: list[Segment] = []
    for segment in (*peak, *rest):
        if out and segment.start != out[-1].end:
            if math.dist(segment.start, out[-1].end) > COINCIDENT:
                out.append(Line(out[-1].end, segment.start))
            else:
                segment = started_at(segment, out[-1].end)
        out.append(segment)
    if math.dist(out[-1].end, out[0].start) > COINCIDENT:
        out.append(Line(out[-1].end, out[0].start))
    else:
        out[0] = started_at(out[0], out[-1].end)
    return Path(tuple(out), True)


def _bisector(tip: Point, first: Point, last: Point) -> Point:
    """Return a point of the middle line of a wedge, as far from the tip as the mouth."""
    (ax, ay), (bx, by) = unit(first[0] - tip[0], first[1] - tip[1]), unit(last[0] - tip[0], last[1] - tip[1])
    mx, my = unit(ax + bx, ay + by)
    reach = (math.dist(tip, first) + math.dist(tip, last)) / 2.0
    return (tip[0] + reach * mx, tip[1] + reach * my)


def _reflection(p: Point, q: Point) -> Affine:
    """Return the reflection about the line through two points."""
    tx, ty = unit(q[0] - p[0], q[1] - p[1])
    a, b, d = 2.0 * tx * tx - 1.0, 2.0 * tx * ty, 2.0 * ty * ty - 1.0
    return Affine(a, b, b, d, p[0] - a * p[0] - b * p[1], p[1] - b * p[0] - d * p[1])


def _met(line: Path, tip: Point, through: Point, first: Point, last: Point) -> Place:
    """Return where the line is met by the ray from the tip through a point, nearest to the mouth."""
    dx, dy = unit(through[0] - tip[0], through[1] - tip[1])
    reach = math.dist(tip, through) + max(_REACH * math.dist(first, last), math.dist(tip, through))
    ray = Path((Line(tip, (tip[0] + reach * dx, tip[1] + reach * dy)),))
    found = [crossing for crossing in path_crossings(ray, line) if crossing.kind != "overlap"]
    if not found:
        raise _no_room(through)
    return min(found, key=lambda crossing: math.dist(crossing.point, through)).b


def _no_room(point: Point) -> CollapseError:
    return CollapseError(
        _("The cut edge does not pass the dart's mouth."),
        position=point,
        advice=_("Look at the dart's depth and lean, or press it to the other side."),
    )
