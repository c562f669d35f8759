"""Marks as they are asked for, before they are placed on the edges of a piece.

A maker says ``120 mm from the start of the side`` as often as ``half way down``; a piece knows shares only.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import path_length
from crossgrain.language import _
from crossgrain.model.edge_at import edge_at
from crossgrain.model.grain import GrainTurn, grain_from
from crossgrain.model.marking.marks import Dart, Hold, Notch, NotchKind
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.model.piece import Piece
from crossgrain.tolerances import COINCIDENT


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place on a line: a share of its length, or a length from its start.

    Args:
        share: 0 to 1, or None where ``along`` is given.
        along: mm from the start, or None where ``share`` is given.
    """

    share: float | None = None
    along: float | None = None

    def __post_init__(self) -> None:
        if (self.share is None) == (self.along is None):
            raise ParameterError(_("A place on an edge is a share of it or a length along it, one of the two."))
        if self.share is not None and not 0.0 <= self.share <= 1.0:
            raise ParameterError(
                _("A place at {percent:.4g} % of an edge lies off it.").format(percent=self.share * 100.0),
                advice=_("Give a share from 0 % to 100 %."),
            )

    def on(self, piece: Piece, edge: str) -> float:
        """Return the share of an edge at which this lies.

        Raises:
            ParameterError: no such edge, or a length beyond its end.
        """
        line = piece.edge(edge).line
        if self.share is not None:
            return self.share
        assert self.along is not None
        length = path_length(line)
        if not 0.0 <= self.along <= length + COINCIDENT:
            raise ParameterError(
                _("{along:.1f} mm along lies off the edge, which is {length:.1f} mm long.").format(
                    along=self.along, length=length
                ),
                piece=piece.label,
                edge=edge,
                advice=_("Give a shorter length, or a share."),
            )
        return min(self.along / length, 1.0)


def _edge_and_share(piece: Piece, edge: str, at: Spot | OutlineSpot) -> tuple[str, float]:
    return edge_at(piece, at) if isinstance(at, OutlineSpot) else (edge, at.on(piece, edge))


START = Spot(share=0.0)
END = Spot(share=1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedNotch:
    """A notch at a spot on an edge; see :class:`~crossgrain.model.marking.marks.Notch`.

    Args:
        edge: the name of the edge; empty where the place is one on the whole outline, which tells the edge.
        at: the place.
        count: 1, 2 or 3.
        kind: a slit, a V or a T.
    """

    edge: str
    at: Spot | OutlineSpot
    count: Literal[1, 2, 3] = 1
    kind: NotchKind = "slit"

    def on(self, piece: Piece) -> Notch:
        """Place it on a piece."""
        edge, share = _edge_and_share(piece, self.edge, self.at)
        return Notch(edge=edge, share=share, count=self.count, kind=self.kind)


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedDart:
    """A dart whose mouth has its middle at a spot; see :class:`WantedNotch`."""

    edge: str
    at: Spot | OutlineSpot
    width: float
    depth: float
    lean_rad: float = 0.0
    drill: float = 0.0
    pressed: Literal["start", "end"] | None = None

    def on(self, piece: Piece) -> Dart:
        """Place it on a piece.

        Raises:
            ParameterError: the mouth reaches beyond an end of the edge, or the drill hole beyond the mouth.
        """
        edge, share = _edge_and_share(piece, self.edge, self.at)
        length = path_length(piece.edge(edge).line)
        if self.width / 2.0 > min(share, 1.0 - share) * length + COINCIDENT:
            raise ParameterError(
                _("A dart {width:.1f} mm wide at {percent:.4g} % of its edge reaches beyond the edge's end.").format(
                    width=self.width, percent=share * 100.0
                ),
                piece=piece.label,
                edge=edge,
                advice=_("Place it farther from the end, or make it narrower."),
            )
        check_drill(self.drill, self.depth, edge)
        return Dart(
            edge=edge,
            share=share,
            width=self.width,
            depth=self.depth,
            lean_rad=self.lean_rad,
            drill=self.drill,
            pressed=self.pressed,
        )


def check_drill(drill: float, depth: float, edge: str) -> None:
    """Refuse a drill hole that would not lie in its dart.

    Raises:
        ParameterError: it lies as far short of the tip as the dart is deep, or farther.
    """
    if drill >= depth:
        raise ParameterError(
            _("A drill hole {drill:.1f} mm short of the tip lies outside a dart {depth:.1f} mm deep.").format(
                drill=drill, depth=depth
            ),
            edge=edge,
            advice=_("Give a shorter distance, as 10mm."),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedHold:
    """A hold along an edge between two spots; see :class:`~crossgrain.model.marking.marks.Hold`."""

    edge: str
    width: float
    start: Spot = field(default=START)
    end: Spot = field(default=END)

    def on(self, piece: Piece) -> Hold:
        """Place it on a piece."""
        return Hold(
            edge=self.edge,
            width=self.width,
            start=self.start.on(piece, self.edge),
            end=self.end.on(piece, self.edge),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedGrain:
    """A grain by its turn from the page's vertical, or from the chord of an edge.

    Args:
        turn_rad: the turn, radians. From the vertical downwards, positive clockwise as seen on the page; from a chord,
            positive towards the inside of the piece.
        edge: the name of the edge; empty for the page's vertical.
    """

    turn_rad: float = 0.0
    edge: str = ""

    def on(self, piece: Piece) -> Point:
        """Return the grain on a piece, a unit vector."""
        if not self.edge:
            return (-math.sin(self.turn_rad), math.cos(self.turn_rad))
        piece.edge(self.edge)
        return grain_from([GrainTurn(edge=self.edge, turn_rad=self.turn_rad)], piece.edges)
