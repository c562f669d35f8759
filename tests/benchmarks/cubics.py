"""Parallels of random cubics beside kurbo's: nodes, accuracy, time."""

from __future__ import annotations

import math
import random
from collections.abc import Iterable, Sequence

import kurbopy
import numpy as np
from kurbopy import CubicBez, Vec2, fit_to_bezpath, offset_cubic
from side_by_side import Row, counted, timed

from beside import rows, stray_of_parallel, velocity
from crossgrain.errors import AccuracyError
from crossgrain.kernel.arrays import rows_of
from crossgrain.kernel.fit import fit_curve
from crossgrain.kernel.parallels.parallel import parallel_at_varying_distance, parallels
from crossgrain.kernel.parallels.parallel_curve import ParallelCurve
from crossgrain.kernel.profile import Profile
from crossgrain.kernel.segment import Cubic, Segment
from random_cubics import FAMILIES, drawn, gentle, uniform

KURBO = "kurbopy's `offset_cubic`"
COUNT, SEED = 120, 120
ACCURACIES = (0.05, 0.01)
NODE_TARGETS = {0.05: 0.85, 0.01: 0.72}
RUNS = 2000
MOST_OF_THEIRS = 64
"""More segments than this for one cubic is kurbo's explosion at a cusp, which is no measure of anything."""


def hundred_and_twenty(family: str) -> list[tuple[Cubic, float]]:
    """Return the 120 cubics with their distances: 10 mm to either side in turn."""
    rng = random.Random(SEED)
    draw = {"uniform": uniform, "gentle": gentle}[family]
    return [(draw(rng), 10.0 if k % 2 else -10.0) for k in range(COUNT)]


def their(cubic: Cubic) -> CubicBez:
    """Return the same cubic as kurbo's."""
    return CubicBez(*(kurbopy.Point(x, y) for x, y in cubic.controls))


def their_parallel(cubic: CubicBez, distance: float, accuracy: float) -> list[CubicBez]:
    """Return kurbo's parallel; its normal points the other way."""
    return [s for s in offset_cubic(cubic, -distance, accuracy).segments() if isinstance(s, CubicBez)]


def as_ours(segments: Iterable[CubicBez]) -> tuple[Cubic, ...]:
    """Return kurbo's cubics as ours."""
    return tuple(Cubic(*((p.x, p.y) for p in (s.p0, s.p1, s.p2, s.p3))) for s in segments)


def nodes_and_times(family: str) -> list[Row]:
    """Compare one family: how many segments, and how long the batch takes."""
    cases = hundred_and_twenty(family)
    runs, distances = [[cubic] for cubic, _d in cases], [distance for _cubic, distance in cases]
    theirs_ready = [their(cubic) for cubic, _d in cases]
    targets = NODE_TARGETS if family == "uniform" else {}
    name = "120 uniform cubics" if family == "uniform" else "120 pattern-like cubics"
    out = []
    for accuracy in ACCURACIES:
        ours = [strand.segments for strand in parallels(runs, distances, accuracy)]
        theirs = [their_parallel(c, d, accuracy) for c, d in zip(theirs_ready, distances, strict=True)]
        out.append(
            counted(
                f"segments of the parallels of {name}, {accuracy} mm",
                sum(map(len, ours)),
                sum(map(len, theirs)),
                targets.get(accuracy),
                "segments",
                KURBO,
            )
        )
        what = f"the same, only where kurbo keeps its accuracy too, {accuracy} mm"
        out.append(counted(what, *_both_within(cases, ours, theirs, accuracy), None, "segments", KURBO))
    row_array, distance_array = rows_of([cubic for cubic, _d in cases]), np.array(distances)
    every = np.arange(len(row_array))
    for accuracy in ACCURACIES:

        def our_batch(accuracy: float = accuracy) -> None:
            parallels(runs, distances, accuracy)

        def their_batch(accuracy: float = accuracy) -> None:
            for cubic, distance in cases:
                as_ours(their_parallel(their(cubic), distance, accuracy))

        def our_core(accuracy: float = accuracy) -> None:
            curve = ParallelCurve(row_array, distance_array)
            start, end, _home = curve.lay_runs(every, every)
            fit_curve(curve, start, end, accuracy)

        def their_core(accuracy: float = accuracy) -> None:
            for cubic, distance in zip(theirs_ready, distances, strict=True):
                offset_cubic(cubic, -distance, accuracy)

        what = f"time of the parallels of {name}, from segments to segments, {accuracy} mm"
        them = f"{KURBO}, to and from our segments"
        out.append(timed(what, our_batch, their_batch, 5.0, them))
        bare = f"the bare fit of {name}, from arrays to arrays, {accuracy} mm"
        out.append(timed(bare, our_core, their_core, None, f"{KURBO}, bare"))
    return out


