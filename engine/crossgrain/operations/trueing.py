"""True: make the sides of a seam agree in length, in their notches, and in how the edges beside them go on."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from crossgrain.errors import ParameterError
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.language import _, level_key
from crossgrain.model.edge_lengths import edge_lengths
from crossgrain.model.girths import HEM
from crossgrain.model.levels import depths_of_levels
from crossgrain.model.outcome import Outcome, counterpart_gone
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece, is_called, listed
from crossgrain.model.screened_pieces import with_screened_pieces
from crossgrain.model.seams.adjusted_seam import Adjustment, Give, adjusted, angle_at, carried, with_length
from crossgrain.model.seams.ease import Ease
from crossgrain.model.seams.going_on import goes_on
from crossgrain.model.seams.pairing import Pairs, pair_edges
from crossgrain.model.seams.seam import SeamSide, end_names, sides_of
from crossgrain.model.seams.station import station_places
from crossgrain.model.seams.walked_seam import sewn_together, walked_seam
from crossgrain.model.seams.walked_stretches import alone_notches, stretches
from crossgrain.model.seams.walking import Stop, Walk
from crossgrain.tolerances import COINCIDENT, CORNER_TURN, SEAM_MATCH, SMOOTH_TURN

ALONG = "along"
"""Said in place of an end: the difference is spread along the whole seam."""

BLEND = 80.0
"""Over what length an edge beside the seam is led to its new corner where nothing is said, mm: a hand's breadth,
over which no bend shows."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trueing:
    """How a seam is trued.

    Args:
        seam: the name of the seam's edges.
        give: the end at which the sides may become longer or shorter, by the edge that the seam meets there, or
            ``along`` for the whole length of it; empty for the hem where it ends at one, or else its whole length.
        keep: words of the names of pieces that stay as they are; none where all give alike.
        ease: what is to be eased in.
        blend: over what length the edges beside the seam are led to its new ends, mm, above 0.
        levels: names of levels with their depths below the waist, mm.
    """

    seam: str
    give: str = ""
    keep: tuple[str, ...] = ()
    ease: tuple[Ease, ...] = ()
    blend: float = BLEND
    levels: tuple[tuple[str, float], ...] = ()

    def __post_init__(self) -> None:
        if not 0.0 < self.blend < math.inf:
            raise ParameterError(_("A blend is a length above zero."), advice=_("Give, say, 40 mm."))


