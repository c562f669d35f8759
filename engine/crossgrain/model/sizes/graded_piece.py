"""A piece in another size: its named points moved, the rest by their share of the way between them.

How the outline goes is said in :mod:`crossgrain.model.sizes.moving_outline`; notches, darts and holds keep their share
of the way between the named points of their edge.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import Place, distance_of, path_length, place_at
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import between
from crossgrain.language import _
from crossgrain.model.marking.carried_marks import with_marks_at_shares
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.marks import Dart
from crossgrain.model.piece import Edge, Piece
from crossgrain.model.sizes.free_length import FreeLength
from crossgrain.model.sizes.grade_point import first_segments, place_of
from crossgrain.model.sizes.moving_outline import MovingOutline
from crossgrain.tolerances import ACCURACY, ON_NODE

_ROUNDS = 200

Stop = tuple[Place, Place]
"""A named point: where it lay on the outline, and where it lies now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """A named point on a piece and how far it moves.

    Args:
        place: on the whole outline; None for the tip of a dart.
        by: in the drawing, mm.
        called: what it is called.
        dart: the number of the dart among those of the piece, where its tip is meant.
    """

    place: Place | None
    by: complex
    called: str
    dart: int | None = None


def graded_piece(piece: Piece, moved: Sequence[Moved]) -> Piece:
    """Return a piece with named points moved.

    Args:
        piece: the piece; its outline is simple.
        moved: at least one point.

    Returns:
        The piece, its nodes as many and of their kinds, named points exactly where they are told to be; its cut line
        drawn before is dropped.

    Raises:
        ParameterError: one place is told to go to two.
        GeometryError: a straight line would have to bend, or a curve to become another one.
    """
    if all(one.by == 0.0 for one in moved):
        return piece
    anchors = _anchors(piece, [one for one in moved if one.place is not None])
    if not anchors:
        return _with_marks(piece, piece.edges, (), FreeLength(piece), moved)
    free = FreeLength(piece)
    moving = MovingOutline(
        piece.line,
        [(one.place, one.by) for one in anchors if one.place is not None],
        free,
        grain=complex(*piece.grain),
    )
    new, places = moving.moved()
    segments, edges = new.segments, []
    for first, edge in zip(first_segments(piece), piece.edges, strict=True):
        edges.append(replace(edge, line=Path(segments[first : first + len(edge.line.segments)])))
    stops = [(one.place, place) for one, place in zip(anchors, places, strict=True) if one.place is not None]
    return _with_marks(piece, tuple(edges), stops, free, moved)


def _anchors(piece: Piece, moved: Sequence[Moved]) -> list[Moved]:
    """Return the points in order along the outline, those next to a node at it; corners that none names stay."""
    line = piece.line
    found: dict[Place, Moved] = {}
    for one in moved:
        assert one.place is not None
        place = _at_node(line, one.place)
        before = found.get(place)
        if before is not None and abs(before.by - one.by) > ACCURACY:
            raise ParameterError(
                _("{one} and {other} are one point, and are moved differently.").format(
                    one=before.called, other=one.called
                ),
                piece=piece.label,
                position=place_of(piece, place),
                advice=_("Give one rule for both."),
            )
        if before is None:
            found[place] = replace(one, place=place)
    for first, edge in zip(first_segments(piece), piece.edges, strict=True):
        if found and edge.name:
            corner = Place(first, 0.0)
            found.setdefault(corner, Moved(place=corner, by=0j, called=edge.name))
    return [found[place] for place in sorted(found)]


def _at_node(line: Path, place: Place) -> Place:
    segment, here = line.segments[place.index], line.segments[place.index].point(place.t)
    if math.dist(segment.start, here) <= ON_NODE:
        return Place(place.index, 0.0)
    if math.dist(segment.end, here) <= ON_NODE:
        return Place((place.index + 1) % len(line.segments), 0.0)
    return place


def _with_marks(
    old: Piece, edges: tuple[Edge, ...], stops: Sequence[Stop], free: FreeLength, moved: Sequence[Moved]
) -> Piece:
    """Carry the marks by their share of the way between named points of their edge; a dart moves with its mouth."""
    carried = {edge.name: _Carried(old, edges, number, stops, free) for number, edge in enumerate(old.edges)}
    tips = {old.darts[one.dart]: one.by for one in moved if one.dart is not None}
    bare = replace(old, edges=edges, darts=(), counterpart=None)

    def tip(dart: Dart) -> Point:
        (first, before, last), now = dart_points(old, dart), dart_points(bare, _at_share(dart))
        mouth, there = complex(*between(first, last, 0.5)), complex(*between(now[0], now[2], 0.5))
        return _plus(before, tips.get(dart, there - mouth))

    def _at_share(dart: Dart) -> Dart:
        return replace(dart, share=where(dart.edge, dart.share))

    # A dart stays at its own parameter, so that a mouth between two nodes stays between them.
    mouths = {(dart.edge, dart.share) for dart in old.darts}

    def where(edge: str, share: float) -> float:
        return carried[edge].in_place(share) if (edge, share) in mouths else carried[edge](share)

    return with_marks_at_shares(old, edges, where, tip)


class _Carried:
    """Where shares of one edge go."""

    def __init__(self, old: Piece, edges: Sequence[Edge], number: int, stops: Sequence[Stop], free: FreeLength) -> None:
        first, before, after = first_segments(old)[number], old.edges[number].line, edges[number].line
        self._free, self._start = free, free.starts[number]
        self._was, self._now = path_length(before), path_length(after)
        self._same = before == after
        self._before, self._after = before, after
        ways = [(0.0, 0.0), (self._was, self._now)]
        for was, now in stops:
            index = was.index - first
            if 0 <= index < len(before.segments) and (index, was.t) != (0, 0.0):
                ways.append((distance_of(before, Place(index, was.t)), distance_of(after, Place(index, now.t))))
        ways = sorted(ways)
        self._from = [along - self._kept(along) for along, _now in ways]
        self._to = [now - self._kept(along) for along, now in ways]

    def __call__(self, share: float) -> float:
        if self._same or share in (0.0, 1.0):
            return share
        along = share * self._was
        kept = self._kept(along)
        now = float(np.interp(along - kept, self._from, self._to)) + kept
        return min(max(now / self._now, 0.0), 1.0)

    def in_place(self, share: float) -> float:
        """Return the share of the point that is at the same parameter of its segment."""
        if self._same:
            return share
        return distance_of(self._after, place_at(self._before, share * self._was)) / self._now

    def _kept(self, along: float) -> float:
        return self._free.kept_before(self._start + along) - self._free.kept_before(self._start)


def _plus(point: Point, by: complex) -> Point:
    return (point[0] + by.real, point[1] + by.imag)
