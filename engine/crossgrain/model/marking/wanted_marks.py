"""What is pressed, stitched and closed, as it is asked for, before it is placed on the edges of a piece."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.girths import WAIST
from crossgrain.model.marking.pressing_lines import crease_way
from crossgrain.model.marking.sewing_marks import LOOP_WIDTH, Button, Buttonhole, Crease, Lie, Loop, Topstitching
from crossgrain.model.marking.wanted import END, START, Spot
from crossgrain.model.piece import Piece
from crossgrain.tolerances import COINCIDENT


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedCrease:
    """A crease from a spot on an edge; see :class:`~crossgrain.model.marking.sewing_marks.Crease`.

    Args:
        edge: the name of the edge.
        at: where it starts.
        to: how far it goes: a share of the way across the piece, or a length.
    """

    edge: str
    at: Spot = field(default=Spot(share=0.5))
    to: Spot = field(default=END)

    def on(self, piece: Piece) -> Crease:
        """Place it on a piece, whose grain and darts are those it will have.

        Raises:
            ParameterError: a place off the edge, or a length longer than the way across the piece.
        """
        crease = Crease(edge=self.edge, share=self.at.on(piece, self.edge))
        if self.to.share is not None:
            return replace(crease, reach=self.to.share)
        assert self.to.along is not None
        way = crease_way(piece, crease)
        length = math.dist(*way) if way is not None else 0.0
        if self.to.along > length + COINCIDENT:
            raise ParameterError(
                _("A crease of {asked:.1f} mm is longer than its way, which is {length:.1f} mm.").format(
                    asked=self.to.along, length=length
                ),
                piece=piece.label,
                edge=self.edge,
                advice=_("Give a shorter length, or a share."),
            )
        return replace(crease, reach=min(self.to.along / length, 1.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedLoop:
    """A belt loop at a spot on an edge; see :class:`~crossgrain.model.marking.sewing_marks.Loop`."""

    edge: str
    at: Spot
    width: float = LOOP_WIDTH
    length: float | None = None

    def on(self, piece: Piece) -> Loop:
        """Place it on a piece."""
        return Loop(edge=self.edge, share=self.at.on(piece, self.edge), width=self.width, length=self.length)


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedButton:
    """A button at a spot on an edge; see :class:`~crossgrain.model.marking.sewing_marks.Button`.

    Args:
        edge: the name of the edge.
        at: where on it.
        diameter: of the button, mm.
        thickness: of the button, mm.
        inset: how far inside the edge, mm; as far as the button is wide where None (common practice).
    """

    edge: str
    at: Spot
    diameter: float
    thickness: float
    inset: float | None = None

    def on(self, piece: Piece) -> Button:
        """Place it on a piece."""
        return Button(
            edge=self.edge,
            share=self.at.on(piece, self.edge),
            diameter=self.diameter,
            thickness=self.thickness,
            inset=self.diameter if self.inset is None else self.inset,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedButtonhole:
    """A buttonhole at a spot on an edge; see :class:`WantedButton`."""

    edge: str
    at: Spot
    diameter: float
    thickness: float
    inset: float | None = None
    lie: Lie = "across"

    def on(self, piece: Piece) -> Buttonhole:
        """Place it on a piece."""
        return Buttonhole(
            edge=self.edge,
            share=self.at.on(piece, self.edge),
            diameter=self.diameter,
            thickness=self.thickness,
            inset=self.diameter if self.inset is None else self.inset,
            lie=self.lie,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedTopstitching:
    """The line beside an opening; see :class:`~crossgrain.model.marking.sewing_marks.Topstitching`.

    Args:
        edge: the name of the edge.
        width: from the edge to the line, mm.
        start: where it begins; None for the end of the edge that lies farther from where it ends.
        end: where its curve meets the edge; None for the end of the edge that lies farther from where it begins. With
            neither it begins where the edge meets the waist, or else at the edge's start.
    """

    edge: str
    width: float
    start: Spot | None = None
    end: Spot | None = None

    def on(self, piece: Piece) -> Topstitching:
        """Place it on a piece.

        Raises:
            ParameterError: a place off the edge, or both in one place.
        """
        piece.edge(self.edge)
        start, end = self.start, self.end
        if start is None and end is None:
            names = piece.edge_names
            start = END if names[(names.index(self.edge) + 1) % len(names)] == WAIST else START
        if start is None:
            assert end is not None
            start = END if end.on(piece, self.edge) < 0.5 else START
        if end is None:
            end = END if start.on(piece, self.edge) < 0.5 else START
        return Topstitching(
            edge=self.edge, width=self.width, start=start.on(piece, self.edge), end=end.on(piece, self.edge)
        )
