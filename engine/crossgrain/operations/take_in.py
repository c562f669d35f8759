"""Take in or let out: move a seam by amounts that vary along it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from crossgrain.errors import CrossgrainError, ParameterError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import path_length, places_at, point_at, point_at_share
from crossgrain.kernel.parallels.line_beside import line_beside, moving_beside
from crossgrain.kernel.path import Path
from crossgrain.kernel.profile import Profile
from crossgrain.language import _, level_word
from crossgrain.model.edge_lengths import edge_lengths
from crossgrain.model.levels import depths_of_levels
from crossgrain.model.marking.carried_marks import with_marks_carried
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.outcome import Change, Finding, Outcome, counterpart_gone
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece, listed
from crossgrain.model.screened_pieces import with_screened_pieces
from crossgrain.model.seams.handed import Hand, hand_of, parted
from crossgrain.model.seams.moved_edge import with_moved_edge
from crossgrain.model.seams.pairing import GOING_ON
from crossgrain.model.seams.seam import SeamSide, layers_round, not_a_seam, sides_of
from crossgrain.model.seams.seam_clearance import check_cut_off, check_way
from crossgrain.model.seams.seam_findings import left_to_follow, lost_notches, steep_at_nodes, uneven_sides
from crossgrain.model.seams.seam_shares import side_shares
from crossgrain.model.seams.station import Station, station_places
from crossgrain.notation.stations import write_station
from crossgrain.tolerances import ACCURACY, COINCIDENT


@dataclass(frozen=True, slots=True, kw_only=True)
class Basting:
    """An amount at a station: how far inside the old seam line it was basted there.

    Args:
        station: the place along the seam.
        amount: mm, positive inside the old line, negative outside it; 0 where the seam stays.
    """

    station: Station
    amount: float

    def __post_init__(self) -> None:
        if not math.isfinite(self.amount):
            raise ParameterError(_("An amount is not a number."))


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeIn:
    """What a fitting found for one seam.

    Args:
        seam: the name of the seam's edges.
        at: the amounts at stations, at least one.
        is_girth: the amounts are what the whole garment is to lose in girth there, rather than distances: each is
            divided among all edges of the seam.
        shares: by words of the pieces' names, what share of both sides' amount together that side takes, 0 to 1; half
            each where not said.
        levels: names of levels with their depths below the waist, mm.
        accuracy: how near curves follow the true line, mm, above 0.
        only: ``left`` or ``right``: only that side of the body. A piece that is cut twice and mirrored becomes two.
        earlier: what earlier fittings found for the same seam, each measured as ``at`` is; all are added up.
    """

    seam: str
    at: tuple[Basting, ...]
    is_girth: bool = False
    shares: tuple[tuple[str, float], ...] = ()
    levels: tuple[tuple[str, float], ...] = ()
    accuracy: float = ACCURACY
    earlier: tuple[tuple[Basting, ...], ...] = ()
    only: Hand | None = None

    def __post_init__(self) -> None:
        if not self.at:
            raise ParameterError(
                _("No amount is given."), advice=_("Give one at each station, as waist=0mm and hip=12mm.")
            )
        for word, share in self.shares:
            if not 0.0 <= share <= 1.0:
                raise ParameterError(
                    _("{piece} cannot take {percent:.4g} % of what is taken in.").format(
                        piece=word, percent=100.0 * share
                    ),
                    advice=_("Give a share from 0 % to 100 %."),
                )
        if not 0.0 < self.accuracy < math.inf:
            raise ParameterError(_("An accuracy is a length above zero."), advice=_("Give, say, 0.01 mm."))


def take_in(pattern: Pattern, wanted: TakeIn) -> Outcome[Pattern]:
    """Move a seam line on every piece that has it, by amounts that vary along it.

    A seam stitched ``d`` inside the old line takes ``d`` from each of two layers, so ``2d`` from the girth for each
    seam and ``2nd`` for ``n`` of them. Between stations amounts are blended without overshoot; outside them nothing
    moves. The new line lies beside the old one at the amount's distance, square to it (Frenet: ``C + d n``). Its ends
    slide along the edges beside it, which are cut there or drawn on as they were going. Marks keep their places: those
    on the seam move square to it with it.

    Args:
        pattern: the pieces.
        wanted: the seam and its amounts.

    Returns:
        The pattern. At stations the line lies at the amount within 1e-6 mm of it, between them within the accuracy of
        the true line; where the amount is zero from one station to the next nothing moves. Pieces that do not have the
        seam are what they were.

    Raises:
        ParameterError: no such seam; stations that are not found, lie out of order or leave out an end of the seam;
            shares that fit no piece.
        CollapseError: an amount that would reach a dart, a hold, the grain line or the piece's other side, or that is
            more than a bend allows; the error says where, and how much is possible.
        GeometryError: an end that cannot slide.

    >>> from crossgrain.model import Edge
    >>> box = Path.polygon([(0, 0), (200, 0), (200, 900), (0, 900)]).segments
    >>> edges = tuple(Edge(name=n, line=Path((line,))) for n, line in zip(("waist", "side", "hem", "inseam"), box))
    >>> basted = tuple(Basting(station=Station(name=n), amount=12.0) for n in ("waist", "hem"))
    >>> outcome = take_in(Pattern(pieces=(Piece(id="front", edges=edges),)), TakeIn(seam="side", at=basted))
    >>> [(round(x, 9), round(y, 9)) for x, y in outcome.value.pieces[0].edge("side").line.nodes]
    [(188.0, 0.0), (188.0, 900.0)]
    """
    if wanted.only is not None:
        pattern = parted(pattern, [piece.id for piece in pattern.pieces if wanted.seam in piece.edge_names])
    drawn, pattern = pattern, with_screened_pieces(pattern)
    sides, left = _leading(_on_that_side(sides_of(pattern, wanted.seam), wanted))
    is_seam = wanted.seam not in GOING_ON
    if not is_seam and (wanted.is_girth or (len(sides) > 1 and not _is_even(wanted))):
        advice = _("Move all of them by one length, as 5mm at each end, or one alone: --piece {piece}.")
        raise not_a_seam(wanted.seam, sides, advice.format(piece=sides[0].piece.id))
    depths = depths_of_levels(pattern, wanted.levels)
    rounds = (*wanted.earlier, wanted.at)
    as_drawn, _left = _leading(_on_that_side(sides_of(drawn, wanted.seam), wanted))  # nodes are counted on these
    places = [station_places(as_drawn, [basting.station for basting in one], depths) for one in rounds]
    factors = _factors(pattern, sides, wanted)
    changed: list[Piece] = []
    changes: list[Change] = []
    findings: list[Finding] = []
    for number, (side, factor) in enumerate(zip(sides, factors, strict=True)):
        stations, amounts = _added_up(
            [
                _ordered(side, along[number], [basting.amount * factor for basting in one])
                for one, along in zip(rounds, places, strict=True)
            ]
        )
        if not any(amounts):
            continue
        try:
            new = _moved(side, stations, amounts, wanted.accuracy)
        except CrossgrainError as error:
            error.piece, error.edge = error.piece or side.piece.label, error.edge or wanted.seam
            raise
        changed.append(new)
        changes += edge_lengths(side.piece, new)
        findings += counterpart_gone(side.piece)
        findings += [*lost_notches(side.piece, new), *steep_at_nodes(side, stations, amounts)]
    value = drawn.with_pieces(changed)
    if changed:
        whole = math.fsum(factor * copies for factor, copies in zip(factors, layers_round(sides), strict=True))
        changes = [*(_girths(wanted, [along[0] for along in places], whole) if is_seam else ()), *changes]
        findings += [*uneven_sides(value, sides, wanted.seam), *left_to_follow(left, wanted.seam)]
    return Outcome(value=value, changes=tuple(changes), findings=tuple(findings))


def _on_that_side(sides: tuple[SeamSide, ...], wanted: TakeIn) -> tuple[SeamSide, ...]:
    """Return the sides of a seam on the side of the body that is meant."""
    if wanted.only is None:
        return sides
    found = tuple(side for side in sides if hand_of(side.piece) in (wanted.only, None))
    if not any(hand_of(side.piece) for side in found):
        raise ParameterError(
            _("No piece of this seam is a left or a right one."),
            edge=wanted.seam,
            piece=listed(side.piece.label for side in sides),
            advice=_("Call them left and right in their names, or mark them to be cut 2 mirrored."),
        )
    for side in found:
        if hand_of(side.piece) is None and side.copies > 1:
            raise ParameterError(
                _("One drawing stands for both sides of the body here, and cannot be taken in on one of them."),
                piece=side.piece.label,
                edge=wanted.seam,
                advice=_("Draw the whole piece instead of half of it on a fold, or mark it to be cut 2 mirrored."),
            )
    return found


def _is_even(wanted: TakeIn) -> bool:
    """Tell whether the edges move by one amount everywhere."""
    return all(len({basting.amount for basting in one}) == 1 for one in (*wanted.earlier, wanted.at))


def _factors(pattern: Pattern, sides: Sequence[SeamSide], wanted: TakeIn) -> list[float]:
    """Return what each side's distance is, as a multiple of the amount given."""
    weights = [2.0 * share for share in side_shares(pattern, sides, wanted.shares)]
    if not wanted.is_girth:
        return weights
    whole = math.fsum(weight * copies for weight, copies in zip(weights, layers_round(sides), strict=True))
    return [weight / whole for weight in weights]


