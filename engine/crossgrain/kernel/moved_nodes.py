"""Move the nodes of a closed line. Handles turn and are scaled with their chords; no node is added or lost.

Of a cubic whose ends move from ``p, q`` to ``p', q'``, the chord turns and is scaled by ``r = (q' - p') / (q - p)``,
read as complex numbers, and its handles by ``r`` too. But the angle at a node stays as it was, so that smooth joins
stay smooth, right angles right, and what was trued true: there both handles turn by a mean of the two chords' turns, in
which that chord counts the more which is turned and scaled the less, or by the turn of a straight line on one side. So
a curve that is only moved stays as it is. A line that must pass through given points is led there by the least turns
and scalings of handles beyond that; a curve that must pass through several may turn away from a straight line.

All of it is the same both ways: moving the nodes back gives the line back, to rounding. That is why turns are
weighed so, and why the least change is taken by the mean of the slopes before and after.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line, Segment
from crossgrain.language import _
from crossgrain.tolerances import (
    COINCIDENT,
    LEAST_DIVISOR,
    PARAMETER_SETTLED,
    PIN_REACHED,
    ROUND_OFF,
    SINGULAR,
)

Complexes = NDArray[np.complex128]
Floats = NDArray[np.float64]

MOST_ROUNDS: Final = 240
_STEPS = 30
_SLOW = 0.5
"""A round that leaves more than this share of a miss goes too far or too short."""
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


class MovedNodes:
    """A closed line whose nodes are moved, to one place after another.

    Args:
        line: a closed line.
        pins: points between nodes that go to a place of their own.

    >>> square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    >>> MovedNodes(square).at([(0, 0), (12, 0), (12, 10), (0, 10)])[0].nodes[1]
    (12.0, 0.0)
    """

    def __init__(self, line: Path, pins: Sequence[Pin] = ()) -> None:
        count = len(line.segments)
        self._line, self._pins = line, tuple(pins)
        self._old = np.array([complex(*node) for node in line.nodes])
        self._curved = [isinstance(segment, Cubic) for segment in line.segments]
        drawn = np.zeros(2 * count, dtype=complex)
        for k, segment in enumerate(line.segments):
            if isinstance(segment, Cubic):
                drawn[2 * k] = complex(*segment.control1) - complex(*segment.start)
                drawn[2 * k + 1] = complex(*segment.control2) - complex(*segment.end)
        self._drawn = drawn
        self._chords = np.roll(self._old, -1) - self._old
        self._joint = np.where(np.repeat(self._curved, 2), np.arange(2 * count), -1)
        self._joined: list[tuple[int, int]] = []
        # A curve with several pins has too little freedom left, if its angle with a straight line is to stay too. How
        # many there are is the same on the way back.
        on = [pin.index for pin in self._pins]
        self._crowded = {index for index in on if on.count(index) > 1}
        for node in range(count):
            self._join(node)
        # Handles that a pin may turn and scale are those of curves that have one.
        self._live = sorted({handle for pin in self._pins for handle in (2 * pin.index, 2 * pin.index + 1)})
        joints = sorted({int(self._joint[handle]) for handle in self._live} - {-1})
        self._into = np.array(
            [[float(self._joint[handle] == joint) for joint in joints] for handle in range(2 * count)]
        )
        self._t = [pin.t for pin in self._pins]
        self._before = self._slopes(self._old.tolist(), drawn.tolist(), self._t)
        self._force = np.zeros(len(self._pins))
        self._change = np.zeros(len(joints) + len(self._live))
        self.off = 0.0

    def at(self, to: Sequence[Point], rounds: int = MOST_ROUNDS) -> tuple[Path, tuple[float, ...]]:
        """Return the line with its nodes moved.

        Args:
            to: where its nodes go, from that of its start on, mm.
            rounds: how often the handles are bettered so that the line passes through its pins, from where the call
                before left them. With fewer than it takes, ``off`` tells by how much it still misses them.

        Returns:
            The line with as many segments, each of its kind, and the parameters at which it passes through the pins.
            Nodes and pins lie where they are told to, and the angle at each node with a curve is as it was, but for
            those of curves with several pins and straight lines.

        Raises:
            GeometryError: a pin that only another line could be led through.
        """
        new = np.array([complex(*node) for node in to])
        if not self._pins and bool((self._old == new).all()):
            return self._line, ()
        followed = self._followed(new)
        handles = self._led(new, followed, rounds) if self._pins else followed
        return self._drawn_with(new, handles), tuple(self._t)

    def _join(self, node: int) -> None:
        """Let the two handles at a node turn together."""
        before, after = (2 * node - 1) % len(self._joint), 2 * node
        curved = [handle for handle in (before, after) if self._joint[handle] >= 0]
        if not curved:
            return
        self._joined.append((before, after))
        if len(curved) == 2:
            self._joint[after] = self._joint[before]
        elif curved[0] // 2 not in self._crowded:
            self._joint[curved[0]] = -1

    def _followed(self, new: Complexes) -> Complexes:
        """Return the handles turned and scaled with their chords."""
        drawn = np.abs(self._chords) > COINCIDENT
        ratios = np.where(drawn, (np.roll(new, -1) - new) / np.where(drawn, self._chords, 1.0), 1.0)
        if (np.abs(ratios) <= ROUND_OFF).any():
            at = int(np.argmin(np.abs(ratios)))
            raise GeometryError(
                _("Two nodes come to lie in one place."), position=_point(new[at]), advice=_("Move them by less.")
            )
        turn = np.repeat(np.angle(ratios), 2)
        # How far from a mere move: the same both ways.
        altered = np.abs(np.log(ratios)).tolist()
        for before, after in self._joined:
            if self._curved[before // 2] and self._curved[after // 2]:
                apart = cmath.phase(cmath.exp(1j * float(turn[after] - turn[before])))
                one, other = altered[before // 2], altered[after // 2]
                turn[before] = turn[after] = turn[before] + apart * (one / (one + other) if one else 0.0)
            elif self._curved[before // 2]:
                turn[before] = turn[after]
            else:
                turn[after] = turn[before]
        return np.asarray(self._drawn * np.repeat(np.abs(ratios), 2) * np.exp(1j * turn))

    def _led(self, new: Complexes, followed: Complexes, rounds: int) -> Complexes:
        """Return the handles turned and scaled, as little as will do, so that the line passes through the pins."""
        nodes = new.tolist()
        off, missed, damping = np.zeros(len(self._pins)), math.inf, 1.0
        handles = self._changed(followed)
        for _round in range(rounds):
            now = handles.tolist()
            for row, pin in enumerate(self._pins):
                self._t[row], off[row] = _passed(*_controls(nodes, now, pin.index), self._t[row], pin)
            after = self._slopes(nodes, now, self._t)
            step = (self._before + after) / 2.0
            missed, before = float(np.abs(off).max()), missed
            # The slopes change with the step: where it swings about its aim, half of it gets there sooner.
            damping = max(0.3, 0.7 * damping) if missed > _SLOW * before else min(1.0, 1.2 * damping)
            self._force = self._force + damping * np.linalg.lstsq(after @ step.T, off, rcond=SINGULAR)[0]
            moved, self._change = self._change, step.T @ self._force
            self.off = max(float(np.abs(self._change - moved).max()), float(np.abs(off).max()))
            if not float(np.abs(self._change).max()) <= 4.0 * _MOST_TURNED:
                break
            handles = self._changed(followed)
            if self.off <= PIN_REACHED:
                break
        worst = int(np.abs(off).argmax())
        lost = self.off > 100.0 * PIN_REACHED and rounds == MOST_ROUNDS
        if lost or not float(np.abs(self._change).max()) <= _MOST_TURNED:
            raise GeometryError(
                _("The line cannot be led through a point there without becoming another line."),
                position=self._pins[worst].to,
                advice=_("Put a node there, or move the point less against its neighbours."),
            )
        return handles

    def _changed(self, followed: Complexes) -> Complexes:
        """Return handles with the turns of their joints, and the scalings of their own, found so far."""
        count = self._into.shape[1]
        out: Complexes = followed * np.exp(1j * (self._into @ self._change[:count]))
        out[self._live] *= np.exp(self._change[count:])
        return out

    def _slopes(self, nodes: list[complex], handles: list[complex], t: Sequence[float]) -> Floats:
        """Return by how much the line moves across at the pins for each turn and each scaling."""
        scaled = np.zeros((len(t), len(handles)), dtype=complex)
        for row, (pin, u) in enumerate(zip(self._pins, t, strict=True)):
            away = _slanted(_velocity(*_controls(nodes, handles, pin.index), u), pin.across).conjugate()
            start, end = 2 * pin.index, 2 * pin.index + 1
            scaled[row, start] = 3.0 * (1.0 - u) ** 2 * u * handles[start] * away
            scaled[row, end] = 3.0 * (1.0 - u) * u * u * handles[end] * away
        return np.hstack([(1j * scaled).real @ self._into, scaled[:, self._live].real])

    def _drawn_with(self, new: Complexes, handles: Complexes) -> Path:
        nodes, ends = new.tolist(), handles.tolist()
        before, drawn = self._old.tolist(), self._drawn.tolist()
        out: list[Segment] = []
        for k, (segment, curved) in enumerate(zip(self._line.segments, self._curved, strict=True)):
            own, beyond = slice(2 * k, 2 * k + 2), (k + 1) % len(nodes)
            if (nodes[k], nodes[beyond], ends[own]) == (before[k], before[beyond], drawn[own]):
                out.append(segment)
            elif curved:
                out.append(Cubic(*(_point(z) for z in _controls(nodes, ends, k))))
            else:
                out.append(Line(_point(nodes[k]), _point(nodes[beyond])))
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


def _passed(p: complex, q: complex, r: complex, w: complex, t: float, pin: Pin) -> tuple[float, float]:
    """Return at which parameter a cubic passes a pin, seen across, and by how much it misses it."""
    to, across = complex(*pin.to), pin.across.conjugate()
    beside = across * -1j
    for _step in range(_STEPS):
        s = 1.0 - t
        here = s * s * s * p + 3.0 * s * s * t * q + 3.0 * s * t * t * r + t * t * t * w
        speed = (_velocity(p, q, r, w, t) * beside).real
        if abs(speed) <= LEAST_DIVISOR:
            break
        now = min(max(t + ((to - here) * beside).real / speed, 0.0), 1.0)
        if abs(now - t) <= PARAMETER_SETTLED:
            break
        t = now
    return t, ((to - here) * across).real


def _controls(nodes: list[complex], handles: list[complex], k: int) -> tuple[complex, complex, complex, complex]:
    start, end = nodes[k], nodes[(k + 1) % len(nodes)]
    return start, start + handles[2 * k], end + handles[2 * k + 1], end


def _velocity(p: complex, q: complex, r: complex, w: complex, t: float) -> complex:
    s = 1.0 - t
    return 3.0 * (s * s * (q - p) + 2.0 * s * t * (r - q) + t * t * (w - r))


def _slanted(speed: complex, across: complex) -> complex:
    """Return the vector whose product with a move of the line tells by how much it passes farther across."""
    beside = across * 1j
    along = (speed * beside.conjugate()).real
    if abs(along) <= LEAST_DIVISOR:
        return across
    return across - beside * (speed * across.conjugate()).real / along


def _point(z: complex) -> Point:
    return (float(z.real), float(z.imag))
