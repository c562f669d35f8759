"""From a place on a whole outline to the edge it lies on."""

from __future__ import annotations

from crossgrain.errors import ParameterError
from crossgrain.kernel.length import distance_of, path_length, point_at
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.language import _
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.model.piece import Piece


def edge_at(piece: Piece, spot: OutlineSpot) -> tuple[str, float]:
    """Find the edge on which a place of the outline lies.

    Args:
        piece: a piece whose edges are named.
        spot: the place; a node counts from the start of the piece's first edge.

    Returns:
        The name of the edge and the share of it, 0 to 1. Of a corner, the edge that begins there or ends there.

    Raises:
        ParameterError: the edges have no names yet, or the place lies off the outline.
    """
    point = spot.point if spot.point is not None else point_at(piece.line, spot.on(piece.line))
    if spot.point is not None:
        spot.on(piece.line)
    found, edge = min(
        ((nearest(edge.line, point), edge) for edge in piece.edges), key=lambda candidate: candidate[0].distance
    )
    if not edge.name:
        raise ParameterError(
            _("The edges of {piece} have no names yet.").format(piece=piece.label),
            piece=piece.label,
            position=point,
            advice=_("Name its edges first."),
        )
    return edge.name, min(max(distance_of(edge.line, found.place) / path_length(edge.line), 0.0), 1.0)
