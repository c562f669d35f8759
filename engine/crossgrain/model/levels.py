"""Levels by name, placed on a pattern."""

from __future__ import annotations

from collections.abc import Iterable

from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.length import distance_of, path_length, point_at_share
from crossgrain.kernel.meetings.crossing import path_crossings
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model.girths import SIDE, depth_frame, waist_depth
from crossgrain.model.pattern import Pattern
from crossgrain.tolerances import COINCIDENT


def depths_of_levels(pattern: Pattern, levels: Iterable[tuple[str, float]]) -> dict[str, float]:
    """Return how far levels lie below the waist at the side seam, mm.

    Args:
        pattern: the pattern; its stabilised pieces and facings that trace do not count.
        levels: names of levels with their depths below the waist of the body, mm.

    >>> depths_of_levels(Pattern(), [("hip", 200.0)])
    {'hip': 200.0}
    """
    given = dict(levels)
    top = waist_depth([piece for piece in pattern.pieces if piece.goes_round]) if given else 0.0
    return {name: top + depth for name, depth in given.items()}


def depths_on_pieces(pattern: Pattern, depth: float) -> dict[str, float]:
    """Return how deep one level lies on each piece that crosses it, mm below the upper end of its side seam.

    Front and back are sewn together along the side, so the level is where they meet there: what is so far down the side
    of the first piece that crosses it is the level of the others. A piece without a side crosses it at its own depth.

    Args:
        pattern: the pattern; its stabilised pieces and facings that trace do not count.
        depth: on the first piece, mm.

    Returns:
        The depths by the ids of the pieces.
    """
    found: dict[str, float] = {}
    share: float | None = None
    for piece in pattern.pieces:
        box = bounds(piece.line.mapped(depth_frame(piece)))
        if not piece.goes_round or not box.top + COINCIDENT < depth < box.bottom - COINCIDENT:
            continue
        found[piece.id] = depth
        if SIDE not in piece.edge_names:
            continue
        side = piece.edge(SIDE).line.mapped(depth_frame(piece))
        side = side if side.start[1] < side.end[1] else side.reversed()
        if share is None:
            crossings = path_crossings(side, Path((Line((-_FAR, depth), (_FAR, depth)),)))
            if len(crossings) == 1:
                share = distance_of(side, crossings[0].a) / path_length(side)
        else:
            found[piece.id] = point_at_share(side, share)[1]
    return found


_FAR = 1e5
"""Half the length of the line drawn across a piece at a level, mm: farther than any piece reaches."""
