"""Parallels of smooth lines: few cubics, as near the true parallel as was asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.arrays import cubics_of, rows_of
from crossgrain.kernel.fit import MARGIN, Fitted, fit_curve
from crossgrain.kernel.parallels.one_cubic import single_parallels
from crossgrain.kernel.parallels.parallel_curve import Distance, ParallelCurve
from crossgrain.kernel.segment import Line, Segment
from crossgrain.kernel.spans import Complexes, Floats, Ints, true_error
from crossgrain.language import _


@dataclass(frozen=True, slots=True)
class Strand:
    """The parallel of a smooth run of segments.

    Args:
        segments: the parallel, from beside ``start`` to beside ``end``.
        start: where the run starts.
        end: where the run ends.
        start_tangent: the run's unit direction at its start.
        end_tangent: the run's unit direction at its end.
        start_distance: how far beside ``start`` the parallel starts, mm along the normal.
        end_distance: how far beside ``end`` it ends.
        beside: the run itself.
        leans: whether at its start, and at its end, the parallel runs otherwise than the run, for its distance changes
            there.
    """

    segments: tuple[Segment, ...]
    start: Point
    end: Point
    start_tangent: Point
    end_tangent: Point
    start_distance: float
    end_distance: float
    beside: tuple[Segment, ...]
    leans: tuple[bool, bool] = (False, False)

    def reversed(self) -> Strand:
        """Return the same strand travelled the other way; its distances change their sign, as the normal does."""
        (ax, ay), (bx, by) = self.start_tangent, self.end_tangent
        return Strand(
            tuple(segment.reversed() for segment in reversed(self.segments)),
            self.end,
            self.start,
            (-bx, -by),
            (-ax, -ay),
            -self.end_distance,
            -self.start_distance,
            tuple(segment.reversed() for segment in reversed(self.beside)),
            self.leans[::-1],
        )


def parallels(
    runs: Sequence[Sequence[Segment]],
    distances: Sequence[float],
    accuracy: float,
    going_on: Sequence[tuple[float, float]] | None = None,
) -> list[Strand]:
    """Draw the parallel of many smooth runs at one constant distance each.

    A run of several cubics keeps a node beside each of its own nodes, unless it can do with fewer nodes in all.

    Args:
        runs: segments that follow each other smoothly; a line stands alone in its run. No segment without length,
            none that runs back over itself.
        distances: for each run the distance along the normal, mm.
        accuracy: the distance from the true parallel that is not exceeded, mm, above 0.
        going_on: for each run how far, in mm, its parallel goes on straight before its start and after its end.

    Returns:
        A strand for each run. Where the distance exceeds the radius of curvature, the strand turns back over a
        cusp: it is the true parallel, not yet trimmed.

    Raises:
        AccuracyError: a run that cannot be followed so closely.

    >>> [strand] = parallels([[Line((0.0, 0.0), (10.0, 0.0))]], [2.0], 0.01)
    >>> strand.segments
    (Line(start=(0.0, -2.0), end=(10.0, -2.0)),)
    """
    curved = [k for k, run in enumerate(runs) if distances[k] and not isinstance(run[0], Line)]
    on = going_on or [(0.0, 0.0)] * len(runs)
    drawn = dict(
        zip(
            curved,
            _cubic_parallels(
                [runs[k] for k in curved], [distances[k] for k in curved], accuracy, [on[k] for k in curved]
            ),
            strict=True,
        )
    )
    strands = []
    for k, run in enumerate(runs):
        distance = distances[k]
        first, last = run[0].start_tangent, run[-1].end_tangent
        if first is None or last is None:
            raise GeometryError(_("A segment has no length."), position=run[0].start)
        segments = tuple(run) if not distance else drawn[k] if k in drawn else (_beside_line(run[0], distance, *on[k]),)
        strands.append(Strand(segments, run[0].start, run[-1].end, first, last, distance, distance, tuple(run)))
    return strands


def parallel_at_varying_distance(run: Sequence[Segment], distance: Distance, accuracy: float) -> tuple[Segment, ...]:
    """Draw the parallel of one smooth run at a distance that varies along it.

    Args:
        run: segments that follow each other smoothly.
        distance: the distance along the normal and its slope, in mm and mm per mm, as a function of the arc length
            from the start of the run; the slope must be continuous.
        accuracy: the distance from the true parallel that is not exceeded, mm, above 0.

    Raises:
        AccuracyError: a run that cannot be followed so closely.

    >>> import numpy as np
    >>> def wedge(s): return s / 10.0, np.full_like(s, 0.1)
    >>> [cubic] = parallel_at_varying_distance([Line((0.0, 0.0), (100.0, 0.0))], wedge, 0.01)
    >>> cubic.start, cubic.end
    ((0.0, 0.0), (100.0, -10.0))
    """
    rows = rows_of(run)
    curve = ParallelCurve(rows, distance)
    start, end, _home = curve.lay_runs(np.array([0]), np.array([len(rows) - 1]))
    return cubics_of(fit_curve(curve, start, end, accuracy).controls.tolist())


def _beside_line(line: Segment, distance: float, before: float, after: float) -> Line:
    (x0, y0), (x1, y1) = line.start, line.end
    tangent = line.start_tangent
    assert tangent is not None  # parallels() has seen to it
    tx, ty = tangent
    dx, dy = distance * ty, -distance * tx
    return Line((x0 + dx - before * tx, y0 + dy - before * ty), (x1 + dx + after * tx, y1 + dy + after * ty))


def _cubic_parallels(
    runs: Sequence[Sequence[Segment]],
    distances: Sequence[float],
    accuracy: float,
    going_on: Sequence[tuple[float, float]],
) -> list[tuple[Segment, ...]]:
    """Draw the parallel of runs of cubics: cubic by cubic, then in one where that takes fewer."""
    if not runs:
        return []
    sizes = np.array([len(run) for run in runs], dtype=np.intp)
    rows = rows_of([segment for run in runs for segment in run])
    curve = ParallelCurve(rows, np.repeat(np.asarray(distances, dtype=np.float64), sizes))
    first_row = np.cumsum(sizes) - sizes
    before, after = np.array(going_on, dtype=np.float64).T
    row_before, row_after = np.zeros(len(rows)), np.zeros(len(rows))
    row_before[first_row], row_after[first_row + sizes - 1] = before, after
    fitted = _row_by_row(curve, rows, (row_before, row_after), accuracy)
    first_cubic = np.cumsum(fitted.counts) - fitted.counts
    counts = np.add.reduceat(fitted.counts, first_row)
    out = [fitted.controls[first_cubic[row] : first_cubic[row] + counts[k]] for k, row in enumerate(first_row.tolist())]
    merge = np.flatnonzero((sizes > 1) & (np.ceil(np.add.reduceat(fitted.needs, first_row)) < counts))
    if merge.size:
        first, last = first_row[merge], first_row[merge] + sizes[merge] - 1
        merged = _in_one(curve, first, last, (before[merge], after[merge]), accuracy, counts[merge])
        at = np.cumsum(merged.counts) - merged.counts
        for k, run in enumerate(merge.tolist()):
            if merged.counts[k]:
                out[run] = merged.controls[at[k] : at[k] + merged.counts[k]]
    return [cubics_of(_joined(cubics).tolist()) for cubics in out]


def _row_by_row(curve: ParallelCurve, rows: Complexes, going_on: tuple[Floats, Floats], accuracy: float) -> Fitted:
    """Fit each row by itself; quickly where one cubic does."""
    apart: Ints = np.arange(len(rows))
    start, end, home = curve.lay_runs(apart, apart)
    at_start = np.flatnonzero(np.diff(home, prepend=-1))
    at_end = np.append(at_start[1:], len(home)) - 1
    start[at_start] -= going_on[0]
    end[at_end] += going_on[1]
    alone = at_start[curve.tame_rows() & (at_start == at_end) & (going_on[0] == 0.0) & (going_on[1] == 0.0)]
    done, controls = single_parallels(rows[home[alone]], curve.distances[home[alone]], accuracy)
    quick = alone[done]
    error = true_error(curve, quick, start[quick], end[quick], controls, accuracy)
    good = error <= accuracy
    quick, controls, error = quick[good], controls[good], error[good]
    every: Ints = np.arange(len(home))
    slow = fit_curve(curve, start, end, accuracy, runs=np.setdiff1d(every, quick))
    owner = np.concatenate([np.repeat(every, slow.counts), quick])
    order = np.argsort(owner, kind="stable")
    slow.counts[quick] = 1
    slow.needs[quick] = (error / (MARGIN * accuracy)) ** (1.0 / 6.0)
    return Fitted(
        np.add.reduceat(slow.counts, at_start),
        np.concatenate([slow.controls, controls])[order],
        np.add.reduceat(slow.needs, at_start),
    )


def _in_one(
    curve: ParallelCurve,
    first: Ints,
    last: Ints,
    going_on: tuple[Floats, Floats],
    accuracy: float,
    fewer_than: Ints,
) -> Fitted:
    """Fit runs of rows as a whole, where that takes fewer cubics than row by row."""
    start, end, home = curve.lay_runs(first, last)
    if len(home) > len(first):
        # A cusp divides a run: what could be gained beside it is not worth another rule.
        none: Ints = np.zeros(len(first), dtype=np.intp)
        return Fitted(none, np.empty((0, 4), dtype=np.complex128), none.astype(np.float64))
    return fit_curve(curve, start - going_on[0], end + going_on[1], accuracy, fewer_than=fewer_than)


def _joined(cubics: Complexes) -> Complexes:
    """Let each cubic start exactly where the one before it ends."""
    cubics = cubics.copy()
    cubics[1:, 0] = cubics[:-1, 3]
    return cubics
