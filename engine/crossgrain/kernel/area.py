"""Areas of closed lines, exact by Green's theorem."""

from __future__ import annotations

import math
from typing import Literal

from crossgrain.errors import CollapseError, OpenOutlineError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.language import _


def signed_area(path: Path) -> float:
    """Return the area inside a closed path, positive where it runs clockwise as seen on the page.

    Green's theorem: half the integral of x dy - y dx around it, which for a cubic is a closed form. Parts that the
    line goes round twice count twice, and the two lobes of an eight count against each other.

    Args:
        path: a closed path.

    Returns:
        The area in mm², exact to rounding.

    Raises:
        OpenOutlineError: the path is open.

    >>> signed_area(Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)]))
    100.0
    """
    _check_closed(path)
    ox, oy = path.start  # reckoned from a point on the line: far from the page's origin digits would be lost
    parts = []
    for segment in path.segments:
        if isinstance(segment, Line):
            (px, py), (wx, wy) = segment.start, segment.end
            parts.append(((px - ox) * (wy - oy) - (wx - ox) * (py - oy)) / 2.0)
            continue
        p, q, r, w = ((x - ox, y - oy) for x, y in segment.controls)
        parts.append(
            (
                6.0 * _cross(p, q)
                + 3.0 * _cross(p, r)
                + _cross(p, w)
                + 3.0 * _cross(q, r)
                + 3.0 * _cross(q, w)
                + 6.0 * _cross(r, w)
            )
            / 20.0
        )
    return math.fsum(parts)


def winding(path: Path) -> Literal[1, -1]:
    """Return 1 for a closed path that runs clockwise as seen on the page, -1 for the other way.

    Raises:
        OpenOutlineError: the path is open.
        CollapseError: it encloses nothing, so that it has no sense.

    >>> winding(Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)]).reversed())
    -1
    """
    area = signed_area(path)
    if area == 0.0:
        raise _no_area(path)
    return 1 if area > 0.0 else -1


def centroid(path: Path) -> Point:
    """Return the centre of gravity of the cloth inside a closed path.

    Args:
        path: a closed path that does not cross itself.

    Returns:
        The point, mm, exact to rounding.

    Raises:
        OpenOutlineError: the path is open.
        CollapseError: it encloses nothing.

    >>> centroid(Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)]))
    (5.0, 5.0)
    """
    area = signed_area(path)
    if area == 0.0:
        raise _no_area(path)
    ox, oy = path.start
    moments_x, moments_y = [], []
    for segment in path.segments:
        for t, weight in _FIVE_POINTS:
            x, y = segment.point(t)
            dx, dy = segment.derivative(t)
            moments_x.append(weight * (x - ox) ** 2 * dy / 2.0)
            moments_y.append(-weight * (y - oy) ** 2 * dx / 2.0)
    return (ox + math.fsum(moments_x) / area, oy + math.fsum(moments_y) / area)


_FIVE_POINTS = tuple(
    ((1.0 + node) / 2.0, weight / 2.0)
    for node, weight in (
        (0.0, 128.0 / 225.0),
        *((s * math.sqrt(5.0 - 2.0 * math.sqrt(10.0 / 7.0)) / 3.0, (322.0 + 13.0 * math.sqrt(70.0)) / 900.0)
          for s in (-1.0, 1.0)),
        *((s * math.sqrt(5.0 + 2.0 * math.sqrt(10.0 / 7.0)) / 3.0, (322.0 - 13.0 * math.sqrt(70.0)) / 900.0)
          for s in (-1.0, 1.0)),
    )
)  # fmt: skip
"""Gauss-Legendre on five points: exact to degree 9, where a cubic's moments have degree 8."""


def _cross(p: Point, q: Point) -> float:
    return p[0] * q[1] - q[0] * p[1]


def _check_closed(path: Path) -> None:
    if not path.closed:
        raise OpenOutlineError(
            _("An area was asked of a line that does not close."),
            position=path.end,
            advice=_("Join its ends in the editor."),
        )


def _no_area(path: Path) -> CollapseError:
    return CollapseError(
        _("An outline encloses nothing."), position=path.start, advice=_("Draw the outline with some width.")
    )
