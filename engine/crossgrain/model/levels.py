"""Levels by name, placed on a pattern."""

from __future__ import annotations

from collections.abc import Iterable

from crossgrain.model.girths import waist_depth
from crossgrain.model.pattern import Pattern


def depths_of_levels(pattern: Pattern, levels: Iterable[tuple[str, float]]) -> dict[str, float]:
    """Return how far levels lie below the waist at the side seam, mm.

    Args:
        pattern: the pattern; its stabilised pieces do not count.
        levels: names of levels with their depths below the waist of the body, mm.

    >>> depths_of_levels(Pattern(), [("hip", 200.0)])
    {'hip': 200.0}
    """
    given = dict(levels)
    top = waist_depth([piece for piece in pattern.pieces if not piece.cut.stabilised]) if given else 0.0
    return {name: top + depth for name, depth in given.items()}
