"""Ask kurbo for parallels that one cubic can follow.

Most edges of a pattern are gentle, and kurbo finds their parallel in microseconds. It is asked only about cubics that
are known to be tame, since it stops the program on others; and what it says is measured by the caller, since it may
miss its own accuracy.
"""

from __future__ import annotations

import numpy as np
from kurbopy import CubicBez, Point, offset_cubic

from crossgrain.kernel.spans import Complexes, Floats, Ints


def single_parallels(rows: Complexes, distances: Floats, accuracy: float) -> tuple[Ints, Complexes]:
    """Return the parallels of those cubics whose parallel kurbo draws as one cubic.

    Args:
        rows: control points, complex, shape (n, 4): without cusps, and nowhere nearly as tight as the distance.
        distances: for each the distance along the normal, mm, shape (n,).
        accuracy: what kurbo is asked for, mm.

    Returns:
        Which rows it did, and their parallels' control points, complex. Not yet verified.

    >>> rows = np.array([[0, 30 + 20j, 70 + 20j, 100]], dtype=complex)
    >>> done, controls = single_parallels(rows, np.array([10.0]), 0.05)
    >>> done.tolist(), controls[0, 0].round(3).item()
    ([0], (5.547-8.321j))
    """
    done, controls = [], []
    for k, (row, distance) in enumerate(zip(rows.tolist(), distances.tolist(), strict=True)):
        drawn = offset_cubic(CubicBez(*(Point(z.real, z.imag) for z in row)), -distance, accuracy)
        segments = list(drawn.segments())
        if len(segments) == 1 and isinstance(segments[0], CubicBez):
            one = segments[0]
            done.append(k)
            controls.append([complex(p.x, p.y) for p in (one.p0, one.p1, one.p2, one.p3)])
    return np.array(done, dtype=np.intp), np.array(controls, dtype=np.complex128).reshape(-1, 4)
