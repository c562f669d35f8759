"""A place on an edge, with the directions along the edge and into the piece."""

from __future__ import annotations

import math
from typing import NamedTuple

from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.length import Place, path_length, place_at, point_at
from crossgrain.kernel.meetings.sections import chords
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import unit
from crossgrain.model.piece import Piece
from crossgrain.tolerances import COINCIDENT


class Foot(NamedTuple):
    """A place on an edge.

    Args:
        point: the place, mm.
        along: the unit direction in which the edge runs there.
        inwards: the unit direction into the piece, square to the edge.
    """

    point: Point
    along: Point
    inwards: Point

    def at(self, along: float, inwards: float) -> Point:
        """Return the point so far along and so far inwards from here, mm."""
        return (
            self.point[0] + along * self.along[0] + inwards * self.inwards[0],
            self.point[1] + along * self.along[1] + inwards * self.inwards[1],
        )


def foot(piece: Piece, edge: str, share: float, beside: float = 0.0) -> Foot:
    """Return a place on an edge of a piece.

    Args:
        piece: the piece.
        edge: the name of the edge.
        share: where on the edge, 0 to 1.
        beside: so far farther along, mm; the end of the edge where that lies beyond it.

    >>> from crossgrain.model import Edge
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> piece = Piece(id="band", edges=(Edge(name="", line=Path(square.segments)),))
    >>> foot(piece, "", 0.0, 40.0)
    Foot(point=(40.0, 0.0), along=(1.0, 0.0), inwards=(0.0, 1.0))
    """
    line = piece.edge(edge).line
    total = path_length(line)
    place = place_at(line, min(max(share * total + beside, 0.0), total))
    return foot_at(line, place, float(winding(piece.line)))


def foot_at(line: Path, place: Place, side: float) -> Foot:
    """Return a place on a line of an outline; ``side`` is the outline's winding, 1 or -1."""
    x, y = tangent(line, place)
    return Foot(point_at(line, place), (x, y), (-side * y + 0.0, side * x + 0.0))


def tangent(line: Path, place: Place) -> Point:
    """Return the direction of a line at a place; along its chord where it has none."""
    segment = line.segments[place.index]
    dx, dy = segment.derivative(place.t)
    if math.hypot(dx, dy) > COINCIDENT:
        return unit(dx, dy)
    return segment.start_tangent or unit(line.end[0] - line.start[0], line.end[1] - line.start[1])


def ahead(outline: Path, point: Point, direction: Point) -> float:
    """Return how far one can go from a point on or in an outline until one leaves it, mm.

    Args:
        outline: a closed line that does not cross itself.
        point: where to start.
        direction: a unit vector.

    Returns:
        The distance, 0 or more; 0 where the point lies outside, or on the outline with the direction leading out.

    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> ahead(square, (30.0, 0.0), (0.0, 1.0)), ahead(square, (30.0, 20.0), (0.0, -1.0))
    (60.0, 20.0)
    """
    dx, dy = direction
    here, level = point[0] * dx + point[1] * dy, point[1] * dx - point[0] * dy
    reach = [end - here for start, end in chords(outline, direction, level) if start - COINCIDENT <= here <= end]
    return max(reach, default=0.0)
