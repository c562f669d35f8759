"""Left and right: a piece that is cut mirrored becomes two pieces of its own."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final, Literal

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import bounds
from crossgrain.language import _
from crossgrain.model.dependents.follows import Follows, Term
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece
from crossgrain.model.seams.pairing import hand, is_both_hands

Hand = Literal["left", "right"]
HANDS: Final[tuple[Hand, Hand]] = ("left", "right")

_GAP: Final = 80.0
"""How far from all other pieces a mirrored copy is drawn, mm: both allowances, and room for what is written there."""


def hand_of(piece: Piece) -> Hand | None:
    """Tell whether a piece is called a left or a right one, in English or in the maker's language.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model.piece import Edge
    >>> edges = (Edge(name="", line=Path(Path.polygon([(0, 0), (9, 0), (9, 9)]).segments)),)
    >>> hand_of(Piece(id="p", name="left front", edges=edges)), hand_of(Piece(id="p", name="back", edges=edges))
    ('left', None)
    """
    words = piece.name.casefold().split()
    return next((one for one in HANDS if any(name in words for name in _names(one))), None)


def _names(one: Hand) -> tuple[str, str]:
    """Return the words for a hand, in English and in the maker's language."""
    return (one, (_("left") if one == "left" else _("right")).casefold())


def parted(pattern: Pattern, ids: Iterable[str]) -> Pattern:
    """Make left and right pieces of those that are cut mirrored.

    The drawn piece keeps its id and its place. It is the right one if it is sewn to a right one, or if nothing tells;
    its copy is mirrored across the grain and stands beside all others. What follows the piece follows the one of its
    own side; what traces it traces the right one, unless it is called left. Every second one was the other way round:
    of three, two are as drawn.

    Args:
        pattern: the pieces.
        ids: the pieces to part; those that are not cut mirrored stay as they are.

    Returns:
        The pattern, each new piece right after the one it is a copy of.
    """
    wanted = set(ids)
    out: list[Piece] = []
    names: dict[str, dict[Hand, str]] = {}
    taken = {piece.id for piece in pattern.pieces}
    for piece in pattern.pieces:
        if piece.id not in wanted or not is_both_hands(piece):
            out.append(piece)
            continue
        mine = _drawn_hand(piece, pattern.pieces)
        other: Hand = "left" if mine == "right" else "right"
        label = piece.name or piece.id
        named: dict[Hand, str] = {
            "left": _("left {piece}").format(piece=label),
            "right": _("right {piece}").format(piece=label),
        }
        names[piece.id] = names[label] = named
        id = _free(f"{piece.id}-{other}", taken)
        taken.add(id)
        copies = piece.cut.count // 2
        own = replace(piece, name=named[mine], cut=replace(piece.cut, count=piece.cut.count - copies, mirrored=False))
        copy = replace(_mirrored(own, (*pattern.pieces, *out)), id=id, name=named[other])
        copy = replace(copy, cut=replace(own.cut, count=copies))
        out += [own, copy]
    return Pattern(pieces=tuple(_following(piece, names) for piece in out))


def _drawn_hand(piece: Piece, others: Sequence[Piece]) -> Hand:
    """Return which hand a drawing is: that of a piece that it is sewn to as it lies."""
    for other in others:
        found = hand_of(other)
        if found is not None and other.cut.count == 1 and hand(piece, other) == -1:
            return found
    return "right"


def _mirrored(piece: Piece, others: Iterable[Piece]) -> Piece:
    """Return a piece mirrored across its grain, to the side of all others."""
    gx, gy = piece.grain
    frame = Affine(gy, gx, -gx, gy)
    box = bounds(piece.line.mapped(frame))
    edge = max(bounds(other.line.mapped(frame)).right for other in others)
    over = Affine.scaling(-1.0, 1.0, ((box.right + edge + _GAP) / 2.0, 0.0))
    mirror = frame.then(over).then(frame.inverse())
    return replace(
        piece,
        edges=tuple(replace(edge, line=edge.line.mapped(mirror)) for edge in piece.edges),
        counterpart=piece.counterpart and piece.counterpart.mapped(mirror),
    )


def _following(piece: Piece, names: dict[str, dict[Hand, str]]) -> Piece:
    """Return a piece that follows the halves of what it followed."""
    follows = tuple(_follow_halves(one, names) for one in piece.follows)
    mine = hand_of(piece) or "right"
    traces = tuple(replace(one, piece=names[one.piece][mine]) if one.piece in names else one for one in piece.traces)
    return replace(piece, follows=follows, traces=traces)


def _follow_halves(follows: Follows, names: dict[str, dict[Hand, str]]) -> Follows:
    terms: list[Term] = []
    used: dict[str, list[Hand]] = {}
    for number, term in enumerate(follows.terms):
        if term.piece not in names:
            terms.append(term)
            continue
        before, after = follows.terms[max(number - 1, 0) : number], follows.terms[number + 1 : number + 2]
        words = [word for other in (*before, *after) for word in other.piece.casefold().split()]
        free = [one for one in HANDS if one not in used.get(term.piece, [])] or list(HANDS)
        mine = next((one for one in free if any(name in words for name in _names(one))), free[0])
        used.setdefault(term.piece, []).append(mine)
        terms.append(replace(term, piece=names[term.piece][mine]))
    return replace(follows, terms=tuple(terms))


def _free(wanted: str, taken: set[str]) -> str:
    free, count = wanted, 2
    while free in taken:
        free, count = f"{wanted}-{count}", count + 1
    return free
