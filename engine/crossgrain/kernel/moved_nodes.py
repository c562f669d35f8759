"""Move the nodes of a closed line. Handles turn and are scaled with their chords; no node is added or lost.

Of a cubic whose ends move from ``p, q`` to ``p', q'``, the chord turns and is scaled by ``r = (q' - p') / (q - p)``,
read as complex numbers, and its handles by ``r`` too. Where two lines join smoothly, both handles turn by the mean of
the two chords' turns, or by that of a straight line on one side, so that the join stays as smooth as it was. A line
that must pass through given points is led there by the least turns and scalings of handles beyond that.

All of it is the same both ways: moving the nodes back gives the line back, to rounding, unless a corner became a smooth
join on the way. That is why turns are meant evenly, and why the least change is taken by the mean of the slopes before
and after.
"""

from __future__ import annotations

import cmath
from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.curvature import node_turns
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line, Segment
from crossgrain.language import _
from crossgrain.tolerances import COINCIDENT, PIN_REACHED, ROUND_OFF, SMOOTH_KINK, SMOOTH_TURN

Complexes = NDArray[np.complex128]
Floats = NDArray[np.float64]

_ROUNDS = 60
_MOST_TURNED = 1.2
"""A handle that had to turn or be scaled by more than this, in radians or in the logarithm, draws another line."""


@dataclass(frozen=True, slots=True)
class Pin:
    """A point of a line that is to lie elsewhere.

    Args:
        index: the segment, a cubic.
        t: the parameter on it, strictly between 0 and 1.
        to: where the point of this parameter goes, mm.
    """

    index: int
    t: float
    to: Point


def with_moved_nodes(
    line: Path,
    to: Sequence[Point],
    pins: Sequence[Pin] = (),
    *,
    square: Collection[int] = (),
    corners: Collection[int] = (),
) -> Path:
    """Move the nodes of a closed line.

    Args:
        line: a closed line.
        to: where its nodes go, from that of its start on, mm.
        pins: points between nodes that go to a place of their own.
        square: nodes at which the angle is to stay, as a right angle at a fold: there the lines turn together.
        corners: nodes that are named corners: they join smoothly only where they turn by less than 0.1°, others below
            0.5°.

    Returns:
        The line with as many segments, each of its kind. Nodes and pins lie where they are told to, smooth joins break
        by no more than before.

    Raises:
        GeometryError: a pin that only another line could be led through.

    >>> square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    >>> with_moved_nodes(square, [(0, 0), (12, 0), (12, 10), (0, 10)]).nodes[1]
    (12.0, 0.0)
    """
    old = np.array([complex(*node) for node in line.nodes])
    new = np.array([complex(*node) for node in to])
    if not pins and bool((old == new).all()):
        return line
    handles = _Handles(line, old, new, frozenset(square), frozenset(corners))
    if pins:
        handles.lead(pins)
    return handles.line()


