"""Check that what depends on others still matches it: a waistband the waist, a facing the edge it faces, a zip."""

from __future__ import annotations

import math

from crossgrain.checks.checked import Checked, together
from crossgrain.errors import CrossgrainError
from crossgrain.kernel.length import path_length, point_at_share
from crossgrain.language import _
from crossgrain.model.dependents.follows import Follows, joints, lengths_followed
from crossgrain.model.dependents.openings import opening_length, zip_to_buy
from crossgrain.model.dependents.traced_edges import TracedEdge, traced_edges
from crossgrain.model.dependents.zips import Zip
from crossgrain.model.outcome import Finding
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece, listed
from crossgrain.tolerances import SEAM_MATCH


def check_dependents(pattern: Pattern) -> Checked:
    """Compare edges that follow others with what they follow, dart intakes out, and those that trace with the line.

    Args:
        pattern: the pieces; those that are followed too.

    Returns:
        A finding for each edge that differs by more than 0.5 mm from what it is sewn to, with both figures: a
        stabilised piece is never stretched to fit. Where the whole agrees, one for each place where two stretches met
        it and meet it elsewhere now. One for each edge that lies off the line it traces by more than 0.5 mm, and for
        each zip whose opening has changed by as much. Stabilised pieces of which the drawing does not say what they
        follow are said.
    """
    followed = [(piece, follows) for piece in pattern.pieces for follows in piece.follows]
    silent = listed(
        piece.label for piece in pattern.pieces if piece.cut.stabilised and not (piece.follows or piece.traces)
    )
    sentence = _("Whether stabilised pieces match what they are sewn to, which the drawing does not say: {pieces}.")
    return together(
        [
            *(_followed(pattern, piece, follows) for piece, follows in followed),
            *(_traced(pattern, piece) for piece in pattern.pieces if piece.traces),
            *(_zipped(piece, one) for piece in pattern.pieces for one in piece.zips),
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
    message += _not_stretched(piece)
    return Finding(
        piece=piece.label,
        edge=follows.edge,
        message=message,
        advice=_UP_TO_DATE,
        position=point_at_share(piece.edge(follows.edge).line, 0.5),
    )


def _not_stretched(piece: Piece) -> str:
    """Say of a stabilised piece that cloth is not to be stretched to it."""
    return " " + _("It is stabilised, and is not to be stretched to fit.") if piece.cut.stabilised else ""


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


def _traced(pattern: Pattern, piece: Piece) -> Checked:
    try:
        traced = traced_edges(pattern, piece)
    except CrossgrainError as error:
        sentence = _("Whether {piece} matches what it traces: {reason}")
        return Checked(unchecked=(sentence.format(piece=piece.label, reason=error),))
    off = [one for one in traced if one.off > SEAM_MATCH]
    # Laid as near to all edges as can be, one that has another length puts the others off too: it is the one to name.
    longer = [one for one in off if abs(path_length(one.line) - _own_length(piece, one)) > SEAM_MATCH]
    named = longer or [max(off, key=lambda one: one.off)] if off else []
    return Checked(findings=tuple(_off_line(piece, one) for one in named))


def _own_length(piece: Piece, one: TracedEdge) -> float:
    return path_length(piece.edge(one.traces.edge).line)


def _off_line(piece: Piece, one: TracedEdge) -> Finding:
    line = piece.edge(one.traces.edge).line
    message = _(
        "It is {own:.1f} mm long, and the part of {edge} of {other} that it traces {traced:.1f} mm; laid on one "
        "another they part by up to {off:.1f} mm."
    ).format(
        own=_own_length(piece, one),
        edge=one.traces.traced,
        other=one.traces.piece,
        traced=path_length(one.line),
        off=one.off,
    )
    message += _not_stretched(piece)
    return Finding(
        piece=piece.label,
        edge=one.traces.edge,
        message=message,
        advice=_UP_TO_DATE,
        position=point_at_share(line, 0.5),
    )


def _zipped(piece: Piece, one: Zip) -> Checked:
    now = opening_length(piece, one.edge)
    if one.was is None or abs(now - one.was) <= SEAM_MATCH:
        return Checked()
    message = _("The opening that the zip closes was {was:.1f} mm long, and is {now:.1f} mm now: it wants {zip}.")
    return Checked(
        findings=(
            Finding(
                piece=piece.label,
                edge=one.edge,
                message=message.format(was=one.was, now=now, zip=zip_to_buy(now)),
                advice=_UP_TO_DATE,
                position=point_at_share(piece.edge(one.edge).line, 0.5),
            ),
        )
    )


_UP_TO_DATE = _("Bring it up to date: crossgrain follow IN.svg -o OUT.svg.")
