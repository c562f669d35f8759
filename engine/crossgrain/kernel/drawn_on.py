"""A line drawn on past its end, as it was going."""

from __future__ import annotations

import math

from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line, Segment
from crossgrain.tolerances import COINCIDENT

_MOST_SHARE = 0.5
"""A curve is drawn on by no more than this share of its last segment; farther, it goes on straight."""

_MOST_TURN = math.radians(20.0)
"""Nor is it drawn on round a bend of more than this: a handle at the end of an edge is a slip as often as a wish."""


def drawn_on_at_end(line: Path, reach: float) -> Path:
    """Let an open line go on past its end.

    A straight end goes on straight, a curved one bends on as it was bending: it is the same cubic followed beyond its
    end, so that a line which was cut and is drawn on again is the old one. Where that would run far, or round a bend,
    it goes on straight.

    Args:
        line: an open line.
        reach: how far it is to go on, mm, about.

    Returns:
        The line with its last segment drawn on, or with one straight segment more.

    >>> drawn_on_at_end(Path((Line((0.0, 0.0), (30.0, 0.0)),)), 10.0).end
    (40.0, 0.0)
    """
    last = line.segments[-1]
    if isinstance(last, Line):
        return Path((*line.segments[:-1], Line(last.start, last.point(1.0 + reach / math.dist(last.start, last.end)))))
    speed = math.hypot(*last.derivative(1.0))
    beyond = reach / speed if speed > COINCIDENT else math.inf
    if beyond <= _MOST_SHARE:
        on = last.split(1.0 + beyond)[0]
        if _turn(last, on) <= _MOST_TURN:
            return Path((*line.segments[:-1], on))
    tangent = last.end_tangent
    assert tangent is not None  # segments of an edge have a length
    (x, y), (dx, dy) = last.end, tangent
    return Path((*line.segments, Line(last.end, (x + reach * dx, y + reach * dy))))


def drawn_on_at_start(line: Path, reach: float) -> Path:
    """Let an open line go on before its start; as :func:`drawn_on_at_end`."""
    return drawn_on_at_end(line.reversed(), reach).reversed()


def _turn(segment: Segment, on: Cubic) -> float:
    before, after = segment.end_tangent, on.end_tangent
    if before is None or after is None:
        return math.inf
    cross = before[0] * after[1] - before[1] * after[0]
    return abs(math.atan2(cross, before[0] * after[0] + before[1] * after[1]))
