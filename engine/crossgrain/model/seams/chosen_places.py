"""Stations at places that a maker chose on an outline, one amount for all of them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import distance_of, path_length
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.language import _
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.model.piece import Edge, Piece, listed
from crossgrain.model.seams.station import Station
from crossgrain.tolerances import COINCIDENT

_WITH_ENDS = 3
"""From so many places on, the outermost two are where the change begins and ends."""


def at_chosen(
    piece: Piece, points: Sequence[Point], amount: float, seam: str = ""
) -> tuple[str, tuple[tuple[Station, float], ...]]:
    """Make stations of places chosen on one edge.

    Three or more say where the change begins, where it is, and where it ends: nothing moves at the outermost two, and
    the amount stands at those between. One or two have the amount, and it goes to nothing at both ends of the edge.

    Args:
        piece: the piece.
        points: places on its outline, mm, at least one.
        amount: mm.
        seam: the name of the edge, where it is said.

    Returns:
        The name of the edge, and the stations in order.

    Raises:
        ParameterError: the places do not lie on one edge, or not on the one that is named; one corner alone, of which
            it is not said which of its two edges is meant.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model.piece import Edge
    >>> lines = Path.polygon([(0, 0), (200, 0), (200, 900), (0, 900)]).segments
    >>> edges = tuple(Edge(name=n, line=Path((line,))) for n, line in zip(("waist", "side", "hem", "inseam"), lines))
    >>> seam, at = at_chosen(Piece(id="front", edges=edges), [(200.0, 300.0)], 12.0)
    >>> seam, [amount for _station, amount in at]
    ('side', [0.0, 12.0, 0.0])
    """
    edge = _edge_of(piece, points, seam)
    total = path_length(edge.line)
    places = sorted((distance_of(edge.line, nearest(edge.line, point).place), point) for point in points)
    along = [places[0], *(now for was, now in pairwise(places) if now[0] - was[0] > COINCIDENT)]
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


def _edge_of(piece: Piece, points: Sequence[Point], seam: str) -> Edge:
    """Return the edge on which all places lie."""
    found = [
        edge
        for edge in piece.edges
        if edge.name and all(nearest(edge.line, point).distance <= COINCIDENT for point in points)
    ]
    named = [edge for edge in found if edge.name == seam] if seam else found
    if len(named) == 1:
        return named[0]
    where = points[0] if points else None
    if named:
        raise ParameterError(
            _("The corner chosen belongs to two edges: {names}.").format(names=listed(edge.name for edge in named)),
            piece=piece.label,
            position=where,
            advice=_("Choose another node of the seam as well, or name it: --seam {seam}.").format(seam=named[0].name),
        )
    raise ParameterError(
        _("The places chosen do not lie on {seam}.").format(seam=seam)
        if seam
        else _("The places chosen do not lie on one edge that has a name."),
        piece=piece.label,
        position=where,
        advice=_("Choose nodes of one edge, or name the edges of the piece first."),
    )
