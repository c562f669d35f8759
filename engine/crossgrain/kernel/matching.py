"""Find the corners of a closed line again after somebody has edited it.

What is remembered of each corner is its share of the line's length, counted from the line's start, and its turn. None
of it is a node number or a place that has to hold: nodes are added and deleted, the start moves, the line is reversed,
mirrored, turned, scaled. Two kinds of corners are told apart:

* **true corners** turn by ``CORNER_TURN`` or more. They are matched, in cyclic order, to the true corners that the line
  has now; the cost of a match grows with what the lengths between corners, as shares of the whole, and the turns have
  changed;
* **smooth corners**, as where a straight centre line runs into a curve, have nothing to be seen by. They go where the
  true corners carried them, if these were moved by one map; else they keep their share of the length between the true
  corners around them. Where a node lies very near they go to it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence, Set
from dataclasses import dataclass, replace
from itertools import accumulate

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.carrying import carried
from crossgrain.kernel.corners import corners, turn_at
from crossgrain.kernel.length import (
    Place,
    distance_of,
    path_length,
    place_at,
    point_at,
    run,
    segment_length,
)
from crossgrain.kernel.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.tolerances import (
    CORNER_TURN,
    SMOOTH_CORNER_SNAP,
    UNMOVED_CORNER,
    WEAK_CORNER_TURN,
)

Floats = NDArray[np.float64]

_SHARE_SLACK = 0.02
_SHARE_SLACK_PER_SHARE = 0.2
_TURN_SLACK_RAD = math.radians(30.0)
"""What a change counts as one unit of cost: an edge longer or shorter by a fiftieth of the outline and a fifth of
itself, a corner opened or closed by 30°. These are what moving one corner by some 50 mm does to a trouser front."""

_MOST_COST = 4.0
"""The most that one edge or one corner adds to the cost, so that a single node dragged far away cannot outweigh all the
corners that stayed."""

_MISSING_COST = 9.0
"""What it costs to give a corner up: more than two edges and a corner that all changed by twice their slack."""

_CERTAIN = 0.5
"""A reading this cheap is right, and needs no second look. Scaling and ordinary moves of nodes stay below."""

_FREE = 3
"""Any three corners can be carried to any three places by some affine map."""

_TIE = 0.02
"""Readings whose costs differ by less than this, and a quarter of the cheaper cost, are alike by lengths and turns."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remembered:
    """The corners of a closed line, as they can be found again.

    Args:
        shares: where each corner stands, as a share of the line's length from its start, 0 to 1, **in the direction
            in which the edges follow one another**; rising, but for one step over the line's start.
        turns_rad: the turn at each corner, positive where the line bulges outwards, whichever way it is travelled.
        against: whether the edges follow one another against the line's own direction.
        places: where the corners stood in the drawing, mm, or none. Only hints: to choose between readings that lengths
            and turns cannot tell apart, as on a rectangle, and to carry smooth corners along.
    """

    shares: tuple[float, ...]
    turns_rad: tuple[float, ...]
    against: bool = False
    places: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """Where remembered corners stand now.

    Args:
        line: the closed line, travelled in the direction in which the edges follow one another.
        places: where each corner lies on ``line``.
        reversed: whether ``line`` is the given line travelled the other way.
    """

    line: Path
    places: tuple[Place, ...]
    reversed: bool = False

    def runs(self) -> tuple[Path, ...]:
        """Cut the line at the corners: one open run per corner, starting there."""
        ends = [*self.places[1:], self.places[0]]
        return tuple(run(self.line, start, end) for start, end in zip(self.places, ends, strict=True))


def remember(line: Path, places: Sequence[Place], *, against: bool = False) -> Remembered:
    """Note what is needed to find corners again.

    Args:
        line: a closed line, travelled in the direction in which the edges follow one another.
        places: where the corners lie on it, in that order.
        against: whether that direction is against the one in which the line is drawn.

    Returns:
        Shares, turns and places of the corners.

    >>> square = Path.polygon([(0, 0), (100, 0), (100, 100), (0, 100)])
    >>> remember(square, [Place(0, 0.0), Place(2, 0.0)]).shares
    (0.0, 0.5)
    """
    total = path_length(line)
    sign = 1.0 if winding(line) >= 0.0 else -1.0
    along = [distance_of(line, place) for place in places]
    return Remembered(
        shares=tuple(position / total for position in along),
        turns_rad=tuple(sign * turn_at(line, position) for position in along),
        against=against,
        places=tuple(point_at(line, place) for place in places),
    )


