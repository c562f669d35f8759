"""Pieces that have come to lie over each other on the page."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from crossgrain.errors import GeometryError
from crossgrain.kernel.bounds import Box, bounds
from crossgrain.kernel.meetings.crossing import path_crossings
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import Piece


def lying_over(before: Sequence[Piece], after: Sequence[Piece]) -> tuple[Finding, ...]:
    """Return what to say of pieces whose outlines cross now and did not before.

    Args:
        before: the pieces as they were.
        after: the same pieces as they are, in the same order.

    >>> lying_over((), ())
    ()
    """
    boxes = [bounds(piece.line) for piece in after]
    out = []
    for one, other in combinations(range(len(after)), 2):
        if after[one] is before[one] and after[other] is before[other]:
            continue
        if _apart(boxes[one], boxes[other]) or not _cross(after[one], after[other]):
            continue
        if not _cross(before[one], before[other]):
            out.append(
                Finding(
                    piece=after[one].label,
                    message=_("It lies over {other} now.").format(other=after[other].label),
                    advice=_("Move one of them aside in the editor."),
                )
            )
    return tuple(out)


def _cross(one: Piece, other: Piece) -> bool:
    try:
        return bool(path_crossings(one.line, other.line))
    except GeometryError:
        return False  # a spike has no single answer, and is said elsewhere


def _apart(one: Box, other: Box) -> bool:
    return one.right < other.left or other.right < one.left or one.bottom < other.top or other.bottom < one.top