class _Handles:
    """The handles of a line whose nodes move: handle ``2k`` at the start of segment ``k``, ``2k + 1`` at its end."""

    def __init__(
        self, line: Path, old: Complexes, new: Complexes, square: frozenset[int], corners: frozenset[int]
    ) -> None:
        count = len(line.segments)
        self._segments = line.segments
        self._new = new
        self._curved = np.array([isinstance(segment, Cubic) for segment in line.segments])
        self._drawn = np.zeros(2 * count, dtype=complex)
        for k, segment in enumerate(line.segments):
            if isinstance(segment, Cubic):
                self._drawn[2 * k] = complex(*segment.control1) - old[k]
                self._drawn[2 * k + 1] = complex(*segment.control2) - old[(k + 1) % count]
        chords = np.roll(old, -1) - old
        drawn = np.abs(chords) > COINCIDENT
        ratios = np.where(drawn, (np.roll(new, -1) - new) / np.where(drawn, chords, 1.0), 1.0)
        if (np.abs(ratios) <= ROUND_OFF).any():
            at = int(np.argmin(np.abs(ratios)))
            raise GeometryError(
                _("Two nodes come to lie in one place."),
                position=(float(new[at].real), float(new[at].imag)),
                advice=_("Move them by less."),
            )
        size, turn = np.repeat(np.abs(ratios), 2), np.repeat(np.angle(ratios), 2)
        self._joint = np.where(np.repeat(self._curved, 2), np.arange(2 * count), -1)
        turns = np.abs(node_turns(line))
        for node in range(count):
            most = SMOOTH_KINK if node in corners else SMOOTH_TURN
            self._join(node, turn, kept=bool(turns[node] < most) or node in square)
        self._followed = self._drawn * size * np.exp(1j * turn)
        self.handles = self._followed

    def _join(self, node: int, turn: Floats, *, kept: bool) -> None:
        """Let the two handles at a node turn together where the angle between them is to be kept."""
        before, after = (2 * node - 1) % len(turn), 2 * node
        curved = [handle for handle in (before, after) if self._joint[handle] >= 0]
        if not kept or not curved:
            return
        if len(curved) == 2:
            apart = cmath.phase(cmath.exp(1j * float(turn[after] - turn[before])))
            turn[before] = turn[after] = turn[before] + apart / 2.0
            self._joint[after] = self._joint[before]
        else:
            turn[curved[0]] = turn[before + after - curved[0]]
            self._joint[curved[0]] = -1

    def lead(self, pins: Sequence[Pin]) -> None:
        """Turn and scale handles, as little as will do, so that pins lie where they are told to."""
        total = len(self._drawn)
        wanted = np.array([complex(*pin.to) for pin in pins])
        row, column, weight = [], [], []
        rest = np.zeros(len(pins), dtype=complex)
        for number, pin in enumerate(pins):
            s, t = 1.0 - pin.t, pin.t
            start, end = self._new[pin.index], self._new[(pin.index + 1) % len(self._new)]
            rest[number] = s * s * (1.0 + 2.0 * t) * start + t * t * (3.0 - 2.0 * t) * end
            row += [number, number]
            column += [2 * pin.index, 2 * pin.index + 1]
            weight += [3.0 * s * s * t, 3.0 * s * t * t]
        weights = np.zeros((len(pins), total))
        weights[row, column] = weight
        free = self._joint >= 0
        into = np.zeros((total, total))
        into[np.flatnonzero(free), self._joint[free]] = 1.0

        def slopes(handles: Complexes) -> Floats:
            scaled = weights * handles
            both = np.hstack([(1j * scaled) @ into, scaled])
            return np.vstack([both.real, both.imag])

        before, force = slopes(self._drawn), np.zeros(2 * len(pins))
        change = np.zeros(2 * total)
        for _round in range(_ROUNDS):
            after = slopes(self.handles)
            step = (before + after) / 2.0
            new = step.T @ force
            moved = float(np.abs(new - change).max())
            change = new
            self.handles = self._followed * np.exp(change[total:] + 1j * (into @ change[:total]))
            off = rest + weights @ self.handles - wanted
            if float(np.abs(off).max()) <= PIN_REACHED and moved <= PIN_REACHED:
                break
            gap = np.concatenate([off.real, off.imag])
            force = force - np.linalg.lstsq(slopes(self.handles) @ step.T, gap, rcond=1e-12)[0]
            if not np.isfinite(force).all() or float(np.abs(change).max()) > 4.0 * _MOST_TURNED:
                break
        worst = int(np.abs(off).argmax())
        if not float(np.abs(off[worst])) <= 100.0 * PIN_REACHED or float(np.abs(change).max()) > _MOST_TURNED:
            raise GeometryError(
                _("The line cannot be led through a point there without becoming another line."),
                position=pins[worst].to,
                advice=_("Put a node there, or move the point less against its neighbours."),
            )

    def line(self) -> Path:
        """Return the line."""
        nodes = [(float(z.real), float(z.imag)) for z in self._new]
        out: list[Segment] = []
        for k, curved in enumerate(self._curved):
            start, end = nodes[k], nodes[(k + 1) % len(nodes)]
            if (start, end) == (self._segments[k].start, self._segments[k].end) and bool(
                (self.handles[2 * k : 2 * k + 2] == self._drawn[2 * k : 2 * k + 2]).all()
            ):
                out.append(self._segments[k])
                continue
            if not curved:
                out.append(Line(start, end))
                continue
            c1, c2 = (self._new[k] + self.handles[2 * k], self._new[(k + 1) % len(nodes)] + self.handles[2 * k + 1])
            out.append(Cubic(start, (float(c1.real), float(c1.imag)), (float(c2.real), float(c2.imag)), end))
        return Path(tuple(out), True)
