"""The smallest upright box around a line."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from crossgrain.kernel.affine import Point
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment


@dataclass(frozen=True, slots=True)
class Box:
    """An upright box on the page, mm; ``top`` is above ``bottom`` on the page, so the smaller y.

    >>> Box(0.0, 0.0, 30.0, 20.0).centre
    (15.0, 10.0)
    """

    left: float
    top: float
    right: float
    bottom: float

    @classmethod
    def around(cls, boxes: Iterable[Box]) -> Box:
        """Return the smallest box around at least one other."""
        some = tuple(boxes)
        return cls(
            min(box.left for box in some),
            min(box.top for box in some),
            max(box.right for box in some),
            max(box.bottom for box in some),
        )

    @property
    def width(self) -> float:
        """The size across the page."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """The size down the page."""
        return self.bottom - self.top

    @property
    def centre(self) -> Point:
        """The middle of the box."""
        return ((self.left + self.right) / 2.0, (self.top + self.bottom) / 2.0)

    def grown(self, by: float) -> Box:
        """Return the box moved out by ``by`` mm on every side."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def meets(self, other: Box) -> bool:
        """Say whether the two boxes share a point."""
        return (
            self.left <= other.right
            and other.left <= self.right
            and self.top <= other.bottom
            and other.top <= self.bottom
        )


def segment_bounds(segment: Segment) -> Box:
    """Return the smallest upright box around a segment, exact to rounding.

    >>> from crossgrain.kernel.segment import Cubic
    >>> segment_bounds(Cubic((0.0, 0.0), (0.0, 4.0), (9.0, 4.0), (9.0, 0.0)))
    Box(left=0.0, top=0.0, right=9.0, bottom=3.0)
    """
    xs, ys = ([segment.start[axis], segment.end[axis]] for axis in (0, 1))
    if not isinstance(segment, Line):
        for axis, values in ((0, xs), (1, ys)):
            p, q, r, w = (control[axis] for control in segment.controls)
            if min(p, w) <= min(q, r) and max(q, r) <= max(p, w):
                continue  # the control points lie between the ends, so the curve does
            values.extend(segment.point(t)[axis] for t in turning_points(p, q, r, w))
    return Box(min(xs), min(ys), max(xs), max(ys))


def bounds(path: Path) -> Box:
    """Return the smallest upright box around a path, exact to rounding.

    >>> bounds(Path.polygon([(0, 0), (30, 0), (30, 20)]))
    Box(left=0.0, top=0.0, right=30.0, bottom=20.0)
    """
    return Box.around(map(segment_bounds, path.segments))


def turning_points(p: float, q: float, r: float, w: float) -> list[float]:
    """Return where one coordinate of a cubic stands still, as parameters strictly between 0 and 1, in order.

    Args:
        p: that coordinate of the first control point.
        q: of the second.
        r: of the third.
        w: of the last.

    >>> turning_points(0.0, 4.0, 4.0, 0.0)
    [0.5]
    """
    c, d, e = q - p, r - q, w - r
    a, half = c - 2.0 * d + e, d - c  # a t² + 2 half t + c = 0
    square = half * half - a * c
    if square < 0.0:
        return []
    # The form without cancellation; one of the two also stands where the parabola is flat (a = 0).
    k = -(half + math.copysign(math.sqrt(square), half))
    roots = {top / below for top, below in ((k, a), (c, k)) if abs(top) < abs(below)}
    return sorted(t for t in roots if 0.0 < t < 1.0)
