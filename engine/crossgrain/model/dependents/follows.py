"""What an edge follows: a waistband the waist it is sewn to, piece after piece."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from crossgrain.errors import ParameterError
from crossgrain.kernel.length import path_length
from crossgrain.language import _

if TYPE_CHECKING:
    from crossgrain.model.pattern import Pattern
    from crossgrain.model.piece import Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One stretch of an edge that follows others: as long as an edge of a piece, or of a length of its own.

    Args:
        piece: the piece that has the edge; empty for a length of its own.
        edge: the name of the edge; that of the edge which follows where it is empty.
        length: an overlap or an extension, mm, above 0; 0 where a piece is named.
    """

    piece: str = ""
    edge: str = ""
    length: float = 0.0

    def __post_init__(self) -> None:
        if bool(self.piece) == (self.length > 0.0) or not 0.0 <= self.length < math.inf:
            raise ParameterError(
                _("What an edge follows is an edge of a piece, or a length above zero."),
                advice=_("Write it as waist=35mm + left front + back."),
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Follows:
    """What an edge of a piece follows.

    Args:
        edge: the name of the piece's own edge.
        terms: what lies along it, in order from its start.
        was: how long each of them was when the edge last was as long as all of them, mm; empty where it never was.
    """

    edge: str
    terms: tuple[Term, ...]
    was: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        if not self.terms:
            raise ParameterError(_("The edge {edge} follows nothing.").format(edge=self.edge))

    @property
    def pieces(self) -> tuple[str, ...]:
        """The ids or names of the pieces whose edges it follows."""
        return tuple(term.piece for term in self.terms if term.piece)


def sewn_length(piece: Piece, edge: str) -> float:
    """Return how long an edge is when its darts are sewn, mm."""
    return path_length(piece.edge(edge).line) - math.fsum(dart.width for dart in piece.darts if dart.edge == edge)


def lengths_followed(pattern: Pattern, follows: Follows) -> tuple[float, ...]:
    """Return how long each stretch is that an edge follows now, mm; dart intakes are out.

    Raises:
        ParameterError: a piece or an edge that is not there.
    """
    return tuple(
        sewn_length(pattern.piece(term.piece), term.edge or follows.edge) if term.piece else term.length
        for term in follows.terms
    )


def joints(lengths: Sequence[float]) -> tuple[float, ...]:
    """Return where stretches laid end to end begin and end, mm from the start of the first.

    >>> joints((35.0, 200.0))
    (0.0, 35.0, 235.0)
    """
    return tuple(math.fsum(lengths[:number]) for number in range(len(lengths) + 1))
