"""Edges that bend back and forth in another size where they did not."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise
from typing import Final

from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import Piece

_SEEN: Final = math.radians(2.0)
"""A line that turns back by less than this looks as if it did not."""

_PARAMETERS: Final = tuple(k / 8.0 for k in range(9))


def changed_bends(old: Piece, new: Piece) -> tuple[Finding, ...]:
    """Say which edges turn back more often than they did: points on them move unlike their neighbours.

    Args:
        old: the piece.
        new: the same piece in another size.

    Returns:
        A finding for each such edge; a seam that waves is seen on the body.

    >>> from crossgrain.kernel.segment import Cubic
    >>> from crossgrain.model import Edge
    >>> bow, wave = Cubic((0, 0), (30, 10), (70, 10), (100, 0)), Cubic((0, 0), (30, 10), (70, -10), (100, 0))
    >>> pieces = [Piece(id="p", edges=(Edge(name="side", line=Path((line,))),)) for line in (bow, wave)]
    >>> [one.edge for one in changed_bends(*pieces)]
    ['side']
    """
    return tuple(
        Finding(
            piece=new.label,
            edge=before.name,
            message=_("It bends back and forth as it does not in the base."),
            advice=_("See whether its points move unlike their neighbours, and put nodes at them where they must."),
        )
        for before, after in zip(old.edges, new.edges, strict=True)
        if before.line != after.line and _times_turned_back(after.line) > _times_turned_back(before.line)
    )


def _times_turned_back(line: Path) -> int:
    """Return how often a line changes from turning one way to turning the other."""
    ways = [
        complex(*segment.derivative(t))
        for segment in line.segments
        for t in ((0.0,) if isinstance(segment, Line) else _PARAMETERS)
    ]
    ways = [way for way in ways if way]
    heading, farthest, turning, count = 0.0, 0.0, 0, 0
    low = high = 0.0
    for before, after in pairwise(ways):
        heading += cmath.phase(after / before)
        low, high = min(low, heading), max(high, heading)
        if turning == 0:
            turning = (heading - low > _SEEN) - (high - heading > _SEEN)
            farthest = heading
        elif turning * (heading - farthest) >= 0.0:
            farthest = heading
        elif abs(heading - farthest) > _SEEN:
            turning, farthest, count = -turning, heading, count + 1
    return count
