"""Follow: bring the pieces that depend on others up to date."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from crossgrain.errors import ParameterError
from crossgrain.kernel.length import path_length, point_at_share
from crossgrain.kernel.profile import Profile
from crossgrain.kernel.spans import Complexes
from crossgrain.kernel.warp import Map
from crossgrain.language import _
from crossgrain.model.edge_lengths import edge_lengths
from crossgrain.model.follows import Follows, joints, lengths_followed
from crossgrain.model.moved_piece import moved_edges, moved_piece
from crossgrain.model.outcome import Change, Finding, Outcome, counterpart_gone
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece
from crossgrain.model.screened_pieces import with_screened_pieces
from crossgrain.tolerances import COINCIDENT, LENGTH_REACHED

_STEPS = 20

_STRAIGHT = 0.02
"""An edge longer than its chord by less than this share is followed by moving what lies across it along its chord. On
one that bends more, that would change how wide the piece is."""


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
    meet, and marks between move with their stretch. What lies across the edge keeps its width.

    Args:
        pattern: all pieces, those that are followed too.
        following: which are brought up to date.

    Returns:
        The pattern; the edges that follow are as long as what they follow, within 1e-6 mm.

    Raises:
        ParameterError: nothing follows anything; a piece or an edge that is followed is not there; an edge that bends
            too much to be made longer by this.
    """
    drawn, pattern = pattern, with_screened_pieces(pattern)
    wanted = {pattern.piece(name).id for name in following.pieces}
    dependents = [piece for piece in pattern.pieces if piece.follows and (not wanted or piece.id in wanted)]
    if not dependents:
        raise ParameterError(
            _("No piece is marked to follow another."),
            advice=_("Mark what it follows: crossgrain mark --piece band --follow “waist=35mm + left front + back”."),
        )
    changed: list[Piece] = []
    changes: list[Change] = []
    findings: list[Finding] = []
    for old in dependents:
        new = old
        for number in range(len(old.follows)):
            new, said = _followed(pattern, new, number)
            changes += said
        if new.edges != old.edges:
            findings += counterpart_gone(old)
            changes += edge_lengths(old, new)
        if new != old:
            changed.append(new)
    return Outcome(value=drawn.with_pieces(changed), changes=tuple(changes), findings=tuple(findings))


def _followed(pattern: Pattern, piece: Piece, number: int) -> tuple[Piece, list[Change]]:
    """Let one edge of a piece follow."""
    follows = piece.follows[number]
    line = piece.edge(follows.edge).line
    total = path_length(line)
    now = lengths_followed(pattern, follows)
    # An edge that never followed is taken to be divided as what it follows is.
    was = follows.was or tuple(length * total / sum(now) for length in now)
    scale = total / sum(was)
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
    if abs(sum(now) - total) <= COINCIDENT and all(
        abs(one - other) <= COINCIDENT for one, other in zip(was, now, strict=True)
    ):
        return replace(piece, follows=noted), []
    if total > (1.0 + _STRAIGHT) * abs(complex(*line.end) - complex(*line.start)):
        raise ParameterError(
            _("The edge bends too much to follow by becoming longer where it is."),
            piece=piece.label,
            edge=follows.edge,
            advice=_("Trace it anew from the edges it is sewn to."),
        )
    new = _stretched(piece, follows, [scale * joint for joint in joints(was)], joints(now))
    return replace(new, follows=noted), changes


def _stretched(piece: Piece, follows: Follows, old: Sequence[float], new: Sequence[float]) -> Piece:
    """Move a piece along the chord of an edge so that places on the edge come to lie where they must."""
    line = piece.edge(follows.edge).line
    origin, along = complex(*line.start), complex(*line.end) - complex(*line.start)
    along /= abs(along)
    places = np.array([((complex(*point_at_share(line, s / old[-1])) - origin) * along.conjugate()).real for s in old])
    shifts = np.array(new) - np.array(old)
    for _step in range(_STEPS):
        edges = moved_edges(piece, _along_chord(origin, along, places, shifts))
        off = new[-1] - path_length(next(edge for edge in edges if edge.name == follows.edge).line)
        if abs(off) <= LENGTH_REACHED:
            break
        shifts = shifts + off * places / places[-1]
    return moved_piece(piece, _along_chord(origin, along, places, shifts))


def _along_chord(origin: complex, along: complex, places: np.ndarray, shifts: np.ndarray) -> Map:
    """Return the map that shifts places along a chord, blended between them and alike beyond both ends."""
    blend = Profile(places, shifts)

    def move(point: Complexes, direction: Complexes) -> tuple[Complexes, Complexes]:
        here, heading = (point - origin) * np.conj(along), direction * np.conj(along)
        shift, slope = blend(here.real)
        return point + shift * along, (heading + slope * heading.real) * along

    return move
