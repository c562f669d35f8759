"""The head of a cut sheet: what it is, what its lines are, and a square that shows whether a print is at true scale."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from lxml import etree

from crossgrain.kernel.affine import Point
from crossgrain.language import _
from crossgrain.model.cutting.cut_plan import CutPlan
from crossgrain.model.cutting.laid_out import MARGIN
from crossgrain.model.marking.mark_names import mark_names
from crossgrain.svg.looks import line_style
from crossgrain.svg.names import svg

SQUARE: Final = 100.0
"""The side of the square by which a print is measured, mm."""

_TITLE, _TEXT, _SMALL = 12.0, 7.0, 5.0
_LINE: Final = 26.0
"""How long a sample of a line is, mm."""

_COLUMN: Final = 105.0
_ROW: Final = 8.5
_ROWS: Final = 8


def draw_head(into: etree._Element, plan: CutPlan) -> None:
    """Draw the head of a sheet: test square, title, legend, and the words over each material.

    Args:
        into: the group; in mm of the sheet.
        plan: what is laid out.
    """
    x, y = MARGIN, MARGIN
    etree.SubElement(
        into,
        svg("rect"),
        {"x": f"{x:g}", "y": f"{y:g}", "width": f"{SQUARE:g}", "height": f"{SQUARE:g}", "style": line_style("grain")},
    )
    words(into, "100 mm", (x + SQUARE / 2.0, y + 46.0), _TEXT, anchor="middle")
    words(into, _("Measure it before you cut."), (x + SQUARE / 2.0, y + 56.0), _SMALL, anchor="middle")
    left = x + SQUARE + 12.0
    words(into, plan.garment or _("Pieces to cut"), (left, y + 10.0), _TITLE)
    for number, (look, name) in enumerate(_legend(plan)):
        column, row = divmod(number, _ROWS)
        lx, ly = left + column * _COLUMN, y + 25.0 + row * _ROW
        etree.SubElement(into, svg("path"), {"style": line_style(look), "d": _sample(look, lx, ly - 1.7)})
        words(into, name, (lx + _LINE + 5.0, ly), _SMALL)
    for heading, at in plan.headings:
        words(into, heading, at, _TEXT)


def _sample(look: str, x: float, y: float) -> str:
    """Return a line as it is seen on the sheet: a notch is short, the grain has its heads, a hole is round."""
    middle, end = x + _LINE / 2.0, x + _LINE
    match look:
        case "notch":
            return f"M{middle:g},{y - 2.5:g} v5"
        case "grain":
            heads = f"M{x + 5:g},{y - 1.6:g} l-5,1.6 l5,1.6 M{end - 5:g},{y - 1.6:g} l5,1.6 l-5,1.6"
            return f"M{x:g},{y:g} H{end:g} {heads}"
        case "drill" | "button":
            r = 1.5 if look == "drill" else 3.0
            return f"M{middle - r:g},{y:g} a{r:g},{r:g} 0 1 0 {2 * r:g},0 a{r:g},{r:g} 0 1 0 {-2 * r:g},0"
        case _:
            return f"M{x:g},{y:g} H{end:g}"


def words(into: etree._Element, text: str, at: Point, size: float, *, anchor: str = "start") -> etree._Element:
    """Write one line of text.

    Args:
        into: the group.
        text: the line.
        at: where its base line begins, mm, or its middle where the anchor says so.
        size: of the letters, mm.
        anchor: ``start`` or ``middle``.
    """
    style = f"font-family:sans-serif;font-size:{size:.6g}px;stroke:none;fill:#1d1d1b;text-anchor:{anchor}"
    element = etree.SubElement(into, svg("text"), {"style": style, "x": f"{at[0]:.3f}", "y": f"{at[1]:.3f}"})
    element.text = text
    return element


def _legend(plan: CutPlan) -> Iterator[tuple[str, str]]:
    """Yield the looks of the lines that are on the sheet, each with its name."""
    if any(piece.cut is not None for piece in plan.pieces):
        yield "scissors", _("cut line: cut here")
    if any(piece.stitch is not None for piece in plan.pieces):
        yield "stitch", _("stitch line: sew here")
    there = {mark.kind for piece in plan.pieces for mark in piece.marks}
    for kind, name in mark_names().items():
        if kind in there:
            yield kind, name
