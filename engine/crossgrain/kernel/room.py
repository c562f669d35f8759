"""Room for an upright rectangle inside an outline, clear of other lines, as for words on a piece of paper."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from crossgrain.kernel.affine import Point
from crossgrain.kernel.bounds import Box, bounds
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.path import Path

_CELLS = 400
"""At most so many cells across and down."""

_FINEST = 0.75
"""The smallest side of a cell, mm: a fifth of a small line of writing."""

_OFF = 0.05
"""How near lines are followed, mm, small against a cell."""

Grid = NDArray[np.int32]


class Room:
    """What is free inside an outline, in cells.

    A cell is free where it lies inside and no line passes through it or a neighbour. So a rectangle of free cells lies
    inside the outline, and no line comes nearer to it than half a cell's side; some room beside the lines is not found.

    Args:
        outline: a closed path that does not cross itself.
        lines: what is to be kept clear as well.

    >>> room = Room(Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)]))
    >>> room.place(40.0, 20.0, near=(50.0, 30.0))
    Box(left=29.625, top=20.0, right=69.625, bottom=40.0)
    >>> room.place(40.0, 61.0, near=(50.0, 30.0)) is None
    True
    """

    def __init__(self, outline: Path, lines: Sequence[Path] = ()) -> None:
        box = bounds(outline)
        self._box = box
        self.wide, self.high = (max(_FINEST, size / _CELLS) for size in (box.width, box.height))
        # Half a cell to spare on each side, so that lines through the box's own sides have a cell.
        self._columns = math.ceil(box.width / self.wide) + 1
        self._rows = math.ceil(box.height / self.high) + 1
        self._left = box.centre[0] - self._columns * self.wide / 2.0
        self._top = box.centre[1] - self._rows * self.high / 2.0
        taken = self._outside(outline)
        for line in (outline, *lines):
            taken |= self._touched(line)
        # Sums from the upper left corner: what a rectangle holds is then told by four of them.
        self._sums: Grid = np.zeros((self._rows + 1, self._columns + 1), dtype=np.int32)
        self._sums[1:, 1:] = taken.astype(np.int32).cumsum(axis=0).cumsum(axis=1)

    def place(self, width: float, height: float, *, near: Point) -> Box | None:
        """Return the free rectangle of a size whose middle lies nearest to a point, within a cell.

        Args:
            width: across the page, mm, above 0.
            height: down the page, mm, above 0.
            near: where it had best be.

        Returns:
            The rectangle, or None where there is no room that the cells show.
        """
        across, down = math.ceil(width / self.wide), math.ceil(height / self.high)
        if across > self._columns or down > self._rows:
            return None
        sums = self._sums
        held = sums[down:, across:] - sums[:-down, across:] - sums[down:, :-across] + sums[:-down, :-across]
        rows, columns = np.nonzero(held == 0)
        if not len(rows):
            return None
        x = self._left + (columns + across / 2.0) * self.wide
        y = self._top + (rows + down / 2.0) * self.high
        best = int(np.argmin((x - near[0]) ** 2 + (y - near[1]) ** 2))
        cx, cy = float(x[best]), float(y[best])
        return Box(cx - width / 2.0, cy - height / 2.0, cx + width / 2.0, cy + height / 2.0)

    def _outside(self, outline: Path) -> NDArray[np.bool_]:
        """Tell of each cell whether its middle lies outside: to its left the outline is crossed an even number of
        times."""
        x, y = flatten(outline, _OFF).points.T
        middles = self._top + (np.arange(self._rows) + 0.5) * self.high
        crossing = (y[:-1, None] <= middles) != (y[1:, None] <= middles)
        edges, rows = np.nonzero(crossing)
        share = (middles[rows] - y[edges]) / (y[edges + 1] - y[edges])
        at = x[edges] + share * (x[edges + 1] - x[edges])
        columns = np.clip(np.ceil((at - self._left) / self.wide - 0.5), 0, self._columns).astype(np.intp)
        crossed = np.zeros((self._rows, self._columns + 1), dtype=np.int32)
        np.add.at(crossed, (rows, columns), 1)
        outside: NDArray[np.bool_] = crossed[:, :-1].cumsum(axis=1) % 2 == 0
        return outside

    def _touched(self, line: Path) -> NDArray[np.bool_]:
        """Tell of each cell whether a line passes through it or through one of its neighbours."""
        points = flatten(line, _OFF).points
        steps = np.hypot(*np.diff(points, axis=0).T)
        along = np.concatenate([[0.0], np.cumsum(steps)])
        at = np.linspace(0.0, along[-1], max(2, math.ceil(2.0 * along[-1] / min(self.wide, self.high)) + 1))
        x, y = (np.interp(at, along, points[:, axis]) for axis in (0, 1))
        columns = np.floor((x - self._left) / self.wide).astype(np.intp)
        rows = np.floor((y - self._top) / self.high).astype(np.intp)
        touched = np.zeros((self._rows + 2, self._columns + 2), dtype=np.bool_)
        within = (columns >= -1) & (columns <= self._columns) & (rows >= -1) & (rows <= self._rows)
        touched[rows[within] + 1, columns[within] + 1] = True
        wide = touched.copy()
        wide[1:] |= touched[:-1]
        wide[:-1] |= touched[1:]
        wider = wide.copy()
        wider[:, 1:] |= wide[:, :-1]
        wider[:, :-1] |= wide[:, 1:]
        return wider[1:-1, 1:-1]
