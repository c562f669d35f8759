"""Notches of a seam that lay on one another before its pieces were drawn anew, and are to do so still."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from crossgrain.model.marking.marks import Notch
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece
from crossgrain.model.seams.pairing import pair_edges
from crossgrain.model.seams.side import Side
from crossgrain.model.seams.walking import walk
from crossgrain.tolerances import COINCIDENT, SEAM_MATCH

Place = tuple[str, str, float]
"""A notch of the base: the id of its piece, its edge, its share of it."""


def with_matched_notches(before: Pattern, after: Pattern, told: Collection[Place]) -> Pattern:
    """Lay notches on one another again.

    Args:
        before: the pieces as they were.
        after: the same pieces with as many notches in the same order.
        told: notches that lie where they are told to, which do not give.

    Returns:
        The pieces, notches of the second side of a seam as far from its end as those of the first, where they were
        before. Seams whose sides no longer agree within 0.5 mm are left as they are.

    >>> with_matched_notches(Pattern(), Pattern(), ())
    Pattern(pieces=())
    """
    now = {piece.id: piece for piece in after.pieces}
    settled: set[Place] = set(told)
    for pair in pair_edges(before).pairs:
        if pair.is_copy:
            continue
        walked = walk(pair)
        sides = [Side(now[side.piece.id], pair.name) for side in walked.sides]
        if abs(sides[0].length - sides[1].length) > SEAM_MATCH:
            continue
        for stops in walked.partners:
            if abs(stops[0].along - stops[1].along) > SEAM_MATCH:
                continue
            places = [(side.piece.id, pair.name, stop.share) for side, stop in zip(walked.sides, stops, strict=True)]
            # What is told leads; else what another seam has settled; else the first side.
            lead = 1 if places[1] in settled and places[0] not in settled else 0
            if places[1 - lead] not in settled:
                along = _along(now[places[lead][0]], before.piece(places[lead][0]), places[lead], walked.ends[lead][0])
                along += stops[1 - lead].along - stops[lead].along
                id = places[1 - lead][0]
                now[id] = _moved(now[id], before.piece(id), places[1 - lead], along, walked.ends[1 - lead][0])
            settled.update(places)
    return after.with_pieces(list(now.values()))


def _along(piece: Piece, base: Piece, place: Place, start: str) -> float:
    """Return how far from the seam's first end a notch of the base lies now, mm."""
    share = piece.notches[_number(base, place)].share
    return (share if start == "start" else 1.0 - share) * Side(piece, place[1]).length


def _moved(piece: Piece, base: Piece, place: Place, along: float, start: str) -> Piece:
    number = _number(base, place)
    share = min(max(along / Side(piece, place[1]).length, 0.0), 1.0)
    share = share if start == "start" else 1.0 - share
    notches: list[Notch] = list(piece.notches)
    if abs(notches[number].share - share) * Side(piece, place[1]).length <= COINCIDENT:
        return piece
    notches[number] = replace(notches[number], share=share)
    return replace(piece, notches=tuple(notches))


def _number(base: Piece, place: Place) -> int:
    return next(k for k, notch in enumerate(base.notches) if (notch.edge, notch.share) == place[1:])