def _leading(sides: Sequence[SeamSide]) -> tuple[tuple[SeamSide, ...], tuple[SeamSide, ...]]:
    """Part the sides of a seam from those that follow it, as a waistband does, where there are others."""
    following = [any(follows.edge == side.edge.name for follows in side.piece.follows) for side in sides]
    if all(following):
        return tuple(sides), ()
    parted_ = [[side for side, one in zip(sides, following, strict=True) if one == which] for which in (False, True)]
    return tuple(parted_[0]), tuple(parted_[1])


def _ordered(
    side: SeamSide, along: Sequence[float], amounts: Sequence[float]
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return stations and amounts in the order of the seam, checked: it moves only between places that are given."""
    total = path_length(side.line)
    ordered = sorted(zip(along, amounts, strict=True))
    for (one, _one), (other, _other) in pairwise(ordered):
        if other - one <= COINCIDENT:
            raise ParameterError(
                _("Two stations lie at the same place, {along:.1f} mm along the seam.").format(along=one),
                piece=side.piece.label,
                edge=side.edge.name,
                position=_point(side.line, one),
                advice=_("Give each place once."),
            )
    for (place, amount), end, name in (
        (ordered[0], 0.0, side.first_neighbour),
        (ordered[-1], total, side.last_neighbour),
    ):
        if amount and abs(place - end) > COINCIDENT:
            raise ParameterError(
                _("How far the seam moves between {end} and the next station is not said.").format(end=name),
                piece=side.piece.label,
                edge=side.edge.name,
                position=_point(side.line, place),
                advice=_("Give an amount at that end too, as {end}=0mm.").format(end=name),
            )
    places = tuple(min(max(place, 0.0), total) for place, _amount in ordered)
    return places, tuple(amount for _place, amount in ordered)


def _moved(side: SeamSide, stations: Sequence[float], amounts: Sequence[float], accuracy: float) -> Piece:
    """Move one side of a seam on its piece."""
    piece, name = side.piece, side.edge.name
    blend = Profile(stations, amounts)
    check_way(side, blend)
    distances = [side.inwards * amount for amount in amounts]
    outwards = -side.inwards
    line = line_beside(side.line, stations, distances, accuracy, outwards=outwards)
    edges = with_moved_edge(piece, name, line.reversed() if side.is_turned else line)
    check_cut_off(side, edges, amounts)

    there = moving_beside(side.line, stations, distances, outwards=outwards)

    def place(edge: str, share: float) -> Point:
        if edge != name:
            return point_at_share(piece.edge(edge).line, share)
        return there((1.0 - share if side.is_turned else share) * path_length(side.line))

    return with_marks_carried(piece, edges, place, lambda dart: dart_points(piece, dart)[1])


def _added_up(
    rounds: Sequence[tuple[tuple[float, ...], tuple[float, ...]]],
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return stations and amounts of several fittings together: at each station of one, what all of them have there."""
    if len(rounds) == 1:
        return rounds[0]
    stations: list[float] = []
    for place in sorted(place for places, _amounts in rounds for place in places):
        if not stations or place - stations[-1] > COINCIDENT:
            stations.append(place)
    blends = [Profile(places, amounts) for places, amounts in rounds]
    total = sum(blend(np.array(stations))[0] for blend in blends)
    return tuple(stations), tuple(float(amount) for amount in np.atleast_1d(total))


def _girths(wanted: TakeIn, places: Sequence[Sequence[float]], whole: float) -> list[Change]:
    """Return what each station takes from the girth of the whole garment.

    Args:
        wanted: the amounts.
        places: where the stations of each fitting lie on the first side, mm.
        whole: what the garment loses for an amount of 1.
    """
    rounds = (*wanted.earlier, wanted.at)
    blends = [
        Profile(*zip(*sorted(zip(along, (basting.amount for basting in one), strict=True)), strict=True))
        for along, one in zip(places, rounds, strict=True)
    ]
    named = {
        level_word(write_station(basting.station))
        if basting.station.spot is None
        else _("{place:.0f} mm").format(place=place): place
        for along, one in zip(places, rounds, strict=True)
        for place, basting in zip(along, one, strict=True)
    }
    return [
        Change(
            piece="",
            edge=wanted.seam,
            what=_("girth of the garment at {station}").format(station=name),
            before=0.0,
            after=-whole * math.fsum(float(blend(np.array([place]))[0][0]) for blend in blends),
        )
        for name, place in named.items()
    ]


def _point(line: Path, along: float) -> Point:
    [place] = places_at(line, [min(max(along, 0.0), path_length(line))])
    return point_at(line, place)
