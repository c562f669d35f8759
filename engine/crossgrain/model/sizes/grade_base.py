"""The base of a range with its named points found, so that each size only moves them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from crossgrain.errors import GeometryError, ParameterError, SelfCrossingError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.length import Place
from crossgrain.kernel.meetings.crossing import self_crossings
from crossgrain.language import _
from crossgrain.model.girths import depth_frame
from crossgrain.model.levels import depths_of_levels, depths_on_pieces
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece, is_called, listed
from crossgrain.model.sizes.grade_directions import directions
from crossgrain.model.sizes.grade_point import GradePoint, corner_near, place_of
from crossgrain.model.sizes.grade_rules import Shift, Toward
from crossgrain.model.sizes.graded_piece import Moved, graded_piece
from crossgrain.tolerances import ACCURACY

_HALVINGS = 24


@dataclass(frozen=True, slots=True)
class NamedPoint:
    """A point of a rule, found on a piece: its place on the outline, or the number of the dart whose tip it is."""

    point: GradePoint
    place: Place | None
    dart: int | None


@dataclass(frozen=True, slots=True)
class BasePiece:
    """A piece of the base with the points that rules name on it, and its directions across and along the grain."""

    piece: Piece
    points: tuple[NamedPoint, ...]
    across: complex | None
    down: complex

    def graded(self, shifts: Sequence[Shift]) -> Piece:
        """Return the piece in another size.

        Args:
            shifts: how far points move, those of other pieces among them.

        Raises:
            ParameterError: a move across the grain where its direction cannot be told; one place told to go to two.
            GeometryError: an outline that turns inside out, with the corner; a straight line that would have to bend.
        """
        by_point = {shift.point: shift for shift in shifts}
        moved = [self._moved(named, by_point[named.point]) for named in self.points if named.point in by_point]
        if not moved:
            return self.piece
        try:
            new = graded_piece(self.piece, moved)
        except (GeometryError, ParameterError) as error:
            error.piece = error.piece or self.piece.label
            if isinstance(error, GeometryError) and (called := self._called(error.position, moved)):
                error.message = _("{point}: {message}").format(point=called, message=error.message)
            raise
        if new is not self.piece and not _is_sound(self.piece, new):
            raise _inside_out(self.piece, moved)
        return new

    def _called(self, position: Point | None, moved: Sequence[Moved]) -> str:
        """Return what the named point is called that lies, or comes to lie, at a place; empty where none does."""
        for one in moved:
            if position is not None and one.place is not None:
                here = complex(*place_of(self.piece, one.place))
                if min(abs(here - complex(*position)), abs(here + one.by - complex(*position))) <= ACCURACY:
                    return one.called
        return ""

    def _moved(self, named: NamedPoint, shift: Shift) -> Moved:
        if shift.across and self.across is None:
            raise ParameterError(
                _("It is not told towards which edge {point} moves across the grain.").format(point=shift.point.words),
                piece=self.piece.label,
                advice=_("Say it under [toward], for {piece}: across = “…”.").format(piece=shift.point.piece),
            )
        by = (self.across or 0.0) * shift.across + self.down * shift.along
        return Moved(place=named.place, by=by, called=shift.point.words, dart=named.dart)


def base_pieces(
    pattern: Pattern, points: Sequence[GradePoint], levels: Sequence[tuple[str, float]], toward: Sequence[Toward]
) -> tuple[BasePiece, ...]:
    """Find the named points on the pieces of a base.

    Args:
        pattern: all its pieces.
        points: the points of the rules.
        levels: names of levels and their depths below the waist of the body, mm.
        toward: towards which edges moves count.

    Returns:
        One for each piece, in order. Where a point is named for a piece by its full name and by a word of it too, the
        full name counts.

    Raises:
        ParameterError: a level whose depth is not given, or that an edge does not cross.
    """
    used = {point.level for point in points}
    named = [(name, depth) for name, depth in levels if name in used]
    depths = {name: depths_on_pieces(pattern, depth) for name, depth in depths_of_levels(pattern, named).items()}
    out = []
    for piece in pattern.pieces:
        own = _own(piece, points)
        # A level that a piece does not reach is too deep for any of its edges to cross.
        here = {name: of.get(piece.id, math.inf) for name, of in depths.items()}
        found = tuple(NamedPoint(point, point.place(piece, here), dart_number(piece, point)) for point in own)
        across, down = directions(piece, toward) if own else (None, 1j)
        out.append(BasePiece(piece, found, across, down))
    return tuple(out)


def check_points(pattern: Pattern, points: Sequence[GradePoint]) -> None:
    """Refuse points that are on no piece.

    Raises:
        ParameterError: no piece of that name, or none that has the point.
    """
    for point in points:
        called = [piece for piece in pattern.pieces if is_called(piece, point.piece)]
        if not called:
            raise ParameterError(
                _("A rule is for {point} of {piece}, but there is no piece of that name.").format(
                    point=point.words, piece=point.piece
                ),
                advice=_("The drawing has: {names}.").format(
                    names=listed(piece.label for piece in pattern.pieces) or _("none")
                ),
            )
        if not any(point.is_on(piece) for piece in called):
            names = called[0].edge_names
            corners = [f"{names[at - 1]}/{name}" for at, name in enumerate(names)]
            raise ParameterError(
                _("A rule is for {point}, which is not there.").format(point=point.words),
                piece=called[0].label,
                advice=_marks_of(called[0], point) or _("Its corners are: {names}.").format(names=listed(corners)),
            )


def _marks_of(piece: Piece, point: GradePoint) -> str:
    """Say how many notches or darts an edge has; nothing where the point is none, or the edge is not there."""
    if point.edge not in piece.edge_names:
        return ""
    if point.notch is not None:
        count = sum(notch.edge == point.edge for notch in piece.notches)
        return _("Notches on its {edge}: {count}.").format(edge=point.edge, count=count)
    if point.dart is not None:
        count = sum(dart.edge == point.edge for dart in piece.darts)
        return _("Darts on its {edge}: {count}.").format(edge=point.edge, count=count)
    return ""


def _own(piece: Piece, points: Sequence[GradePoint]) -> list[GradePoint]:
    """Return the points of a piece: of those that are one place, those named for it by its full name, or else all."""
    found: dict[str, list[GradePoint]] = {}
    for point in points:
        if point.is_on(piece):
            # A corner may be named either way round.
            place = "/".join(sorted((point.edge, point.meets))) if point.meets else point.words
            found.setdefault(place, []).append(point)
    full = {piece.id, piece.name}
    return [point for same in found.values() for point in ([one for one in same if one.piece in full] or same)]


def dart_number(piece: Piece, point: GradePoint) -> int | None:
    """Return the number of a dart among all of the piece, counted from 0; on its edge they count from the left.

    Args:
        piece: a piece that has the dart.
        point: its tip, or another point, which has none.
    """
    if point.dart is None:
        return None
    frame, line = depth_frame(piece), piece.edge(point.edge).line
    own = [(dart.share, number) for number, dart in enumerate(piece.darts) if dart.edge == point.edge]
    return sorted(own, reverse=frame.of(line.start)[0] > frame.of(line.end)[0])[point.dart - 1][1]


def _is_sound(old: Piece, new: Piece) -> bool:
    return winding(new.line) == winding(old.line) and not self_crossings(new.line)


def _inside_out(piece: Piece, moved: Sequence[Moved]) -> SelfCrossingError:
    """Return the error on an outline that turns inside out, at the corner where it does first."""
    low, high = 0.0, 1.0
    # Where the outline flips over as a whole it crosses itself nowhere: then it is the corner that moves farthest.
    most = max((one for one in moved if one.place is not None), key=lambda one: abs(one.by))
    at: Point = place_of(piece, most.place or Place(0, 0.0))
    corner = most.called
    for _halving in range(_HALVINGS):
        middle = (low + high) / 2.0
        try:
            new = graded_piece(piece, [replace(one, by=middle * one.by) for one in moved])
            met = self_crossings(new.line)
            sound = not met and winding(new.line) == winding(piece.line)
            if met:
                at, corner = met[0].point, corner_near(new, met[0].point)
        except GeometryError as error:
            sound = False
            if error.position is not None:
                at, corner = error.position, corner_near(piece, error.position)
        low, high = (middle, high) if sound else (low, middle)
    return SelfCrossingError(
        _("Its outline turns inside out at {corner}.").format(corner=corner),
        piece=piece.label,
        position=at,
        advice=_("Move that corner by less, or its neighbours with it."),
    )
