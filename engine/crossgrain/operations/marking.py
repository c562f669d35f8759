"""Mark: name the edges of a bare outline, and say what else a maker knows of the piece."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.corners import corners, turns_at
from crossgrain.kernel.length import Place, distance_of, path_length, point_at, run
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.model.dependents.dependences import Dependence, with_dependences
from crossgrain.model.marking.edge_marks import on_edges_called
from crossgrain.model.marking.marks import Dart
from crossgrain.model.marking.pressing_lines import crease_line
from crossgrain.model.marking.sewing_marks import Crease
from crossgrain.model.marking.topstitching_line import topstitching_line
from crossgrain.model.marking.wanted import WantedDart, WantedGrain, WantedHold, WantedNotch, check_drill
from crossgrain.model.marking.wanted_marks import (
    WantedButton,
    WantedButtonhole,
    WantedCrease,
    WantedLoop,
    WantedTopstitching,
)
from crossgrain.model.outcome import Finding, Outcome
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import MARKS, CutInstruction, Edge, OutlineKind, Piece, listed
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
        creases: in place of those it has.
        loops: in place of those it has.
        buttons: in place of those it has.
        buttonholes: in place of those it has.
        topstitching: in place of that it has.
        drill: how far short of their tips all its darts have their drill holes, mm; 0 for none.
        follow: what its edges follow or trace, and zips, in place of what they do.
        between: the two corners of the one edge that is named; the other edges keep their names, or get a number.
        add: the marks given are added to those it has instead.
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
    creases: tuple[WantedCrease, ...] = ()
    loops: tuple[WantedLoop, ...] = ()
    buttons: tuple[WantedButton, ...] = ()
    buttonholes: tuple[WantedButtonhole, ...] = ()
    topstitching: tuple[WantedTopstitching, ...] = ()
    drill: float | None = None
    follow: tuple[Dependence, ...] = ()
    between: tuple[OutlineSpot, ...] = ()
    add: bool = False

    def __post_init__(self) -> None:
        for name in self.edges:
            if not name or self.edges.count(name) > 1:
                raise ParameterError(
                    _("Every edge needs a name of its own; {name} is given twice or empty.").format(name=name or "“”")
                )
        if self.between and not (len(self.between) == 2 and len(self.edges) == 1):
            raise ParameterError(
                _(
                    "An edge lies between two corners and has one name; {corners} corners and {names} names are given."
                ).format(corners=len(self.between), names=len(self.edges)),
                advice=_("Give two corners and one name."),
            )
        if not self.edges and (self.start or self.corners):
            raise ParameterError(
                _("Corners are given, but no names for the edges between them."), advice=_("Give the edges' names too.")
            )


def mark(pattern: Pattern, marking: Marking) -> Outcome[Pattern]:
    """Name the edges of a piece, and mark its grain, how it is cut, and the marks on its edges.

    Args:
        pattern: the pattern; with the pieces that are followed, where that is marked.
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
    if marking.between:
        piece = _with_one_edge(piece, marking, findings)
    elif marking.edges:
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
    piece = _with_marks(piece, marking)
    if marking.follow:
        piece, said = with_dependences(pattern.with_pieces([piece]), piece, marking.follow, add=marking.add)
        findings += said
    return Outcome(value=pattern.with_pieces([piece]), findings=tuple(findings))


def _with_marks(piece: Piece, marking: Marking) -> Piece:
    """Return a piece with the marks that are given; creases come after the darts, at which they may end."""
    for kind in MARKS:
        wanted = getattr(marking, kind)
        if wanted:
            kept = getattr(piece, kind) if marking.add else ()
            marks: dict[str, Any] = {kind: (*kept, *(one.on(piece) for one in wanted))}
            piece = replace(piece, **marks)
    if marking.drill is not None:
        piece = replace(piece, darts=tuple(_drilled(dart, marking.drill) for dart in piece.darts))
        if not piece.darts:
            raise ParameterError(
                _("It has no dart to drill."),
                piece=piece.label,
                advice=_("Mark its darts, or leave out the drill hole."),
            )
    if marking.creases:
        for crease in piece.creases:
            _check_crease(piece, crease)
    if marking.topstitching:
        for stitching in piece.topstitching:
            topstitching_line(piece, stitching)  # an edge that bends too much for it is refused
    return piece


def _drilled(dart: Dart, drill: float) -> Dart:
    check_drill(drill, dart.depth, dart.edge)
    return replace(dart, drill=drill)


