"""True darts: legs of one length, and an edge that is one smooth line when the dart is folded."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.blending import led_from
from crossgrain.kernel.length import Place, path_length, place_at, point_at_share, run
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment, between, unit
from crossgrain.language import _
from crossgrain.model.edge_lengths import edge_lengths
from crossgrain.model.marking.carried_marks import with_marks_carried
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.marks import Dart
from crossgrain.model.outcome import Change, Finding, Outcome, counterpart_gone
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece
from crossgrain.model.screened_pieces import with_screened_pieces
from crossgrain.tolerances import ON_CREASE, SEAM_MATCH, SMOOTH_TURN

BLEND = 80.0
"""Over what length the edge is led to the mouth on either side where nothing is said, mm: a hand's breadth."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DartTrueing:
    """How darts are trued.

    Args:
        blend: over what length the edge on either side is led to the mouth, mm, above 0; at most half of what there is.
    """

    blend: float = BLEND

    def __post_init__(self) -> None:
        if not 0.0 < self.blend < math.inf:
            raise ParameterError(_("A blend is a length above zero."), advice=_("Give, say, 40 mm."))


def true_darts(pattern: Pattern, trueing: DartTrueing) -> Outcome[Pattern]:
    """Make the legs of darts equal, and the edge smooth across them when they are folded, whichever way.

    The tip moves beside itself onto the middle line of the mouth. The mouth is raised or lowered as much as a smooth
    line from either side asks, and the edge is led to it, so that the angles between edge and leg add to 180°.

    Args:
        pattern: the pieces whose darts are trued.
        trueing: over what length.

    Returns:
        The pattern. Legs are equal to rounding, the angles add to 180° within 0.1°, each mouth is straight and as wide
        as it was. A dart that was true already, within 0.5 mm and 0.5°, stays exactly as it was. Of a dart that opens
        at a corner only the legs are trued.

    Raises:
        ParameterError: no piece has a dart, or the mouth of one reaches beyond its edge.

    >>> from crossgrain.model import Edge
    >>> lines = Path.polygon([(0, 0), (300, 0), (300, 200), (0, 200)]).segments
    >>> edges = tuple(Edge(name=n, line=Path((line,))) for n, line in zip(("waist", "side", "foot", "seat"), lines))
    >>> dart = Dart(edge="waist", share=0.5, width=20.0, depth=100.0, lean_rad=0.1)
    >>> piece = Piece(id="back", edges=edges, darts=(dart,))
    >>> [new] = true_darts(Pattern(pieces=(piece,)), DartTrueing()).value.pieces
    >>> round(abs(new.darts[0].lean_rad), 9), round(new.darts[0].width, 6)
    (0.0, 20.0)
    """
    drawn, pattern = pattern, with_screened_pieces(pattern)
    wanted = [piece for piece in pattern.pieces if piece.darts]
    if not wanted:
        raise ParameterError(
            _("No piece has a dart."),
            advice=_("Mark one: crossgrain mark --dart, or name pieces that have one."),
        )
    changed: list[Piece] = []
    changes: list[Change] = []
    findings: list[Finding] = []
    for old in wanted:
        new = old
        for number in range(len(old.darts)):
            before = new
            new = _trued(before, number, trueing.blend)
            if new is not before:
                changes += _legs(before, new, number)
        if new is not old:
            changed.append(new)
            changes += edge_lengths(old, new)
            findings += counterpart_gone(old)
    return Outcome(value=drawn.with_pieces(changed), changes=tuple(changes), findings=tuple(findings))


