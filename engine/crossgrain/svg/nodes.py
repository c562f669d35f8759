"""Nodes as the editor counts them: along the path as it is drawn, whichever way its piece runs."""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.marking.wanted import WantedDart, WantedNotch
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.model.pattern import Pattern
from crossgrain.model.seams.station import Station
from crossgrain.svg.drawing import Drawing

M = TypeVar("M", WantedNotch, WantedDart)


def spot_at_node(drawing: Drawing, id: str, spot: OutlineSpot) -> OutlineSpot:
    """Return a place given as a node of a drawn outline as the point where it lies; other places as they are.

    Args:
        drawing: the drawing.
        id: the id of the outline.
        spot: the place.

    Raises:
        ParameterError: the outline has no such node.
        DocumentError: there is no such outline, or it cannot be read.
    """
    if spot.node is None:
        return spot
    paths = drawing.shape(id).paths
    starts = [segment.start for segment in paths[0].segments] if paths else []
    if spot.node >= len(starts):
        raise ParameterError(
            _("There is no node {node}.").format(node=spot.node),
            advice=_("The outline has nodes 0 to {last}.").format(last=len(starts) - 1),
            piece=id,
        )
    return OutlineSpot(point=starts[spot.node])


def station_at_node(drawing: Drawing, pattern: Pattern, station: Station) -> Station:
    """Return a station given at a node as one at the point where it lies; see :func:`spot_at_node`.

    A node whose piece is not said is one of the only piece there is.
    """
    if station.spot is None:
        return station
    if station.piece or len(pattern.pieces) > 1:
        piece = pattern.piece(station.piece)
    else:
        [piece] = pattern.pieces
    return replace(station, spot=spot_at_node(drawing, piece.id, station.spot), piece=piece.id)


def mark_at_node(drawing: Drawing, id: str, mark: M) -> M:
    """Return a notch or a dart given at a node as one given at the point where it lies; see :func:`spot_at_node`."""
    if isinstance(mark.at, OutlineSpot):
        return replace(mark, at=spot_at_node(drawing, id, mark.at))
    return mark
