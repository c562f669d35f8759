"""Parallels of smooth lines: few cubics, as near the true parallel as was asked."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from crossgrain.kernel.fit import Fitted, fit_curve
from crossgrain.kernel.parallel_curve import Distance, ParallelCurve
from crossgrain.kernel.spans import Complexes, Floats, Ints


def parallel_rows(
    rows: Complexes, distance: Floats | Distance, accuracy: float, breaks: Ints
) -> tuple[Fitted, Ints, ParallelCurve]:
    curve = ParallelCurve(rows, distance)
    start, end, home = curve.lay_runs(breaks)
    return fit_curve(curve, start, end, accuracy), home, curve
