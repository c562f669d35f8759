"""Stations at places that a maker chose on an outline, one amount for all of them."""

from __future__ import annotations

from collections.abc import Sequence

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import distance_of, path_length
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.language import _
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.model.piece import Piece
from crossgrain.model.seams.station import Station
from crossgrain.tolerances import COINCIDENT

_WITH_ENDS = 3
"""From so many places on, the outermost two are where the change begins and ends."""


def at_chosen(piece: Piece, points: Sequence[Point], amount: float) -> tuple[str, tuple[tuple[Station, float], ...]]:
    """Make stations of places chosen on one edge.

    Three or more say where the change begins, where it is, and where it ends: nothing moves at the outermost two, and
    the amount stands at those between. One or two have the amount, and it goes to nothing at both ends of the edge.

    Args:
        piece: the piece.
        points: places on its outline, mm, at least one.
        amount: mm.

    Returns:
        The name of the edge, and the stations in order.

    Raises:
        ParameterError: the places do not lie on one edge.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model.piece import Edge
    >>> lines = Path.polygon([(0, 0), (200, 0), (200, 900), (0, 900)]).segments
    >>> edges = tuple(Edge(name=n, line=Path((line,))) for n, line in zip(("waist", "side", "hem", "inseam"), lines))
    >>> seam, at = at_chosen(Piece(id="front", edges=edges), [(200.0, 300.0)], 12.0)
    >>> seam, [amount for _station, amount in at]
    ('side', [0.0, 12.0, 0.0])
    """
    for edge in piece.edges:
        found = [nearest(edge.line, point) for point in points]
        if edge.name and all(one.distance <= COINCIDENT for one in found):
            break
    else:
        raise ParameterError(
            _("The places chosen do not lie on one edge that has a name."),
            piece=piece.label,
            position=points[0] if points else None,
            advice=_("Choose nodes of one edge, or name the edges of the piece first."),
        )
    total = path_length(edge.line)
    along = sorted((distance_of(edge.line, one.place), point) for one, point in zip(found, points, strict=True))
    chosen = [Station(spot=OutlineSpot(point=point), piece=piece.id) for _along, point in along]
    if len(along) >= _WITH_ENDS:
        amounts = [0.0, *[amount] * (len(along) - 2), 0.0]
        return edge.name, tuple(zip(chosen, amounts, strict=True))
    at = [(station, amount) for station in chosen]
    # The ends of the edge, whichever of them is the seam's first: nothing moves at either.
    first, last = OutlineSpot(point=edge.line.start), OutlineSpot(point=edge.line.end)
    if along[0][0] > COINCIDENT:
        at.insert(0, (Station(spot=first, piece=piece.id), 0.0))
    if along[-1][0] < total - COINCIDENT:
        at.append((Station(spot=last, piece=piece.id), 0.0))
    return edge.name, tuple(at)