def _check_crease(piece: Piece, crease: Crease) -> None:
    if crease_line(piece, crease) is None:
        raise ParameterError(
            _("From there the grain does not lead into the piece."),
            piece=piece.label,
            edge=crease.edge,
            advice=_("Start the crease on an edge across the grain, as the hem."),
        )


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
    kept = {edge.name: edge for edge in piece.edges if edge.name}
    edges = tuple(
        replace(kept.get(name, Edge(name=name, line=line)), line=run(line, start.place, end.place))
        for name, start, end in zip(marking.edges, order, ends, strict=True)
    )
    return _dressed(piece, edges, findings)


def _with_one_edge(piece: Piece, marking: Marking, findings: list[Finding]) -> Piece:
    """Name the edge between two corners; the others keep their names, or get a number where they have none."""
    drawn, bare = piece.line, piece.edge_names == ("",)
    backwards = winding(drawn) < 0
    line = drawn.reversed() if backwards else drawn
    given = [_turned(drawn, spot.on(drawn), backwards) for spot in marking.between]
    old = (
        []
        if bare
        else [_turned(drawn, OutlineSpot(point=edge.line.start).on(drawn), backwards) for edge in piece.edges]
    )
    found = _corners(line, [*given, *_apart(line, old, given)], all_given=not bare)
    first = _first(line, found, marking, None)
    order = [*found[first:], *found[:first]]
    runs = [(start, end) for start, end in zip(order, [*order[1:], order[0]], strict=True)]
    ends = {point_at(line, place) for place in given}
    meant = [number for number, (start, end) in enumerate(runs) if {start.point, end.point} == ends]
    if not meant:
        raise ParameterError(
            _("Between the two corners lie others on both sides."),
            piece=piece.label,
            advice=_("Choose two corners with none between them."),
        )
    lines = [run(line, start.place, end.place) for start, end in runs]
    named = min(meant, key=lambda number: path_length(lines[number]))
    names = [_old_name(piece, one) for one in lines]
    lost = names[named]
    names[named] = marking.edges[0]
    if names.count(marking.edges[0]) > 1:
        raise ParameterError(
            _("Another edge is named {name} already.").format(name=marking.edges[0]),
            piece=piece.label,
            advice=_("Give this edge a name of its own."),
        )
    free = (name for number in range(1, 2 * len(names) + 1) if (name := f"edge-{number}") not in names)
    kept = {edge.name: edge for edge in piece.edges if edge.name}
    edges = tuple(
        replace(kept.get(lost if number == named else name, Edge(name="", line=one)), name=name or next(free), line=one)
        for number, (name, one) in enumerate(zip(names, lines, strict=True))
    )
    return _dressed(_renamed(piece, lost, marking.edges[0]) if lost else piece, edges, findings)


def _apart(line: Path, places: Sequence[Place], given: Sequence[Place]) -> list[Place]:
    """Return the places that are not one of those given."""
    taken = [point_at(line, place) for place in given]
    return [place for place in places if all(math.dist(point_at(line, place), point) > COINCIDENT for point in taken)]


def _old_name(piece: Piece, line: Path) -> str:
    """Return the name of the edge that runs between the same ends, whichever way; empty for none."""
    for edge in piece.edges:
        ends = (edge.line.start, edge.line.end)
        same = any(
            math.dist(line.start, one) <= COINCIDENT and math.dist(line.end, other) <= COINCIDENT
            for one, other in (ends, ends[::-1])
        )
        if same and abs(path_length(edge.line) - path_length(line)) <= COINCIDENT:
            return edge.name
    return ""


def _renamed(piece: Piece, old: str, new: str) -> Piece:
    """Return a piece with one edge and the marks on it under another name."""
    edges = tuple(replace(edge, name=new) if edge.name == old else edge for edge in piece.edges)
    return replace(piece, edges=edges, **on_edges_called(piece, lambda name: new if name == old else name))


def _dressed(piece: Piece, edges: tuple[Edge, ...], findings: list[Finding]) -> Piece:
    """Return a piece with other edges, and those of its marks whose edge is still there."""
    kept = tuple(edge.name for edge in edges)
    findings += [
        Finding(
            piece=piece.label,
            edge=one.edge,
            message=_("A mark on the edge {edge} was dropped: there is no such edge now.").format(edge=one.edge),
            advice=_("Mark it again on one of: {names}.").format(names=listed(kept)),
        )
        for kind in MARKS
        for one in getattr(piece, kind)
        if one.edge not in kept
    ]
    on_them = on_edges_called(piece, lambda name: name if name in kept else None)
    return replace(piece, edges=edges, **on_them)


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
    turns = turns_at(line, [distance_of(line, place) for place in places])
    return [
        _Corner(place=place, point=point_at(line, place), turn_rad=turn)
        for place, turn in zip(places, turns, strict=True)
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
