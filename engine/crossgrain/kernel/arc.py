"""Elliptical arcs and ellipses, drawn as few cubics."""

from __future__ import annotations

import math
from itertools import pairwise

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line, Segment
from crossgrain.language import _
from crossgrain.tolerances import ARC_ACCURACY, QUARTER_ARC_ERROR


def arc_cubics(
    start: Point, rx: float, ry: float, rotation_rad: float, large: bool, sweep: bool, end: Point
) -> tuple[Segment, ...]:
    """Draw the elliptical arc between two points that SVG's path command ``A`` describes.

    The rules for values out of range are those of SVG 1.1, appendix F.6.6: equal ends draw nothing, a radius of
    zero draws a straight line, the sign of a radius is dropped, and radii too small to span the ends are scaled up.

    Args:
        start: where the arc starts, mm.
        rx: radius along the ellipse's own x axis, mm.
        ry: radius along its own y axis, mm.
        rotation_rad: turn of that x axis from the drawing's, clockwise as seen on the page.
        large: take the arc of more than half a turn.
        sweep: travel clockwise as seen on the page.
        end: where the arc ends, mm.

    Returns:
        The segments, from exactly ``start`` to exactly ``end``, nowhere more than ``ARC_ACCURACY`` off the ellipse.

    Raises:
        GeometryError: a value that is not a number, or too large to reckon with.

    >>> [quarter] = arc_cubics((1.0, 0.0), 1.0, 1.0, 0.0, False, True, (0.8, 0.6))
    >>> round(math.dist(quarter.point(0.5), (0.0, 0.0)), 4)
    1.0
    """
    rx, ry = abs(rx), abs(ry)
    half = ((start[0] - end[0]) / 2, (start[1] - end[1]) / 2)
    if not all(map(math.isfinite, (rx, ry, rotation_rad, *start, *end, *half))):
        raise _not_a_number()
    if start == end:
        return ()
    if rx == 0.0 or ry == 0.0:
        return (Line(start, end),)
    # In the frame where the ellipse is the unit circle (F.6.5.1), half the chord from the end to the start.
    x, y = Affine.rotation(-rotation_rad).of_vector(half)
    x, y = x / rx, y / ry
    size = math.hypot(x, y)
    if not math.isfinite(size) or size == 0.0:
        raise _not_a_number()
    x, y = x / size, y / size
    if size > 1.0:
        rx, ry, size = rx * size, ry * size, 1.0
    side = 1.0 if large != sweep else -1.0
    depth = math.sqrt((1.0 - size) * (1.0 + size))
    first = math.atan2(y * size + side * depth * x, x * size - side * depth * y)
    span = 2.0 * math.atan2(size, depth)
    if large:
        span = 2.0 * math.pi - span
    frame = Affine.scaling(rx, ry).then(Affine.rotation(rotation_rad))
    return _arc(start, frame, first, span if sweep else -span, end, pieces=_pieces(span, max(rx, ry)))


def ellipse_path(cx: float, cy: float, rx: float, ry: float) -> Path:
    """Draw a whole ellipse, from its rightmost point, clockwise as seen on the page: SVG's order.

    Args:
        cx: the centre's x, mm.
        cy: the centre's y, mm.
        rx: half the width, mm, above 0.
        ry: half the height, mm, above 0.

    Returns:
        A closed path with nodes at the four extreme points and an equal number between each two of them, nowhere
        more than ``ARC_ACCURACY`` off the ellipse.

    Raises:
        GeometryError: a radius that is not above 0, or a value that is not a number.

    >>> len(ellipse_path(0.0, 0.0, 5.0, 5.0).segments)
    8
    """
    if not all(map(math.isfinite, (cx, cy, rx, ry))):
        raise _not_a_number()
    if not (rx > 0.0 and ry > 0.0):
        raise GeometryError(
            _("An ellipse has a radius of zero or less."), advice=_("Give both radii above zero, or remove it.")
        )
    extremes = [(cx + rx, cy), (cx, cy + ry), (cx - rx, cy), (cx, cy - ry)]
    frame = Affine.scaling(rx, ry)
    pieces = _pieces(math.pi / 2, max(rx, ry))
    segments: list[Segment] = []
    for quarter in range(4):
        a, b = extremes[quarter], extremes[(quarter + 1) % 4]
        segments += _arc(a, frame, quarter * math.pi / 2, math.pi / 2, b, pieces=pieces)
    return Path(tuple(segments), True)


def _arc(start: Point, frame: Affine, first: float, span: float, end: Point, *, pieces: int) -> tuple[Segment, ...]:
    """Draw the image under ``frame`` of the unit circle from angle ``first`` over ``span``.

    Every point is reckoned from the start, along a chord of the circle, not from the centre: the centre of a flat
    arc may lie kilometres away, where a tenth of a micrometre no longer fits into a float.
    """
    step = span / pieces
    handle = 4.0 / 3.0 * math.tan(step / 4.0)
    nodes = [start]
    for i in range(1, pieces):
        angle, chord = first + i * step / 2.0, 2.0 * math.sin(i * step / 2.0)
        dx, dy = frame.of_vector((-chord * math.sin(angle), chord * math.cos(angle)))
        nodes.append((start[0] + dx, start[1] + dy))
    nodes.append(end)
    out: list[Segment] = []
    for i, (p, q) in enumerate(pairwise(nodes)):
        a, b = first + i * step, first + (i + 1) * step
        ux, uy = frame.of_vector((-handle * math.sin(a), handle * math.cos(a)))
        vx, vy = frame.of_vector((-handle * math.sin(b), handle * math.cos(b)))
        out.append(Cubic(p, (p[0] + ux, p[1] + uy), (q[0] - vx, q[1] - vy), q))
    return tuple(out)


def _pieces(span: float, radius: float) -> int:
    """Return the least number of equal cubics that follow an arc within ``ARC_ACCURACY``."""
    pieces = max(
        1, math.ceil(span / (math.pi / 2) * math.pow(QUARTER_ARC_ERROR * radius / ARC_ACCURACY, 1.0 / 6.0) - 0.5)
    )
    pieces = max(pieces, math.ceil(span / (0.9 * math.pi)))
    while radius * _radial_error(span / pieces) > ARC_ACCURACY:
        pieces += 1
    return pieces


def _radial_error(angle: float) -> float:
    """Return exactly how far the cubic of a unit circle's arc strays from the circle.

    With handles of 4/3 tan(angle/4) the squared radius is 1 + c u²(1 - 4u), u = t(1 - t), where 4c is the square
    of the third difference of the control points; it is greatest at u = 1/6. Under an affine map no point moves
    farther than the greater radius times this, so it bounds the ellipse too.
    """
    handle = 4.0 / 3.0 * math.tan(angle / 4.0)
    # Third difference in the frame of the middle of the arc; the other component vanishes by symmetry.
    third = 2.0 * math.sin(angle / 2.0) - 6.0 * (math.sin(angle / 2.0) - handle * math.cos(angle / 2.0))
    rise = third * third / 432.0
    return rise / (math.sqrt(1.0 + rise) + 1.0)


def _not_a_number() -> GeometryError:
    return GeometryError(
        _("An arc has a radius or an end that is not a number that can be used."),
        advice=_("Draw the arc again, or turn it into a path in the editor."),
    )
