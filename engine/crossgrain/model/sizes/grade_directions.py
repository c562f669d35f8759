"""In which directions of the drawing a piece is graded."""

from __future__ import annotations

from collections.abc import Sequence

from crossgrain.kernel.area import centroid
from crossgrain.kernel.length import point_at_share
from crossgrain.model.girths import HEM, SIDE, WAIST, depth_frame
from crossgrain.model.piece import Piece, is_called
from crossgrain.model.sizes.grade_rules import Toward
from crossgrain.tolerances import COINCIDENT


def directions(piece: Piece, toward: Sequence[Toward] = ()) -> tuple[complex | None, complex]:
    """Return the directions in the drawing in which moves across and along the grain count, complex of size 1.

    Args:
        piece: the piece.
        toward: what is said of directions.

    Returns:
        Across the grain towards the side, None where that cannot be told; along it downwards.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge
    >>> lines = Path.polygon([(0, 0), (9, 0), (9, 30), (0, 30)]).segments
    >>> named = zip(("waist", "side", "hem", "centre"), lines)
    >>> directions(Piece(id="p", edges=tuple(Edge(name=name, line=Path((line,))) for name, line in named)))
    ((1+0j), 1j)
    """
    said = next((one for one in toward if one.piece in (piece.id, piece.name)), None)
    said = said or next((one for one in toward if is_called(piece, one.piece)), Toward(piece=""))
    down = complex(*piece.grain)
    if said.along:
        down *= _sign(piece, said.along, down) or 1.0
    elif {WAIST, HEM} & set(piece.edge_names):
        down = complex(*depth_frame(piece).inverse().of_vector((0.0, 1.0)))
    side = said.across or (SIDE if SIDE in piece.edge_names else "")
    across = down * -1j
    sign = _sign(piece, side, across) if side else 0.0
    return (across * sign if sign else None), down


def _sign(piece: Piece, edge: str, direction: complex) -> float:
    """Tell on which side of a piece's middle an edge lies: 1 in a direction, -1 against it, 0 neither."""
    middle = complex(*centroid(piece.line))
    here = complex(*point_at_share(piece.edge(edge).line, 0.5))
    away = ((here - middle) * direction.conjugate()).real
    return 0.0 if abs(away) <= COINCIDENT else 1.0 if away > 0.0 else -1.0