def true(pattern: Pattern, trueing: Trueing, beside: Pattern | None = None) -> Outcome[Pattern]:
    """Make the sides of a seam agree.

    Both sides are walked from their common end. Their lengths are made to agree, or to differ by the ease, where the
    maker says that they may give: an end of the seam moves along the seam's own line, or the whole seam becomes a
    little longer or shorter down the grain. Notches that belong together are set at the same distance. At both ends
    the edges beside the seam are led to the new corner, and there turned until they go on in one smooth line from
    piece to piece: the two angles add to 180°; where a piece is sewn to its own copy, each is 90°.

    What the difference asks of the pieces is shared among them, unless some are kept.

    Args:
        pattern: the pieces.
        trueing: the seam, and how.
        beside: other pieces that these may be sewn to, which stay as they are.

    Returns:
        The pattern. Lengths agree within 1e-6 mm, notches too, the angles add to 180° to rounding. What already agreed,
        lengths and notches within 0.5 mm and angles within 0.5°, stays exactly as it was. Each edge has at most one
        node more at each of its ends.

    Raises:
        ParameterError: no such seam, or it cannot be told what is sewn to what; an end, a piece or an ease that fits
            nothing; pieces that are all to stay as they are, and differ.

    >>> from crossgrain.model import Edge
    >>> def leg(name, side):
    ...     lines = Path.polygon([(0, 0), (200, 0), (200, side), (0, 900)]).segments
    ...     return Piece(id=name, name=name, edges=tuple(
    ...         Edge(name=edge, line=Path((line,))) for edge, line in zip(("waist", "side", "hem", "centre"), lines)))
    >>> pattern = Pattern(pieces=(leg("front", 900), leg("back", 903)))
    >>> new = true(pattern, Trueing(seam="side", keep=("front",))).value
    >>> [round(path_length(piece.edge("side").line), 6) for piece in new.pieces]
    [900.0, 900.0]
    """
    drawn, pattern = pattern, with_screened_pieces(pattern)
    others = () if beside is None else with_screened_pieces(beside).pieces
    named = {piece.id: piece for piece in pattern.pieces}
    whole = Pattern(pieces=tuple(({piece.id: piece for piece in others} | named).values()))
    whole, walks = walked_seam(whole, pattern, trueing.seam)
    sewn = {side.piece.id for one in walks for side in one.sides}
    sides = sides_of(
        Pattern(pieces=tuple(piece for piece in whole.pieces if piece.id in named.keys() | sewn)), trueing.seam
    )
    staying = sewn - named.keys()
    pairs = pair_edges(whole)
    seams = [_Seam(whole, trueing, sides, pairs, together, staying) for together in sewn_together(walks)]
    changed = [piece for seam in seams for piece in seam.trued() if piece != pattern.piece(piece.id)]
    old = [pattern.piece(piece.id) for piece in changed]
    _now, after = walked_seam(whole.with_pieces(changed), drawn.with_pieces(changed), trueing.seam)
    changes = (
        *(change for before, now in zip(old, changed, strict=True) for change in edge_lengths(before, now)),
        *stretches(walks, after),
    )
    findings = [finding for piece in old for finding in counterpart_gone(piece)]
    return Outcome(
        value=drawn.with_pieces(changed), changes=tuple(changes), findings=(*findings, *alone_notches(walks))
    )