def _both_within(
    cases: Sequence[tuple[Cubic, float]],
    ours: Sequence[Sequence[Segment]],
    theirs: Sequence[Sequence[CubicBez]],
    accuracy: float,
) -> tuple[int, int]:
    """Count the segments of ours and of theirs where theirs keeps its accuracy."""
    kept = [
        k
        for k, (cubic, distance) in enumerate(cases)
        if stray_of_parallel([cubic], distance, as_ours(theirs[k]), 2.0) <= accuracy
    ]
    return sum(len(ours[k]) for k in kept), sum(len(theirs[k]) for k in kept)


def beyond_accuracy() -> list[Row]:
    """Count among two thousand runs those that stray beyond their accuracy, ours and kurbo's."""
    per_family = RUNS // (len(FAMILIES) * 3) + 1
    beyond, worst, refused, runs = [0, 0], [0.0, 0.0], [0, 0], 0
    for family in FAMILIES:
        for accuracy in (0.05, 0.01, 0.002):
            cases = drawn(family, per_family, f"two thousand {family} {accuracy}")
            for cubic, distance in cases:
                runs += 1
                lines = (_ours_alone(cubic, distance, accuracy), _theirs_alone(cubic, distance, accuracy))
                for k, line in enumerate(lines):
                    if line is None:
                        refused[k] += 1
                        continue
                    share = stray_of_parallel([cubic], distance, line, 2.0) / accuracy
                    if k == 0 and share > 1.0:  # near a cusp the coarse judge may measure to the wrong branch
                        share = stray_of_parallel([cubic], distance, line, 0.05) / accuracy
                    worst[k] = max(worst[k], share)
                    beyond[k] += share > 1.0
    text = "{} of {} runs beyond the accuracy, worst {:.3f} ×, {} refused"
    ours, theirs = (text.format(beyond[k], runs, worst[k], refused[k]) for k in (0, 1))
    ratio = worst[0]
    theirs += f" or exploded, {KURBO}"
    return [Row(f"worst error of {runs} runs as a share of its accuracy", ratio, ratio, ratio, 1.0, ours, theirs)]


def _ours_alone(cubic: Cubic, distance: float, accuracy: float) -> tuple[Segment, ...] | None:
    try:
        [strand] = parallels([[cubic]], [distance], accuracy)
    except AccuracyError:
        return None
    return strand.segments


def _theirs_alone(cubic: Cubic, distance: float, accuracy: float) -> tuple[Cubic, ...] | None:
    segments = as_ours(their_parallel(their(cubic), distance, accuracy))
    finite = all(math.isfinite(v) for s in segments for p in s.controls for v in p)
    return segments if finite and 0 < len(segments) <= MOST_OF_THEIRS else None


