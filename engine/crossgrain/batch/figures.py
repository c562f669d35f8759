"""What a report shows of a drawing that went through its steps: girths, seams, and a picture of each piece."""

from __future__ import annotations

from typing import Any, Final

from crossgrain.model import Pattern
from crossgrain.operations.measuring import Measurements, measure
from crossgrain.output.piece_drawing import draw_piece
from crossgrain.pipeline import Passage

_STEP: Final = 100.0
"""Between the depths at which girths are told, mm."""
_MOST: Final = 12


def figures(passage: Passage) -> dict[str, Any]:
    """Return the figures of a drawing before and after, as data; lengths in mm."""
    before, after = passage.before, passage.outcome.value
    was, is_now = (measure(pattern, _depths(pattern)) for pattern in (before, after))
    old = {piece.id: piece for piece in before.pieces}
    return {
        "girths": _girths(was, is_now),
        "seams": _seams(was, is_now),
        "pictures": [
            {"piece": piece.label, "svg": draw_piece(old.get(piece.id, piece), piece)} for piece in after.pieces
        ],
    }


def _depths(pattern: Pattern) -> list[float]:
    """Return the depths at which girths are told: in even steps down to the end of the longest piece."""
    longest = max((piece.along for piece in measure(pattern).pieces), default=0.0)
    return [_STEP * number for number in range(1, min(int(longest / _STEP), _MOST) + 1)]


def _girths(was: Measurements, is_now: Measurements) -> list[dict[str, Any]]:
    old = {round(girth.depth): girth.girth for girth in was.girths}
    return [
        {"depth": girth.depth, "before": old.get(round(girth.depth)), "after": girth.girth} for girth in is_now.girths
    ]


def _seams(was: Measurements, is_now: Measurements) -> list[dict[str, Any]]:
    old = {seam.name: seam.difference for seam in was.seams}
    return [
        {
            "seam": seam.name,
            "sides": [{"piece": label, "length": length} for label, length in seam.sides],
            "before": old.get(seam.name),
            "after": seam.difference,
        }
        for seam in is_now.seams
    ]
