"""Tell where a cut line no longer lies beside its stitch line: the outline was edited since, and the line was not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import path_length
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.language import _
from crossgrain.model.cutting.widths_along import width_at
from crossgrain.model.edge_foot import foot
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import Piece
from crossgrain.units import format_length

_SHARES: Final = (0.5, 0.35, 0.65, 0.2, 0.8)
"""Where along an edge it is asked: away from its corners, and at more places than one, for a dart or a neighbour's
allowance may lie at some of them."""

_SEEN: Final = 0.5
"""A cut line within this of its place is where it was drawn, mm: scissors follow it no nearer."""

_LONG: Final = 2.5
"""An edge shorter than so many widths is all corners, and tells nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StrayedEdge:
    """An edge beside which the other line does not lie as the drawing says.

    Args:
        edge: its name.
        width: the allowance that the drawing holds there, mm.
        found: how far the other line lies from there, mm.
        at: the place on the edge, mm.
    """

    edge: str
    width: float
    found: float
    at: Point


def strayed_edges(piece: Piece) -> Iterator[StrayedEdge]:
    """Yield the edges beside which nowhere along their middle the other line lies at the width the drawing holds.

    Args:
        piece: a piece; without a cut line or widths there is nothing to tell.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge
    >>> from crossgrain.model.cutting.width import Width
    >>> lines = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)]).segments
    >>> named = zip(("waist", "side", "hem", "centre"), lines)
    >>> edges = tuple(Edge(name=n, line=Path((line,)), allowance=Width.of(10.0)) for n, line in named)
    >>> around = Path.polygon([(-10, -10), (115, -10), (115, 70), (-10, 70)])
    >>> [(one.edge, one.found) for one in strayed_edges(Piece(id="p", edges=edges, counterpart=around))]
    [('side', 15.0)]
    """
    if piece.counterpart is None:
        return
    outwards = -1.0 if piece.outline == "stitch" else 1.0
    for edge in piece.edges:
        if edge.allowance is None or path_length(edge.line) <= _LONG * edge.allowance.most:
            continue
        for share in _SHARES:
            at, width = foot(piece, edge.name, share), width_at(piece, edge, share)
            if nearest(piece.counterpart, at.at(0.0, outwards * width)).distance <= _SEEN:
                break
        else:
            at, width = foot(piece, edge.name, _SHARES[0]), width_at(piece, edge, _SHARES[0])
            found = nearest(piece.counterpart, at.point).distance
            yield StrayedEdge(edge=edge.name, width=width, found=found, at=at.point)


def strayed_findings(piece: Piece) -> tuple[Finding, ...]:
    """Return what to say of the edges beside which the other line has strayed: cloth cut along it is spoilt."""
    return tuple(
        Finding(
            piece=piece.label,
            message=_("Its allowance is to be {wanted} there, and the lines lie {found} apart.").format(
                wanted=format_length(strayed.width), found=format_length(strayed.found)
            ),
            advice=_("If the outline was edited since, draw the other line again (crossgrain allow --renew)."),
            edge=strayed.edge,
            position=strayed.at,
            severity="caution",
        )
        for strayed in strayed_edges(piece)
    )
