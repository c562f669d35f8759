"""The true corners of an outline, however shakily it was traced.

A node is not a corner because two segments meet there at an angle: hand tracing leaves an angle at every node. So
directions are taken over a stretch of the line on either side, ``CORNER_REACH`` long, in which the jitter of a hand
is small. The stretch ends earlier at the next corner, so that a short edge does not hide what is at its ends.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import OpenOutlineError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.length import segment_length
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.tolerances import ACCURACY, CORNER_REACH, CORNER_TURN

Floats = NDArray[np.float64]

_NEAR = 0.5
"""Nodes nearer to each other than this share of the reach make one corner: two nodes 1 mm apart, a rounding of 2 mm,
but not the two ends of a 5 mm edge."""

_SUDDEN = 0.6
"""How much of its turn a corner makes within ``_NEAR`` of the reach. On a round bend that is one half, on a corner
all of it."""

_SIDES = 16
"""The reach is no more than a sixteenth of the way round: on a small square, a quarter of a side."""


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of an outline.

    Args:
        node: its number among ``path.nodes``.
        point: where it lies, mm.
        along: how far from the path's start, mm along the line.
        turn_rad: the turn of the line there; positive clockwise as seen on the page, like curvature. Where the
            outline runs clockwise, an outward corner is positive.
    """

    node: int
    point: Point
    along: float
    turn_rad: float


def corners(path: Path, turn: float = CORNER_TURN, reach: float = CORNER_REACH) -> tuple[Corner, ...]:
    """Find the corners of an outline.

    Args:
        path: a closed path.
        turn: the least turn of a corner, radians.
        reach: how far along the line directions are taken, mm. Corners nearer to each other than half of it are
            taken for one; bends rounder than about one and a half times it are none.

    Returns:
        The corners in the order of the nodes. Of several nodes at one corner, the one where the line turns most.

    Raises:
        OpenOutlineError: the path is open.

    >>> [corner.node for corner in corners(Path.polygon([(0, 0), (50, 0), (100, 0), (100, 80), (0, 80)]))]
    [0, 2, 3, 4]
    """
    line = _Walk(path, reach)
    turns = line.turns(line.nodes)
    sharp = np.abs(turns) >= turn
    sudden = np.abs(line.sharpness) >= _SUDDEN * np.minimum(np.abs(turns), 1.2 * turn)
    ranked = np.flatnonzero(sharp & sudden)
    # Rounded, so that of two equal ones the first is taken however the drawing lies.
    ranked = ranked[np.argsort(-np.abs(line.sharpness[ranked]).round(7), kind="stable")]
    kept: list[int] = []
    for node in ranked.tolist():
        away = np.abs(line.nodes[kept] - line.nodes[node])
        if (np.minimum(away, line.total - away) >= _NEAR * line.reach).all():
            kept.append(node)
    return tuple(Corner(node, path.nodes[node], float(line.nodes[node]), float(turns[node])) for node in sorted(kept))


def turns_at(path: Path, along: Sequence[float], reach: float = CORNER_REACH) -> tuple[float, ...]:
    """Return the turns of an outline at places, measured as :func:`corners` does.

    Args:
        path: a closed path.
        along: the places, mm along the line from its start.
        reach: how far along the line directions are taken, mm.

    Returns:
        The turns in radians, positive clockwise as seen on the page.

    Raises:
        OpenOutlineError: the path is open.

    >>> turns_at(Path.polygon([(0, 0), (100, 0), (100, 80), (0, 80)]), [50.0])
    (0.0,)
    """
    return tuple(_Walk(path, reach).turns(np.array(along, dtype=float)).tolist())


class _Walk:
    """A polyline along a closed path that can be asked for the direction over any stretch."""

    def __init__(self, path: Path, reach: float) -> None:
        if not path.closed:
            raise OpenOutlineError(
                _("Corners were asked of a line that does not close."),
                position=path.end,
                advice=_("Join its ends in the editor."),
            )
        points, _indices, t = flatten(path, ACCURACY)
        self.x, self.y = points.T
        chords = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(self.x), np.diff(self.y)))])
        # The polyline is a little shorter than the line: stretched so that its nodes lie where those of the line do.
        ends = np.array([0.0, *accumulate(map(segment_length, path.segments))])
        self.along: Floats = np.interp(chords, np.append(chords[t == 0.0], chords[-1]), ends)
        self.total = float(self.along[-1])
        self.reach = min(reach, self.total / _SIDES)
        self.nodes = self.along[t == 0.0]
        near = np.full(len(self.nodes), _NEAR * self.reach)
        self.sharpness = self._turns(self.nodes, near, near)

    def turns(self, places: Floats) -> Floats:
        """Return the turns at places, from directions that reach no farther than the next corner on either side."""
        marked = self.nodes[np.abs(self.sharpness) >= CORNER_TURN]
        ahead = np.mod(marked[None] - places[:, None], self.total) if self.total else marked[None] * 0.0
        least = _NEAR * self.reach
        after = np.where(ahead >= least, ahead, np.inf).min(axis=1, initial=self.reach)
        back = np.where(self.total - ahead >= least, self.total - ahead, np.inf)
        before = np.where(ahead > 0.0, back, np.inf).min(axis=1, initial=self.reach)
        return self._turns(places, before, after)

    def _turns(self, places: Floats, before: Floats, after: Floats) -> Floats:
        arriving = self._at(places) - self._at(places - before)
        leaving = self._at(places + after) - self._at(places)
        turns: Floats = np.angle(leaving * np.conj(arriving))
        return turns

    def _at(self, places: Floats) -> NDArray[np.complex128]:
        wrapped = np.mod(places, self.total) if self.total else places
        found: NDArray[np.complex128] = np.interp(wrapped, self.along, self.x) + 1j * np.interp(
            wrapped, self.along, self.y
        )
        return found