def find(line: Path, remembered: Remembered, names: Sequence[str] = ()) -> Found:
    """Find remembered corners on a line that may have been edited.

    On a line that looks the same in several readings (a rectangle reads alike from either end and either way), the
    one is taken that lies best on the line's own start; one against the line's direction only if its corners stand
    where they stood before.

    Args:
        line: a closed line.
        remembered: its corners as they were.
        names: the names of the edges that start at them, for messages.

    Returns:
        The places of all corners. A true corner stands exactly on a node.

    Raises:
        GeometryError: a corner is no longer there. The message names the two edges that met at it, and where it was
            expected.

    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 80)])
    >>> known = remember(square, [Place(number, 0.0) for number in range(4)])
    >>> found = find(square.mapped(Affine.scaling(-1.0, 1.0)).reversed(), known)
    >>> found.reversed, found.runs()[1].start
    (True, (-100.0, 0.0))
    """
    drawn = line.reversed() if remembered.against else line
    readings = _readings(drawn, remembered, CORNER_TURN)
    chosen = _choose(readings, remembered)
    if chosen.cost > _CERTAIN:
        # Moving its nodes may have flattened a corner to less than what counts as one: look among weaker ones too. And
        # uneven scaling alters lengths and turns at will, but carries all corners by one map.
        readings += _readings(drawn, remembered, WEAK_CORNER_TURN)
        chosen = _choose([reading.weighed(remembered) for reading in readings], remembered)
    if chosen.missing:
        raise _not_found(chosen, remembered, names)
    return Found(line=chosen.line, places=chosen.places(remembered), reversed=chosen.reversed != remembered.against)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Reading:
    """One way to read the corners on a line: the node of each corner that was matched."""

    line: Path
    lengths: tuple[float, ...]
    reversed: bool
    nodes: dict[int, int]
    missing: tuple[int, ...]
    cost: float

    def expected(self, remembered: Remembered) -> list[float]:
        """Return how far along the line each corner lies: where matched, or by its share between those, mm."""
        total = math.fsum(self.lengths)
        known = sorted(self.nodes)
        starts = {number: math.fsum(self.lengths[: self.nodes[number]]) for number in known}
        carry = self.carry(remembered) if len(known) < len(remembered.shares) else None
        out = []
        for number, share in enumerate(remembered.shares):
            if not known:
                out.append(share * total)
            elif number in starts:
                out.append(starts[number])
            else:
                before = max((one for one in known if one < number), default=known[-1])
                after = min((one for one in known if one > number), default=known[0])
                room = (starts[after] - starts[before]) % total or total
                if carry is not None:
                    found = nearest(self.line, carry.of(remembered.places[number]))
                    along = distance_of(self.line, found.place)
                    if found.distance <= SMOOTH_CORNER_SNAP and (along - starts[before]) % total < room:
                        out.append(along)
                        continue
                into = (share - remembered.shares[before]) % 1.0
                span = (remembered.shares[after] - remembered.shares[before]) % 1.0 or 1.0
                out.append((starts[before] + room * into / span) % total)
        return out

    def carry(self, remembered: Remembered) -> Affine | None:
        """Return the map by which most true corners were moved, where there is one."""
        if not remembered.places:
            return None
        return carried(
            [remembered.places[number] for number in self.nodes],
            [self.line.segments[node].start for node in self.nodes.values()],
        )

    def places(self, remembered: Remembered) -> tuple[Place, ...]:
        """Return the segment and parameter of every corner, smooth ones at a node where one lies very near."""
        expected = self.expected(remembered)
        taken = set(self.nodes.values())
        out: list[Place] = []
        for number, along in enumerate(expected):
            node = self.nodes.get(number)
            if node is None:
                node = self.node_near(along, taken)
                taken.add(-1 if node is None else node)
            out.append(Place(node, 0.0) if node is not None else place_at(self.line, along))
        return tuple(out)

    def node_near(self, along: float, taken: Set[int]) -> int | None:
        """Return the node within reach of a place, mm along the line, that is no other corner yet."""
        total = math.fsum(self.lengths)
        starts = [0.0, *accumulate(self.lengths)][:-1]
        gaps = [abs((start - along + total / 2.0) % total - total / 2.0) for start in starts]
        near = int(np.argmin(gaps))
        return near if gaps[near] <= SMOOTH_CORNER_SNAP and near not in taken else None

    def weighed(self, remembered: Remembered) -> _Reading:
        """Return the reading with its cost lowered by as many corners as one map carried, beyond those that any has."""
        carry = self.carry(remembered)
        if carry is None or len(self.nodes) <= _FREE:
            return self
        agreeing = sum(
            math.dist(carry.of(remembered.places[number]), self.line.segments[node].start) <= UNMOVED_CORNER
            for number, node in self.nodes.items()
        )
        evidence = max(agreeing - _FREE, 0) / (len(self.nodes) - _FREE)
        return replace(self, cost=self.cost * (1.0 - 0.9 * evidence) if not self.missing else self.cost)

    def shift(self, remembered: Remembered) -> float:
        """Return by what share of the line its corners lie off where they are remembered from its start."""
        total = math.fsum(self.lengths)
        gaps = [
            abs((along / total - share + 0.5) % 1.0 - 0.5)
            for along, share in zip(self.expected(remembered), remembered.shares, strict=True)
        ]
        return float(np.median(gaps))

    def moved(self, remembered: Remembered) -> float:
        """Return how far its corners lie from where they stood, mm; infinite where that is not known."""
        if not remembered.places:
            return math.inf
        gaps = [
            math.dist(point_at(self.line, place), old)
            for place, old in zip(self.places(remembered), remembered.places, strict=True)
        ]
        return float(np.median(gaps))


