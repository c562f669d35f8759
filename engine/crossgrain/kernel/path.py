"""A line made of segments joined end to end."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.segment import Line, Segment, started_at
from crossgrain.language import _
from crossgrain.tolerances import CLOSING_GAP


@dataclass(frozen=True, slots=True)
class Path:
    """Segments joined end to end, open or closed.

    A closed path ends where it starts: its last segment brings it back, there is no hidden closing line. Each
    segment starts exactly where the one before it ends.

    Args:
        segments: at least one segment.
        closed: whether the line comes back to its start.

    Raises:
        GeometryError: no segment, a coordinate that is not a number, or ends that do not meet.

    >>> square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    >>> len(square.segments), square.closed
    (4, True)
    """

    segments: tuple[Segment, ...]
    closed: bool = False

    def __post_init__(self) -> None:
        if not self.segments:
            raise GeometryError(_("A line has no segments."), advice=_("Draw it, or remove the empty path."))
        before = self.segments[-1].end if self.closed else self.segments[0].start
        for segment in self.segments:
            # One sum tells of a NaN or an infinity anywhere in it, at a fifth of the price of asking each number.
            if isinstance(segment, Line):
                (ax, ay), (bx, by) = segment.start, segment.end
                total = ax + ay + bx + by
            else:
                (ax, ay), (bx, by), (cx, cy), (dx, dy) = segment.controls
                total = ax + ay + bx + by + cx + cy + dx + dy
            if not math.isfinite(total):
                raise GeometryError(
                    _("A line has a coordinate that is not a number."), advice=_("Draw the line again.")
                )
            if segment.start != before:
                raise GeometryError(_("Two segments of a line do not meet."), position=segment.start)
            before = segment.end

    @classmethod
    def polygon(cls, points: Sequence[Point]) -> Path:
        """Join points by straight lines, back to the first.

        Args:
            points: at least two points, mm, the first not repeated at the end.
        """
        corners = [(float(x), float(y)) for x, y in points]
        return cls(tuple(Line(p, q) for p, q in zip(corners, corners[1:] + corners[:1], strict=True)), True)

    @classmethod
    def joined(cls, segments: Iterable[Segment], *, closed: bool = False) -> Path:
        """Join segments whose ends meet within ``CLOSING_GAP``, moving each start onto the end before it.

        Raises:
            GeometryError: ends farther apart than that.
        """
        run = list(segments)
        if not run:
            return cls((), closed)
        last = run[-1].end if closed else run[0].start
        out: list[Segment] = []
        for segment in run:
            if segment.start != last:
                if math.dist(segment.start, last) > CLOSING_GAP:
                    raise GeometryError(
                        _("Two segments of a line do not meet."),
                        position=segment.start,
                        advice=_("Join the nodes there."),
                    )
                segment = started_at(segment, last)
            out.append(segment)
            last = segment.end
        return cls(tuple(out), closed)

    @property
    def start(self) -> Point:
        """The point the path starts at."""
        return self.segments[0].start

    @property
    def end(self) -> Point:
        """The point the path ends at; its start when closed."""
        return self.segments[-1].end

    @property
    def nodes(self) -> tuple[Point, ...]:
        """The points between segments, from the start; a closed path's start is not repeated."""
        starts = tuple(segment.start for segment in self.segments)
        return starts if self.closed else (*starts, self.end)

    def reversed(self) -> Path:
        """Return the same line travelled the other way; twice is itself."""
        return Path(tuple(segment.reversed() for segment in reversed(self.segments)), self.closed)

    def mapped(self, affine: Affine) -> Path:
        """Return the line under an affine map; the number of nodes stays."""
        return Path(tuple(segment.mapped(affine) for segment in self.segments), self.closed)