class _Seam:
    """The sides of a seam about the one that is sewn to all the others, the hub."""

    def __init__(
        self,
        pattern: Pattern,
        trueing: Trueing,
        sides: Sequence[SeamSide],
        pairs: Pairs,
        walks: Sequence[Walk],
        staying: Collection[str],
    ) -> None:
        self._trueing = trueing
        self._staying = staying
        self._pairs = pairs
        self.walks = walks
        ids = [{side.piece.id for side in one.sides} for one in self.walks]
        in_all = set.intersection(*ids)
        if not in_all:
            raise ParameterError(
                _("The seam joins pieces in several places that have nothing to do with each other."),
                edge=trueing.seam,
                advice=_("Name the pieces of one of them."),
            )
        sewn = set.union(*ids)
        self._sides = [side for side in sides if side.piece.id in sewn]
        self._hub = next(side for side in self._sides if side.piece.id in in_all)
        self._others = [side for side in self._sides if side is not self._hub]
        self._give = self._where(sides)
        self._check_words()
        self._depths = depths_of_levels(pattern, trueing.levels)

    def trued(self) -> list[Piece]:
        """Return the pieces of the seam, trued."""
        lengths = self._lengths()
        lines = {side.piece.id: with_length(side.line, lengths[side.piece.id], self._give) for side in self._sides}
        turns = self._turns(lines)
        notches = self._notches(lengths)
        return [
            adjusted(
                side,
                Adjustment(
                    length=lengths[id],
                    give=self._give,
                    blend=self._trueing.blend,
                    turns_rad=turns[id],
                    notches=notches[id],
                ),
            )
            for side in self._sides
            if not self._keeps(side)
            for id in (side.piece.id,)
        ]

    def _where(self, sides: Sequence[SeamSide]) -> Give:
        first, last = end_names(sides)
        give = self._trueing.give or (HEM if HEM in first | last else ALONG)
        if give == ALONG:
            return "along"
        for name in (give, level_key(give)):  # by the word of the language, too
            if name in first | last:
                return "first" if name in first else "last"
        raise ParameterError(
            _("The seam does not end at an edge named {name}.").format(name=give),
            edge=self._trueing.seam,
            advice=_("It may give at: {names}, or along.").format(names=listed((*sorted(first), *sorted(last)))),
        )

    def _check_words(self) -> None:
        for word in (*self._trueing.keep, *(ease.piece for ease in self._trueing.ease)):
            if not any(is_called(side.piece, word) for side in self._sides):
                raise ParameterError(
                    _("No piece of this seam is called {word}.").format(word=word),
                    edge=self._trueing.seam,
                    advice=_("Its pieces are: {names}.").format(names=listed(s.piece.label for s in self._sides)),
                )

    def _keeps(self, side: SeamSide) -> bool:
        return side.piece.id in self._staying or any(is_called(side.piece, word) for word in self._trueing.keep)

    def _check_kept(self, hub: float, others: Mapping[str, float], most: float, sentence: str) -> None:
        """Refuse where pieces that stay as they are leave nothing on which all could agree.

        Args:
            hub: the figure of the hub.
            others: what each other side would have it be, by the id of its piece.
            most: by how much two may differ.
            sentence: what is said, with the field ``off``.
        """
        kept = {
            side.piece.label: others[side.piece.id]
            for side in self._others
            if self._keeps(side) and side.piece.id in others
        }
        of_hub = {self._hub.piece.label: hub} if self._keeps(self._hub) else {}
        off = (
            max((abs(figure - hub) for figure in kept.values()), default=0.0)
            if of_hub
            else _spread(kept.values()) / 2.0
        )
        if off > most:
            raise ParameterError(
                sentence.format(off=_spread((*kept.values(), *of_hub.values()))),
                edge=self._trueing.seam,
                piece=listed((*of_hub, *kept)),
                advice=_("Let one of them give: keep or leave out fewer pieces."),
            )

    def _eased(self, side: SeamSide, along: float) -> float:
        """Return by how much more than the hub a side has up to a place, mm along the hub from the first end."""
        return self._own_ease(side, along) - self._own_ease(self._hub, along)

    def _own_ease(self, side: SeamSide, along: float) -> float:
        total = path_length(self._hub.line)
        out = 0.0
        for ease in self._trueing.ease:
            if not is_called(side.piece, ease.piece):
                continue
            given = [station for station in (ease.start, ease.end) if station is not None]
            [places] = station_places([self._hub], given, self._depths, self._sides) if given else [(0.0, total)]
            start, end = (0.0, total) if len(places) < _ENDS else (min(places), max(places))
            if end - start <= COINCIDENT:
                raise ParameterError(_("Ease needs a stretch between two different places."), edge=self._trueing.seam)
            out += ease.amount * min(max((along - start) / (end - start), 0.0), 1.0)
        return out

    def _agreed(self, hub: float, others: Mapping[str, float]) -> float:
        """Return the figure of the hub on which all can agree with the least change.

        Args:
            hub: its figure now.
            others: what each other side would have it be, by the id of its piece.
        """
        if self._keeps(self._hub):
            return hub
        kept = [others[side.piece.id] for side in self._others if self._keeps(side) and side.piece.id in others]
        each = kept or [hub, *others.values()]
        return (min(each) + max(each)) / 2.0

    def _lengths(self) -> dict[str, float]:
        lengths = {side.piece.id: path_length(side.line) for side in self._sides}
        hub = lengths[self._hub.piece.id]
        ease = {side.piece.id: self._eased(side, hub) for side in self._others}
        others = {id: lengths[id] - ease[id] for id in ease}
        if all(abs(other - hub) <= SEAM_MATCH for other in others.values()):
            return lengths
        self._check_kept(hub, others, SEAM_MATCH, _("They stay as they are, and their sides differ by {off:.1f} mm."))
        agreed = self._agreed(hub, others)
        return {self._hub.piece.id: agreed, **{id: agreed + ease[id] for id in ease}}

    def _turns(self, lines: Mapping[str, Path]) -> dict[str, tuple[float, float]]:
        """Return by how much the angles at both ends of each side have to become smaller."""
        turns = {side.piece.id: [0.0, 0.0] for side in self._sides}
        for at in (0, 1):
            angle = {side.piece.id: angle_at(side, lines[side.piece.id], at) for side in self._sides}
            hub = self._hub.piece.id
            if len(self._sides) == 1:
                off = 2.0 * angle[hub] - math.pi
                neighbour = self._hub.last_neighbour if at else self._hub.first_neighbour
                if neighbour in self._pairs.going_on and SMOOTH_TURN < abs(off) < CORNER_TURN:
                    turns[hub][at] = off / 2.0
                continue
            gaps: dict[str, float] = {}
            for one in self.walks:
                if goes_on(one, self._as_walked(one, at), self._pairs):
                    [other] = {side.piece.id for side in one.sides} - {hub}
                    gaps[other] = angle[hub] + angle[other] - math.pi
            if all(abs(gap) <= SMOOTH_TURN for gap in gaps.values()):
                continue
            self._check_kept(
                0.0,
                {other: math.degrees(gap) for other, gap in gaps.items()},
                math.degrees(SMOOTH_TURN),
                _("They stay as they are, and what goes on over the seam is bent by {off:.1f}° between them."),
            )
            turns[hub][at] = self._hub_turn(gaps)
            for other, gap in gaps.items():
                turns[other][at] = gap - turns[hub][at]
        return {id: (first, last) for id, (first, last) in turns.items()}

    def _hub_turn(self, off: Mapping[str, float]) -> float:
        if self._keeps(self._hub):
            return 0.0
        kept = [off[side.piece.id] for side in self._others if self._keeps(side) and side.piece.id in off]
        return math.fsum(kept) / len(kept) if kept else math.fsum(off.values()) / (2.0 * len(off))

    def _as_walked(self, one: Walk, at: int) -> int:
        """Return which end of a walk an end of the seam is."""
        side = next(side for side in self._sides if side.piece.id == one.sides[0].piece.id)
        is_turned = one.ends[0][0] == "end"
        return at if side.is_turned == is_turned else 1 - at

    def _notches(self, lengths: Mapping[str, float]) -> dict[str, dict[float, float]]:
        """Return where the notches of each side go, by where they were."""
        totals = {side.piece.id: path_length(side.line) for side in self._sides}
        out: dict[str, dict[float, float]] = {id: {} for id in totals}
        hub = self._hub.piece.id
        partners: dict[float, dict[str, float]] = {}
        for one in self.walks:
            if one.pair.is_copy:
                continue
            which = [side.piece.id for side in one.sides].index(hub)
            other = one.sides[1 - which].piece.id
            for stops in one.partners:
                mine, theirs = (self._along(one, k, stops[k]) for k in (which, 1 - which))
                partners.setdefault(round(mine, 6), {})[other] = theirs
        for mine, others in partners.items():
            now = carried(mine, totals[hub], lengths[hub], self._give)
            there = {id: carried(at, totals[id], lengths[id], self._give) for id, at in others.items()}
            side_of = {side.piece.id: side for side in self._others}
            wanted = {id: at - self._eased(side_of[id], now) for id, at in there.items()}
            if all(abs(at - now) <= SEAM_MATCH for at in wanted.values()):
                continue
            self._check_kept(
                now, wanted, SEAM_MATCH, _("They stay as they are, and a notch lies {off:.1f} mm apart on them.")
            )
            agreed = self._agreed(now, wanted)
            out[hub][mine] = agreed
            for id, was in others.items():
                out[id][was] = agreed + self._eased(side_of[id], agreed)
        return out

    def _along(self, one: Walk, which: int, stop: Stop) -> float:
        """Return how far a notch lies from the seam's first end."""
        side = next(side for side in self._sides if side.piece.id == one.sides[which].piece.id)
        return (1.0 - stop.share if side.is_turned else stop.share) * path_length(side.line)


_ENDS = 2


def _spread(figures: Collection[float]) -> float:
    return max(figures) - min(figures) if figures else 0.0
