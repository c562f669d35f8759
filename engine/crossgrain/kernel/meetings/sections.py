"""What a straight line across an outline cuts out of it: widths at levels."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import GeometryError, OpenOutlineError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.arrays import rows_of
from crossgrain.kernel.bounds import turning_points
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import unit
from crossgrain.language import _
from crossgrain.tolerances import PARAMETER_SETTLED, ROUND_OFF

Floats = NDArray[np.float64]
Interval = tuple[float, float]
Runs = tuple[NDArray[np.intp], Floats, Floats]

_BLOCK = 250_000
"""How many meetings of levels and runs are looked at together: 8 MB of control points."""


def chords(outline: Path, direction: Point, level: float) -> tuple[Interval, ...]:
    """Return the stretches of a straight line that lie inside an outline.

    Args:
        outline: a closed path that does not cross itself.
        direction: the way the line runs; any length above 0.
        level: how far it lies from the drawing's origin, mm, counted in the direction turned a quarter turn
            clockwise as seen on the page. With ``direction`` (1, 0) that is y.

    Returns:
        Intervals (from, to) in order, mm along ``direction`` from the origin's foot, exact to rounding on lines and
        cubics. Where the line runs along an edge, the edge counts as inside; where it only touches, nothing does.

    Raises:
        OpenOutlineError: the outline is open.
        GeometryError: a direction without length.

    >>> chords(Path.polygon([(0, 0), (30, 0), (30, 20), (0, 20)]), (1.0, 0.0), 5.0)
    ((0.0, 30.0),)
    """
    return chords_at(outline, direction, [level])[0]


def chords_at(outline: Path, direction: Point, levels: Iterable[float]) -> tuple[tuple[Interval, ...], ...]:
    """Return the stretches inside an outline at many levels; as :func:`chords`.

    The outline is cut into runs that only rise or only fall across the levels. Each run that passes a level meets it
    once, and the meetings pair up. A run that ends on the level passes it when looked at from the one side and not
    from the other; both are tried, and what is inside in either counts.

    >>> chords_at(Path.polygon([(0, 0), (32, 0), (0, 32)]), (1.0, 0.0), [8.0, 16.0])
    (((0.0, 24.0),), ((0.0, 16.0),))
    """
    if not outline.closed:
        raise OpenOutlineError(
            _("A width was asked of a line that does not close."),
            position=outline.end,
            advice=_("Join its ends in the editor."),
        )
    if not (math.isfinite(direction[0]) and math.isfinite(direction[1]) and math.hypot(*direction) > 0.0):
        raise GeometryError(_("A line across a piece has no direction."))
    dx, dy = unit(*direction)
    rows = rows_of(outline.segments) * complex(dx, -dy)  # along is now x, and the level y
    along, across = rows.real, rows.imag
    owners, starts, stops = _runs(across)
    lines = np.array([*levels], dtype=float)
    if not np.isfinite(lines).all():
        raise GeometryError(_("A level is not a number."))
    step = max(1, _BLOCK // len(owners))
    return tuple(
        inside
        for first in range(0, len(lines), step)
        for inside in _inside(along, across, (owners, starts, stops), lines[first : first + step])
    )


def widths_at(outline: Path, direction: Point, levels: Iterable[float]) -> tuple[float, ...]:
    """Return how much of a straight line lies inside an outline at many levels, mm; as :func:`width_at`.

    >>> widths_at(Path.polygon([(0, 0), (32, 0), (0, 32)]), (1.0, 0.0), [8.0, 40.0])
    (24.0, 0.0)
    """
    return tuple(math.fsum(end - start for start, end in inside) for inside in chords_at(outline, direction, levels))


def width_at(outline: Path, direction: Point, level: float) -> float:
    """Return how much of a straight line lies inside an outline, mm; 0 where it misses it. See :func:`chords`.

    >>> width_at(Path.polygon([(0, 0), (32, 0), (0, 32)]), (1.0, 0.0), 8.0)
    24.0
    """
    return widths_at(outline, direction, [level])[0]


def _inside(along: Floats, across: Floats, runs: Runs, lines: Floats) -> list[tuple[Interval, ...]]:
    """Return the stretches inside an outline at some levels, by its runs that only rise or only fall."""
    owners, starts, stops = runs
    heights = across - lines[:, None, None]
    # A node that a level passes through lies on it for both its segments, whatever rounding makes of it.
    heights[np.abs(heights) <= ROUND_OFF] = 0.0
    heights = heights[:, owners]
    low, high = _at(heights, starts), _at(heights, stops)
    low[np.abs(low) <= ROUND_OFF] = 0.0
    high[np.abs(high) <= ROUND_OFF] = 0.0
    one_side, other_side = (low < 0.0) != (high < 0.0), (low > 0.0) != (high > 0.0)
    line, run = np.nonzero(one_side | other_side)
    t = _zero(heights[line, run], starts[run], stops[run], low[line, run], high[line, run])
    places = _at(along[owners[run]], t)
    found: list[list[Interval]] = [[] for _line in lines]
    for side in (one_side[line, run], other_side[line, run]):
        order = np.lexsort((places[side], line[side]))
        # Every level is met an even number of times, so that pairs never straddle two of them.
        first, last = places[side][order].reshape(-1, 2).T.tolist()
        for number, interval in zip(line[side][order[::2]].tolist(), zip(first, last, strict=True), strict=True):
            found[number].append(interval)
    return [_united(inside) for inside in found]


def _runs(across: Floats) -> Runs:
    """Cut every segment where it turns back across the levels: segment numbers, first and last parameters."""
    owners: list[int] = []
    cuts: list[tuple[float, float]] = []
    for i, row in enumerate(across.tolist()):
        stops = [0.0, *turning_points(*row), 1.0]
        for j in range(len(stops) - 1):
            owners.append(i)
            cuts.append((stops[j], stops[j + 1]))
    pairs = np.array(cuts)
    return np.array(owners, dtype=np.intp), pairs[:, 0], pairs[:, 1]


def _zero(heights: Floats, start: Floats, stop: Floats, low: Floats, high: Floats) -> Floats:
    """Return where each run meets the level, by Newton's method within a bracket."""
    below, above = np.where(low < high, start, stop), np.where(low < high, stop, start)
    on_end, end = (low == 0.0) | (high == 0.0), np.where(low == 0.0, start, stop)
    below, above = np.where(on_end, end, below), np.where(on_end, end, above)
    t = (below + above) / 2.0
    steps = 3.0 * np.diff(heights, axis=1)
    for _round in range(60):
        height = _at(heights, t)
        below, above = np.where(height < 0.0, t, below), np.where(height > 0.0, t, above)
        s = 1.0 - t
        slope = steps[:, 0] * s * s + 2.0 * steps[:, 1] * s * t + steps[:, 2] * t * t
        step = t - np.divide(height, slope, out=np.full_like(t, np.inf), where=slope != 0.0)
        within = (step >= np.minimum(below, above)) & (step <= np.maximum(below, above))
        after = np.where(height == 0.0, t, np.where(within, step, (below + above) / 2.0))
        done = np.abs(after - t) <= PARAMETER_SETTLED
        t = after
        if done.all():
            break
    return t


def _at(values: Floats, t: Floats) -> Floats:
    s = 1.0 - t
    found: Floats = (
        values[..., 0] * s**3
        + 3.0 * values[..., 1] * (s * s * t)
        + 3.0 * values[..., 2] * (s * t * t)
        + values[..., 3] * t**3
    )
    return found


def _united(intervals: Sequence[Interval]) -> tuple[Interval, ...]:
    """Join intervals that meet, and leave out those without length."""
    out: list[Interval] = []
    for start, end in sorted(intervals):
        if out and start <= out[-1][1] + ROUND_OFF:
            out[-1] = (out[-1][0], max(out[-1][1], end))
        elif end - start > ROUND_OFF:
            out.append((start, end))
    return tuple(out)
