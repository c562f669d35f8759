"""What a report shows of a drawing that went through its steps: girths, seams, and a picture of each piece."""

from __future__ import annotations

from typing import Any, Final

from crossgrain.model import Pattern
from crossgrain.model.seams.pairing import Pair, pair_edges
from crossgrain.operations.measuring import girths
from crossgrain.output.document import piece_figure
from crossgrain.pipeline import Passage

_STEP: Final = 100.0
"""Between the depths at which girths are told, mm."""
_MOST: Final = 12


def figures(passage: Passage) -> dict[str, Any]:
    """Return the figures of a drawing before and after, as data; lengths in mm.

    Girths are those of the pieces that go round a body in stretch cloth: what is stabilised, or traces another, lies
    over them. Depths are counted from each piece's highest point.
    """
    before, after = passage.before, passage.outcome.value
    old = {piece.id: piece for piece in before.pieces}
    return {
        "girths": _girths(before, after),
        "seams": _seams(before, after),
        "pictures": [piece_figure(old.get(piece.id, piece), piece) for piece in after.pieces],
    }


def _girths(before: Pattern, after: Pattern) -> list[dict[str, Any]]:
    worn = [
        Pattern(pieces=tuple(piece for piece in pattern.pieces if not (piece.cut.stabilised or piece.traces)))
        for pattern in (before, after)
    ]
    depths = [_STEP * number for number in range(1, _MOST + 1)]
    was, is_now = ({one.depth: one.girth for one in girths(pattern, depths)} for pattern in worn)
    return [{"depth": depth, "before": was.get(depth), "after": girth} for depth, girth in is_now.items()]


def _seams(before: Pattern, after: Pattern) -> list[dict[str, Any]]:
    old = {_key(pair): _gap(pair) for pair in pair_edges(before).pairs}
    return [
        {
            "seam": pair.name,
            "sides": [{"piece": side.piece.label, "length": side.length} for side in (pair.first, pair.second)],
            "before": old.get(_key(pair)),
            "after": _gap(pair),
        }
        for pair in pair_edges(after).pairs
        if not pair.is_copy
    ]


def _key(pair: Pair) -> tuple[str, str, str]:
    return pair.name, pair.first.piece.id, pair.second.piece.id


def _gap(pair: Pair) -> float:
    return abs(pair.first.length - pair.second.length)
