"""Polylines that stand in for curves where something is only to be detected, never drawn."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import GeometryError
from crossgrain.kernel.arrays import points_of, rows_of
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.language import _

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

MOST_VERTICES = 2_000_000
"""More than this is a mistake in the drawing or the accuracy, and would only fill the memory."""


class Flattened(NamedTuple):
    """A polyline on a path, and where on the path each vertex lies.

    Args:
        points: vertices, shape (m, 2), mm. The end of a closed path repeats its start.
        indices: the number of the segment that each lies on, shape (m,).
        t: the parameter on it, shape (m,). A node has parameter 0 on the segment that starts there; only the very
            last vertex has parameter 1.
    """

    points: Floats
    indices: Ints
    t: Floats


def flatten(path: Path, accuracy: float) -> Flattened:
    """Return a polyline whose vertices lie on a path and which is nowhere more than ``accuracy`` off it.

    Each cubic is cut evenly in its parameter. Between parameters ``h`` apart a curve strays from its chord by no
    more than h²/8 of its greatest acceleration, which a cubic has at one of its ends: so the number of chords follows
    from the accuracy, and the accuracy holds without a test.

    Args:
        path: the path.
        accuracy: the greatest distance allowed, mm, above 0.

    Raises:
        GeometryError: an accuracy that is not above zero, or too fine for the size of the path.

    >>> flatten(Path.polygon([(0, 0), (10, 0), (10, 10)]), 0.01).points.tolist()
    [[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 0.0]]
    """
    if not accuracy > 0.0:
        raise GeometryError(_("A line cannot be followed to an accuracy of zero or less."))
    rows = rows_of(path.segments)
    bends = np.abs(np.diff(rows, n=2, axis=1)).max(axis=1)
    pieces = np.maximum(1.0, np.ceil(np.sqrt(0.75 * bends / accuracy)))
    pieces[[isinstance(segment, Line) for segment in path.segments]] = 1.0
    if not pieces.sum() < MOST_VERTICES:
        raise GeometryError(
            _("A line is too large to be followed to {accuracy:.2g} mm.").format(accuracy=accuracy),
            advice=_("Check the drawing's scale."),
        )
    counts = pieces.astype(np.intp)
    index = np.repeat(np.arange(len(counts)), counts)
    within = np.arange(len(index)) - np.repeat(np.cumsum(counts) - counts, counts)
    t = within / counts[index]
    points = points_of(rows[index], t)
    points[within == 0] = rows[:, 0]
    return Flattened(
        np.append(points, rows[-1, 3]).view(np.float64).reshape(-1, 2),
        np.append(index, len(counts) - 1),
        np.append(t, 1.0),
    )
