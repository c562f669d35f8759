"""Affine maps of the plane."""

from __future__ import annotations

import math
from dataclasses import dataclass

from crossgrain.errors import GeometryError
from crossgrain.language import _
from crossgrain.tolerances import FLATTENED

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Affine:
    """Map ``(x, y)`` to ``(a x + c y + e, b x + d y + f)``, the order of SVG's ``matrix()``.

    >>> Affine.scaling(2.0, 1.0).of((3.0, 4.0))
    (6.0, 4.0)
    """

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    @classmethod
    def translation(cls, dx: float, dy: float) -> Affine:
        """Move by ``(dx, dy)`` mm."""
        return cls(1.0, 0.0, 0.0, 1.0, dx, dy)

    @classmethod
    def scaling(cls, sx: float, sy: float, about: Point = (0.0, 0.0)) -> Affine:
        """Scale by ``sx`` and ``sy``, keeping ``about`` where it is."""
        x, y = about
        return cls(sx, 0.0, 0.0, sy, x - sx * x, y - sy * y)

    @classmethod
    def rotation(cls, angle_rad: float, about: Point = (0.0, 0.0)) -> Affine:
        """Turn by ``angle_rad``, clockwise as seen on the page, about a point."""
        cos, sin = math.cos(angle_rad), math.sin(angle_rad)
        x, y = about
        return cls(cos, sin, -sin, cos, x - cos * x + sin * y, y - sin * x - cos * y)

    @classmethod
    def mirroring(cls, first: Point, second: Point) -> Affine:
        """Mirror about the line through two points that are not one; twice is nothing but for rounding.

        >>> Affine.mirroring((3.0, 0.0), (3.0, 8.0)).of((1.0, 5.0))
        (5.0, 5.0)
        """
        (x, y), (dx, dy) = first, (second[0] - first[0], second[1] - first[1])
        size = math.hypot(dx, dy)
        ux, uy = dx / size, dy / size
        cos, sin = ux * ux - uy * uy, 2.0 * ux * uy
        return cls(cos, sin, sin, -cos, x - cos * x - sin * y, y - sin * x + cos * y)

    def then(self, after: Affine) -> Affine:
        """Return the map that does this one first and ``after`` second.

        >>> Affine.translation(1.0, 0.0).then(Affine.scaling(2.0, 2.0)).of((0.0, 0.0))
        (2.0, 0.0)
        """
        return Affine(
            after.a * self.a + after.c * self.b,
            after.b * self.a + after.d * self.b,
            after.a * self.c + after.c * self.d,
            after.b * self.c + after.d * self.d,
            after.a * self.e + after.c * self.f + after.e,
            after.b * self.e + after.d * self.f + after.f,
        )

    @property
    def determinant(self) -> float:
        """The factor by which signed areas change; negative for a mirror."""
        return self.a * self.d - self.b * self.c

    def inverse(self) -> Affine:
        """Return the map back.

        Raises:
            GeometryError: the map flattens the plane to a line or a point.
        """
        det = self.determinant
        size = abs(self.a * self.d) + abs(self.b * self.c)
        if not math.isfinite(det) or abs(det) <= FLATTENED * size or det == 0.0:
            raise GeometryError(
                _("A transform flattens the drawing to a line and cannot be undone."),
                advice=_("Remove the zero scale or skew from the object or its group."),
            )
        a, b, c, d = self.d / det, -self.b / det, -self.c / det, self.a / det
        return Affine(a, b, c, d, -(a * self.e + c * self.f), -(b * self.e + d * self.f))

    def of(self, point: Point) -> Point:
        """Return where a point goes."""
        x, y = point
        return (self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f)

    def of_vector(self, vector: Point) -> Point:
        """Return where a direction goes: the map without its translation."""
        x, y = vector
        return (self.a * x + self.c * y, self.b * x + self.d * y)
