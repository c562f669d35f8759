"""Check that edges go on smoothly over a seam: laid together as sewn, no peak and no dip.

Which edges go on, :mod:`crossgrain.model.seams.going_on` tells. Square to their middle are those that go on over a
fold, or over the seam of a piece with its own mirrored copy.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from crossgrain.checks.checked import Checked
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import Piece, listed
from crossgrain.model.seams.going_on import goes_on
from crossgrain.model.seams.pairing import Pairs, is_middle
from crossgrain.model.seams.side import ENDS, End, Side
from crossgrain.model.seams.walking import Walk
from crossgrain.tolerances import CORNER_TURN, SMOOTH_TURN


def check_joins(walks: Iterable[Walk], pairs: Pairs, pieces: Iterable[Piece]) -> Checked:
    """Check the angles at both ends of each seam and each fold.

    Args:
        walks: the seams, walked.
        pairs: what is sewn to what.
        pieces: all pieces, for those that are cut on a fold.

    Returns:
        A finding for each place where two angles that must add to 180° miss it by more than 0.5°. At a fold or a
        mirrored seam a corner of 25° and more is taken as meant, and said.
    """
    findings: list[Finding] = []
    unchecked: list[str] = []
    copies: dict[str, list[Side]] = {}
    for walk in walks:
        if walk.pair.is_copy:
            copies.setdefault(walk.pair.first.piece.id, []).append(walk.pair.first)
            continue
        for at in (0, 1):
            if goes_on(walk, at, pairs):
                findings += _look_at_seam(walk, at)
    for sides in copies.values():
        if not is_middle(sides[0].piece, pairs):
            unchecked.append(
                _("{piece}: which of its edges {edges} is sewn to its own mirrored copy is not told.").format(
                    piece=sides[0].piece.label, edges=listed(side.name for side in sides)
                )
            )
            continue
        for side in sides:
            for end in ENDS:
                _look_at_middle(side, end, pairs, findings, unchecked)
    for piece in pieces:
        if piece.cut.on_fold:
            for end in ENDS:
                _look_at_middle(Side(piece, piece.cut.on_fold), end, pairs, findings, unchecked)
    return Checked(findings=tuple(findings), unchecked=tuple(unchecked))


def _look_at_seam(walk: Walk, at: int) -> list[Finding]:
    one, other = walk.sides
    first, second = (ends[at] for ends in walk.ends)
    angles = one.angle(first), other.angle(second)
    off = sum(angles) - math.pi
    if abs(off) <= SMOOTH_TURN:
        return []
    edges = dict.fromkeys((one.neighbour(first), other.neighbour(second)))
    sentence = (
        _("Sewn to {other}, the {line} dips by {off:.1f}° there: {first:.1f}° and {second:.1f}° are more than 180°.")
        if off > 0.0
        else _(
            "Sewn to {other}, the {line} peaks by {off:.1f}° there: {first:.1f}° and {second:.1f}° are less than 180°."
        )
    )
    return [
        Finding(
            piece=one.piece.label,
            edge=walk.pair.name,
            message=sentence.format(
                other=other.piece.label,
                line="/".join(edges),
                off=abs(math.degrees(off)),
                first=math.degrees(angles[0]),
                second=math.degrees(angles[1]),
            ),
            advice=_(
                "Lay both pieces together as sewn and draw one smooth line; crossgrain true --seam {seam} does it."
            ).format(seam=walk.pair.name),
            position=one.corner(first),
        )
    ]


def _look_at_middle(side: Side, end: End, pairs: Pairs, findings: list[Finding], unchecked: list[str]) -> None:
    """Check that an edge is square where its piece meets its own mirror image."""
    edge = side.neighbour(end)
    if edge not in pairs.going_on:
        return
    angle = side.angle(end)
    off = 2.0 * angle - math.pi
    if abs(off) <= SMOOTH_TURN:
        return
    where = {"piece": side.piece.label, "edge": edge, "middle": side.name, "angle": math.degrees(angle)}
    if abs(off) >= CORNER_TURN:
        unchecked.append(
            _("{piece}: the {edge} makes a corner at the {middle} ({angle:.0f}°), which is taken as meant.").format(
                **where
            )
        )
        return
    findings.append(
        Finding(
            piece=side.piece.label,
            edge=side.name,
            message=_(
                "The {edge} meets the {middle} at {angle:.1f}° instead of 90°: left and right together, it dips there."
            ).format(**where)
            if off > 0.0
            else _(
                "The {edge} meets the {middle} at {angle:.1f}° instead of 90°: left and right together, it peaks there."
            ).format(**where),
            advice=_("Draw the {edge} square to the {middle} for the last centimetre.").format(**where)
            if side.name == side.piece.cut.on_fold
            else _("Draw the {edge} square to the {middle}; crossgrain true --seam {middle} does it.").format(**where),
            position=side.corner(end),
        )
    )
