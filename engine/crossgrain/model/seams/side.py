"""One side of a seam: an edge where it stands on its piece, with its neighbours and corners."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.curvature import node_turns
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.model.piece import Piece

End = Literal["start", "end"]
ENDS: tuple[End, End] = ("start", "end")


@dataclass(frozen=True, slots=True)
class Side:
    """An edge of a piece.

    Args:
        piece: the piece.
        name: the name of the edge.
    """

    piece: Piece
    name: str

    @property
    def line(self) -> Path:
        """The edge itself, in the order in which the edges are named."""
        return self.piece.edge(self.name).line

    @property
    def length(self) -> float:
        """Its length, mm."""
        return path_length(self.line)

    def neighbour(self, end: End) -> str:
        """Return the name of the edge it meets at an end."""
        names = self.piece.edge_names
        return names[(names.index(self.name) + (1 if end == "end" else -1)) % len(names)]

    def corner(self, end: End) -> Point:
        """Return the place of the corner at an end, mm."""
        return self.line.end if end == "end" else self.line.start

    def angle(self, end: End) -> float:
        """Return the angle of the cloth at an end, between the edge and its neighbour, radians from 0 to 2π.

        Directions are those in which the lines arrive at and leave the corner, exact.

        >>> from crossgrain.model import Edge
        >>> sides = zip(("waist", "side", "hem", "centre"), Path.polygon([(0, 0), (9, 0), (9, 6), (0, 6)]).segments)
        >>> piece = Piece(id="p", edges=tuple(Edge(name=name, line=Path((line,))) for name, line in sides))
        >>> round(math.degrees(Side(piece, "side").angle("end")), 9)
        90.0
        """
        at = self.piece.edge_names.index(self.name) + (1 if end == "end" else 0)
        return corner_angles(self.piece)[at % len(self.piece.edges)]


def corner_angles(piece: Piece) -> tuple[float, ...]:
    """Return the angle of the cloth where each edge of a piece starts, radians from 0 to 2π."""
    turns = node_turns(piece.line)
    side = winding(piece.line)
    out, node = [], 0
    for edge in piece.edges:
        out.append(math.pi - side * float(turns[node % len(turns)]))
        node += len(edge.line.segments)
    return tuple(out)
