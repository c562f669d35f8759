"""Walk the two sides of a seam from their common end, notch by notch."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from crossgrain.checks.pairing import Pair, hand
from crossgrain.checks.side import ENDS, End, Side
from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.length import point_at_share
from crossgrain.model.marks import Notch

_OTHER_KIND: Final = 5.0
"""A notch of another kind counts as this much farther away, mm, where partners are looked for."""


@dataclass(frozen=True, slots=True)
class Stop:
    """A notch as it is reached on the way.

    Args:
        along: from the common end, mm.
        share: of the edge, as the piece counts it.
        count: 1, 2 or 3.
    """

    along: float
    share: float
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Walk:
    """Both sides of a seam, walked from their common end.

    Args:
        pair: the seam.
        ends: where each side starts and ends the walk, as its edge counts.
        lengths: of both sides, mm.
        partners: the notches that belong together, in order.
        alone: notches without a partner: on which side, 0 or 1, and the notch.
    """

    pair: Pair
    ends: tuple[tuple[End, End], tuple[End, End]]
    lengths: tuple[float, float]
    partners: tuple[tuple[Stop, Stop], ...] = ()
    alone: tuple[tuple[int, Stop], ...] = ()

    @property
    def sides(self) -> tuple[Side, Side]:
        """Both sides."""
        return self.pair.first, self.pair.second

    def end_name(self, at: int) -> str:
        """Return what the walk's first (0) or last (1) corner is called: the edges met there."""
        names = dict.fromkeys(side.neighbour(ends[at]) for side, ends in zip(self.sides, self.ends, strict=True))
        return "/".join(names)

    def place(self, which: int, along: float) -> Point:
        """Return the place at a distance from the common end on one side, mm of the drawing."""
        side, (start, _end), length = self.sides[which], self.ends[which], self.lengths[which]
        share = min(max(along / length, 0.0), 1.0)
        return point_at_share(side.line, share if start == "start" else 1.0 - share)


def walk(pair: Pair) -> Walk | None:
    """Walk a seam.

    Args:
        pair: the two sides.

    Returns:
        The walk; None where it cannot be told which ends meet.
    """
    is_alike = _run_alike(pair)
    if is_alike is None:
        return None
    ends = (ENDS, ENDS if is_alike else (ENDS[1], ENDS[0]))
    stops = [_stops(side, start) for side, (start, _end) in zip((pair.first, pair.second), ends, strict=True)]
    partners, alone = _partners(tuple(stops[0]), tuple(stops[1]))
    return Walk(
        pair=pair,
        ends=ends,
        lengths=(pair.first.length, pair.second.length),
        partners=partners,
        alone=alone,
    )


def _run_alike(pair: Pair) -> bool | None:
    """Tell whether both sides are named from the same end: by what they meet there, else by how the pieces lie."""
    if pair.is_copy:
        return True
    (a0, a1), (b0, b1) = ((side.neighbour("start"), side.neighbour("end")) for side in (pair.first, pair.second))
    alike, against = (a0 == b0) + (a1 == b1), (a0 == b1) + (a1 == b0)
    if alike != against:
        return alike > against
    way = hand(pair.first.piece, pair.second.piece)
    if way == 0:
        return None
    return (winding(pair.first.piece.line) == winding(pair.second.piece.line)) is (way == 1)


def _stops(side: Side, start: End) -> list[Stop]:
    length = side.length

    def stop(notch: Notch) -> Stop:
        return Stop((notch.share if start == "start" else 1.0 - notch.share) * length, notch.share, notch.count)

    return sorted((stop(n) for n in side.piece.notches if n.edge == side.name), key=lambda one: one.along)


def _partners(
    first: tuple[Stop, ...], second: tuple[Stop, ...]
) -> tuple[tuple[tuple[Stop, Stop], ...], tuple[tuple[int, Stop], ...]]:
    """Give each notch of the side that has fewer a partner, in order, so that the distances between them are least."""
    few, many = sorted((first, second), key=len)
    is_first_few = few is first

    @lru_cache(maxsize=None)
    def best(i: int, j: int) -> tuple[float, tuple[int, ...]]:
        if i == len(few):
            return 0.0, ()
        cost, rest = best(i + 1, j + 1)
        cost += abs(few[i].along - many[j].along) + (_OTHER_KIND if few[i].count != many[j].count else 0.0)
        options = [(cost, (j, *rest))]
        if len(many) - (j + 1) >= len(few) - i:
            options.append(best(i, j + 1))
        return min(options)

    chosen = best(0, 0)[1]
    partners = [(few[i], many[j]) for i, j in enumerate(chosen)]
    alone = tuple((1 if is_first_few else 0, stop) for j, stop in enumerate(many) if j not in chosen)
    return tuple((a, b) if is_first_few else (b, a) for a, b in partners), alone
