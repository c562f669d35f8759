"""How much longer one side of a seam is meant to be."""

from __future__ import annotations

from collections.abc import Iterable

from crossgrain.model.piece import is_called
from crossgrain.model.seams.ease import Ease
from crossgrain.model.seams.walking import Walk
from crossgrain.tolerances import SEAM_MATCH

SeamEase = tuple[str, Ease]
"""The name of a seam, and ease that is meant on it."""


def eased(walk: Walk, eases: Iterable[SeamEase]) -> float:
    """Return by how much the second side of a seam is meant to be longer than the first, mm.

    Args:
        walk: the seam, walked.
        eases: what ease is meant, on any seam; a side is found by a word of its piece's name.
    """
    out = 0.0
    for seam, ease in eases:
        if seam == walk.pair.name:
            first, second = (is_called(side.piece, ease.piece) for side in walk.sides)
            out += ease.amount * (second - first)
    return out


def is_more_than(gap: float, ease: float) -> bool:
    """Tell whether a part of a seam differs by more than ease explains: 0.5 mm beyond all of it, or the other way.

    Args:
        gap: by how much the second side is longer there, mm.
        ease: by how much it is meant to be on the whole seam, mm.

    >>> is_more_than(2.0, 4.0), is_more_than(-1.0, 4.0)
    (False, True)
    """
    return not min(0.0, ease) - SEAM_MATCH <= gap <= max(0.0, ease) + SEAM_MATCH
