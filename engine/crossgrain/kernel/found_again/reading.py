"""One way to read remembered corners on a line as it is now."""

from __future__ import annotations

import math
from collections.abc import Set
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import Final

import numpy as np

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.found_again.carrying import carried
from crossgrain.kernel.found_again.remembering import Remembered
from crossgrain.kernel.length import Place, distance_of, place_at, point_at
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.tolerances import SMOOTH_CORNER_SNAP, UNMOVED_CORNER

_FREE: Final = 3
"""Any three corners can be carried to any three places by some affine map."""

_LEAST: Final = 0.1
_LEAST_WITH_MISSING: Final = 0.5
"""What is left of a reading's cost where one map carried all the corners it found; with a corner missing, more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
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

    def weighed(self, remembered: Remembered) -> Reading:
        """Return the reading with its cost lowered by as many corners as one map carried, beyond those that any has."""
        carry = self.carry(remembered)
        if carry is None or len(self.nodes) <= _FREE:
            return self
        agreeing = sum(
            math.dist(carry.of(remembered.places[number]), self.line.segments[node].start) <= UNMOVED_CORNER
            for number, node in self.nodes.items()
        )
        evidence = max(agreeing - _FREE, 0) / (len(self.nodes) - _FREE)
        # All but one in their places prove that one to be gone; but they are in their places, too, where it was moved.
        least = _LEAST_WITH_MISSING if self.missing else _LEAST
        return replace(self, cost=self.cost * (1.0 - (1.0 - least) * evidence))

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
