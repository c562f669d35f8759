"""How far straight ways go until they meet a line."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.path import Path
from crossgrain.tolerances import ACCURACY

Floats = NDArray[np.float64]


def reach_of_ways(starts: Floats, ends: Floats, line: Path) -> Floats:
    """Return how far each of many straight ways goes before it meets a line.

    Args:
        starts: where each way starts, mm, shape (n, 2).
        ends: where it ends, shape (n, 2).
        line: the line, open or closed; curves are followed within 0.01 mm.

    Returns:
        The distance from the start to the nearest meeting, mm, shape (n,); infinite where there is none, or where the
        way has no length.

    >>> wall = Path.polygon([(5, -5), (5, 5), (9, 5), (9, -5)])
    >>> reach_of_ways(np.array([[0.0, 0.0], [0.0, 9.0]]), np.array([[20.0, 0.0], [20.0, 9.0]]), wall).tolist()
    [5.0, inf]
    """
    ways = shapely.linestrings(np.stack([starts, ends], axis=1))
    there = shapely.linestrings(flatten(line, ACCURACY).points)
    hits = np.flatnonzero(shapely.intersects(ways, there) & (np.hypot(*(ends - starts).T) > 0.0))
    reach = np.full(len(starts), np.inf)
    reach[hits] = shapely.distance(shapely.points(starts[hits]), shapely.intersection(ways[hits], there))
    return reach
