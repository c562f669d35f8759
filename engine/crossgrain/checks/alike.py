"""One seam that is on the left and on the right alike is looked at once, under both names."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from crossgrain.checks.eased import SeamEase, eased
from crossgrain.model.piece import Piece, listed
from crossgrain.model.seams.pairing import hand
from crossgrain.model.seams.side import Side
from crossgrain.model.seams.walking import Stop, Walk

_SAME: Final = 0.05
"""Lengths, mm, and angles, degrees, that print alike to one decimal."""


def with_alike_once(walks: Iterable[Walk], eases: Sequence[SeamEase] = ()) -> tuple[Walk, ...]:
    """Leave one walk of those whose every figure is that of another on the other side of the body.

    Args:
        walks: the seams, walked.
        eases: what ease is meant; sides of different ease are not alike.

    Returns:
        The walks; one that stands for two has pieces that are called by both names.
    """
    kept: list[Walk] = []
    for one in walks:
        number = next((k for k, other in enumerate(kept) if _are_alike(other, one, eases)), None)
        if number is None:
            kept.append(one)
        else:
            kept[number] = _both(kept[number], one)
    return tuple(kept)


def _are_alike(one: Walk, other: Walk, eases: Sequence[SeamEase]) -> bool:
    if one.pair.name != other.pair.name or one.pair.is_twin or one.pair.is_copy:
        return False
    if not all(_are_twins(mine.piece, theirs.piece) for mine, theirs in zip(one.sides, other.sides, strict=True)):
        return False
    if eased(one, eases) != eased(other, eases) or len(_figures(one)) != len(_figures(other)):
        return False
    return all(
        mine == theirs if isinstance(mine, str) or isinstance(theirs, str) else abs(mine - theirs) <= _SAME
        for mine, theirs in zip(_figures(one), _figures(other), strict=True)
    )


def _are_twins(one: Piece, other: Piece) -> bool:
    """Tell whether two pieces are one, or lie the other way round to each other."""
    return one.id == other.id or hand(one, other) == -1


def _figures(walk: Walk) -> list[float | str]:
    """Return all that findings on a seam tell of it."""
    out: list[float | str] = [*walk.lengths]
    for first, second in walk.partners:
        out += [*_stop(first), *_stop(second)]
    for which, stop in walk.alone:
        out += [float(which), *_stop(stop)]
    for side, ends in zip(walk.sides, walk.ends, strict=True):
        for end in ends:
            out += [side.neighbour(end), math.degrees(side.angle(end))]
    return out


def _stop(stop: Stop) -> tuple[float, float]:
    return stop.along, float(stop.count)


def _both(one: Walk, other: Walk) -> Walk:
    first, second = (_named(mine, theirs) for mine, theirs in zip(one.sides, other.sides, strict=True))
    return replace(one, pair=replace(one.pair, first=first, second=second))


def _named(mine: Side, theirs: Side) -> Side:
    if mine.piece.id == theirs.piece.id:
        return mine
    return replace(mine, piece=replace(mine.piece, name=listed((mine.piece.label, theirs.piece.label))))
