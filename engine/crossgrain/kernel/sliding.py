"""Let the end of a moved line slide along the line it met at a corner."""

from __future__ import annotations

import math

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.drawn_on import drawn_on_at_end, drawn_on_at_start
from crossgrain.kernel.length import Place, distance_of, path_length, run
from crossgrain.kernel.meetings.crossing import path_crossings
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import ended_at, started_at
from crossgrain.language import _
from crossgrain.tolerances import ACCURACY, COINCIDENT

_SPARE = 1.5
"""Both lines are drawn on by this many times what straight lines would need, for curves need a little more."""

_ASIDE = 0.25
"""And by this share of the way the end moved, for a line that needs to go on by nothing may bend away from there. Where
they do not meet so, they are drawn on farther; no sooner, for drawn on far a curve goes on straight."""

_LEAST_SINE = math.sin(math.radians(8.0))
"""Lines that meet at less than this angle, or go on with one another that nearly, do not say where the new corner
lies."""


def slid(line: Path, neighbour: Path) -> tuple[Path, Path]:
    """Bring a moved line and the line that leaves its old end together again.

    Args:
        line: the moved line, open.
        neighbour: the line that starts where the line ended before it was moved.

    Returns:
        Both, the first ending where the second starts. Each has been cut there, or drawn on as it was going; what is
        left of it is the same line, and nothing else of it moves.

    Raises:
        GeometryError: the two run on into one another, or do not meet; nothing would be left of one of them.

    >>> from crossgrain.kernel.segment import Line
    >>> seam, waist = Path((Line((90.0, 80.0), (90.0, 0.0)),)), Path((Line((100.0, 0.0), (0.0, 20.0)),))
    >>> seam, waist = slid(seam, waist)
    >>> seam.end == waist.start, round(seam.end[1], 9)
    (True, 2.0)
    """
    corner, end = neighbour.start, line.end
    apart = math.dist(corner, end)
    if apart <= COINCIDENT:
        return Path((*line.segments[:-1], ended_at(line.segments[-1], corner))), neighbour
    arriving, leaving = line.segments[-1].end_tangent, neighbour.segments[0].start_tangent
    assert arriving is not None  # segments of an edge have a length
    assert leaving is not None
    sine = abs(_cross(arriving, leaving))
    if sine < _LEAST_SINE:
        raise GeometryError(
            _("The two edges run on into one another there, so the corner cannot slide along either of them."),
            position=corner,
            advice=_("Move the seam by 0 mm at that end."),
        )
    gap = (corner[0] - end[0], corner[1] - end[1])
    needs = [abs(_cross(gap, direction)) / sine for direction in (leaving, arriving)]
    for more in (_ASIDE * apart + ACCURACY, _SPARE * apart / sine + ACCURACY):
        on = drawn_on_at_end(line, _SPARE * needs[0] + more)
        back = drawn_on_at_start(neighbour, _SPARE * needs[1] + more)
        meetings = [(c.a, c.b) for c in path_crossings(on, back) if c.kind != "overlap"]
        if meetings:
            break
    if not meetings:
        raise GeometryError(
            _("The moved edge does not meet the edge beside it."), position=corner, advice=_("Move it by less there.")
        )
    was_end, was_start = path_length(line), path_length(back) - path_length(neighbour)

    def from_old_ends(meeting: tuple[Place, Place]) -> float:
        return abs(distance_of(on, meeting[0]) - was_end) + abs(distance_of(back, meeting[1]) - was_start)

    on_line, on_neighbour = min(meetings, key=from_old_ends)
    if on_line <= Place(0, 0.0) or on_neighbour >= Place(len(back.segments) - 1, 1.0):
        raise GeometryError(
            _("Nothing would be left of the edge beside it."), position=corner, advice=_("Move it by less there.")
        )
    cut = run(on, Place(0, 0.0), on_line)
    rest = run(back, on_neighbour, Place(len(back.segments) - 1, 1.0))
    return cut, Path((started_at(rest.segments[0], cut.end), *rest.segments[1:]))


def _cross(u: Point, v: Point) -> float:
    return u[0] * v[1] - u[1] * v[0]
