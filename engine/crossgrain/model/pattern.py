"""A set of pieces that are sewn together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.piece import Edge, Piece, listed


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """The pieces of a drawing, in the order in which they stand in it."""

    pieces: tuple[Piece, ...] = ()

    def __post_init__(self) -> None:
        ids = [piece.id for piece in self.pieces]
        for one in ids:
            if ids.count(one) > 1:
                raise ParameterError(
                    _("Two pieces have the same id {id}.").format(id=one), advice=_("Give each path an id of its own.")
                )

    def piece(self, name: str) -> Piece:
        """Find a piece by its id or, where no id fits, by its name.

        Raises:
            ParameterError: none or several of that name.
        """
        for piece in self.pieces:
            if piece.id == name:
                return piece
        found = [piece for piece in self.pieces if piece.name == name]
        if len(found) == 1:
            return found[0]
        if found:
            raise ParameterError(
                _("{count} pieces are named {name}.").format(count=len(found), name=name),
                advice=_("Name the one you mean by its id: {ids}.").format(ids=listed(p.id for p in found)),
            )
        raise ParameterError(
            _("There is no piece named {name}.").format(name=name),
            advice=_("The drawing has: {names}.").format(names=listed(p.label for p in self.pieces) or _("none")),
        )

    def seam(self, name: str) -> tuple[tuple[Piece, Edge], ...]:
        """Find every edge of that name: the sides of one seam."""
        return tuple((piece, edge) for piece in self.pieces for edge in piece.edges if edge.name == name)

    def with_pieces(self, changed: Sequence[Piece]) -> Pattern:
        """Return the pattern with the pieces of the same ids replaced."""
        new = {piece.id: piece for piece in changed}
        return Pattern(pieces=tuple(new.get(piece.id, piece) for piece in self.pieces))