def _trued(piece: Piece, number: int, blend: float) -> Piece:
    dart = piece.darts[number]
    line = piece.edge(dart.edge).line
    total = path_length(line)
    start, end = dart.share * total - dart.width / 2.0, dart.share * total + dart.width / 2.0
    first, tip, last = dart_points(piece, dart)
    if start < -ON_CREASE or end > total + ON_CREASE:
        raise ParameterError(
            _("The mouth of a dart reaches beyond its edge."),
            piece=piece.label,
            edge=dart.edge,
            position=first,
            advice=_("Move the dart along the edge, or make it narrower."),
        )
    is_equal = abs(math.dist(first, tip) - math.dist(last, tip)) <= SEAM_MATCH
    upright = dart if is_equal else replace(dart, depth=dart.depth * math.cos(dart.lean_rad), lean_rad=0.0)
    # A hair beside the mouth, where rounding of its share does not put it on the wrong side of a node.
    start, end = start - ON_CREASE, end + ON_CREASE
    free = _room(piece, dart, start, is_after=False), _room(piece, dart, end, is_after=True)
    if start - free[0] <= ON_CREASE or free[1] - end <= ON_CREASE:
        return piece if is_equal else _with(piece, number, upright)
    before = run(line, place_at(line, free[0]), place_at(line, start)).reversed()
    after = run(line, place_at(line, end), place_at(line, free[1]))
    if is_equal and abs(_off(piece, before, after, (first, tip, last))) <= SMOOTH_TURN:
        return piece
    tip = dart_points(piece, upright)[1]
    over = min(blend, path_length(before) / 2.0, path_length(after) / 2.0)
    x, y = unit(last[0] - first[0], last[1] - first[1])
    out = (y, -x) if winding(piece.line) > 0 else (-y, x)
    raised, mouth, turn = 0.0, (first, last), 0.0
    for _step in range(_STEPS):
        root = between(first, last, 0.5)
        root = (root[0] + raised * out[0], root[1] + raised * out[1])
        half = dart.width / 2.0
        mouth = ((root[0] - half * x, root[1] - half * y), (root[0] + half * x, root[1] + half * y))
        turn = _off(piece, before, after, (mouth[0], tip, mouth[1])) / 2.0
        # A bend of even curvature that turns by so much over a length stands off by half of their product.
        raised = over * math.tan(turn) / 2.0
    side = winding(piece.line)
    starts = (_turned(before, -side * turn), _turned(after, side * turn))
    new = (led_from(before, mouth[0], starts[0], over).reversed(), led_from(after, mouth[1], starts[1], over))
    lead, rest = _outer(line, *free)
    drawn = Path.joined([*lead, *new[0].segments, Line(*mouth), *new[1].segments, *rest])
    edges = tuple(replace(edge, line=drawn) if edge.name == dart.edge else edge for edge in piece.edges)

    def place(edge: str, share: float) -> Point:
        if (edge, share) == (dart.edge, dart.share):
            return between(*mouth, 0.5)
        return point_at_share(piece.edge(edge).line, share)

    return with_marks_carried(piece, edges, place, lambda one: tip if one == dart else dart_points(piece, one)[1])


_STEPS = 8


def _with(piece: Piece, number: int, dart: Dart) -> Piece:
    return replace(piece, darts=(*piece.darts[:number], dart, *piece.darts[number + 1 :]))


def _room(piece: Piece, dart: Dart, at: float, *, is_after: bool) -> float:
    """Return how far along the edge it is free from a mouth to the next dart or the edge's end, mm from its start."""
    total = path_length(piece.edge(dart.edge).line)
    ends = [
        one.share * total + (-1 if is_after else 1) * one.width / 2.0
        for one in piece.darts
        if one.edge == dart.edge and one != dart
    ]
    return min([total, *(end for end in ends if end > at)]) if is_after else max([0.0, *(e for e in ends if e < at)])


def _outer(line: Path, start: float, end: float) -> tuple[tuple[Segment, ...], tuple[Segment, ...]]:
    """Return what lies on an edge before and after the part that may be drawn anew."""
    last = Place(len(line.segments) - 1, 1.0)
    lead = run(line, Place(0, 0.0), place_at(line, start)).segments if start > 0.0 else ()
    rest = run(line, place_at(line, end), last).segments if end < path_length(line) else ()
    return lead, rest


def _off(piece: Piece, before: Path, after: Path, points: tuple[Point, Point, Point]) -> float:
    """Return by how much the angles of the cloth at the legs are more than 180° together, radians.

    Args:
        before: the edge from the mouth back.
        after: the edge from the mouth on.
        points: of the dart.
    """
    first, tip, last = points
    side = winding(piece.line)
    one, other = before.segments[0].start_tangent, after.segments[0].start_tangent
    assert one is not None  # an edge has a length
    assert other is not None
    angles = (
        -side * _angle(one, (tip[0] - first[0], tip[1] - first[1])),
        side * _angle(other, (tip[0] - last[0], tip[1] - last[1])),
    )
    return sum(angle % (2.0 * math.pi) for angle in angles) - math.pi


def _angle(one: Point, other: Point) -> float:
    return math.atan2(one[0] * other[1] - one[1] * other[0], one[0] * other[0] + one[1] * other[1])


def _turned(line: Path, angle_rad: float) -> Point:
    direction = line.segments[0].start_tangent
    assert direction is not None  # an edge has a length
    cos, sin = math.cos(angle_rad), math.sin(angle_rad)
    return (direction[0] * cos - direction[1] * sin, direction[0] * sin + direction[1] * cos)


def _legs(old: Piece, new: Piece, number: int) -> list[Change]:
    def difference(piece: Piece) -> float:
        first, tip, last = dart_points(piece, piece.darts[number])
        return abs(math.dist(first, tip) - math.dist(last, tip))

    edge = old.darts[number].edge
    what = _("difference between the legs of its dart")
    return [Change(piece=old.label, edge=edge, what=what, before=difference(old), after=difference(new))]
