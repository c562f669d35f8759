"""Mark: name the edges of a bare outline, and say what else a maker knows of the piece."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.corners import corners, turn_at
from crossgrain.kernel.length import Place, distance_of, point_at, run
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.model.marks import Dart, Hold, Notch
from crossgrain.model.outcome import Finding, Outcome
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import CutInstruction, Edge, OutlineKind, Piece, listed
from crossgrain.model.wanted import WantedDart, WantedGrain, WantedHold, WantedNotch
from crossgrain.tolerances import COINCIDENT


@dataclass(frozen=True, slots=True, kw_only=True)
class Marking:
    """What to mark on one piece. What is not given stays as it is.

    Args:
        piece: the id or the name of the piece.
        name: its new name.
        edges: the names of its edges, clockwise as seen on the page from the corner at its upper left.
        start: near which corner the first edge begins instead.
        corners: places that are corners though the line does not turn there enough to see. As many as there are edges:
            these are all the corners, and turns elsewhere are none.
        outline: which line it is.
        grain: its lengthwise direction.
        cut: how many are cut, and from what.
        notches: in place of those it has.
        darts: in place of those it has.
        holds: in place of those it has.
    """

    piece: str
    name: str = ""
    edges: tuple[str, ...] = ()
    start: OutlineSpot | None = None
    corners: tuple[OutlineSpot, ...] = ()
    outline: OutlineKind | None = None
    grain: WantedGrain | None = None
    cut: CutInstruction | None = None
    notches: tuple[WantedNotch, ...] = ()
    darts: tuple[WantedDart, ...] = ()
    holds: tuple[WantedHold, ...] = ()

    def __post_init__(self) -> None:
        for name in self.edges:
            if not name or self.edges.count(name) > 1:
                raise ParameterError(
                    _("Every edge needs a name of its own; {name} is given twice or empty.").format(name=name or "“”")
                )
        if not self.edges and (self.start or self.corners):
            raise ParameterError(
                _("Corners are given, but no names for the edges between them."), advice=_("Give the edges' names too.")
            )


def mark(pattern: Pattern, marking: Marking) -> Outcome[Pattern]:
    """Name the edges of a piece and mark its grain, cut, notches, darts and holds.

    Args:
        pattern: the pattern.
        marking: what to mark on which piece.

    Returns:
        The pattern with that piece marked; its line is the same, but begins at the first edge and runs clockwise as
        seen on the page. A finding for each older mark that lost its edge.

    Raises:
        ParameterError: as many corners as edges are not found (the message lists what was found, where, and with which
            turn), or a mark that lies off its edge.

    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> bare = Pattern(pieces=(Piece(id="path1", edges=(Edge(name="", line=Path(square.segments)),)),))
    >>> done = mark(bare, Marking(piece="path1", name="band", edges=("waist", "end", "fold", "front"))).value
    >>> done.piece("band").edge("end").line.start
    (100.0, 0.0)
    """
    piece = pattern.piece(marking.piece)
    findings: list[Finding] = []
    if marking.edges:
        piece = _with_edges(piece, marking, findings)
    if marking.name:
        piece = replace(piece, name=marking.name)
    if marking.outline:
        piece = replace(piece, outline=marking.outline)
    if marking.grain:
        piece = replace(piece, grain=marking.grain.on(piece))
    if marking.cut:
        if marking.cut.on_fold:
            piece.edge(marking.cut.on_fold)
        piece = replace(piece, cut=marking.cut)
    if marking.notches:
        piece = replace(piece, notches=tuple(notch.on(piece) for notch in marking.notches))
    if marking.darts:
        piece = replace(piece, darts=tuple(dart.on(piece) for dart in marking.darts))
    if marking.holds:
        piece = replace(piece, holds=tuple(hold.on(piece) for hold in marking.holds))
    return Outcome(value=pattern.with_pieces([piece]), findings=tuple(findings))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Corner:
    place: Place
    point: Point
    turn_rad: float


def _with_edges(piece: Piece, marking: Marking, findings: list[Finding]) -> Piece:
    drawn = piece.line
    backwards = winding(drawn) < 0
    line = drawn.reversed() if backwards else drawn
    given = [_turned(drawn, spot.on(drawn), backwards) for spot in marking.corners]
    found = _corners(line, given, all_given=len(given) == len(marking.edges))
    if len(found) != len(marking.edges):
        raise _count_error(piece, marking, found)
    first = _first(line, found, marking, _turned(drawn, marking.start.on(drawn), backwards) if marking.start else None)
    order = [*found[first:], *found[:first]]
    ends = [*order[1:], order[0]]
    widths = {edge.name: edge.allowance for edge in piece.edges if edge.name}
    edges = tuple(
        Edge(name=name, line=run(line, start.place, end.place), allowance=widths.get(name))
        for name, start, end in zip(marking.edges, order, ends, strict=True)
    )
    marks: tuple[Notch | Dart | Hold, ...] = (*piece.notches, *piece.darts, *piece.holds)
    findings += [
        Finding(
            piece=piece.label,
            edge=one.edge,
            message=_("A mark on the edge {edge} was dropped: there is no such edge now.").format(edge=one.edge),
            advice=_("Mark it again on one of: {names}.").format(names=listed(marking.edges)),
        )
        for one in marks
        if one.edge not in marking.edges
    ]
    return replace(
        piece,
        edges=edges,
        notches=tuple(notch for notch in piece.notches if notch.edge in marking.edges),
        darts=tuple(dart for dart in piece.darts if dart.edge in marking.edges),
        holds=tuple(hold for hold in piece.holds if hold.edge in marking.edges),
    )


def _corners(line: Path, given: Sequence[Place], *, all_given: bool) -> list[_Corner]:
    """Return the corners in the order of the line: those that turn, and those given."""
    places = list(given)
    if not all_given:
        taken = [point_at(line, place) for place in given]
        for corner in corners(line):
            place = Place(corner.node, 0.0)
            if all(math.dist(point_at(line, place), point) > COINCIDENT for point in taken):
                places.append(place)
    places.sort()
    return [
        _Corner(place=place, point=point_at(line, place), turn_rad=turn_at(line, distance_of(line, place)))
        for place in places
    ]


def _first(line: Path, found: Sequence[_Corner], marking: Marking, start: Place | None) -> int:
    """Return which corner the first edge begins at: the nearest to the start given, or the one at the upper left."""
    if start is not None:
        point = point_at(line, start)
        return min(range(len(found)), key=lambda number: math.dist(found[number].point, point))
    # Across a diagonal: a waist that rises towards the side must not make its far end the first corner.
    return min(range(len(found)), key=lambda number: sum(found[number].point))


def _turned(line: Path, place: Place, backwards: bool) -> Place:
    """Return a place on a line as a place on the line reversed."""
    if not backwards:
        return place
    count = len(line.segments)
    if place.t == 0.0:
        return Place((count - place.index) % count, 0.0)
    return Place(count - 1 - place.index, 1.0 - place.t)


def _count_error(piece: Piece, marking: Marking, found: Sequence[_Corner]) -> ParameterError:
    shown = "; ".join(
        _("{number}: x {x:.1f} mm, y {y:.1f} mm, turning {turn:.0f}°").format(
            number=number, x=corner.point[0], y=corner.point[1], turn=math.degrees(corner.turn_rad)
        )
        for number, corner in enumerate(found, 1)
    )
    message = _("{edges} edges are named, but the outline has {corners} corners.").format(
        edges=len(marking.edges), corners=len(found)
    )
    if shown:
        message += " " + _("Found were {corners}.").format(corners=shown)
    advice = (
        _("Say where the missing corners lie, as a point, a share of the outline or a node, or name fewer edges.")
        if len(found) < len(marking.edges)
        else _("Name every edge, or give the place of each corner that counts.")
    )
    return ParameterError(message, piece=piece.label, advice=advice)
