"""An outline on its way to another size: named points move as told, nodes between them by their share of the way.

The displacement of a node between two named points is linear in its share of the outline's length from one to the
other, dart mouths and the ends of held strips not counted. The share taken is the mean of that before and that after,
so that grading back by as much gives the outline back: both ways the equation is the same.

Where a named point lies between nodes, the line passes through the place it is told to go to. If a node is near, that
node moves with it, and by so much more across or along the grain as makes the line pass; else the handles do it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import Place, path_length
from crossgrain.kernel.moved_nodes import MOST_ROUNDS, MovedNodes, Pin, level_with
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.language import _
from crossgrain.model.sizes.free_length import FreeLength, lengths_to
from crossgrain.tolerances import ACCURACY, GRADED_BACK, PIN_REACHED

Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]

_ROUNDS = 300
_BETTERED = 2
"""Rounds of bettering the handles each time the nodes are: both settle together."""
_NEAR = 0.2
"""A named point of a curve that is nearer to a node than this, in the curve's parameter, moves the node along with it:
handles alone would have to turn visibly for it."""


class MovingOutline:
    """The outline of a piece that moves.

    Args:
        line: the outline.
        named: places on it and how far they move, in order along it; at least one.
        free: its lengths, without what is kept.
        grain: of the piece.
    """

    def __init__(
        self,
        line: Path,
        named: Sequence[tuple[Place, complex]],
        free: FreeLength,
        *,
        grain: complex,
    ) -> None:
        self._line = line
        self._named = [place for place, _by in named]
        self._told = [_plus(line.segments[p.index].point(p.t), by) for p, by in named]
        carried = _carriers(line, self._named)
        # A point that a node carries stands at the node from here on; how far that must go beyond it is sought.
        self._carried = {k: (node, _across(line, self._named[k], grain)) for k, node in carried.items()}
        stands = [Place(self._carried[k][0], 0.0) if k in self._carried else p for k, p in enumerate(self._named)]
        self._order = sorted(range(len(stands)), key=lambda k: stands[k])
        self._stands = [stands[k] for k in self._order]
        self._by = np.array([named[k][1] for k in self._order])
        nodes = [Place(index, 0.0) for index in range(len(line.segments))]
        self._nodes = nodes
        along = lengths_to(line, [*nodes, *self._stands])
        self._kept = np.array([free.kept_before(distance) for distance in along])
        self._kept_total = free.kept_before(free.starts[-1])
        curved = [not isinstance(segment, Line) for segment in line.segments]
        self._pinned = [k for k, p in enumerate(self._named) if p.t and k not in self._carried and curved[p.index]]
        self._pins = [
            Pin(self._named[k].index, self._named[k].t, self._told[k], _across(line, self._named[k], grain))
            for k in self._pinned
        ]
        self._nodes_moved = MovedNodes(line, self._pins)

    def moved(self) -> tuple[Path, list[Place]]:
        """Return the outline in its new shape, and where on it the named points lie.

        Raises:
            GeometryError: a straight line would have to bend, or a curve to become another one.
        """
        drawn = self._shares(self._line, self._stands)
        more = np.zeros(len(self._order))
        places = list(self._named)
        shifts = self._shifts(drawn, more)
        for _round in range(_ROUNDS):
            new, places = self._with(shifts, places, rounds=_BETTERED)
            misses = self._misses(new, places)
            more = more + misses
            stands = [self._stands[j] if k in self._carried else places[k] for j, k in enumerate(self._order)]
            before, shifts = shifts, self._shifts((drawn + self._shares(new, stands)) / 2.0, more)
            moved = max(float(np.abs(shifts - before).max()), float(np.abs(misses).max()))
            if moved <= GRADED_BACK and self._nodes_moved.off <= PIN_REACHED:
                break
        new, places = self._with(shifts, places)
        self._misses(new, places)
        self._check(new, places)
        return new, places

    def _with(self, shifts: Complexes, before: Sequence[Place], rounds: int = MOST_ROUNDS) -> tuple[Path, list[Place]]:
        to = [_plus(node, complex(by)) for node, by in zip(self._line.nodes, shifts, strict=True)]
        new, parameters = self._nodes_moved.at(to, rounds)
        places = list(before)
        for k, t in zip(self._pinned, parameters, strict=True):
            places[k] = Place(places[k].index, t)
        for k, place in enumerate(self._named):
            segment = new.segments[place.index]
            if place.t and k not in self._carried and isinstance(segment, Line):
                places[k] = Place(place.index, _foot(segment, self._told[k]))
        return new, places

    def _misses(self, new: Path, places: list[Place]) -> Floats:
        """Return by how much more nodes that carry a point must move for the line to pass where it was told to."""
        out = np.zeros(len(self._order))
        for j, k in enumerate(self._order):
            if k not in self._carried:
                continue
            node, across = self._carried[k]
            place, told = places[k], complex(*self._told[k])
            segment = new.segments[place.index]
            t = level_with(segment, place.t, self._told[k], across)
            places[k] = Place(place.index, t)
            weight = t * t * (3.0 - 2.0 * t)
            weight = 1.0 - weight if node == place.index else weight
            out[j] = ((told - complex(*segment.point(t))) * across.conjugate()).real / max(weight, 0.1)
        return out

    def _shares(self, line: Path, stands: Sequence[Place]) -> Floats:
        """Return for each node the number of the named point before it plus its share of the way to the next one."""
        count = len(self._nodes)
        along = np.array(lengths_to(line, [*self._nodes, *stands])) - self._kept
        nodes, named = along[:count], along[count:]
        if len(named) == 1:
            return np.zeros(count)
        total = path_length(line) - self._kept_total
        # The outline runs on past its start.
        reach = np.concatenate([named, [named[0] + total]])
        nodes = np.where([node < self._stands[0] for node in self._nodes], nodes + total, nodes)
        at = np.array([self._before(node) for node in self._nodes])
        gaps = reach[at + 1] - reach[at]
        part = np.where(gaps > 0.0, (nodes - reach[at]) / np.where(gaps > 0.0, gaps, 1.0), 0.0)
        return np.asarray(at + np.clip(part, 0.0, 1.0), dtype=float)

    def _before(self, node: Place) -> int:
        """Return the number of the last named point that does not lie after a node, round the outline."""
        found = [k for k, place in enumerate(self._stands) if place <= node]
        return found[-1] if found else len(self._stands) - 1

    def _shifts(self, shares: Floats, more: Floats) -> Complexes:
        """Return how far nodes move."""
        own = self._by.copy()
        for j, k in enumerate(self._order):
            if k in self._carried:
                own[j] += more[j] * self._carried[k][1]
        by = np.concatenate([own, own[:1]])
        at = np.minimum(shares.astype(int), len(own) - 1)
        shifts = by[at] + (shares - at) * (by[at + 1] - by[at])
        for j, place in enumerate(self._stands):
            if place.t == 0.0:
                shifts[place.index] = own[j]
        return np.asarray(shifts, dtype=complex)

    def _check(self, new: Path, places: Sequence[Place]) -> None:
        for place, now, told in zip(self._named, places, self._told, strict=True):
            if not place.t or math.dist(new.segments[now.index].point(now.t), told) <= ACCURACY:
                continue
            raise GeometryError(
                _("A straight line would have to bend there.")
                if isinstance(self._line.segments[place.index], Line)
                else _("The line cannot be led through a point there without becoming another line."),
                position=self._line.segments[place.index].point(place.t),
                advice=_("Put a node there, or move the point along with its neighbours."),
            )


def _carriers(line: Path, named: Sequence[Place]) -> dict[int, int]:
    """Return which named points are carried by a node: on a curve one that is near, on a line either."""
    taken = {place.index for place in named if not place.t}
    out: dict[int, int] = {}
    for k in sorted(range(len(named)), key=lambda k: min(named[k].t, 1.0 - named[k].t)):
        place = named[k]
        if not place.t:
            continue
        ends = [place.index, (place.index + 1) % len(line.segments)]
        straight = isinstance(line.segments[place.index], Line)
        for end in ends if place.t < 0.5 else ends[::-1]:
            near = place.t <= _NEAR if end == place.index else place.t >= 1.0 - _NEAR
            if end not in taken and (near or straight):
                out[k] = end
                taken.add(end)
                break
    return out


def _across(line: Path, place: Place, grain: complex) -> complex:
    """Return the direction, across the grain or along it, in which moving a node moves the line at a place."""
    tangent = complex(*line.segments[place.index].derivative(place.t))
    along = abs((tangent * grain.conjugate()).real)
    return grain * -1j if 2.0 * along * along >= abs(tangent) ** 2 else grain


def _foot(segment: Line, point: Point) -> float:
    """Return the parameter of the foot of a point on a line."""
    dx, dy = segment.derivative(0.0)
    part = (point[0] - segment.start[0]) * dx + (point[1] - segment.start[1]) * dy
    return min(max(part / (dx * dx + dy * dy), 0.0), 1.0)


def _plus(point: Point, by: complex) -> Point:
    return (point[0] + by.real, point[1] + by.imag)
