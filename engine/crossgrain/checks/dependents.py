"""Check that pieces which follow others still match them: a waistband the waist edges it is sewn to."""

from __future__ import annotations

import math

from crossgrain.checks.checked import Checked, together
from crossgrain.errors import CrossgrainError
from crossgrain.kernel.length import path_length, point_at_share
from crossgrain.language import _
from crossgrain.model.follows import Follows, joints, lengths_followed
from crossgrain.model.outcome import Finding
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece, listed
from crossgrain.tolerances import SEAM_MATCH


def check_dependents(pattern: Pattern) -> Checked:
    """Compare edges that follow others with what they follow, dart intakes out.

    Args:
        pattern: the pieces; those that are followed too.

    Returns:
        A finding for each edge that differs by more than 0.5 mm from what it is sewn to, with both figures: a
        stabilised piece is never stretched to fit. Where the whole agrees, one for each place where two stretches met
        it and meet it elsewhere now. Stabilised pieces of which the drawing does not say what they follow are said.
    """
    followed = [(piece, follows) for piece in pattern.pieces for follows in piece.follows]
    silent = listed(piece.label for piece in pattern.pieces if piece.cut.stabilised and not piece.follows)
    sentence = _("Whether stabilised pieces match what they are sewn to, which the drawing does not say: {pieces}.")
    return together(
        [
            *(_followed(pattern, piece, follows) for piece, follows in followed),
            Checked(unchecked=(sentence.format(pieces=silent),) if silent else ()),
        ]
    )


def _followed(pattern: Pattern, piece: Piece, follows: Follows) -> Checked:
    try:
        now = lengths_followed(pattern, follows)
    except CrossgrainError as error:
        sentence = _("Whether the {edge} of {piece} matches what it follows: {reason}")
        return Checked(unchecked=(sentence.format(edge=follows.edge, piece=piece.label, reason=error),))
    own, sewn = path_length(piece.edge(follows.edge).line), math.fsum(now)
    if abs(own - sewn) > SEAM_MATCH:
        return Checked(findings=(_whole(piece, follows, now, own),))
    return Checked(findings=tuple(_moved(piece, follows, now, own)))


def _whole(piece: Piece, follows: Follows, now: tuple[float, ...], own: float) -> Finding:
    parts = " + ".join(f"{term.piece} {length:.1f}".strip() for term, length in zip(follows.terms, now, strict=True))
    message = _("It is {own:.1f} mm long, and what it is sewn to comes to {sewn:.1f} mm: {parts}.").format(
        own=own, sewn=math.fsum(now), parts=parts
    )
    if piece.cut.stabilised:
        message += " " + _("It is stabilised, and is not to be stretched to fit.")
    return Finding(
        piece=piece.label,
        edge=follows.edge,
        message=message,
        advice=_UP_TO_DATE,
        position=point_at_share(piece.edge(follows.edge).line, 0.5),
    )


def _moved(piece: Piece, follows: Follows, now: tuple[float, ...], own: float) -> list[Finding]:
    if len(follows.was) != len(now):
        return []
    return [
        Finding(
            piece=piece.label,
            edge=follows.edge,
            message=_("The seam that met it {was:.1f} mm from its start meets it at {now:.1f} mm now.").format(
                was=old, now=new
            ),
            advice=_UP_TO_DATE,
            position=point_at_share(piece.edge(follows.edge).line, min(new / own, 1.0)),
        )
        for old, new in list(zip(joints(follows.was), joints(now), strict=True))[1:-1]
        if abs(new - old) > SEAM_MATCH
    ]


_UP_TO_DATE = _("Bring it up to date: crossgrain follow IN.svg -o OUT.svg.")
