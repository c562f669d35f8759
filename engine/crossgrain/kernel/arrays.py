"""Segments as rows of an array, and back.

A row holds the four control points of a cubic as complex numbers ``x + iy``; a line is a cubic of even speed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from crossgrain.kernel.affine import Point
from crossgrain.kernel.segment import Cubic, Segment

Complexes = NDArray[np.complex128]


def rows_of(segments: Sequence[Segment]) -> Complexes:
    """Return the control points of segments, shape (n, 4), complex.

    >>> from crossgrain.kernel.segment import Line
    >>> rows_of([Line((0.0, 0.0), (3.0, 6.0))]).tolist()
    [[0j, (1+2j), (2+4j), (3+6j)]]
    """
    flat = np.array([segment.controls for segment in segments], dtype=np.float64)
    return np.ascontiguousarray(flat).view(np.complex128)[:, :, 0] if len(segments) else np.empty((0, 4), complex)


def points_of(rows: Complexes, t: NDArray[np.float64]) -> Complexes:
    """Return the points of cubics at parameters, one for each row, shape (n,); exactly their ends at 0 and 1.

    >>> points_of(np.array([[0j, 1 + 2j, 2 + 4j, 3 + 6j]]), np.array([0.5])).tolist()
    [(1.5+3j)]
    """
    s = 1.0 - t
    p, q, r, w = rows.T
    found: Complexes = s * s * (s * p + 3.0 * t * q) + t * t * (3.0 * s * r + t * w)
    return found


def cubics_of(rows: Iterable[Sequence[complex]]) -> tuple[Cubic, ...]:
    """Return the cubics of rows of control points, given as lists of Python's own complex numbers."""
    return tuple(Cubic((p.real, p.imag), (q.real, q.imag), (r.real, r.imag), (w.real, w.imag)) for p, q, r, w in rows)


def point_of(z: complex) -> Point:
    """Return a complex number as a point."""
    return (float(z.real), float(z.imag))
