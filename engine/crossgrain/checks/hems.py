"""Check hems: turned up, the allowance lies on the leg, neither too narrow for it nor too wide."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

import numpy as np

from crossgrain.errors import CrossgrainError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.meetings.nearest import nearest_points
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.model.cutting.other_line import other_line
from crossgrain.model.cutting.sewn_corner import SewnCorner, corner_style
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import Edge, Piece

_HEM: Final = "hem"
"""What an edge that is turned up is called, or is sewn as."""

_EASED: Final = 2.0
"""What is turned up may be off by so much at either end, mm: the iron takes that in (common practice)."""


def hems_turned_up(piece: Piece) -> Iterator[Finding]:
    """Find hems whose cut line is not the mirror image of the leg, and says not why.

    Args:
        piece: a piece whose outline does not cross itself.

    Returns:
        A finding for each end of a hem that would be off by more than 2 mm when it is turned up, where no style was
        given to the corner. Where the cut line cannot be drawn anew, nothing is said.

    >>> from crossgrain.model import Width
    >>> lines = Path.polygon([(0, 0), (200, 0), (160, 300), (0, 300)]).segments
    >>> widths = {"waist": 10.0, "side": 10.0, "hem": 40.0, "inseam": 10.0}
    >>> edges = [Edge(name=n, line=Path((s,)), allowance=Width.of(widths[n])) for n, s in zip(widths, lines)]
    >>> leg = Piece(id="leg", edges=tuple(edges))
    >>> [finding.edge for finding in hems_turned_up(replace(leg, counterpart=other_line(leg)))]
    ['hem']
    """
    if piece.counterpart is None or piece.outline != "stitch":
        return
    for k, edge in enumerate(piece.edges):
        if _HEM not in (edge.name, edge.sewn_as) or edge.allowance is None or edge.allowance.most <= _EASED:
            continue
        after = piece.edges[(k + 1) % len(piece.edges)]
        ends = [
            (corner, width)
            for corner, other, width, one, next_one in (
                (edge.line.start, piece.edges[k - 1], edge.allowance.start, piece.edges[k - 1], edge),
                (edge.line.end, after, edge.allowance.end, edge, after),
            )
            if other.name != piece.cut.on_fold and corner_style(piece, one.name, next_one.name) is None
        ]
        if ends:
            yield from _off(piece, edge, ends)


def _off(piece: Piece, edge: Edge, ends: list[tuple[Point, float]]) -> Iterator[Finding]:
    mirrored = SewnCorner(edges=(edge.name,), way="mirrored", guide=edge.name)
    try:
        flat = other_line(replace(piece, corners=(*piece.corners, mirrored)))
    except CrossgrainError:
        return
    assert piece.counterpart is not None  # as was asked above
    said = _("Turned up, the allowance of {width:.1f} mm is {off:.1f} mm off the edge it comes to lie on.")
    advice = _("Mirror its corners: crossgrain allow IN.svg -o OUT.svg --renew --corner {edge}=mirrored.")
    for corner, width in ends:
        reach = 3.0 * width
        off = max(_apart(flat, piece.counterpart, corner, reach), _apart(piece.counterpart, flat, corner, reach))
        if off > _EASED:
            yield Finding(
                piece=piece.label,
                edge=edge.name,
                message=said.format(width=width, off=off),
                advice=advice.format(edge=edge.name),
                position=corner,
            )


def _apart(one: Path, other: Path, corner: Point, reach: float) -> float:
    """Return how far the nodes of a line near a corner lie from another line at most, mm."""
    near = [node for node in one.nodes if math.dist(node, corner) < reach]
    return float(nearest_points(other, np.array(near)).distances.max()) if near else 0.0
