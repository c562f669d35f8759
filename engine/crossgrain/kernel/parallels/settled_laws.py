"""Distances that change along a line which is still to be drawn: where on it they lie, from corner to corner."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import path_length
from crossgrain.kernel.parallels.changing_strand import strand_inside
from crossgrain.kernel.parallels.joins import JoinStyle, cut_at_crossing, solid
from crossgrain.kernel.parallels.outline_runs import Changing, Run, strands_of
from crossgrain.kernel.parallels.parallel import Strand
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment, started_at
from crossgrain.tolerances import COINCIDENT, LEAST_DIVISOR, OUTER_LENGTH

_ROUNDS: Final = 25
_REACH: Final = 4.0
"""Lines go on straight by so many widths to the corner between them; farther away there is none."""


def settled(runs: Sequence[Run], style: JoinStyle, accuracy: float) -> list[Run]:
    """Find where the stations of distances along a new line lie on it.

    The line from corner to corner is known only once it is drawn, and is drawn by where its stations lie. So it is
    drawn, measured and drawn again, until the places no longer move.

    Args:
        runs: the runs of an outline, in order; the stations of a law along the new line are shares of it.
        style: how corners are closed.
        accuracy: of the lines that are drawn meanwhile, mm.

    Returns:
        The runs, such stations in mm from beside the start of their run.

    Raises:
        CollapseError: a bend that is tighter than the distance beside it, or distances that change too fast.
    """
    laws = {k: run.distance for k, run in enumerate(runs) if isinstance(run.distance, Changing) and run.distance.of_new}
    spans = {k: (0.0, path_length(Path.joined(runs[k].segments))) for k in laws}
    out = _placed(runs, laws, spans)
    strands = strands_of(out, style, accuracy)
    for _round in range(_ROUNDS):
        found = {k: _span(strands, k) for k in laws}
        moved = max(abs(new - old) for k in laws for new, old in zip(found[k], spans[k], strict=True))
        spans = found
        out = _placed(runs, laws, spans)
        if moved <= OUTER_LENGTH:
            break
        for k in laws:
            law = out[k].distance
            assert isinstance(law, Changing)
            strands[k] = strand_inside(runs[k].segments, law.stations, accuracy)
    return out


def _placed(runs: Sequence[Run], laws: dict[int, Changing], spans: dict[int, tuple[float, float]]) -> list[Run]:
    """Put the stations of each law on the stretch from corner to corner."""
    out = list(runs)
    for k, law in laws.items():
        start, end = spans[k]
        stations = tuple((start + share * (end - start), mm) for share, mm in law.stations)
        out[k] = runs[k]._replace(distance=Changing(stations=stations, of_new=True))
    return out


def _span(strands: Sequence[Strand], k: int) -> tuple[float, float]:
    """Return where on a strand the corners at its ends are, mm from its start; beyond it where it has to go on."""
    own = strands[k]
    whole = path_length(Path.joined(own.segments))
    reach = _REACH * max(abs(own.start_distance), abs(strands[k - 1].end_distance))
    cut = _met(_beside(strands, k, -1, reach), own.segments, reach)
    start = 0.0 if cut is None else whole - path_length(Path.joined(cut[1]))
    reach = _REACH * max(abs(own.end_distance), abs(strands[(k + 1) % len(strands)].start_distance))
    cut = _met(own.segments, _beside(strands, k, 1, reach), reach)
    end = whole if cut is None else path_length(Path.joined(cut[0]))
    return (start, end) if end - start > LEAST_DIVISOR else (0.0, whole)


def _beside(strands: Sequence[Strand], k: int, way: int, reach: float) -> tuple[Segment, ...]:
    """Return what lies before or after a strand: of a line that begins with a short one, the next as well."""
    line: tuple[Segment, ...] = ()
    for step in range(1, len(strands)):
        one = strands[(k + way * step) % len(strands)].segments
        line = _linked(one, line) if way < 0 else _linked(line, one)
        if path_length(Path.joined(line)) > reach:
            break
    return line


def _linked(first: tuple[Segment, ...], last: tuple[Segment, ...]) -> tuple[Segment, ...]:
    if not first or not last:
        return (*first, *last)
    start, end = first[-1].end, last[0].start
    if math.dist(start, end) <= COINCIDENT:
        return (*first, started_at(last[0], start), *last[1:])
    return (*first, Line(start, end), *last)


def _met(
    a: tuple[Segment, ...], b: tuple[Segment, ...], reach: float
) -> tuple[tuple[Segment, ...], tuple[Segment, ...]] | None:
    """Let two lines go on straight, and cut them where they meet; None where they do not, or do already."""
    start, end = a[-1].end, b[0].start
    if math.dist(start, end) <= OUTER_LENGTH:
        return None
    ahead = Line(start, _ahead(start, a[-1].end_tangent, reach))
    behind = Line(_ahead(end, b[0].start_tangent, -reach), end)
    cut = cut_at_crossing((*a, ahead), (behind, *b))
    return cut if cut is not None and solid(cut[0]) and solid(cut[1]) else None


def _ahead(point: Point, direction: Point | None, distance: float) -> Point:
    dx, dy = direction or (0.0, 0.0)
    return (point[0] + distance * dx, point[1] + distance * dy)
