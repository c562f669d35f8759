"""What stands on the edges of a piece, taken together: when edges are renamed or go."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from crossgrain.model.piece import ON_EDGES, Piece


def on_edges_called(piece: Piece, called: Callable[[str], str | None]) -> dict[str, Any]:
    """Return the fields of a piece that hold what stands on its edges, those under other names.

    Args:
        piece: the piece.
        called: the name of an edge now, by its old one; None where the edge is gone, and what stood on it with it.

    Returns:
        The fields, for :func:`dataclasses.replace` together with the edges.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge, Notch
    >>> edge = Edge(name="side", line=Path(Path.polygon([(0, 0), (9, 0), (9, 9)]).segments))
    >>> piece = Piece(id="p1", edges=(edge,), notches=(Notch(edge="side", share=0.5),))
    >>> on_edges_called(piece, {"side": "outseam"}.get)["notches"]
    (Notch(edge='outseam', share=0.5, count=1, kind='slit'),)
    """
    corners = []
    for corner in piece.corners:
        names = [called(name) for name in corner.edges]
        if None not in names:
            guide = called(corner.guide) if corner.guide else ""
            corners.append(replace(corner, edges=tuple(str(name) for name in names), guide=guide or ""))
    on_edges = {
        field: tuple(
            one if name == one.edge else replace(one, edge=name)
            for one in getattr(piece, field)
            if (name := called(one.edge)) is not None
        )
        for field in ON_EDGES
    }
    return {**on_edges, "corners": tuple(corners)}
