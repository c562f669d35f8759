"""The box around lines, for ``transform-box`` and for the page."""

from __future__ import annotations

import math
from collections.abc import Sequence

from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic
from crossgrain.svg.viewport import Box


def extent(paths: Sequence[Path]) -> Box:
    """Return the tight box around lines: x, y, width and height, exact to round-off.

    >>> from crossgrain.kernel.segment import Line
    >>> extent([Path((Line((1.0, 2.0), (4.0, 0.0)),))])
    (1.0, 0.0, 3.0, 2.0)
    """
    low, high = [math.inf, math.inf], [-math.inf, -math.inf]
    for path in paths:
        for segment in path.segments:
            for axis in (0, 1):
                values = [segment.start[axis], segment.end[axis]]
                if isinstance(segment, Cubic):
                    p, q, r, s = (control[axis] for control in segment.controls)
                    values += [_at(p, q, r, s, t) for t in _turning(p, q, r, s)]
                low[axis] = min(low[axis], *values)
                high[axis] = max(high[axis], *values)
    return (low[0], low[1], high[0] - low[0], high[1] - low[1])


def _at(p: float, q: float, r: float, s: float, t: float) -> float:
    u = 1.0 - t
    return u * u * u * p + 3 * u * u * t * q + 3 * u * t * t * r + t * t * t * s


def _turning(p: float, q: float, r: float, s: float) -> list[float]:
    """Return the parameters between 0 and 1 at which a coordinate of a cubic stands still."""
    a, b, c = s - 3 * r + 3 * q - p, 2 * (r - 2 * q + p), q - p
    under = b * b - 4 * a * c
    if under < 0.0:
        return []
    # The form that does not cancel where a is small.
    half = -0.5 * (b + math.copysign(math.sqrt(under), b))
    roots = ([half / a] if a != 0.0 else []) + ([c / half] if half != 0.0 else [])
    return [t for t in roots if 0.0 < t < 1.0]
