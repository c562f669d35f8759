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
from crossgrain.tolerances import (
    COINCIDENT,
    LEAST_DIVISOR,
    PARAMETER_SETTLED,
    PIN_REACHED,
    ROUND_OFF,
    SMOOTH_KINK,
    SMOOTH_TURN,
)

Complexes = NDArray[np.complex128]
Floats = NDArray[np.float64]

_ROUNDS = 60
_STEPS = 30
_MOST_TURNED = 1.2
"""A handle that had to turn or be scaled by more than this, in radians or in the logarithm, draws another line."""


@dataclass(frozen=True, slots=True)
class Pin:
    """A point of a line that is to lie elsewhere.

    Args:
        index: the segment, a cubic.
        t: its parameter there, strictly between 0 and 1.
        to: the place that the line passes through instead, mm.
        across: the direction, complex of size 1, in which the line is moved to pass there; not that of the line.
    """

    index: int
    t: float
    to: Point
    across: complex


def with_moved_nodes(
    line: Path,
    to: Sequence[Point],
    pins: Sequence[Pin] = (),
    *,
    square: Collection[int] = (),
    corners: Collection[int] = (),
) -> tuple[Path, tuple[float, ...]]:
    """Move the nodes of a closed line.

    Args:
        line: a closed line.
        to: where its nodes go, from that of its start on, mm.
        pins: points between nodes that go to a place of their own.
        square: nodes at which the angle is to stay, as a right angle at a fold: there the lines turn together.
        corners: nodes that are named corners: they join smoothly only where they turn by less than 0.1°, others below
            0.5°.

    Returns:
        The line with as many segments, each of its kind, and the parameters at which it passes through the pins. Nodes
        and pins lie where they are told to, smooth joins break by no more than before.

    Raises:
        GeometryError: a pin that only another line could be led through.

    >>> square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    >>> with_moved_nodes(square, [(0, 0), (12, 0), (12, 10), (0, 10)])[0].nodes[1]
    (12.0, 0.0)
    """
    old = np.array([complex(*node) for node in line.nodes])
    new = np.array([complex(*node) for node in to])
    if not pins and bool((old == new).all()):
        return line, ()
    handles = _Handles(line, old, new, frozenset(square), frozenset(corners))
    t = handles.lead(pins) if pins else ()
    return handles.line(), t


class _Handles:
    """The handles of a line whose nodes move: handle ``2k`` at the start of segment ``k``, ``2k + 1`` at its end."""

    def __init__(
        self, line: Path, old: Complexes, new: Complexes, square: frozenset[int], corners: frozenset[int]
    ) -> None:
        count = len(line.segments)
        self._segments = line.segments
        self._old, self._new = old, new
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
                position=_point(new[at]),
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

    def lead(self, pins: Sequence[Pin]) -> tuple[float, ...]:
        """Turn and scale handles, as little as will do, so that the line passes through where pins are told to be.

        Returns:
            The parameter at which it passes through each.
        """
        total = len(self._drawn)
        free = self._joint >= 0
        into = np.zeros((total, total))
        into[np.flatnonzero(free), self._joint[free]] = 1.0

        def slopes(nodes: Complexes, handles: Complexes, t: Sequence[float]) -> Floats:
            """Return by how much the line moves across at the pins for each turn and each scaling."""
            scaled = np.zeros((len(pins), total), dtype=complex)
            for row, (pin, u) in enumerate(zip(pins, t, strict=True)):
                away = _slanted(self._segment(nodes, handles, pin.index).derivative(u), pin.across)
                start, end = 2 * pin.index, 2 * pin.index + 1
                scaled[row, start] = 3.0 * (1.0 - u) ** 2 * u * handles[start] * away.conjugate()
                scaled[row, end] = 3.0 * (1.0 - u) * u * u * handles[end] * away.conjugate()
            return np.hstack([(1j * scaled).real @ into, scaled.real])

        t = [pin.t for pin in pins]
        before = slopes(self._old, self._drawn, t)
        force, change, off = np.zeros(len(pins)), np.zeros(2 * total), np.zeros(len(pins))
        for _round in range(_ROUNDS):
            for row, pin in enumerate(pins):
                segment = self._segment(self._new, self.handles, pin.index)
                t[row] = level_with(segment, t[row], pin.to, pin.across)
                gap = complex(*pin.to) - complex(*segment.point(t[row]))
                off[row] = (gap * pin.across.conjugate()).real
            after = slopes(self._new, self.handles, t)
            step = (before + after) / 2.0
            force = force + np.linalg.lstsq(after @ step.T, off, rcond=1e-12)[0]
            new = step.T @ force
            moved = float(np.abs(new - change).max())
            change = new
            if not float(np.abs(change).max()) <= 4.0 * _MOST_TURNED:
                break
            self.handles = self._followed * np.exp(change[total:] + 1j * (into @ change[:total]))
            if float(np.abs(off).max()) <= PIN_REACHED and moved <= PIN_REACHED:
                break
        worst = int(np.abs(off).argmax())
        if not float(np.abs(off[worst])) <= 100.0 * PIN_REACHED or float(np.abs(change).max()) > _MOST_TURNED:
            raise GeometryError(
                _("The line cannot be led through a point there without becoming another line."),
                position=pins[worst].to,
                advice=_("Put a node there, or move the point less against its neighbours."),
            )
        return tuple(t)

    def _segment(self, nodes: Complexes, handles: Complexes, index: int) -> Cubic:
        start, end = nodes[index], nodes[(index + 1) % len(nodes)]
        return Cubic(*(_point(z) for z in (start, start + handles[2 * index], end + handles[2 * index + 1], end)))

    def line(self) -> Path:
        """Return the line."""
        nodes = [_point(z) for z in self._new]
        out: list[Segment] = []
        for k, curved in enumerate(self._curved):
            start, end = nodes[k], nodes[(k + 1) % len(nodes)]
            if (start, end) == (self._segments[k].start, self._segments[k].end) and bool(
                (self.handles[2 * k : 2 * k + 2] == self._drawn[2 * k : 2 * k + 2]).all()
            ):
                out.append(self._segments[k])
            else:
                out.append(self._segment(self._new, self.handles, k) if curved else Line(start, end))
        return Path(tuple(out), True)


def level_with(segment: Segment, t: float, point: Point, across: complex) -> float:
    """Return the parameter at which a segment passes a point, looked at in a direction.

    Args:
        segment: the segment.
        t: where to begin.
        point: the point, mm.
        across: the direction, complex of size 1.

    >>> level_with(Line((0.0, 0.0), (0.0, 10.0)), 0.1, (3.0, 4.0), 1.0 + 0j)
    0.4
    """
    beside = across * 1j
    for _step in range(_STEPS):
        off = ((complex(*point) - complex(*segment.point(t))) * beside.conjugate()).real
        speed = (complex(*segment.derivative(t)) * beside.conjugate()).real
        if abs(speed) <= LEAST_DIVISOR:
            break
        now = min(max(t + off / speed, 0.0), 1.0)
        if abs(now - t) <= PARAMETER_SETTLED:
            return now
        t = now
    return t


def _slanted(velocity: Point, across: complex) -> complex:
    """Return the vector whose product with a move of the line tells by how much it passes farther across."""
    beside, speed = across * 1j, complex(*velocity)
    along = (speed * beside.conjugate()).real
    if abs(along) <= LEAST_DIVISOR:
        return across
    return across - beside * (speed * across.conjugate()).real / along


def _point(z: complex) -> Point:
    return (float(z.real), float(z.imag))
