"""Angles at corners that a piece does not keep on the way to another size."""

from __future__ import annotations

import math

from crossgrain.kernel.segment import Line
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import Piece
from crossgrain.model.seams.side import corner_angles
from crossgrain.tolerances import SMOOTH_TURN


def changed_angles(old: Piece, new: Piece) -> tuple[Finding, ...]:
    """Say where two edges stood square to each other and no longer do, and where a curve could not keep its angle.

    A curve that meets another line keeps its angle with it, unless it must pass through several points. Two straight
    lines cannot, where the far end of one of them moves aside: at a fold or a seam with its mirrored copy the edge then
    peaks or dips, at a hem it dips over the seam.

    Args:
        old: the piece, its edges all named.
        new: the same piece in another size.

    Returns:
        A finding for each corner that was right within 0.5° and is no more, and for each at a curve that has changed.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge
    >>> def block(*corners):
    ...     named = zip(("waist", "side", "hem", "centre"), Path.polygon(list(corners)).segments)
    ...     return Piece(id="p", edges=tuple(Edge(name=name, line=Path((line,))) for name, line in named))
    >>> [one.message for one in changed_angles(
    ...     block((0, 0), (9, 0), (9, 30), (0, 30)), block((0, 0), (9, 0), (9, 31), (0, 30))
    ... )]
    ['The right angle at side/hem is lost.', 'The right angle at hem/centre is lost.']
    """
    right = math.pi / 2.0
    names = old.edge_names
    out = []
    for number, (before, now) in enumerate(zip(corner_angles(old), corner_angles(new), strict=True)):
        ends = old.edges[number - 1].line.segments[-1], old.edges[number].line.segments[0]
        curved = any(not isinstance(segment, Line) for segment in ends)
        said = advice = ""
        if abs(before - right) <= SMOOTH_TURN < abs(now - right):
            said = _("The right angle at {corner} is lost.")
            advice = _("Move both ends of one of its edges alike, or draw it with a curve, which keeps the angle.")
        elif curved and abs(now - before) > SMOOTH_TURN:
            said = _("The angle at {corner} has changed.")
        if curved:
            advice = _("A curve is led through several points there: put a node at each, and the angle stays.")
        if said:
            out.append(
                Finding(
                    piece=new.label,
                    message=said.format(corner="/".join((names[number - 1], names[number]))),
                    advice=advice,
                    position=new.edges[number].line.start,
                )
            )
    return tuple(out)
