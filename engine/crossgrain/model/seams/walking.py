"""Walk the two sides of a seam from their common end, notch by notch."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import point_at_share
from crossgrain.model.marking.marks import Notch
from crossgrain.model.pattern import Pattern
from crossgrain.model.seams.pairing import Pair
from crossgrain.model.seams.seam import sides_of
from crossgrain.model.seams.side import ENDS, End, Side

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


def walk(pair: Pair) -> Walk:
    """Walk a seam from its upper end, or from the end where both sides meet edges of one name."""
    pieces = (pair.first.piece,) if pair.is_copy else (pair.first.piece, pair.second.piece)
    found = sides_of(Pattern(pieces=pieces), pair.name)
    turned = (found[0].is_turned, found[-1].is_turned)
    first, second = ((ENDS[1], ENDS[0]) if is_turned else ENDS for is_turned in turned)
    partners, alone = _partners(_stops(pair.first, first[0]), _stops(pair.second, second[0]))
    return Walk(
        pair=pair,
        ends=(first, second),
        lengths=(pair.first.length, pair.second.length),
        partners=partners,
        alone=alone,
    )


def _stops(side: Side, start: End) -> tuple[Stop, ...]:
    length = side.length

    def stop(notch: Notch) -> Stop:
        return Stop((notch.share if start == "start" else 1.0 - notch.share) * length, notch.share, notch.count)

    found = (stop(notch) for notch in side.piece.notches if notch.edge == side.name)
    return tuple(sorted(found, key=lambda one: one.along))


def _partners(
    first: tuple[Stop, ...], second: tuple[Stop, ...]
) -> tuple[tuple[tuple[Stop, Stop], ...], tuple[tuple[int, Stop], ...]]:
    """Give each notch of the side that has fewer a partner, in order, so that the distances between them are least."""
    few, many = sorted((first, second), key=len)
    is_first_few = few is first

    spare = len(many) - len(few)
    # For so many of the many passed over: what the partners cost so far, and who they are.
    best: list[tuple[float, tuple[int, ...]]] = [(0.0, ())] * (spare + 1)
    for i, stop in enumerate(few):
        found: list[tuple[float, tuple[int, ...]]] = []
        for passed in range(spare + 1):
            cost, before = best[passed]
            other = many[i + passed]
            cost += abs(stop.along - other.along) + (_OTHER_KIND if stop.count != other.count else 0.0)
            found.append(min([(cost, (*before, i + passed)), *found[-1:]]))
        best = found
    chosen = best[-1][1]
    partners = [(few[i], many[j]) for i, j in enumerate(chosen)]
    alone = tuple((1 if is_first_few else 0, stop) for j, stop in enumerate(many) if j not in chosen)
    return tuple((a, b) if is_first_few else (b, a) for a, b in partners), alone
