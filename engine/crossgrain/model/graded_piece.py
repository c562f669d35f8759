"""A piece in another size: its named points moved, the rest by their share of the way between them.

The displacement of a node between two named points is linear in its share of the outline's length from one to the
other, dart mouths and the ends of held strips not counted. The share taken is the mean of that before and that after,
so that grading back by as much gives the piece back: both ways the equation is the same.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from crossgrain.errors import GeometryError, ParameterError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import Place, distance_of, path_length
from crossgrain.kernel.moved_nodes import Pin, with_moved_nodes
from crossgrain.kernel.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, between
from crossgrain.language import _
from crossgrain.model.carried_marks import with_marks_at_shares
from crossgrain.model.dart_lines import dart_points
from crossgrain.model.free_length import FreeLength, lengths_to
from crossgrain.model.girths import HEM
from crossgrain.model.grade_point import first_segments, place_of
from crossgrain.model.marks import Dart
from crossgrain.model.piece import Edge, Piece
from crossgrain.model.side import corner_angles
from crossgrain.tolerances import ACCURACY, GRADED_BACK, ON_NODE, SMOOTH_KINK

_ROUNDS = 200


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
        return _with_marks(piece, piece.edges, {}, FreeLength(piece), moved)
    outline, free = piece.line, FreeLength(piece)
    moving = _Moving(outline, anchors, free, square=_square(piece), corners=first_segments(piece))
    new = moving.line()
    segments, edges = new.segments, []
    for first, edge in zip(first_segments(piece), piece.edges, strict=True):
        edges.append(replace(edge, line=Path(segments[first : first + len(edge.line.segments)])))
    return _with_marks(piece, tuple(edges), {one.place: one for one in anchors if one.place is not None}, free, moved)


def _anchors(piece: Piece, moved: Sequence[Moved]) -> list[Moved]:
    """Return the points in order along the outline, those next to a node at it."""
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
    return [found[place] for place in sorted(found)]


def _at_node(line: Path, place: Place) -> Place:
    segment, here = line.segments[place.index], line.segments[place.index].point(place.t)
    if math.dist(segment.start, here) <= ON_NODE:
        return Place(place.index, 0.0)
    if math.dist(segment.end, here) <= ON_NODE:
        return Place((place.index + 1) % len(line.segments), 0.0)
    return place


def _square(piece: Piece) -> Collection[int]:
    """Return the nodes at which fold or hem meet another edge at a right angle."""
    names, out = piece.edge_names, []
    for first, number, angle in zip(first_segments(piece), range(len(names)), corner_angles(piece), strict=True):
        here = {names[number - 1], names[number]}
        if (HEM in here or piece.cut.on_fold in here - {""}) and abs(angle - math.pi / 2.0) <= SMOOTH_KINK:
            out.append(first)
    return out


class _Moving:
    """The outline of a piece on its way to another size."""

    def __init__(
        self,
        line: Path,
        anchors: Sequence[Moved],
        free: FreeLength,
        *,
        square: Collection[int],
        corners: Collection[int],
    ) -> None:
        self._line, self._square, self._corners = line, square, corners
        self._places = [one.place for one in anchors if one.place is not None]
        self._by = np.array([one.by for one in anchors])
        self._nodes = [Place(index, 0.0) for index in range(len(line.segments))]
        self._kept = np.array([free.kept_before(along) for along in self._lengths(line)])
        self._kept_total = free.kept_before(free.starts[-1])
        self._fixed = {place.index for place in self._places if place.t == 0.0}
        on_lines = [
            k for k, place in enumerate(self._places) if place.t and isinstance(line.segments[place.index], Line)
        ]
        self._on_lines = on_lines
        self._pins = [
            Pin(place.index, place.t, _plus(line.segments[place.index].point(place.t), complex(self._by[k])))
            for k, place in enumerate(self._places)
            if place.t and k not in on_lines
        ]

    def line(self) -> Path:
        """Return the outline in the other size."""
        drawn = self._shares(self._line)
        shifts = self._shifts(drawn)
        for _round in range(_ROUNDS):
            new = self._with(shifts)
            before, shifts = shifts, self._shifts((drawn + self._shares(new)) / 2.0)
            if float(np.abs(shifts - before).max()) <= GRADED_BACK:
                break
        new = self._with(shifts)
        self._check_straight(new)
        return new

    def _with(self, shifts: np.ndarray) -> Path:
        to = [_plus(node, complex(by)) for node, by in zip(self._line.nodes, shifts, strict=True)]
        return with_moved_nodes(self._line, to, self._pins, square=self._square, corners=self._corners)

    def _lengths(self, line: Path) -> list[float]:
        return lengths_to(line, [*self._nodes, *self._places])

    def _shares(self, line: Path) -> np.ndarray:
        """Return for each node the number of the named point before it plus its share of the way to the next one."""
        along = np.array(self._lengths(line)) - self._kept
        count = len(self._nodes)
        nodes, named = along[:count], along[count:]
        total = path_length(line) - self._kept_total
        if len(named) == 1:
            return np.zeros(count)
        # The outline runs on past its start.
        reach = np.concatenate([named, [named[0] + total]])
        nodes = np.where([node < self._places[0] for node in self._nodes], nodes + total, nodes)
        at = np.array([self._before(node) for node in self._nodes])
        gaps = reach[at + 1] - reach[at]
        part = np.where(gaps > 0.0, (nodes - reach[at]) / np.where(gaps > 0.0, gaps, 1.0), 0.0)
        return np.asarray(at + np.clip(part, 0.0, 1.0), dtype=float)

    def _before(self, node: Place) -> int:
        """Return the number of the last named point that does not lie after a node, round the outline."""
        found = [k for k, place in enumerate(self._places) if place <= node]
        return found[-1] if found else len(self._places) - 1

    def _shifts(self, shares: np.ndarray) -> np.ndarray:
        """Return how far nodes move."""
        by = np.concatenate([self._by, self._by[:1]])
        at = np.minimum(shares.astype(int), len(self._by) - 1)
        part = shares - at
        shifts = by[at] + part * (by[at + 1] - by[at])
        for k, place in enumerate(self._places):
            if place.t == 0.0:
                shifts[place.index] = self._by[k]
        for k in self._on_lines:
            place = self._places[k]
            ends = (place.index, (place.index + 1) % len(self._nodes))
            weights = (1.0 - place.t, place.t)
            near = 0 if place.t < 0.5 else 1
            free = [end for end in (near, 1 - near) if ends[end] not in self._fixed]
            if free:
                # A line passes through a point if its nearer end, which nothing holds, makes up for the other.
                one, other = free[0], 1 - free[0]
                shifts[ends[one]] = (self._by[k] - weights[other] * shifts[ends[other]]) / weights[one]
        return np.asarray(shifts, dtype=complex)

    def _check_straight(self, new: Path) -> None:
        for k in self._on_lines:
            place = self._places[k]
            here = self._line.segments[place.index].point(place.t)
            wanted = _plus(here, complex(self._by[k]))
            if nearest(Path((new.segments[place.index],)), wanted).distance > ACCURACY:
                raise GeometryError(
                    _("A straight line would have to bend there."),
                    position=here,
                    advice=_("Put a node there, or move the point along with the ends of its line."),
                )


def _with_marks(
    old: Piece, edges: tuple[Edge, ...], anchors: Mapping[Place, Moved], free: FreeLength, moved: Sequence[Moved]
) -> Piece:
    """Carry the marks by their share of the way between named points of their edge; a dart moves with its mouth."""
    carried = {edge.name: _Carried(old, edges, number, anchors, free) for number, edge in enumerate(old.edges)}
    tips = {old.darts[one.dart]: one.by for one in moved if one.dart is not None}
    bare = replace(old, edges=edges, darts=(), counterpart=None)

    def tip(dart: Dart) -> Point:
        (first, before, last), now = dart_points(old, dart), dart_points(bare, _at_share(dart))
        mouth, there = complex(*between(first, last, 0.5)), complex(*between(now[0], now[2], 0.5))
        return _plus(before, tips.get(dart, there - mouth))

    def _at_share(dart: Dart) -> Dart:
        return replace(dart, share=carried[dart.edge](dart.share))

    return with_marks_at_shares(old, edges, lambda edge, share: carried[edge](share), tip)


class _Carried:
    """Where shares of one edge go."""

    def __init__(
        self, old: Piece, edges: Sequence[Edge], number: int, anchors: Mapping[Place, Moved], free: FreeLength
    ) -> None:
        first, before, after = first_segments(old)[number], old.edges[number], edges[number]
        self._free, self._start = free, free.starts[number]
        self._was, self._now = path_length(before.line), path_length(after.line)
        self._same = before.line == after.line
        stops = [(0.0, 0.0), (self._was, self._now)]
        for place, one in anchors.items():
            index = place.index - first
            if 0 <= index < len(before.line.segments) and (index, place.t) != (0, 0.0):
                here = Place(index, place.t)
                stops.append((distance_of(before.line, here), _reached(before, after, here, one.by)))
        stops = sorted(stops)
        self._from = [along - self._kept(along) for along, _now in stops]
        self._to = [now - self._kept(along) for along, now in stops]

    def __call__(self, share: float) -> float:
        if self._same or share in (0.0, 1.0):
            return share
        along = share * self._was
        kept = self._kept(along)
        now = float(np.interp(along - kept, self._from, self._to)) + kept
        return min(max(now / self._now, 0.0), 1.0)

    def _kept(self, along: float) -> float:
        return self._free.kept_before(self._start + along) - self._free.kept_before(self._start)


def _reached(before: Edge, after: Edge, place: Place, by: complex) -> float:
    """Return how far along the new edge a named point lies: at its own parameter, on a line where it was told to be."""
    segment = before.line.segments[place.index]
    if isinstance(segment, Line) and place.t:
        part = Path((after.line.segments[place.index],))
        place = Place(place.index, nearest(part, _plus(segment.point(place.t), by)).place.t)
    return distance_of(after.line, place)


def _plus(point: Point, by: complex) -> Point:
    return (point[0] + by.real, point[1] + by.imag)
