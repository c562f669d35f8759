"""Stations: places along a seam, as a maker names them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from crossgrain.errors import ParameterError
from crossgrain.kernel.length import distance_of, path_length
from crossgrain.kernel.meetings.crossing import path_crossings
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.language import _, level_key, level_word
from crossgrain.model.edge_at import edge_at
from crossgrain.model.girths import depth_frame
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.model.piece import listed
from crossgrain.model.seams.seam import SeamSide, end_names
from crossgrain.tolerances import COINCIDENT

_FAR = 1e5
"""Half the length of the line drawn across a piece at a level, mm: farther than any piece reaches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """A place along a seam; one of five.

    Args:
        name: a level, as ``hip``, or an end of the seam by the edge that it meets there, as ``waist``.
        share: a share of the seam's length, 0 to 1, from its first end.
        along: a distance from its first end, mm.
        notch: the number of a notch from the first end, 1 for the nearest.
        spot: a place on the outline of a piece; on the other pieces the same share of the seam.
        start: the name of the end from which share, distance or notch are counted instead of the first.
        piece: the id or name of the piece that has the spot.
    """

    name: str = ""
    share: float | None = None
    along: float | None = None
    notch: int | None = None
    spot: OutlineSpot | None = None
    start: str = ""
    piece: str = ""

    def __post_init__(self) -> None:
        ways = [bool(self.name), *(way is not None for way in (self.share, self.along, self.notch, self.spot))]
        if sum(ways) != 1:
            raise ParameterError(
                _("A station is a level, an end, a share, a distance, a notch or a node; one of them.")
            )
        if self.share is not None and not 0.0 <= self.share <= 1.0:
            raise ParameterError(
                _("A station at {percent:.4g} % lies off its seam.").format(percent=self.share * 100.0),
                advice=_("Give a share from 0 % to 100 %."),
            )
        if self.notch is not None and self.notch < 1:
            raise ParameterError(_("Notches are counted from 1."))


def station_places(
    sides: Sequence[SeamSide],
    stations: Sequence[Station],
    depths: Mapping[str, float],
    among: Sequence[SeamSide] | None = None,
) -> tuple[tuple[float, ...], ...]:
    """Find stations on each side of a seam.

    Args:
        sides: the sides of the seam, as :func:`~crossgrain.model.seams.seam.sides_of` gives them.
        stations: the places wanted.
        depths: how far each level that is known lies below the waist at the side seam, mm.
        among: all sides of the seam, by whose neighbours its ends are called, where ``sides`` are some of them.

    Returns:
        For each side, for each station its distance from the seam's first end along that side, mm.

    Raises:
        ParameterError: a name that is neither an end nor a level, a place off the seam, a level that the seam does not
            cross once.
    """
    whole = sides if among is None else among
    return tuple(tuple(_place(side, whole, station, depths) for station in stations) for side in sides)


def _place(side: SeamSide, sides: Sequence[SeamSide], station: Station, depths: Mapping[str, float]) -> float:
    total = path_length(side.line)
    if station.name:
        first, last = end_names(sides)
        # A maker may call the waist and the hem as the tables do: by the word of the language.
        for name in (station.name, level_key(station.name)):
            if name in first | last:
                return 0.0 if name in first else total
            if name in depths:
                return _at_depth(side, name, depths[name])
        levels = (level_word(name) for name in sorted(depths.keys() - first - last))
        raise _unknown(station.name, (*_words(first), *levels, *_words(last)))
    if station.spot is not None:
        return _spot_share(sides, station) * total
    if station.share is not None:
        along = station.share * total
    elif station.along is not None:
        along = station.along
    else:
        return _at_notch(side, station, from_last=_is_last(station.start, sides))
    if not -COINCIDENT <= along <= total + COINCIDENT:
        raise ParameterError(
            _("{along:.1f} mm along lies off the seam, which is {length:.1f} mm long.").format(
                along=along, length=total
            ),
            piece=side.piece.label,
            edge=side.edge.name,
            advice=_("Give a shorter length, or a share."),
        )
    along = min(max(along, 0.0), total)
    return total - along if _is_last(station.start, sides) else along


def _is_last(start: str, sides: Sequence[SeamSide]) -> bool:
    """Tell whether an end is the last one; nothing named is the first."""
    first, last = end_names(sides)
    name = start if start in first | last else level_key(start)
    if name and name not in first | last:
        raise _unknown(start, (*_words(first), *_words(last)))
    return name in last


def _words(ends: frozenset[str]) -> list[str]:
    return [level_word(name) for name in sorted(ends)]


def _at_depth(side: SeamSide, name: str, depth: float) -> float:
    line = side.line.mapped(depth_frame(side.piece))
    across = Path((Line((-_FAR, depth), (_FAR, depth)),))
    places = [crossing.a for crossing in path_crossings(line, across)]
    if len(places) != 1:
        raise ParameterError(
            _("The seam crosses the {level}, {depth:.0f} mm down, {count} times.").format(
                level=name, depth=depth, count=len(places)
            ),
            piece=side.piece.label,
            edge=side.edge.name,
            advice=_("Give a share of the seam, or a distance from an end, instead."),
        )
    return distance_of(line, places[0])


def _at_notch(side: SeamSide, station: Station, *, from_last: bool) -> float:
    assert station.notch is not None
    total = path_length(side.line)
    shares = sorted(notch.share for notch in side.piece.notches if notch.edge == side.edge.name)
    along = sorted((1.0 - share if side.is_turned != from_last else share) * total for share in shares)
    if station.notch > len(along):
        raise ParameterError(
            _("There is no notch {number}; the edge has {count}.").format(number=station.notch, count=len(along)),
            piece=side.piece.label,
            edge=side.edge.name,
            advice=_("Mark one, or give a share of the seam."),
        )
    place = along[station.notch - 1]
    return total - place if from_last else place


def _spot_share(sides: Sequence[SeamSide], station: Station) -> float:
    assert station.spot is not None
    for side in sides:
        if station.piece in (side.piece.id, side.piece.name) or (not station.piece and len(sides) == 1):
            name, share = edge_at(side.piece, station.spot)
            if name != side.edge.name:
                share = _corner_share(side, share, name)
            return 1.0 - share if side.is_turned else share
    raise ParameterError(
        _("A node is not said to be one of a piece of this seam."),
        advice=_("Name the piece: node 12 of {piece}.").format(piece=listed(side.piece.id for side in sides[:1])),
    )


def _corner_share(side: SeamSide, share: float, name: str) -> float:
    """Return which end of the edge a corner is that was found as an end of the edge beside it."""
    names = side.piece.edge_names
    at = names.index(side.edge.name)
    if name == names[at - 1] and math.isclose(share, 1.0):
        return 0.0
    if name == names[(at + 1) % len(names)] and math.isclose(share, 0.0, abs_tol=COINCIDENT):
        return 1.0
    raise ParameterError(
        _("The node lies on the edge {name}.").format(name=name),
        piece=side.piece.label,
        edge=side.edge.name,
        advice=_("Give nodes of this edge."),
    )


def _unknown(name: str, known: Sequence[str]) -> ParameterError:
    return ParameterError(
        _("There is no end and no level named {name}.").format(name=name),
        advice=_("Known are: {names}. For a level, say how deep it lies, or name a body file.").format(
            names=listed(known)
        ),
    )
