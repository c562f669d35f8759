"""A line across the mouth of a wedge that is folded away: peaked, so that it is straight when the wedge is shut.

Shut, the wedge's second leg lies on its first, and the wedge itself, folded in half along its middle line, lies on the
cloth beside one of the legs. Both its layers must end where that cloth ends. Half of the wedge comes to lie there by a
reflection about the leg, the other half by the turn about the tip that lays one leg on the other, which is that
reflection after one about the middle line. So the peak is the neighbouring line under the inverses of the two. Its
parallel is then that of the neighbour under the same maps: what holds for the stitch line holds for the cut line.
"""

from __future__ import annotations

import math
from typing import Final

from crossgrain.errors import CollapseError
from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.length import Place, run
from crossgrain.kernel.meetings.crossing import path_crossings
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment, ended_at, started_at, unit
from crossgrain.language import _

_WIDEST: Final = math.radians(90.0)
"""A wedge that opens wider, folded in half, lies farther to the side than it is deep."""

_REACH: Final = 4.0
"""The line beside the mouth is looked for as far as so many times the legs' length from the tip."""

_SPREAD: Final = 1.0
"""Legs whose lengths differ by less, mm, are joined by bending the peak's end; twice what sewn edges may differ by."""


def peak(beside: Path, tip: Point, far: Point) -> tuple[Path, Path]:
    """Draw the peak across the mouth of a wedge that is laid on the line before it.

    Args:
        beside: the open line that ends where the mouth begins.
        tip: the tip of the wedge.
        far: where the mouth ends.

    Returns:
        The two halves of the peak, from the end of ``beside`` to its point and from there to ``far``. Exact, isometric
        images of the line beside the mouth; but where the legs differ in length the second half is bent, or a line
        added, to end at ``far``.

    Raises:
        CollapseError: the line beside the mouth is too short, or the wedge opens too wide; the position is its end.

    >>> halves = peak(Path((Line((0.0, 0.0), (40.0, 0.0)),)), (50.0, 50.0), (60.0, 0.0))
    >>> [(round(x, 6), round(y, 6)) for half in halves for x, y in half.nodes]
    [(40.0, 0.0), (50.0, -4.166667), (50.0, -4.166667), (60.0, 0.0)]
    """
    near = beside.end
    (ax, ay), (bx, by) = (near[0] - tip[0], near[1] - tip[1]), (far[0] - tip[0], far[1] - tip[1])
    if abs(math.atan2(ax * by - ay * bx, ax * bx + ay * by)) > _WIDEST:
        raise CollapseError(
            _("The dart opens wider than {angle:.0f}° and cannot be pressed flat to one side.").format(
                angle=math.degrees(_WIDEST)
            ),
            position=near,
            advice=_("Make it narrower or deeper, or leave open to which side it is pressed."),
        )
    middle = _bisector(tip, near, far)
    about_leg, about_middle = _reflection(tip, near), _reflection(tip, middle)
    lx, ly = about_leg.of(middle)
    ray = Path((Line(tip, (tip[0] + _REACH * (lx - tip[0]), tip[1] + _REACH * (ly - tip[1]))),))
    met = [crossing for crossing in path_crossings(ray, beside) if crossing.kind != "overlap"]
    if not met:
        raise CollapseError(
            _("There is too little of the edge beside the dart's mouth on the side it is pressed to."),
            position=near,
            advice=_("Press it to the other side, or place it farther from the end of its edge."),
        )
    last = max(met, key=lambda crossing: crossing.b)
    under = run(beside, last.b, Place(len(beside.segments) - 1, 1.0)).mapped(about_leg)
    over = under.mapped(about_middle)
    first = under.reversed()
    return first, _to(over, first.end, far)


def _to(half: Path, start: Point, end: Point) -> Path:
    """Let the second half begin where the first ends, and end at the far end of the mouth."""
    parts: list[Segment] = list(half.segments)
    parts[0] = started_at(parts[0], start)
    gap = math.dist(parts[-1].end, end)
    if gap > _SPREAD:
        parts.append(Line(parts[-1].end, end))
    else:
        parts[-1] = ended_at(parts[-1], end)
    return Path(tuple(parts))


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