class Varying:
    """The parallel at varying distance as kurbo's fit asks for it: point by point, by the definition.

    The arc length comes from a table made once, before the clock starts.
    """

    def __init__(self, cubic: Cubic, profile: Profile) -> None:
        self._p = [complex(*control) for control in cubic.controls]
        t = np.linspace(0.0, 1.0, 1001)
        speed = np.abs(velocity(rows([cubic])[0], t))
        self._table = np.concatenate([[0.0], np.cumsum((speed[1:] + speed[:-1]) / 2000.0)]).tolist()
        self.length = self._table[-1]
        self._profile = profile

    def _length(self, t: float) -> float:
        at = min(max(t, 0.0), 1.0) * 1000.0
        k = min(int(at), 999)
        return self._table[k] + (at - k) * (self._table[k + 1] - self._table[k])

    def _frame(self, t: float) -> tuple[complex, complex]:
        p, q, r, w = self._p
        s = 1.0 - t
        at = s * s * s * p + 3 * s * s * t * q + 3 * s * t * t * r + t * t * t * w
        v = 3 * (s * s * (q - p) + 2 * s * t * (r - q) + t * t * (w - r))
        a = 6 * (s * (r - 2 * q + p) + t * (w - 2 * r + q))
        speed = abs(v)
        tangent = v / speed
        curvature = (v.conjugate() * a).imag / speed**3
        distance, slope = blend(self._length(t), *self._profile)
        return at - 1j * distance * tangent, v * (1.0 + curvature * distance) - 1j * slope * v

    def sample_pt_tangent(self, t: float, sign: float) -> tuple[kurbopy.Point, Vec2]:
        """Return a point and the direction there."""
        return self.sample_pt_deriv(t)

    def sample_pt_deriv(self, t: float) -> tuple[kurbopy.Point, Vec2]:
        """Return a point and the velocity there."""
        at, v = self._frame(t)
        return kurbopy.Point(at.real, at.imag), Vec2(v.real, v.imag)

    def break_cusp(self, *_range: float) -> None:
        """Say that there is no cusp."""


def blend(s: float, x0: float, x1: float, x2: float, y0: float, y1: float, y2: float) -> tuple[float, float]:
    """Return amount and slope of the blend that rises to a middle station and falls again, for plain numbers."""
    (a, b, y, z) = (x0, x1, y0, y1) if s < x1 else (x1, x2, y1, y2)
    t = min(max((s - a) / (b - a), 0.0), 1.0)
    return y + (z - y) * t * t * (3.0 - 2.0 * t), (z - y) * 6.0 * t * (1.0 - t) / (b - a)


def varying() -> list[Row]:
    """Compare a varying distance: twenty pattern-like cubics, 4 mm at both ends, 15 in the middle."""
    rng = random.Random(SEED)
    cubics = [gentle(rng) for _ in range(20)]
    ours_ready, theirs_ready = [], []
    for cubic in cubics:
        length = Varying(cubic, ()).length
        stations, values = (0.0, length / 2.0, length), (4.0, 15.0, 4.0)
        ours_ready.append((cubic, Profile(stations, values)))
        theirs_ready.append(Varying(cubic, (*stations, *values)))
    out = []
    for accuracy in ACCURACIES:
        ours = sum(len(parallel_at_varying_distance([c], p, accuracy)) for c, p in ours_ready)
        theirs, their_accuracy = 0, accuracy
        # At equal nodes: kurbo is asked for more or less until it makes as many.
        for step in np.linspace(-3.0, 3.0, 61):
            made = sum(len(list(fit_to_bezpath(s, accuracy * 2.0**step).segments())) for s in theirs_ready)
            if not theirs or abs(made - ours) < abs(theirs - ours):
                theirs, their_accuracy = made, accuracy * 2.0**step

        def our_job(accuracy: float = accuracy) -> None:
            for cubic, profile in ours_ready:
                parallel_at_varying_distance([cubic], profile, accuracy)

        def their_job(accuracy: float = their_accuracy) -> None:
            for source in theirs_ready:
                list(fit_to_bezpath(source, accuracy).segments())

        them = f"kurbopy's `fit_to_bezpath` with Python callbacks, asked for {their_accuracy:.3g} mm"
        what = f"varying distance, 20 pattern-like cubics, {ours} segments to {theirs}, {accuracy} mm"
        out.append(timed(what, our_job, their_job, 0.25, them))
    return out


def all_rows() -> list[Row]:
    """Measure everything about cubics."""
    return [*nodes_and_times("uniform"), *nodes_and_times("gentle"), *beyond_accuracy(), *varying()]
