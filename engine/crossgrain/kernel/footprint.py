"""The ground that a shape takes up, in the boxes of a raster: told quickly, and never too small."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import Box
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.path import Path

Floats = NDArray[np.float64]

_ACCURACY: Final = 0.25
"""How far the polyline may stray from the line that it stands for, mm."""

_SPACING: Final = 2.0
"""Points along it, and those that each of them is moved to, are about so far apart, mm: less than a box."""

_SPARE: Final = 1.5
"""Added to the distance, mm, for what lies between the points."""


@dataclass(frozen=True, slots=True)
class Footprint:
    """The boxes of a raster that a shape and what is near it touch.

    Args:
        boxes: which are touched, from above and from the left, shape (rows, columns).
        left: how many boxes left of the origin the raster begins.
        above: how many boxes above it.
    """

    boxes: NDArray[np.bool_]
    left: int
    above: int


def footprint(
    shapes: Sequence[Path], frames: Sequence[Box], place: Affine, steps: tuple[float, float], distance: float
) -> Footprint:
    """Return what shapes take up, with all that is nearer than a distance.

    Two footprints that share no box are those of shapes twice the distance apart.

    Args:
        shapes: closed lines, at least one, mm.
        frames: boxes that are taken up too, as those of words, mm.
        place: how they lie: a shift, perhaps with quarter turns.
        steps: width and height of a box of the raster, mm.
        distance: mm, 0 or more.

    Returns:
        The boxes. All that is nearer than the distance lies in them, and besides it what is within 2 mm more and a box.

    >>> square = Path.polygon([(0, 0), (20, 0), (20, 20), (0, 20)])
    >>> footprint([square], [], Affine(), (10.0, 10.0), 5.0).boxes.shape
    (4, 4)
    """
    step, reach = np.array(steps), distance + _SPARE
    moves = _disc(reach, float(min(steps)))
    lines = [_along(shape.mapped(place)) for shape in shapes]
    framed = np.array([(one.left, one.top, one.right, one.bottom) for one in frames]).reshape(-1, 2, 2)
    framed = framed @ np.array([[place.a, place.b], [place.c, place.d]]) + (place.e, place.f)
    ends = np.concatenate([*lines, framed.reshape(-1, 2)])
    corner = np.floor((ends.min(axis=0) - reach) / step).astype(int)
    first = corner * step
    columns, rows = (np.floor((ends.max(axis=0) + reach - first) / step) + 1.0).astype(int)
    grid = np.zeros((rows, columns), dtype=np.bool_)
    for points in lines:
        near = np.floor(((points[:, None, :] + moves[None, :, :]).reshape(-1, 2) - first) / step).astype(int)
        grid[near[:, 1], near[:, 0]] = True
        grid |= _within((points - first) / step, rows, columns)
    lows = np.floor((framed.min(axis=1) - reach - first) / step).astype(int).tolist()
    highs = np.floor((framed.max(axis=1) + reach - first) / step).astype(int).tolist()
    for (left, top), (right, bottom) in zip(lows, highs, strict=True):
        grid[top : bottom + 1, left : right + 1] = True
    return Footprint(grid, -int(corner[0]), -int(corner[1]))


def _disc(radius: float, box: float) -> Floats:
    """Return points all over a disc round the origin, so near to each other that they miss no box."""
    found = []
    for ring in np.linspace(radius, 0.0, 1 + math.ceil(2.0 * radius / box)):
        angles = np.linspace(0.0, 2.0 * math.pi, 8 + math.ceil(2.0 * math.pi * ring / _SPACING), endpoint=False)
        found.append(ring * np.column_stack([np.cos(angles), np.sin(angles)]))
    return np.concatenate(found)


def _along(line: Path) -> Floats:
    """Return points along a closed line, with its corners, from its start to its start."""
    points = flatten(line, _ACCURACY).points
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    at = np.union1d(along, np.arange(0.0, along[-1], _SPACING))
    return np.column_stack([np.interp(at, along, points[:, axis]) for axis in (0, 1)])


def _within(points: Floats, rows: int, columns: int) -> NDArray[np.bool_]:
    """Tell which boxes have their middle inside a closed polyline, told in boxes: an odd number of crossings before."""
    (x, y), (u, v) = points[:-1].T, points[1:].T
    low, high = np.ceil(np.minimum(y, v) - 0.5).astype(int), np.ceil(np.maximum(y, v) - 0.5).astype(int)
    counts = high - low
    numbers = np.repeat(np.arange(len(counts)), counts)
    row = np.repeat(low - np.concatenate([[0], np.cumsum(counts)[:-1]]), counts) + np.arange(counts.sum())
    share = (row + 0.5 - y[numbers]) / (v - y)[numbers]
    cross = np.clip(np.ceil(x[numbers] + share * (u - x)[numbers] - 0.5).astype(int), 0, columns)
    turns = np.zeros((rows, columns + 1), dtype=np.intp)
    np.add.at(turns, (row, cross), 1)
    inside: NDArray[np.bool_] = np.cumsum(turns, axis=1)[:, :-1] % 2 == 1
    return inside
