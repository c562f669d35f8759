"""The two kinds of segment a line is made of: straight lines and cubics."""

from __future__ import annotations

import math
from dataclasses import dataclass

from crossgrain.kernel.affine import Affine, Point
from crossgrain.tolerances import COINCIDENT


def between(p: Point, q: Point, t: float) -> Point:
    """Return the point at share ``t`` of the way from ``p`` to ``q``; exact at 0 and at 1.

    >>> between((0.0, 0.0), (10.0, 20.0), 0.25)
    (2.5, 5.0)
    """
    s = 1.0 - t
    return (s * p[0] + t * q[0], s * p[1] + t * q[1])


def unit(dx: float, dy: float) -> Point:
    """Return the direction of a vector that is not zero, as a unit vector."""
    size = math.hypot(dx, dy)
    return (dx / size, dy / size)


@dataclass(frozen=True, slots=True)
class Line:
    """A straight segment from ``start`` to ``end``; parameter 0 to 1 at even speed."""

    start: Point
    end: Point

    def point(self, t: float) -> Point:
        """Return the point at parameter ``t``."""
        return between(self.start, self.end, t)

    def derivative(self, t: float) -> Point:
        """Return the velocity at parameter ``t``, in mm per unit of the parameter."""
        return (self.end[0] - self.start[0], self.end[1] - self.start[1])

    @property
    def start_tangent(self) -> Point | None:
        """The unit direction at the start; None for a segment without length."""
        dx, dy = self.derivative(0.0)
        return unit(dx, dy) if math.hypot(dx, dy) > COINCIDENT else None

    end_tangent = start_tangent

    def reversed(self) -> Line:
        """Return the same segment travelled the other way."""
        return Line(self.end, self.start)

    def split(self, t: float) -> tuple[Line, Line]:
        """Cut at parameter ``t`` into two segments that share the point there."""
        middle = self.point(t)
        return Line(self.start, middle), Line(middle, self.end)

    def mapped(self, affine: Affine) -> Line:
        """Return the segment under an affine map."""
        return Line(affine.of(self.start), affine.of(self.end))

    @property
    def controls(self) -> tuple[Point, Point, Point, Point]:
        """The four control points of the same line written as a cubic of even speed."""
        return (self.start, between(self.start, self.end, 1 / 3), between(self.start, self.end, 2 / 3), self.end)


@dataclass(frozen=True, slots=True)
class Cubic:
    """A cubic Bézier segment with its four control points."""

    start: Point
    control1: Point
    control2: Point
    end: Point

    @classmethod
    def from_quadratic(cls, start: Point, control: Point, end: Point) -> Cubic:
        """Raise a quadratic Bézier segment to a cubic; exact."""
        return cls(start, between(start, control, 2 / 3), between(end, control, 2 / 3), end)

    @property
    def controls(self) -> tuple[Point, Point, Point, Point]:
        """The four control points."""
        return (self.start, self.control1, self.control2, self.end)

    def point(self, t: float) -> Point:
        """Return the point at parameter ``t``."""
        s = 1.0 - t
        a, b, c, d = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        p, q, r, w = self.controls
        return (a * p[0] + b * q[0] + c * r[0] + d * w[0], a * p[1] + b * q[1] + c * r[1] + d * w[1])

    def derivative(self, t: float) -> Point:
        """Return the velocity at parameter ``t``, in mm per unit of the parameter."""
        s = 1.0 - t
        a, b, c = 3 * s * s, 6 * s * t, 3 * t * t
        p, q, r, w = self.controls
        return (
            a * (q[0] - p[0]) + b * (r[0] - q[0]) + c * (w[0] - r[0]),
            a * (q[1] - p[1]) + b * (r[1] - q[1]) + c * (w[1] - r[1]),
        )

    @property
    def start_tangent(self) -> Point | None:
        """The unit direction at the start, past control points that coincide with it; None without length."""
        for control in self.controls[1:]:
            dx, dy = control[0] - self.start[0], control[1] - self.start[1]
            if math.hypot(dx, dy) > COINCIDENT:
                return unit(dx, dy)
        return None

    @property
    def end_tangent(self) -> Point | None:
        """The unit direction at the end, past control points that coincide with it; None without length."""
        for control in self.controls[-2::-1]:
            dx, dy = self.end[0] - control[0], self.end[1] - control[1]
            if math.hypot(dx, dy) > COINCIDENT:
                return unit(dx, dy)
        return None

    def reversed(self) -> Cubic:
        """Return the same segment travelled the other way."""
        return Cubic(self.end, self.control2, self.control1, self.start)

    def split(self, t: float) -> tuple[Cubic, Cubic]:
        """Cut at parameter ``t`` into two segments that share the point there (de Casteljau)."""
        p, q, r, w = self.controls
        pq, qr, rw = between(p, q, t), between(q, r, t), between(r, w, t)
        pqr, qrw = between(pq, qr, t), between(qr, rw, t)
        middle = between(pqr, qrw, t)
        return Cubic(p, pq, pqr, middle), Cubic(middle, qrw, rw, w)

    def mapped(self, affine: Affine) -> Cubic:
        """Return the segment under an affine map; exact."""
        return Cubic(*(affine.of(control) for control in self.controls))


Segment = Line | Cubic


def section(segment: Segment, t0: float, t1: float) -> Segment:
    """Return the part of a segment between two parameters, ``t0 < t1``.

    >>> section(Line((0.0, 0.0), (10.0, 0.0)), 0.25, 0.5)
    Line(start=(2.5, 0.0), end=(5.0, 0.0))
    """
    part = segment
    if t1 < 1.0:
        part = part.split(t1)[0]
    if t0 > 0.0:
        part = part.split(t0 / t1)[1]
    return part


def started_at(segment: Segment, point: Point) -> Segment:
    """Return a segment with its start moved to a point that is its own but for rounding.

    >>> started_at(Line((0.0, 0.0), (10.0, 0.0)), (0.0, 1e-9))
    Line(start=(0.0, 1e-09), end=(10.0, 0.0))
    """
    if isinstance(segment, Line):
        return Line(point, segment.end)
    return Cubic(point, segment.control1, segment.control2, segment.end)


def ended_at(segment: Segment, point: Point) -> Segment:
    """Return a segment with its end moved to a point that is its own but for rounding."""
    if isinstance(segment, Line):
        return Line(segment.start, point)
    return Cubic(segment.start, segment.control1, segment.control2, point)
