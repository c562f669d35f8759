"""The grain, tied to a piece's own edges so that it turns and mirrors with the piece."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import centroid, winding
from crossgrain.kernel.length import point_at_share
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import unit
from crossgrain.language import _
from crossgrain.model.piece import Edge
from crossgrain.tolerances import AGREEING_TURN, CLOSING_GAP, COINCIDENT


@dataclass(frozen=True, slots=True, kw_only=True)
class GrainTurn:
    """The grain as a turn against the chord of an edge.

    Args:
        edge: the name of the edge.
        turn_rad: the turn from the chord, start to end, to the grain; positive towards the inside of the piece.
    """

    edge: str
    turn_rad: float


def chord(edge: Edge) -> Point:
    """Return the unit direction from the start of an edge to its end; to its middle, where it ends where it starts.

    Raises:
        GeometryError: an edge without length.
    """
    start = edge.line.start
    for end in (edge.line.end, point_at_share(edge.line, 0.5)):
        if math.dist(start, end) > COINCIDENT:
            return unit(end[0] - start[0], end[1] - start[1])
    raise GeometryError(_("An edge has no direction."), edge=edge.name, position=start)


def frame(edge: Edge, outline: Path) -> tuple[Point, Point]:
    """Return the direction of an edge's chord and the direction inwards, at right angles to it.

    Args:
        edge: the edge.
        outline: the closed outline that it is part of. Where it is all of it, inwards is to the side of the chord on
            which most of the piece lies.
    """
    x, y = chord(edge)
    side = float(winding(outline))
    if math.dist(edge.line.start, edge.line.end) <= COINCIDENT:
        middle = centroid(outline)
        offset = x * (middle[1] - edge.line.start[1]) - y * (middle[0] - edge.line.start[0])
        side = offset if abs(offset) > CLOSING_GAP else side
    return (x, y), ((-y, x) if side >= 0.0 else (y, -x))


def grain_turns(grain: Point, edges: Sequence[Edge]) -> tuple[GrainTurn, ...]:
    """Express a grain against the chords of all edges, the steadiest first.

    An edge along or across the grain keeps it best when the piece is made narrower, and a long edge when a corner
    moves.

    Args:
        grain: a unit vector.
        edges: all edges of the outline, in order.
    """
    outline = _outline(edges)
    turns = []
    for edge in edges:
        along, inwards = frame(edge, outline)
        turn = math.atan2(grain[0] * inwards[0] + grain[1] * inwards[1], grain[0] * along[0] + grain[1] * along[1])
        turns.append((-_steadiness(edge, turn), GrainTurn(edge=edge.name, turn_rad=turn)))
    return tuple(turn for _rank, turn in sorted(turns, key=lambda ranked: ranked[0]))


def grain_from(turns: Sequence[GrainTurn], edges: Sequence[Edge]) -> Point:
    """Return the grain that most edges agree on.

    Where a corner was moved, the chords of its two edges have turned and the others have not, so that these agree.
    Where no half of them agrees, as after uneven scaling, the direction is taken from which the others differ least in
    sum, the steady ones counting most.

    Args:
        turns: at least one, against edges that are there.
        edges: all edges of the outline, in order.

    Returns:
        A unit vector.
    """
    outline = _outline(edges)
    named = {edge.name: edge for edge in edges}
    read: list[tuple[float, Point]] = []
    for turn in turns:
        edge = named[turn.edge]
        (ax, ay), (nx, ny) = frame(edge, outline)
        cos, sin = math.cos(turn.turn_rad), math.sin(turn.turn_rad)
        read.append((_steadiness(edge, turn.turn_rad), (cos * ax + sin * nx, cos * ay + sin * ny)))

    def between(one: Point, other: Point) -> float:
        return abs(math.atan2(one[0] * other[1] - one[1] * other[0], one[0] * other[0] + one[1] * other[1]))

    directions = [direction for _weight, direction in read]
    agreeing = [sum(between(one, other) <= AGREEING_TURN for other in directions) for one in directions]
    if 2 * max(agreeing) >= len(read) > 2 and max(agreeing) > 1:
        return directions[agreeing.index(max(agreeing))]
    return min(directions, key=lambda one: math.fsum(weight * between(one, other) for weight, other in read))


def _steadiness(edge: Edge, turn_rad: float) -> float:
    reach = max(math.dist(edge.line.start, edge.line.end), COINCIDENT)
    return reach / (0.2 + abs(math.sin(2.0 * turn_rad)))


def _outline(edges: Sequence[Edge]) -> Path:
    return Path(tuple(segment for edge in edges for segment in edge.line.segments), True)
