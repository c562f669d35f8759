"""Refuse outlines that cross themselves: what lies inside them cannot be told."""

from __future__ import annotations

from crossgrain.errors import SelfCrossingError
from crossgrain.kernel.meetings.crossing import self_crossings
from crossgrain.language import _
from crossgrain.model.piece import Piece


def check_simple(piece: Piece) -> None:
    """Raise an error where the outline of a piece crosses or touches itself.

    Raises:
        SelfCrossingError: it does; the error says where first.
    """
    crossing = next(iter(self_crossings(piece.line)), None)
    if crossing is not None:
        raise SelfCrossingError(
            _("The outline crosses itself."),
            piece=piece.label,
            position=crossing.point,
            advice=_("Move the nodes there apart."),
        )
