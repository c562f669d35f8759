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
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import Final

import numpy as np

from crossgrain.errors import GeometryError
from crossgrain.kernel.area import winding
from crossgrain.kernel.corners import corners
from crossgrain.kernel.found_again.alignment import align
from crossgrain.kernel.found_again.reading import Reading
from crossgrain.kernel.found_again.remembering import Remembered
from crossgrain.kernel.length import Place, place_at, point_at, run, segment_length
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.tolerances import CORNER_TURN, UNEDITED_CORNER, UNMOVED_CORNER, WEAK_CORNER_TURN

_CERTAIN: Final = 0.5
"""A reading this cheap is right, and needs no second look. Scaling and ordinary moves of nodes stay below."""

_MOST_PER_CORNER: Final = 1.0
"""A reading that costs more than this for each corner is of another outline. Of 150 outlines
with two corners dragged by up to 50 mm each the dearest cost 0.85."""

_LENS: Final = 2
"""So many corners are as well read from either of them."""

_TIE: Final = 0.02
"""Readings whose costs differ by less than this, and a quarter of the cheaper cost, are alike by lengths and turns."""


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
        GeometryError: a corner is no longer there; the message names the two edges that met at it, and where it was
            expected. Or the outline is another one altogether.

    >>> from crossgrain.kernel.affine import Affine
    >>> from crossgrain.kernel.found_again.remembering import remember
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 80)])
    >>> known = remember(square, [Place(number, 0.0) for number in range(4)])
    >>> found = find(square.mapped(Affine.scaling(-1.0, 1.0)).reversed(), known)
    >>> found.reversed, found.runs()[1].start
    (True, (-100.0, 0.0))
    """
    drawn = line.reversed() if remembered.against else line
    unedited = _unedited(drawn, remembered)
    if unedited is not None:
        return Found(line=drawn, places=unedited.places(remembered), reversed=remembered.against)
    readings = _readings(drawn, remembered, CORNER_TURN)
    chosen = _choose(readings, remembered)
    if chosen.cost > _CERTAIN:
        # Moving its nodes may have flattened a corner to less than what counts as one: look among weaker ones too. And
        # uneven scaling alters lengths and turns at will, but carries all corners by one map.
        readings += _readings(drawn, remembered, WEAK_CORNER_TURN)
        chosen = _choose([reading.weighed(remembered) for reading in readings], remembered)
    if chosen.missing:
        raise _not_found(chosen, remembered, names)
    if chosen.cost > _MOST_PER_CORNER * len(remembered.shares):
        raise GeometryError(
            _("The corners of the outline are too different from those that were marked to be told apart."),
            position=chosen.line.start,
            advice=_("Mark the edges of the piece again."),
        )
    return Found(line=chosen.line, places=chosen.places(remembered), reversed=chosen.reversed != remembered.against)


def _unedited(line: Path, remembered: Remembered) -> Reading | None:
    """Return the reading of a line that nobody has edited: every corner is where it was, by place and by length.

    Nothing has to be searched for then, which is most of the work of reading a piece. Whatever was done to the line in
    the editor moves a corner against the others, or alters a length; but the whole piece may have been moved and
    turned.
    """
    if not remembered.places:
        return None
    lengths = tuple(segment_length(segment) for segment in line.segments)
    starts = [0.0, *accumulate(lengths)]
    total = starts.pop()
    true = set(remembered.true_corners)
    nodes, stand = {}, []
    for number, share in enumerate(remembered.shares):
        along = share * total
        near = min(range(len(starts)), key=lambda node: abs(starts[node] - along))
        if number in true:
            if abs(starts[near] - along) > UNEDITED_CORNER:
                return None
            nodes[number] = near
        stand.append(complex(*(line.nodes[near] if number in true else point_at(line, place_at(line, along)))))
    stood = [complex(*place) for place in remembered.places]
    if _off(stand, stood) > UNEDITED_CORNER and (
        # A line that is round, or a lens, looks the same from more than one start: its places alone tell them apart.
        len(true) <= _LENS or _off(stand, _moved_onto(stood, stand)) > UNEDITED_CORNER
    ):
        return None
    return Reading(line=line, lengths=lengths, reversed=False, nodes=nodes, missing=(), cost=0.0)


def _off(some: Sequence[complex], others: Sequence[complex]) -> float:
    return max(abs(one - other) for one, other in zip(some, others, strict=True))


def _moved_onto(places: Sequence[complex], onto: Sequence[complex]) -> list[complex]:
    """Move and turn places as a whole, without mirroring, so that they lie best on others."""
    centre, middle = sum(places) / len(places), sum(onto) / len(onto)
    turn = sum((z - middle) * (w - centre).conjugate() for w, z in zip(places, onto, strict=True))
    turn = turn / abs(turn) if turn else 1.0
    return [middle + turn * (place - centre) for place in places]


def _readings(line: Path, remembered: Remembered, least_turn: float) -> list[Reading]:
    """Read the line in both directions, once for every corner that the first remembered one may be."""
    out: list[Reading] = []
    for backwards, way in ((False, line), (True, line.reversed())):
        pieces = tuple(segment_length(segment) for segment in way.segments)
        total = math.fsum(pieces)
        sign = 1.0 if winding(way) >= 0.0 else -1.0
        true = list(remembered.true_corners)
        if true:
            found = corners(way, least_turn)
            alignments = align(
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
                Reading(
                    line=way,
                    lengths=pieces,
                    reversed=backwards,
                    nodes={number: nodes[one] for number, one in pairs if one is not None},
                    missing=tuple(number for number, one in pairs if one is None and cost > 0.0),
                    cost=cost,
                )
            )
    return out


def _choose(readings: Sequence[Reading], remembered: Remembered) -> Reading:
    """Take the cheapest reading; of those that are alike, the likeliest from the line's start and the old places."""
    cheapest = min(reading.cost for reading in readings)
    alike = [reading for reading in readings if reading.cost <= cheapest + _TIE + 0.25 * cheapest]
    if len(alike) == 1:
        return alike[0]
    shares = remembered.shares
    near = 0.5 * min((q - p) % 1.0 or 1.0 for p, q in zip(shares, shares[1:] + shares[:1], strict=True))

    def likelihood(reading: Reading) -> tuple[int, float, float]:
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


def _not_found(reading: Reading, remembered: Remembered, names: Sequence[str]) -> GeometryError:
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
