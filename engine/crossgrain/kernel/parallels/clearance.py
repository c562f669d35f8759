"""Whether a line inside an outline keeps its distance from it.

Beyond a centre of curvature, or beyond the middle between two edges, parallels come out on the other side the right way
round again: a circle of radius 50 has a faultless parallel at -60, a circle of radius 10, that has nothing to do
with what lies 60 mm inside it. Neither crossings nor windings show that; only the distance does.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from crossgrain.kernel.meetings.nearest import nearest_points
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Segment
from crossgrain.tolerances import COINCIDENT

_HALF = 0.5
"""A false line is too near nearly everywhere; a true one only on the step between two widths at an inside corner."""


def keeps_clear(
    line: Path, outline: Path, distances: Sequence[float], accuracy: float, *, everywhere: bool = False
) -> bool:
    """Say whether a line lies as far beside an outline as was asked, on most of its way.

    Args:
        line: the line in question.
        outline: a closed path.
        distances: for each segment of the outline the distance in mm; the sign does not matter.
        accuracy: what the line may be nearer by, mm.
        everywhere: ask it of the whole line.

    Returns:
        Whether at least half of the line, or all of it, judged by the middles of its segments, is that far from every
        edge whose side it lies on.

    >>> square = Path.polygon([(0, 0), (100, 0), (100, 100), (0, 100)])
    >>> inner = Path.polygon([(30, 30), (70, 30), (70, 70), (30, 70)])
    >>> keeps_clear(inner, square, [30.0] * 4, 0.01), keeps_clear(inner, square, [-31.0] * 4, 0.01)
    (True, False)
    """
    middles = np.array([segment.point(0.5) for segment in line.segments])
    sizes = np.array([math.dist(segment.start, segment.end) for segment in line.segments])
    clear = np.ones(len(middles), dtype=bool)
    for edge, distance in _edges(outline, distances):
        found = nearest_points(edge, middles)
        near = found.distances < abs(distance) - 2.0 * accuracy - COINCIDENT
        if not edge.closed:
            last = len(edge.segments) - 1
            near &= ~(((found.indices == 0) & (found.t <= 0.0)) | ((found.indices == last) & (found.t >= 1.0)))
        clear &= ~near
    if everywhere:
        return bool(clear.all())
    return bool(sizes[clear].sum() >= _HALF * sizes.sum())


def _edges(outline: Path, distances: Sequence[float]) -> list[tuple[Path, float]]:
    """Return the runs of an outline that have one distance other than zero."""
    if len(set(distances)) == 1:
        return [(outline, distances[0])] if distances[0] else []
    first = next(k for k in range(len(distances)) if distances[k] != distances[k - 1])
    order = [*range(first, len(distances)), *range(first)]
    runs: list[tuple[list[Segment], float]] = []
    for k in order:
        if not runs or distances[k] != distances[order[order.index(k) - 1]]:
            runs.append(([], distances[k]))
        runs[-1][0].append(outline.segments[k])
    return [(Path(tuple(segments)), distance) for segments, distance in runs if distance]