def _readings(line: Path, remembered: Remembered, least_turn: float) -> list[_Reading]:
    """Read the line in both directions, once for every corner that the first remembered one may be."""
    out: list[_Reading] = []
    for backwards, way in ((False, line), (True, line.reversed())):
        pieces = tuple(segment_length(segment) for segment in way.segments)
        total = math.fsum(pieces)
        sign = 1.0 if winding(way) >= 0.0 else -1.0
        true = [number for number, turn in enumerate(remembered.turns_rad) if abs(turn) >= CORNER_TURN]
        if true:
            found = corners(way, least_turn)
            alignments = _match(
                np.array([remembered.shares[number] for number in true]),
                np.array([remembered.turns_rad[number] for number in true]),
                np.array([corner.along / total for corner in found]),
                np.array([sign * corner.turn_rad for corner in found]),
            )
            nodes = [corner.node for corner in found]
        else:
            # Nothing to be seen by: from the line's start, or from the node nearest to where the first corner was.
            alignments, nodes = [((), 0.0)], []
            if remembered.places:
                nodes = [min(range(len(pieces)), key=lambda at: math.dist(way.nodes[at], remembered.places[0]))]
                true, alignments = [0], [((None,), 0.0), ((0,), 0.0)]
        for matched, cost in alignments:
            pairs = list(zip(true, matched, strict=False))
            out.append(
                _Reading(
                    line=way,
                    lengths=pieces,
                    reversed=backwards,
                    nodes={number: nodes[one] for number, one in pairs if one is not None},
                    missing=tuple(number for number, one in pairs if one is None and cost > 0.0),
                    cost=cost,
                )
            )
    return out


def _match(shares: Floats, turns: Floats, here: Floats, bends: Floats) -> list[tuple[tuple[int | None, ...], float]]:
    """Align remembered corners with found ones in cyclic order, at least cost.

    Dynamic programming over the remembered corners. The first matched pair is tried in every way, because the order is
    cyclic; each way gives one alignment.

    Args:
        shares: places of the remembered corners as shares of the length, in cyclic order, shape (k,).
        turns: their turns, radians, shape (k,).
        here: places of the found corners, rising, shape (m,).
        bends: their turns, shape (m,).

    Returns:
        For each alignment the found corner of each remembered one, or none where it is given up, and the cost.
    """
    known, seen = len(shares), len(here)
    if known == 0 or seen == 0:
        return [((None,) * known, known * _MISSING_COST)]
    turning = _robust((bends[None, :] - turns[:, None]) / _TURN_SLACK_RAD)
    gaps = (here[None, :] - here[:, None]) % 1.0
    np.fill_diagonal(gaps, 1.0)
    out: list[tuple[tuple[int | None, ...], float]] = []
    for first in range(known):
        if out and min(cost for _matched, cost in out) <= first * _MISSING_COST:
            break  # giving up the corners before this one costs more by itself
        for start in range(seen):
            order = [(first + step) % known for step in range(known - first)]
            turned = (np.arange(seen) + start) % seen
            cost, matched = _align(shares, turning, gaps, order, turned)
            out.append(((None,) * first + matched, cost + first * _MISSING_COST))
    return out


