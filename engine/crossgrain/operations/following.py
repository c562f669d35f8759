"""Follow: bring the pieces that depend on others up to date."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from crossgrain.errors import CrossgrainError, ParameterError
from crossgrain.kernel.length import path_length
from crossgrain.language import _
from crossgrain.model.dependents.follows import joints, lengths_followed
from crossgrain.model.dependents.openings import opening_length, zip_to_buy
from crossgrain.model.dependents.retraced import retraced
from crossgrain.model.dependents.stretched_band import stretched_band
from crossgrain.model.dependents.traced_edges import traced_edges
from crossgrain.model.edge_lengths import edge_lengths
from crossgrain.model.outcome import Change, Finding, Outcome, counterpart_gone
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece, listed
from crossgrain.model.screened_pieces import with_screened_pieces
from crossgrain.tolerances import ACCURACY, LENGTH_TEXT, SEAM_MATCH, TRACED


@dataclass(frozen=True, slots=True, kw_only=True)
class Following:
    """Which pieces are brought up to date.

    Args:
        pieces: their ids or names; none means all that follow others.
    """

    pieces: tuple[str, ...] = ()


def follow(pattern: Pattern, following: Following) -> Outcome[Pattern]:
    """Bring pieces that follow the edges of others up to date.

    A waistband is as long as the waist edges it is sewn to, dart intakes out, and its overlap and extension. Each
    stretch of it becomes as long as what it is sewn to has become; notches where two stretches meet stay where they
    meet, and marks between move with their stretch. What lies across the edge keeps its width, also where the edge
    bends: see :func:`~crossgrain.model.dependents.stretched_band.stretched_band`.

    A facing that traces an edge is drawn after what that edge has become, and what lies beside it keeps its depth: see
    :func:`~crossgrain.model.dependents.retraced.retraced`. Of a zip its length is told. What follows a piece that
    itself follows comes after it.

    Args:
        pattern: all pieces, those that are followed too.
        following: which are brought up to date.

    Returns:
        The pattern; the edges that follow are as long as what they follow, within 1e-6 mm, and edges that trace are
        congruent to what they trace, exactly. An edge is left as it was where all its stretches agree within 0.0001 mm,
        to which lengths are written in a drawing, and where it lies within 0.001 mm of what it traces.

    Raises:
        ParameterError: nothing follows anything; a piece or an edge that is followed is not there; pieces that follow
            one another in a circle.
        CollapseError: a band as wide as the radius in which its edge bends.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge
    >>> from crossgrain.model.dependents.follows import Follows, Term
    >>> def piece(id, width, height, **more):
    ...     lines = Path.polygon([(0, 0), (width, 0), (width, height), (0, height)]).segments
    ...     names = ("waist", "side", "hem", "centre")
    ...     edges = tuple(Edge(name=name, line=Path((line,))) for name, line in zip(names, lines))
    ...     return Piece(id=id, edges=edges, **more)
    >>> sewn = Follows(edge="waist", terms=(Term(length=35.0), Term(piece="front")))
    >>> pattern = Pattern(pieces=(piece("front", 200, 900), piece("band", 240, 40, follows=(sewn,))))
    >>> path_length(follow(pattern, Following()).value.piece("band").edge("waist").line)
    235.0
    """
    drawn, pattern = pattern, with_screened_pieces(pattern)
    wanted = {pattern.piece(name).id for name in following.pieces}
    dependents = [piece for piece in pattern.pieces if _depends(piece) and (not wanted or piece.id in wanted)]
    if not dependents:
        raise ParameterError(
            _("No piece is marked to follow another."),
            advice=_("Mark what it follows: crossgrain mark --piece band --follow “waist=35mm + left front + back”."),
        )
    changed: list[Piece] = []
    changes: list[Change] = []
    findings: list[Finding] = []
    for old in _in_order(pattern, dependents):
        new = old
        try:
            for number in range(len(old.follows)):
                new, said = _as_long(pattern, new, number)
                changes += said
            new = _traced(pattern, new)
        except CrossgrainError as error:
            error.piece = error.piece or old.label
            raise
        new, said = _zipped(new)
        if new.edges != old.edges:
            findings += counterpart_gone(old)
            changes += edge_lengths(old, new)
        changes += said
        findings += _at_odds(new)
        if new != old:
            changed.append(new)
            pattern = pattern.with_pieces([new])
    return Outcome(value=drawn.with_pieces(changed), changes=tuple(changes), findings=tuple(findings))


def _depends(piece: Piece) -> bool:
    return bool(piece.follows or piece.traces or piece.zips)


def _in_order(pattern: Pattern, dependents: Sequence[Piece]) -> list[Piece]:
    """Return pieces so that each comes after those it follows."""
    left, out = list(dependents), []
    while left:
        waiting = {piece.id for piece in left}
        free = [piece for piece in left if not (_followed_by(pattern, piece) - {piece.id}) & waiting]
        if not free:
            raise ParameterError(
                _("These pieces follow one another in a circle: {pieces}.").format(
                    pieces=listed(piece.label for piece in left)
                ),
                advice=_("Let one of them follow none of the others."),
            )
        out += free
        left = [piece for piece in left if piece not in free]
    return out


def _followed_by(pattern: Pattern, piece: Piece) -> set[str]:
    """Return the ids of the pieces that a piece follows."""
    names = [name for one in piece.follows for name in one.pieces] + [one.piece for one in piece.traces]
    try:
        return {pattern.piece(name).id for name in names}
    except CrossgrainError as error:
        error.piece = error.piece or piece.label
        raise


def _as_long(pattern: Pattern, piece: Piece, number: int) -> tuple[Piece, list[Change]]:
    """Let one edge of a piece become as long as what it follows."""
    follows = piece.follows[number]
    total = path_length(piece.edge(follows.edge).line)
    now = lengths_followed(pattern, follows)
    # An edge that never followed is taken to be divided as what it follows is.
    was = follows.was or tuple(length * total / math.fsum(now) for length in now)
    scale = total / math.fsum(was)
    noted = tuple(replace(one, was=now) if one is follows else one for one in piece.follows)
    changes = [
        Change(
            piece=piece.label,
            edge=follows.edge,
            what=_("stretch along {what}").format(what=term.piece or _("its own length")),
            before=before,
            after=after,
        )
        for term, before, after in zip(follows.terms, was, now, strict=True)
    ]
    if abs(math.fsum(now) - total) <= LENGTH_TEXT and all(
        abs(one - other) <= LENGTH_TEXT for one, other in zip(was, now, strict=True)
    ):
        return piece if follows.was else replace(piece, follows=noted), []
    new = stretched_band(piece, follows.edge, [scale * joint for joint in joints(was)], joints(now))
    return replace(new, follows=noted), changes


def _traced(pattern: Pattern, piece: Piece) -> Piece:
    """Draw the edges of a piece that trace others after what these are now."""
    if not piece.traces:
        return piece
    traced = traced_edges(pattern, piece)
    return piece if all(one.off <= TRACED for one in traced) else retraced(piece, traced)


def _zipped(piece: Piece) -> tuple[Piece, list[Change]]:
    """Tell and note how long the openings are that zips close."""
    noted, changes = [], []
    for one in piece.zips:
        now = opening_length(piece, one.edge)
        before = now if one.was is None else one.was
        noted.append(one if one.was is not None and abs(now - one.was) <= ACCURACY else replace(one, was=now))
        if abs(now - before) > ACCURACY or one.was is None:
            changes.append(
                Change(
                    piece=piece.label,
                    edge=one.edge,
                    what=_("opening, for {zip}").format(zip=zip_to_buy(now)),
                    before=before,
                    after=now,
                )
            )
    return replace(piece, zips=tuple(noted)), changes


def _at_odds(piece: Piece) -> list[Finding]:
    """Return what to say of edges of one piece that cannot all be as long as what they follow."""
    out = []
    for follows in piece.follows:
        length, followed = path_length(piece.edge(follows.edge).line), math.fsum(follows.was)
        if abs(length - followed) > SEAM_MATCH:
            out.append(
                Finding(
                    piece=piece.label,
                    edge=follows.edge,
                    message=_(
                        "It is {length:.1f} mm long, and what it follows {followed:.1f} mm: another edge of this piece "
                        "that follows asks for something else."
                    ).format(length=length, followed=followed),
                    advice=_("Let one edge of the piece follow, and the others go with it."),
                )
            )
    return out
