"""Points of a piece for which a rule may say how they move from size to size, by what a maker calls them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import Place, path_length, place_at, point_at
from crossgrain.kernel.meetings.crossing import Crossing, path_crossings
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.language import _
from crossgrain.model.girths import depth_frame
from crossgrain.model.piece import Piece, is_called, listed

_FAR = 1e5
"""Half the length of the line drawn across a piece at a level, mm: farther than any piece reaches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GradePoint:
    """A point, by the piece it is on and what it is there: one of corner, place on an edge, level, notch, dart tip.

    Args:
        piece: a word of the pieces' names: ``front`` means left front and right front.
        edge: the edge it lies on; of a corner, one of the two that meet there.
        meets: of a corner, the other one.
        share: of a place on the edge, the share of its length, 0 to 1.
        level: the name of a level that the edge crosses.
        notch: the number of a notch, counted from the edge's upper end as its piece lists them, from 1.
        dart: the number of a dart of the edge, from 1; its tip is meant.
    """

    piece: str
    edge: str
    meets: str = ""
    share: float | None = None
    level: str = ""
    notch: int | None = None
    dart: int | None = None

    def __post_init__(self) -> None:
        said = [bool(self.meets), self.share is not None, bool(self.level), self.notch is not None]
        if sum((*said, self.dart is not None)) != 1 or not self.piece or not self.edge:
            raise ParameterError(
                _("A point is a corner, a place on an edge, a level, a notch or the tip of a dart: one of them."),
                advice=_(
                    "Write it as front: waist/side, front: side at 40%, front: side at hip, front: notch 1 of side."
                ),
            )
        if self.share is not None and not 0.0 <= self.share <= 1.0:
            raise ParameterError(_("A place on an edge is a share of it from 0 % to 100 %."))

    @property
    def words(self) -> str:
        """What it is called on its piece."""
        if self.meets:
            return f"{self.edge}/{self.meets}"
        if self.level:
            return _("{edge} at {level}").format(edge=self.edge, level=self.level)
        if self.share is not None:
            return _("{edge} at {level}").format(edge=self.edge, level=f"{self.share * 100.0:g}%")
        if self.notch is not None:
            return _("notch {number} of {edge}").format(number=self.notch, edge=self.edge)
        return _("dart {number} of {edge}").format(number=self.dart, edge=self.edge)

    def is_on(self, piece: Piece) -> bool:
        """Tell whether a piece of this name has what the point goes by: its edges, its notch, its dart."""
        if not is_called(piece, self.piece) or self.edge not in piece.edge_names:
            return False
        if self.meets:
            return self.corner(piece) is not None
        if self.notch is not None:
            return 0 < self.notch <= sum(notch.edge == self.edge for notch in piece.notches)
        return self.dart is None or 0 < self.dart <= sum(dart.edge == self.edge for dart in piece.darts)

    def corner(self, piece: Piece) -> int | None:
        """Return the number of the edge of a piece that starts at the corner; None where the two do not meet."""
        names = piece.edge_names
        for at, name in enumerate(names):
            if {names[at - 1], name} == {self.edge, self.meets}:
                return at
        return None

    def place(self, piece: Piece, depths: Mapping[str, float]) -> Place | None:
        """Find the point on the whole outline of a piece.

        Args:
            piece: a piece it is on.
            depths: how deep levels lie on this piece, mm below the upper end of its side seam.

        Returns:
            The place, at a node the start of the segment after it; None for the tip of a dart.

        Raises:
            ParameterError: the edge does not cross the level, or does more than once, or the level has no depth.
        """
        if self.dart is not None:
            return None
        firsts = first_segments(piece)
        if self.meets:
            at = self.corner(piece)
            assert at is not None
            return Place(firsts[at], 0.0)
        number = piece.edge_names.index(self.edge)
        line = piece.edges[number].line
        if self.level:
            found = self._at_level(piece, line, depths)
        else:
            share = self.share if self.share is not None else self.share_of_notch(piece)
            found = place_at(line, share * path_length(line))
        at, t = firsts[number] + found.index, found.t
        return Place((at + 1) % len(piece.line.segments), 0.0) if t == 1.0 else Place(at, t)

    def share_of_notch(self, piece: Piece) -> float:
        """Return at which share of its edge the notch lies that the point is."""
        assert self.notch is not None
        frame, line = depth_frame(piece), piece.edge(self.edge).line
        shares = sorted(notch.share for notch in piece.notches if notch.edge == self.edge)
        if frame.of(line.end)[1] < frame.of(line.start)[1]:
            shares = shares[::-1]
        return shares[self.notch - 1]

    def _at_level(self, piece: Piece, line: Path, depths: Mapping[str, float]) -> Place:
        if self.level not in depths:
            raise ParameterError(
                _("How deep the {name} lies is not known.").format(name=self.level),
                piece=piece.label,
                edge=self.edge,
                advice=_("Give it under [levels], as {name} = “200 mm” below the waist.").format(name=self.level),
            )
        crossings = _crossings(piece, line, depths[self.level])
        if len(crossings) != 1:
            raise ParameterError(
                _("The edge crosses the {name} {count} times.").format(name=self.level, count=len(crossings)),
                piece=piece.label,
                edge=self.edge,
                advice=_("Name a place on it by its share, or a notch."),
            )
        return crossings[0].a


def _crossings(piece: Piece, line: Path, depth: float) -> tuple[Crossing, ...]:
    if not math.isfinite(depth):
        return ()
    back = depth_frame(piece).inverse()
    return path_crossings(line, Path((Line(back.of((-_FAR, depth)), back.of((_FAR, depth))),)))


def first_segments(piece: Piece) -> tuple[int, ...]:
    """Return the number of the segment of the whole outline with which each edge starts."""
    firsts, count = [], 0
    for edge in piece.edges:
        firsts.append(count)
        count += len(edge.line.segments)
    return tuple(firsts)


def place_of(piece: Piece, place: Place) -> Point:
    """Return where a place on the whole outline lies, mm."""
    return point_at(piece.line, place)


def corner_near(piece: Piece, point: Point) -> str:
    """Return the corner of a piece that is nearest to a point, by the edges that meet there."""
    starts = [complex(*edge.line.start) for edge in piece.edges]
    at = min(range(len(starts)), key=lambda k: abs(starts[k] - complex(*point)))
    return "/".join(dict.fromkeys(name for name in (piece.edge_names[at - 1], piece.edge_names[at]) if name)) or listed(
        [piece.label]
    )
