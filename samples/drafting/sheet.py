"""Laying pieces out on a sheet, and writing it as plain SVG in millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from xml.sax.saxutils import escape

from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.bounds import bounds
from crossgrain.model import Edge, Piece
from crossgrain.svg import format_path
from drafting.curve import run

INK = "#1d1d1b"
OUTLINE = f"fill:none;stroke:{INK};stroke-width:0.6;stroke-linejoin:miter"
TEXT = f"font-family:sans-serif;fill:{INK}"

TEST_SQUARE = 100.0
"""The side of the square that shows whether a print is at true scale."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A page with pieces on it, in mm.

    Args:
        width: of the page.
        height: of the page.
        title: the lines over the pieces, the first one large.
        pieces: the pieces in their places.
        labels: what is written on each piece, by its id: where, and the lines.
        test_square: the upper left corner of the test square, or none.
    """

    width: float
    height: float
    title: tuple[str, ...]
    pieces: tuple[Piece, ...]
    labels: dict[str, tuple[Point, tuple[str, ...]]]
    test_square: Point | None = None


def moved(piece: Piece, left: float, top: float) -> Piece:
    """Move a piece so that its box starts at a place on the page; whole millimetres of shift keep it exact."""
    box = bounds(piece.line)
    shift = Affine.translation(round(left - box.left), round(top - box.top))
    return replace(piece, edges=tuple(Edge(name=e.name, line=run(*e.line.mapped(shift).segments)) for e in piece.edges))


def written_sheet(sheet: Sheet) -> str:
    """Write the sheet: title, test square, and each piece as a bare outline grouped with its label."""
    width, height = f"{sheet.width:g}", f"{sheet.height:g}"
    words = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<svg xmlns="http://www.w3.org/2000/svg"',
        '     xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"',
        f'     version="1.1" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}">',
    ]
    if sheet.title:
        words.append(f"  <title>{escape(sheet.title[0])}</title>")
        words += lines_of_text("title", (40.0, 46.0), sheet.title, first=16.0, rest=9.0)
    if sheet.test_square is not None:
        x, y = sheet.test_square
        words += [
            '  <g id="test-square">',
            f'    <rect id="test-square-line" x="{x:g}" y="{y:g}" width="{TEST_SQUARE:g}" height="{TEST_SQUARE:g}"'
            f' style="{OUTLINE}"/>',
            *lines_of_text("test-square-text", (x + 10.0, y + 46.0), ("100 mm", "measure before you cut"), 8.0, 6.0),
            "  </g>",
        ]
    for piece in sheet.pieces:
        words.append(f'  <g id="{piece.id}-piece" inkscape:label="{escape(piece.name or piece.id)}">')
        words.append(f'    <path id="{piece.id}" style="{OUTLINE}"')
        words.append(f'          d="{format_path([piece.line])}"/>')
        if piece.id in sheet.labels:
            place, lines = sheet.labels[piece.id]
            words += lines_of_text(f"{piece.id}-label", place, lines, first=10.0, rest=7.0)
        words.append("  </g>")
    return "\n".join([*words, "</svg>", ""])


def lines_of_text(id: str, place: Point, lines: Sequence[str], first: float, rest: float) -> list[str]:
    """Write lines under one another."""
    x, y = place
    out, size = [f'  <text id="{id}" style="{TEXT}">'], first
    for line in lines:
        out.append(f'    <tspan x="{x:g}" y="{y:g}" style="font-size:{size:g}px">{escape(line)}</tspan>')
        size = rest
        y += 1.6 * rest
    return [*out, "  </text>"]