def _align(
    shares: Floats, turning: Floats, gaps: Floats, order: list[int], turned: NDArray[np.int_]
) -> tuple[float, tuple[int | None, ...]]:
    """Align the corners in ``order`` with the found ones in the order ``turned``, the first with the first."""
    count, seen = len(order), len(turned)
    best = np.full((count, seen), np.inf)
    came = np.full((count, seen, 2), -1, dtype=int)
    best[0, 0] = turning[order[0], turned[0]]
    later = np.triu(np.ones((seen, seen), dtype=bool), 1)
    between = gaps[np.ix_(turned, turned)]
    for row in range(1, count):
        for before in range(row):
            share = (shares[order[row]] - shares[order[before]]) % 1.0
            step = np.where(later, best[before][:, None] + _edge_cost(between, share), np.inf)
            step += (row - before - 1) * _MISSING_COST
            came_from = step.argmin(axis=0)
            cost = step[came_from, np.arange(seen)] + turning[order[row], turned]
            better = cost < best[row]
            best[row, better] = cost[better]
            came[row, better, 0] = before
            came[row, better, 1] = came_from[better]
    # Close the round: from the last matched corner back to the first.
    ends = np.empty((count, seen))
    for row in range(count):
        share = (shares[order[0]] - shares[order[row]]) % 1.0 or 1.0
        ends[row] = best[row] + _edge_cost(between[:, 0], share) + (count - row - 1) * _MISSING_COST
    row, column = (int(number) for number in np.unravel_index(ends.argmin(), ends.shape))
    total = float(ends[row, column])
    matched: list[int | None] = [None] * count
    while row >= 0:
        matched[row] = int(turned[column])
        row, column = (int(number) for number in came[row, column])
    return total, tuple(matched)


def _robust(change: Floats) -> Floats:
    square = change * change
    return np.asarray(square / (1.0 + square / _MOST_COST))


def _edge_cost(found: Floats, share: float) -> Floats:
    return _robust((found - share) / (_SHARE_SLACK + _SHARE_SLACK_PER_SHARE * share))


def _choose(readings: Sequence[_Reading], remembered: Remembered) -> _Reading:
    """Take the cheapest reading; of those that are alike, the likeliest from the line's start and the old places."""
    cheapest = min(reading.cost for reading in readings)
    alike = [reading for reading in readings if reading.cost <= cheapest + _TIE + 0.25 * cheapest]
    if len(alike) == 1:
        return alike[0]
    shares = remembered.shares
    near = 0.5 * min((q - p) % 1.0 or 1.0 for p, q in zip(shares, shares[1:] + shares[:1], strict=True))

    def likelihood(reading: _Reading) -> tuple[int, float, float]:
        shift, moved = reading.shift(remembered), reading.moved(remembered)
        from_start, in_place = shift <= near, moved <= UNMOVED_CORNER
        if from_start and in_place:
            return (0, shift, reading.cost)
        if from_start and not reading.reversed:
            return (1, shift, reading.cost)
        if in_place:
            return (2, moved, reading.cost)
        return (4 if reading.reversed else 3, shift, reading.cost)

    return min(alike, key=likelihood)


def _not_found(reading: _Reading, remembered: Remembered, names: Sequence[str]) -> GeometryError:
    number = reading.missing[0]
    carry = reading.carry(remembered)
    if carry is not None:
        position = carry.of(remembered.places[number])
    else:
        position = point_at(reading.line, place_at(reading.line, reading.expected(remembered)[number]))
    before, after = (names[number - 1], names[number]) if names else (str(number), str(number + 1))
    return GeometryError(
        _("The corner where {before} meets {after} cannot be found on the outline.").format(before=before, after=after),
        edge=after,
        position=position,
        advice=_("Put the corner's node back as a corner, or mark the edges of the piece again."),
    )
