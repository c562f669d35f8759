"""One piece before and after, as an inline SVG drawing at a fixed scale."""

from __future__ import annotations

import math
from html import escape
from typing import Final

from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.bounds import Box, bounds
from crossgrain.kernel.length import path_length, point_at_share
from crossgrain.kernel.segment import unit
from crossgrain.language import _
from crossgrain.model import Edge, Piece
from crossgrain.model.marking.mark_lines import MARK_KINDS, mark_lines
from crossgrain.output.path_text import number_text, path_text

SCALE: Final = 0.2
"""A fifth of true size: the longest piece of a pair of trousers fits a sheet of A4."""

_LETTER: Final = 15.0
"""Height of the edges' names in mm of the piece: 3 mm on the page."""
_LETTER_WIDTH: Final = 0.55
_LABEL_GAP: Final = 9.0
_MARGIN: Final = 6.0
_NEAR: Final = 0.001
"""The share of an edge over which its direction is taken for a name that is only looked at."""


def draw_piece(before: Piece, after: Piece) -> str:
    """Draw the outline before, dashed, and after, solid, with the marks of the piece after.

    Args:
        before: the piece as it was.
        after: the same piece as it is, in the same plane.

    Returns:
        An ``svg`` element, at a fifth of true size, its user unit being a millimetre of the piece. Its looks come
        from the classes ``before``, ``after``, ``other``, ``edge`` and those named as the kinds of marks.
    """
    labels = [
        _label(after, edge, _reach(before, after, edge))
        for edge in after.edges
        if edge.name and path_length(edge.line) > _LETTER
    ]
    parts = []
    if after.counterpart is not None:
        parts.append(f'<path class="other" d="{path_text(after.counterpart)}"/>')
    parts.append(f'<path class="before" d="{path_text(before.line)}"/>')
    parts.append(f'<path class="after" d="{path_text(after.line)}"/>')
    marks = mark_lines(after)
    for kind in MARK_KINDS:
        drawn = "".join(path_text(mark.line) for mark in marks if mark.kind == kind)
        if drawn:
            parts.append(f'<path class="{kind}" d="{drawn}"/>')
    parts += [text for text, _box in labels]
    boxes = [bounds(piece.line) for piece in (before, after)] + [box for _text, box in labels]
    if after.counterpart is not None:
        boxes.append(bounds(after.counterpart))
    return _framed(Box.around(boxes).grown(_MARGIN), _("Piece {piece}").format(piece=after.label), parts)


def _framed(box: Box, title: str, parts: list[str]) -> str:
    view = " ".join(number_text(value) for value in (box.left, box.top, box.width, box.height))
    width, height = number_text(box.width * SCALE), number_text(box.height * SCALE)
    return "\n".join(
        [
            f'<svg role="img" width="{width}mm" height="{height}mm" viewBox="{view}">',
            f"<title>{escape(title)}</title>",
            *parts,
            "</svg>",
        ]
    )


def _outwards(piece: Piece, edge: Edge) -> Point:
    """Return the unit direction away from the piece at the middle of an edge."""
    before, after = (point_at_share(edge.line, share) for share in (0.5 - _NEAR, 0.5 + _NEAR))
    x, y = unit(after[0] - before[0], after[1] - before[1])
    return (y, -x) if winding(piece.line) > 0 else (-y, x)


def _reach(before: Piece, after: Piece, edge: Edge) -> float:
    """Return how far out of the middle of an edge other lines run beside its name.

    Those are the allowance, the edge as it was, and a hollow edge itself towards the ends of the name.
    """
    dx, dy = _outwards(after, edge)
    x, y = point_at_share(edge.line, 0.5)
    half = min(len(edge.name) * _LETTER * _LETTER_WIDTH / 2.0 / path_length(edge.line), 0.5)
    ends = [point_at_share(edge.line, 0.5 + way * half) for way in (-1.0, 1.0)]
    hollow = max(0.0, *((px - x) * dx + (py - y) * dy for px, py in ends))
    reach = edge.allowance.at(0.5) if edge.allowance else 0.0
    if edge.name in before.edge_names:
        px, py = point_at_share(before.edge(edge.name).line, 0.5)
        reach = max(reach, (px - x) * dx + (py - y) * dy)
    return reach + hollow


def _label(piece: Piece, edge: Edge, reach: float) -> tuple[str, Box]:
    """Write the name of an edge beside its middle, outside the other lines, turned along a steep edge that is long."""
    dx, dy = _outwards(piece, edge)
    x, y = point_at_share(edge.line, 0.5)
    aside = reach + _LABEL_GAP
    x, y = x + aside * dx, y + aside * dy
    width = len(edge.name) * _LETTER * _LETTER_WIDTH
    name = escape(edge.name)
    if abs(dx) > abs(dy) and path_length(edge.line) > 2.0 * width:
        turn = 90 if dx > 0.0 else -90
        at = f"{number_text(x)} {number_text(y)}"
        text = f'<text class="edge" transform="translate({at}) rotate({turn})" text-anchor="middle">{name}</text>'
        far = x + math.copysign(_LETTER, dx)
        return text, Box(min(x, far), y - width / 2.0, max(x, far), y + width / 2.0)
    anchor, left = ("start", x) if dx > 0.5 else ("end", x - width) if dx < -0.5 else ("middle", x - width / 2.0)
    y += _LETTER * (0.75 if dy > 0.5 else 0.0 if dy < -0.5 else 0.35)
    text = f'<text class="edge" x="{number_text(x)}" y="{number_text(y)}" text-anchor="{anchor}">{name}</text>'
    return text, Box(left, y - _LETTER, left + width, y + _LETTER / 4.0)
