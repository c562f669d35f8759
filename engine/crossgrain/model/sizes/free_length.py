"""How far along an outline a place lies, what no size changes not counted: dart mouths, and the ends of held strips."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.length import Place, path_length, segment_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import section
from crossgrain.model.marking.marks import Hold
from crossgrain.model.piece import Piece
from crossgrain.tolerances import COINCIDENT, SEAM_MATCH

Stretch = tuple[float, float]

_MOST_SLANT = 2.0
"""What closes a strip is at most so many times as long as the strip is wide; else it runs along it."""


class FreeLength:
    """Lengths along the outline of a piece.

    Args:
        piece: the piece.
    """

    def __init__(self, piece: Piece) -> None:
        lengths = [path_length(edge.line) for edge in piece.edges]
        self.starts: tuple[float, ...] = tuple(accumulate(lengths, initial=0.0))
        self._kept = _united(_stretches(piece, self.starts), self.starts[-1])

    @property
    def total(self) -> float:
        """The whole outline, without what is kept, mm."""
        return self.starts[-1] - self.kept_before(self.starts[-1])

    def kept_before(self, along: float) -> float:
        """Return how much of the outline from its start to a place is kept as it is, mm."""
        return sum(min(max(along, start), end) - start for start, end in self._kept)


def lengths_to(line: Path, places: Sequence[Place]) -> list[float]:
    """Return how far along a line places lie from its start, mm."""
    each = [segment_length(segment) for segment in line.segments]
    ends = [0.0, *accumulate(each)]
    return [
        ends[place.index] + (segment_length(section(line.segments[place.index], 0.0, place.t)) if place.t else 0.0)
        for place in places
    ]


def _stretches(piece: Piece, starts: Sequence[float]) -> list[Stretch]:
    names = piece.edge_names
    out = []
    for dart in piece.darts:
        at = names.index(dart.edge)
        middle = dart.share * (starts[at + 1] - starts[at])
        nodes = [0.0, *accumulate(segment_length(segment) for segment in piece.edges[at].line.segments)]
        ends = [
            min(nodes, key=lambda node: abs(node - end)) for end in (middle - dart.width / 2, middle + dart.width / 2)
        ]
        # Where no nodes stand at its mouth, nothing on the outline shows it, and nothing needs to be kept.
        if abs(ends[1] - ends[0] - dart.width) <= SEAM_MATCH and abs(sum(ends) / 2.0 - middle) <= SEAM_MATCH:
            out.append((starts[at] + ends[0], starts[at] + ends[1]))
    for hold in piece.holds:
        at = names.index(hold.edge)
        if hold.end == 1.0:
            after = (at + 1) % len(names)
            reach = _across(piece, after, hold, from_end=False)
            out.append((starts[after], starts[after] + reach))
        if hold.start == 0.0:
            before = (at - 1) % len(names)
            reach = _across(piece, before, hold, from_end=True)
            out.append((starts[before + 1] - reach, starts[before + 1]))
    return [stretch for stretch in out if stretch[1] > stretch[0]]


def _across(piece: Piece, number: int, hold: Hold, *, from_end: bool) -> float:
    """Return how much of an edge closes the end of a held strip, from its corner to the node at its other side, mm.

    Where no node stands there, nothing on the outline shows the strip, and nothing needs to be kept.
    """
    gx, gy = piece.grain
    line = piece.edges[number].line.mapped(Affine(gy, gx, -gx, gy))
    line = line.reversed() if from_end else line
    reach = 0.0
    for segment in line.segments:
        reach += segment_length(segment)
        across = abs(segment.end[0] - line.start[0])
        if abs(across - hold.width) <= SEAM_MATCH and reach <= _MOST_SLANT * hold.width:
            return reach
    return 0.0


def _united(stretches: Sequence[Stretch], total: float) -> tuple[Stretch, ...]:
    out: list[Stretch] = []
    for start, end in sorted(stretches):
        start, end = max(start, 0.0), min(end, total)
        if out and start <= out[-1][1] + COINCIDENT:
            out[-1] = (out[-1][0], max(out[-1][1], end))
        elif end > start:
            out.append((start, end))
    return tuple(out)
