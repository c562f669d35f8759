"""What is to be said when a seam has been moved."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from crossgrain.kernel.curvature import node_turns
from crossgrain.kernel.length import point_at_share, segment_length
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.profile import Profile
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece, listed
from crossgrain.model.seams.pairing import pair_edges
from crossgrain.model.seams.seam import SeamSide, layers_round
from crossgrain.model.seams.side import Side
from crossgrain.tolerances import SEAM_MATCH

_ASIDE: Final = 0.05
"""From here on, mm, it is said: half the width of a fine pen's line."""


def lost_notches(old: Piece, new: Piece) -> list[Finding]:
    """Return what to say of notches that lay on a part of an edge that was cut off."""
    out = []
    for before, after in zip(old.notches, new.notches, strict=True):
        was, line = old.edge(before.edge).line, new.edge(after.edge).line
        if was == line or before.share in (0.0, 1.0) or 0.0 < after.share < 1.0:
            continue
        point = point_at_share(was, before.share)
        if nearest(line, point).distance > SEAM_MATCH:
            out.append(
                Finding(
                    piece=old.label,
                    edge=before.edge,
                    message=_("A notch lay on the part that was cut off, and stands at the new corner now."),
                    advice=_("Place it again, or take it away."),
                    position=point,
                )
            )
    return out


def steep_at_nodes(side: SeamSide, stations: Sequence[float], amounts: Sequence[float]) -> list[Finding]:
    """Return what to say where amounts change so steeply that a line which turns at its nodes is followed less closely.

    At a node where the line turns by ``α``, both parts of the moved line lean by the slope of the amounts. They part by
    about the amount times ``α``, and meet that times the slope aside of where either would go on.

    Args:
        side: the side of the seam as it was.
        stations: places along its line, mm, rising.
        amounts: how far inside it went there, mm.
    """
    line = side.line
    along = np.cumsum([segment_length(segment) for segment in line.segments])[:-1]
    if not along.size:
        return []
    found, slopes = Profile(stations, amounts)(along)
    aside = np.abs(found * slopes * node_turns(line)[1:-1])
    worst = int(np.argmax(aside))
    if aside[worst] <= _ASIDE:
        return []
    return [
        Finding(
            piece=side.piece.label,
            edge=side.edge.name,
            message=_(
                "The line turns at a node there while the amount changes by {share:.0f} mm in 100 mm; the new one may "
                "lie {aside:.2f} mm aside."
            ).format(share=abs(100.0 * float(slopes[worst])), aside=float(aside[worst])),
            advice=_("Spread the change over a longer stretch, or draw the bend with fewer, smoother nodes."),
            position=line.segments[worst].end,
        )
    ]


def uneven_sides(pattern: Pattern, sides: Sequence[SeamSide], seam: str) -> list[Finding]:
    """Return what to say where edges that are sewn together no longer are of one length."""
    ids = [side.piece.id for side in sides]
    pairs = [pair for pair in pair_edges(pattern).pairs if pair.name == seam and not pair.is_copy]
    both = [(pair.first.piece, pair.second.piece) for pair in pairs]
    both = [pair for pair in both if {pair[0].id, pair[1].id} <= set(ids)]
    if not pairs and len(ids) == 2:
        both = [(pattern.piece(ids[0]), pattern.piece(ids[1]))]
    off = [pair for pair in both if abs(Side(pair[0], seam).length - Side(pair[1], seam).length) > SEAM_MATCH]
    if not off:
        return []
    lengths = [Side(piece, seam).length for pair in off for piece in pair]
    return [
        Finding(
            piece=listed(dict.fromkeys(piece.label for pair in off for piece in pair)),
            edge=seam,
            message=_("The sides of the seam are {low:.1f} mm and {high:.1f} mm long now.").format(
                low=min(lengths), high=max(lengths)
            ),
            advice=_("True it: crossgrain true IN.svg -o OUT.svg --seam {seam}.").format(seam=seam),
            answered_by=f"true {seam}",
        )
    ]


def other_count(sides: Sequence[SeamSide], said: int) -> list[Finding]:
    """Return what to say where girth of the garment was shared among another number of seams than it has.

    Args:
        sides: the sides of the seam on all pieces of the garment.
        said: the number of seams that were counted at the fitting.
    """
    count = sum(layers_round(sides)) / 2.0
    if count == said:
        return []
    return [
        Finding(
            piece="",
            edge=sides[0].edge.name,
            message=_(
                "The record shares the garment's girth among {said} such seams, the drawing has {count:g}."
            ).format(said=said, count=count),
            advice=_("Say in the record how many there are: seams = {count:g}.").format(count=count),
            severity="caution",
        )
    ]


def left_to_follow(sides: Sequence[SeamSide], seam: str) -> list[Finding]:
    """Return what to say of pieces that follow the seam and were left."""
    return [
        Finding(
            piece=side.piece.label,
            edge=seam,
            message=_("It follows that edge, and was left as it is."),
            advice=_("Bring it up to date: crossgrain follow IN.svg -o OUT.svg."),
            answered_by="follow",
        )
        for side in sides
    ]
