"""The draughtsman's two curves, and the way to a length asked for."""

from __future__ import annotations

import math
from collections.abc import Callable

from crossgrain.kernel.affine import Point
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line, Segment, between

PLACES = 4
"""Decimals, of a mm, that the pattern is written to: far below a pen line, and the same on every machine."""


def heading(angle_rad: float) -> Point:
    """Return the unit direction at an angle from x, turning clockwise on the page."""
    return (math.cos(angle_rad), math.sin(angle_rad))


def towards(start: Point, end: Point) -> Point:
    """Return the unit direction from one point to another."""
    size = math.dist(start, end)
    return ((end[0] - start[0]) / size, (end[1] - start[1]) / size)


def square_to(direction: Point) -> Point:
    """Return the direction a quarter turn clockwise on the page."""
    return (-direction[1], direction[0])


def turned(direction: Point, angle_rad: float) -> Point:
    """Turn a direction, clockwise on the page."""
    cos, sin = math.cos(angle_rad), math.sin(angle_rad)
    return (direction[0] * cos - direction[1] * sin, direction[0] * sin + direction[1] * cos)


def meeting(p: Point, along: Point, q: Point, back: Point) -> Point:
    """Return where two lines meet, each given by a point and a direction."""
    cross = along[0] * back[1] - along[1] * back[0]
    reach = ((q[0] - p[0]) * back[1] - (q[1] - p[1]) * back[0]) / cross
    return (p[0] + reach * along[0], p[1] + reach * along[1])


def bow(
    start: Point, leaving: Point, end: Point, arriving: Point, fullness: float = 0.6, at_end: float | None = None
) -> Cubic:
    """Draw a curve that bends one way only.

    The handles reach a share, ``fullness``, of the way to where the two tangents meet: 0.55 is close to an arc, more
    is fuller, less is flatter. Where it differs at the end, the curve bends more gently at the fuller one.
    """
    corner = meeting(start, leaving, end, arriving)
    last = fullness if at_end is None else at_end
    return Cubic(start, between(start, corner, fullness), between(end, corner, last), end)


def sweep(start: Point, leaving: Point, end: Point, arriving: Point, reach: float = 0.38) -> Cubic:
    """Draw a curve that may bend both ways, its handles a share, ``reach``, of the straight distance."""
    handle = reach * math.dist(start, end)
    return Cubic(
        start,
        (start[0] + handle * leaving[0], start[1] + handle * leaving[1]),
        (end[0] - handle * arriving[0], end[1] - handle * arriving[1]),
        end,
    )


def solve(gap: Callable[[float], float], low: float, high: float) -> float:
    """Find where a function that changes sign once between two values is zero, by halving."""
    rising = gap(high) > 0.0
    if (gap(low) > 0.0) == rising:
        raise ArithmeticError(f"no sign change between {low} and {high}")
    for _ in range(60):
        middle = (low + high) / 2.0
        if (gap(middle) > 0.0) == rising:
            high = middle
        else:
            low = middle
    return (low + high) / 2.0


def written(point: Point) -> Point:
    """Round a point to the places the pattern is written to."""
    return (round(point[0], PLACES) + 0.0, round(point[1], PLACES) + 0.0)


def run(*segments: Segment) -> Path:
    """Join segments to an open line, rounded to the places the pattern is written to."""
    rounded: list[Segment] = []
    for segment in segments:
        if isinstance(segment, Line):
            rounded.append(Line(written(segment.start), written(segment.end)))
        else:
            rounded.append(Cubic(*(written(control) for control in segment.controls)))
    return Path(tuple(rounded))
