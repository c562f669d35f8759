"""Find which edges are sewn together.

A seam is named once and found by its name. How often and how mirrored each piece is cut tells the rest: a back cut
twice, mirrored, is sewn along its seat to its own other copy, and along its side to either front.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from typing import Final, Literal

from crossgrain.kernel.area import winding
from crossgrain.language import _
from crossgrain.model.girths import HEM, INSEAM, WAIST
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece, listed
from crossgrain.model.seams.seam import sides_of
from crossgrain.model.seams.side import Side

GOING_ON: Final = (WAIST, HEM, "neck", "armhole")
"""Names of edges that go on from piece to piece and are not sewn to each other."""

_ALIKE: Final = 0.5
"""Two pieces that are each cut once are left and right of one when more than this share of their edges agrees."""

Kind = Literal["going on", "own copy", "twin", "seam", "free"]


@dataclass(frozen=True, slots=True)
class Pair:
    """Two edges that are sewn together.

    Args:
        first: one of them.
        second: the other; of a piece sewn to its own mirrored copy, the same again.
        is_twin: whether they are the left and the right of one piece.
    """

    first: Side
    second: Side
    is_twin: bool = False

    @property
    def name(self) -> str:
        """The name of the seam."""
        return self.first.name

    @property
    def is_copy(self) -> bool:
        """Whether a piece is sewn to its own mirrored copy."""
        return self.first.piece.id == self.second.piece.id


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairs:
    """The seams of a pattern.

    Args:
        pairs: the edges that are sewn together.
        going_on: the names of edges that go on from piece to piece.
        unchecked: what cannot be told, a sentence each.
    """

    pairs: tuple[Pair, ...] = ()
    going_on: frozenset[str] = field(default_factory=frozenset)
    unchecked: tuple[str, ...] = ()

    def kind(self, piece: Piece, name: str) -> Kind:
        """Tell what becomes of an edge of a piece."""
        if name in self.going_on:
            return "going on"
        for pair in self.pairs:
            if name == pair.name and piece.id in (pair.first.piece.id, pair.second.piece.id):
                return "own copy" if pair.is_copy else "twin" if pair.is_twin else "seam"
        return "free"

    def are_sewn(self, one: Piece, other: Piece, name: str) -> bool:
        """Tell whether two pieces are sewn to each other along edges of a name."""
        both = {one.id, other.id}
        return any(pair.name == name and {pair.first.piece.id, pair.second.piece.id} == both for pair in self.pairs)


def pair_edges(pattern: Pattern, going_on: Collection[str] = ()) -> Pairs:
    """Find the edges of a pattern that are sewn together.

    Stabilised pieces and those that trace others follow what they are sewn to, and are no side of a seam here; nor are
    pieces whose outline is the cut line.

    Args:
        pattern: the pattern.
        going_on: names, besides waist, hem, neck and armhole, of edges that are not sewn to each other.
    """
    names = frozenset((*GOING_ON, *going_on))
    pieces = [piece for piece in pattern.pieces if piece.goes_round and piece.outline == "stitch"]
    twins = _twins(pieces)
    pairs: list[Pair] = []
    unchecked: list[str] = [
        _("{piece}: its outline is the cut line, and seams are checked along the stitch line.").format(
            piece=piece.label
        )
        for piece in pattern.pieces
        if piece.outline == "cut" and not piece.cut.stabilised
    ]
    crotches = _crotches(pieces) - names
    alone: dict[str, list[str]] = {}
    for name in dict.fromkeys(name for piece in pieces for name in piece.edge_names if name and name not in names):
        members = [piece for piece in pieces if name in piece.edge_names and piece.cut.on_fold != name]
        if not members:
            continue  # it lies on a fold wherever it is
        found, left = (_left_to_right if name in crotches else _pairs_of)(name, members, twins)
        pairs += found
        if left and len(members) == 1:
            alone.setdefault(members[0].label, []).append(name)
        elif left:
            unchecked.append(
                _(
                    "{edge}: {count} pieces have an edge of this name, and which are sewn together is not told: "
                    "{names}."
                ).format(edge=name, count=len(members), names=listed(piece.label for piece in members))
            )
    if alone:
        unchecked.append(
            _("No partner by name: {edges}.").format(
                edges="; ".join(f"{piece} {listed(edges)}" for piece, edges in alone.items())
            )
        )
    return Pairs(pairs=tuple(pairs), going_on=names, unchecked=tuple(unchecked))


def _pairs_of(name: str, members: Sequence[Piece], twins: dict[str, str]) -> tuple[list[Pair], bool]:
    """Return the pairs of one seam, and whether an edge was left over."""
    match sorted(_groups(members, twins), key=len, reverse=True):
        case [[piece]]:
            both = _lies_both_ways(piece) and piece.cut.on_fold != name
            return (
                [Pair(Side(piece, name), Side(piece, name))] if both else []
            ), not both and piece.cut.on_fold != name
        case [[left, right]]:
            return [_twin(left, right, name)], False
        case [[one], [other]]:
            return [Pair(Side(one, name), Side(other, name))], False
        case [[left, right], [other]]:
            if _lies_both_ways(other):
                return [Pair(Side(one, name), Side(other, name)) for one in (left, right)], False
            return [_twin(left, right, name)], True
        case [[_one, _two] as these, [_three, _four] as those]:
            found = [
                Pair(Side(one, name), Side(other, name)) for one in these for other in those if hand(one, other) == -1
            ]
            return (found, False) if len(found) == 2 else ([], True)
    return [], True


def copied_edges(piece: Piece, pairs: Pairs) -> tuple[str, ...]:
    """Return the edges by which a piece may be sewn to its own mirrored copy, as no other piece has them."""
    return tuple(pair.name for pair in pairs.pairs if pair.is_copy and pair.first.piece.id == piece.id)


def is_middle(piece: Piece, pairs: Pairs) -> bool:
    """Tell whether a piece's edges without a partner are the middle of a garment, rather than lack their partner.

    They are where they follow one another in one run, and the piece is sewn to others besides; or where there is only
    one.
    """
    names = frozenset(copied_edges(piece, pairs))
    starts = [name for name in names if Side(piece, name).neighbour("start") not in names]
    is_sewn_on = any(pairs.kind(piece, name) in ("seam", "twin") for name in piece.edge_names)
    return len(starts) == 1 and (is_sewn_on or (len(names) == 1 and not piece.cut.on_fold))


def are_middles(pair: Pair, pairs: Pairs) -> bool:
    """Tell whether the left and the right of a piece meet at the middle of a garment, rather than lack their partners.

    They do where they are sewn to others besides, or are alike along one edge only.
    """
    ids = {pair.first.piece.id, pair.second.piece.id}
    own = [one for one in pairs.pairs if ids & {one.first.piece.id, one.second.piece.id}]
    return len(own) == 1 or any(not (one.is_copy or one.is_twin) for one in own)


def _crotches(pieces: Iterable[Piece]) -> frozenset[str]:
    """Return the names of edges that an inseam meets at its upper end.

    Four pieces meet there, and each of these edges is sewn to its own left or right: sewn front to back along both,
    the legs would be two bags.
    """
    return frozenset(
        sides_of(Pattern(pieces=(piece,)), INSEAM)[0].first_neighbour
        for piece in pieces
        if INSEAM in piece.edge_names and piece.cut.on_fold != INSEAM
    )


def _left_to_right(name: str, members: Sequence[Piece], twins: dict[str, str]) -> tuple[list[Pair], bool]:
    """Return the pairs of edges that are sewn to their own left or right, and whether one was left over."""
    found: list[Pair] = []
    is_left = False
    for group in _groups(members, twins):
        pairs, is_over = _pairs_of(name, group, twins)
        found += pairs
        is_left |= is_over
    return found, is_left


def _groups(members: Sequence[Piece], twins: dict[str, str]) -> list[list[Piece]]:
    """Put the left and the right of a piece together; each other piece is a group of its own."""
    groups: dict[str, list[Piece]] = {}
    for piece in members:
        groups.setdefault(min(piece.id, twins.get(piece.id, piece.id)), []).append(piece)
    return list(groups.values())


def _twin(left: Piece, right: Piece, name: str) -> Pair:
    return Pair(Side(left, name), Side(right, name), is_twin=True)


def is_both_hands(piece: Piece) -> bool:
    """Tell whether one drawing stands for left and right pieces. One on a fold stands for a whole piece."""
    return piece.cut.mirrored and piece.cut.count > 1 and not piece.cut.on_fold


def _lies_both_ways(piece: Piece) -> bool:
    """Tell whether copies of a piece, or its halves, lie both ways round."""
    return bool(piece.cut.on_fold) or is_both_hands(piece)


def hand(one: Piece, other: Piece) -> int:
    """Tell whether two pieces lie the same way round, by the order of the edges they both have.

    Returns:
        1 where these follow one another alike on both, -1 where they run the other way round, 0 where that cannot be
        told, as with fewer than three.
    """
    shared = set(one.edge_names) & set(other.edge_names) - {""}
    if len(shared) < 3:
        return 0
    first, second = _clockwise(one, shared), _clockwise(other, shared)
    if second in _rotations(first):
        return 1
    return -1 if second[::-1] in _rotations(first) else 0


def _clockwise(piece: Piece, names: Collection[str]) -> tuple[str, ...]:
    found = tuple(name for name in piece.edge_names if name in names)
    return found if winding(piece.line) > 0 else found[::-1]


def _rotations(names: tuple[str, ...]) -> list[tuple[str, ...]]:
    return [names[k:] + names[:k] for k in range(len(names))]


def _twins(pieces: Iterable[Piece]) -> dict[str, str]:
    """Return for each piece that is the left or right of another the id of that one: each the other's best likeness."""
    single = [piece for piece in pieces if piece.cut.count == 1 and not piece.cut.on_fold]
    likeness: dict[str, list[tuple[float, str]]] = {piece.id: [] for piece in single}
    for one, other in combinations(single, 2):
        if hand(one, other) == -1:
            alike = _likeness(one, other)
            likeness[one.id].append((alike, other.id))
            likeness[other.id].append((alike, one.id))
    best = {id: max(found) for id, found in likeness.items() if found}
    return {id: other for id, (alike, other) in best.items() if alike > _ALIKE and best[other][1] == id}


def _likeness(one: Piece, other: Piece) -> float:
    """Return the share of the edges of two pieces that agree in name and length."""
    shared = [name for name in one.edge_names if name in other.edge_names]
    ratios = []
    for name in shared:
        lengths = sorted((Side(one, name).length, Side(other, name).length))
        ratios.append(lengths[0] / lengths[1] if lengths[1] > 0.0 else 0.0)
    return sum(ratios) / len({*one.edge_names, *other.edge_names})
