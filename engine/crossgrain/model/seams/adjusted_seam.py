"""A side of a seam made longer or shorter, its notches set, and the edges beside it led to its ends."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.blending import led_from
from crossgrain.kernel.drawn_on import drawn_on_at_end
from crossgrain.kernel.length import Place, path_length, place_at, point_at_share, run
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import started_at, unit
from crossgrain.model.marking.carried_marks import with_marks_carried
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.piece import Edge, Piece
from crossgrain.model.seams.seam import SeamSide
from crossgrain.tolerances import COINCIDENT, LENGTH_REACHED

Give = Literal["first", "last", "along"]
"""Where a side may become longer or shorter: at its first end, at its last, or over its whole length."""

_LEAST_BLEND = 5.0
"""An edge is led to its new corner over this length at least, mm, even where a dart opens near."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjustment:
    """What happens to one side of a seam.

    Args:
        length: its new length, mm.
        give: where that is found.
        turns_rad: by how much the angle of the cloth becomes smaller at its first and at its last end, radians.
        notches: where its notches go, by where they were; mm from the first end, before and after.
        blend: over what length the edges beside it are led, mm.
    """

    length: float
    give: Give
    blend: float
    turns_rad: tuple[float, float] = (0.0, 0.0)
    notches: Mapping[float, float] = field(default_factory=dict)


def with_length(line: Path, length: float, give: Give) -> Path:
    """Return a seam's line made longer or shorter.

    At an end it is cut, or drawn on as it was going. Over its whole length it is stretched along its chord.

    Args:
        line: the line from the seam's first end.
        length: what it is to be, mm; reached within 1e-6 mm.
        give: where it gives.

    >>> from crossgrain.kernel.segment import Line
    >>> with_length(Path((Line((0.0, 0.0), (0.0, 900.0)),)), 903.0, "last").end
    (0.0, 903.0)
    """
    total = path_length(line)
    if abs(length - total) <= LENGTH_REACHED:
        return line
    if give == "first":
        return with_length(line.reversed(), length, "last").reversed()
    if give == "last":
        longer = line
        # How far a curve is drawn on is asked for roughly, so that it is drawn on by enough and then cut.
        reach = max(0.0, length - total)
        while path_length(longer) < length:
            reach *= 1.25
            longer = drawn_on_at_end(line, reach)
        return run(longer, Place(0, 0.0), place_at(longer, length))
    (ax, ay), (bx, by) = line.start, line.end
    cos, sin = unit(bx - ax, by - ay)
    frame = Affine(cos, -sin, sin, cos)
    origin = frame.of(line.start)

    def stretched(ratio: float) -> Path:
        return line.mapped(frame.then(Affine.scaling(ratio, 1.0, origin)).then(frame.inverse()))

    ratio = length / total
    for _step in range(_STEPS):
        found = stretched(ratio)
        off = path_length(found) - length
        if abs(off) <= LENGTH_REACHED:
            break
        ratio -= off / math.dist(line.start, line.end)
    return Path((started_at(found.segments[0], line.start), *found.segments[1:]))


_STEPS = 20


def angle_at(side: SeamSide, line: Path, at: int) -> float:
    """Return the angle of the cloth between a side's line and the edge beside it, radians from 0 to 2π.

    Args:
        side: the side.
        line: its line now, from the seam's first end.
        at: 0 for the first end, 1 for the last.
    """
    along, beside = _directions(side, line, at)
    turn = math.atan2(beside[0] * along[1] - beside[1] * along[0], beside[0] * along[0] + beside[1] * along[1])
    return (_hand(side, at) * turn) % (2.0 * math.pi)


def adjusted(side: SeamSide, adjustment: Adjustment) -> Piece:
    """Return the piece of a side with the side adjusted.

    Args:
        side: the side.
        adjustment: how.

    Returns:
        The piece. The edges beside the seam are led to its new ends; what is farther from it than the blend stays. Its
        other marks stay where they are.
    """
    piece, name = side.piece, side.edge.name
    line = with_length(side.line, adjustment.length, adjustment.give)
    if line is side.line and not any(adjustment.turns_rad) and not adjustment.notches:
        return piece  # carried along, its marks would be rounded anew
    edges = list(piece.edges)
    at = piece.edge_names.index(name)
    edges[at] = replace(edges[at], line=line.reversed() if side.is_turned else line)
    for end in (0, 1):
        corner = line.end if end else line.start
        old = side.line.end if end else side.line.start
        turn = adjustment.turns_rad[end]
        if turn == 0.0 and math.dist(corner, old) <= COINCIDENT:
            continue
        is_after = bool(end) != side.is_turned
        number = (at + 1) % len(edges) if is_after else at - 1
        beside = edges[number].line if is_after else edges[number].line.reversed()
        _along, direction = _directions(side, line, end)
        direction = _turned(direction, _hand(side, end) * turn)
        new = led_from(beside, corner, direction, _room(piece, number, adjustment))
        edges[number] = replace(edges[number], line=new if is_after else new.reversed())
    return _with_notches(side, tuple(edges), line, adjustment)


def _directions(side: SeamSide, line: Path, at: int) -> tuple[Point, Point]:
    """Return the directions in which a side's line and the edge beside it leave their corner."""
    piece = side.piece
    names = piece.edge_names
    number = names.index(side.edge.name)
    own = line.reversed() if at else line
    if bool(at) != side.is_turned:
        beside = piece.edges[(number + 1) % len(names)].line
    else:
        beside = piece.edges[number - 1].line.reversed()
    along, direction = own.segments[0].start_tangent, beside.segments[0].start_tangent
    assert along is not None  # edges have a length
    assert direction is not None
    return along, direction


def _hand(side: SeamSide, at: int) -> float:
    """Return 1 where the cloth lies clockwise on the page from the edge beside a side to the side, else -1."""
    return -side.inwards if at else side.inwards


def _turned(direction: Point, angle_rad: float) -> Point:
    cos, sin = math.cos(angle_rad), math.sin(angle_rad)
    return (direction[0] * cos - direction[1] * sin, direction[0] * sin + direction[1] * cos)


def _room(piece: Piece, number: int, adjustment: Adjustment) -> float:
    """Return over what length an edge may be led: not into a dart that opens on it."""
    edge = piece.edges[number]
    darts = [dart for dart in piece.darts if dart.edge == edge.name]
    total = path_length(edge.line)
    free = [min(dart.share, 1.0 - dart.share) * total - dart.width / 2.0 for dart in darts]
    return max(_LEAST_BLEND, min([adjustment.blend, *free]))


def _with_notches(side: SeamSide, edges: tuple[Edge, ...], line: Path, adjustment: Adjustment) -> Piece:
    piece, name = side.piece, side.edge.name
    total, length = path_length(side.line), path_length(line)
    moved = {round(was, 6): now for was, now in adjustment.notches.items()}

    def place(edge: str, share: float) -> Point:
        if edge != name:
            return point_at_share(piece.edge(edge).line, share)
        was = (1.0 - share if side.is_turned else share) * total
        now = moved.get(round(was, 6), carried(was, total, length, adjustment.give))
        return point_at_share(line, min(max(now / length, 0.0), 1.0))

    return with_marks_carried(piece, edges, place, lambda dart: dart_points(piece, dart)[1])


def carried(along: float, total: float, length: float, give: Give) -> float:
    """Return where a place on a side goes when the side becomes longer or shorter, mm from the seam's first end."""
    if give == "first":
        return along + length - total
    return along * length / total if give == "along" else along
