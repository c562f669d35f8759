"""Draw all sizes of a pattern on top of each other, a layer for each. They are looked at and never read as pieces."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from lxml import etree

from crossgrain.kernel.affine import Point
from crossgrain.language import _
from crossgrain.model.cutting.line_looks import LineLook
from crossgrain.model.sizes.size_names import NAME_HEIGHT, SizeName
from crossgrain.model.sizes.stacked_sizes import StackedSize, box_of
from crossgrain.svg.build import new_drawing
from crossgrain.svg.drawing import Drawing
from crossgrain.svg.grammar import format_path
from crossgrain.svg.looks import style_of
from crossgrain.svg.names import INKSCAPE, crossgrain, inkscape, svg
from crossgrain.svg.redraw import LAYER
from crossgrain.svg.transforms import format_matrix

_SIZES: Final = "sizes"
_MARGIN: Final = 20.0
_ROW: Final = 8.0
"""From one line of the key to the next, mm."""
_SAMPLE: Final = 40.0
"""Length of a line in the key, mm."""
_TEXT: Final = 5.0
"""Height of the text in the key, mm."""
_TO_MIDDLE: Final = 0.36 * NAME_HEIGHT
"""How far below its line the foot of a name lies, so that its capitals stand on both sides of the line alike."""


def stacked_drawing(stack: Sequence[StackedSize], looks: Sequence[LineLook], name: str) -> Drawing:
    """Return a drawing of its own with all sizes, at true scale.

    Args:
        stack: at least one size.
        looks: how each looks.
        name: what messages call it.
    """
    box = box_of(stack)
    head = _ROW * (len(stack) + 1)
    drawing = new_drawing(round(box.width + 2.0 * _MARGIN), round(box.height + head + 2.0 * _MARGIN), name=name)
    _draw(drawing, stack, looks, (_MARGIN - box.left, _MARGIN + head - box.top), (_MARGIN, _MARGIN))
    return drawing


def draw_sizes(drawing: Drawing, stack: Sequence[StackedSize], looks: Sequence[LineLook]) -> None:
    """Draw all sizes over the pieces of a drawing; those drawn before go.

    Args:
        drawing: the drawing; altered in place.
        stack: the sizes, where they lie on the page.
        looks: how each looks.
    """
    for old in [child for child in drawing.root.iterchildren(svg("g")) if child.get(LAYER) == _SIZES]:
        drawing.root.remove(old)
    drawing.forget()
    if stack:
        box = box_of(stack)
        _draw(drawing, stack, looks, (0.0, 0.0), (box.left, box.top - _ROW * (len(stack) + 1)))


def shows_sizes(drawing: Drawing) -> bool:
    """Tell whether sizes are drawn on layers of their own in a drawing."""
    return any(child.get(LAYER) == _SIZES for child in drawing.root.iterchildren(svg("g")))


def _draw(drawing: Drawing, stack: Sequence[StackedSize], looks: Sequence[LineLook], move: Point, key: Point) -> None:
    root = drawing.root
    back = drawing.page.to_mm.inverse()
    for number, (size, look) in enumerate(zip(stack, looks, strict=True)):
        layer = etree.SubElement(root, svg("g"), {"id": drawing.free_id(f"size-{_plain(size.name)}"), LAYER: _SIZES})
        layer.tail = "\n"
        if INKSCAPE in root.nsmap.values():
            layer.set(inkscape("groupmode"), "layer")
            layer.set(inkscape("label"), _title(size))
        layer.set("transform", format_matrix(back))
        layer.set("style", style_of(look))
        y = key[1] + _ROW * (number + 1)
        etree.SubElement(layer, svg("path"), {"d": f"M{key[0]:g},{y - 1.5:g} h{_SAMPLE:g}"})
        _write(layer, (key[0] + _SAMPLE + 4.0, y), _title(size), look)
        moved = etree.SubElement(layer, svg("g"), {"transform": f"translate({move[0]:g},{move[1]:g})"})
        for piece in size.pieces:
            about = {crossgrain("about"): piece.id}
            etree.SubElement(moved, svg("path"), {**about, "d": format_path([piece.outline], unit_mm=1.0)})
            for line in piece.lines:
                etree.SubElement(moved, svg("path"), {**about, "d": format_path([line], unit_mm=1.0)})
            for name in piece.names:
                _write_on(moved, name, size.name, look)
    drawing.forget()


def _write(layer: etree._Element, at: Point, words: str, look: LineLook) -> None:
    style = f"font-family:sans-serif;font-size:{_TEXT:g}px;stroke:none;fill:{look.colour}"
    text = etree.SubElement(layer, svg("text"), {"x": f"{at[0]:.2f}", "y": f"{at[1]:.2f}", "style": style})
    text.text = words


def _write_on(layer: etree._Element, name: SizeName, words: str, look: LineLook) -> None:
    """Write the name of a size on its line, which it breaks, and no other near it."""
    x, y = name.at
    style = (
        f"font-family:sans-serif;font-size:{NAME_HEIGHT:g}px;text-anchor:middle;fill:{look.colour};"
        "stroke:#ffffff;stroke-width:1px;stroke-dasharray:none;stroke-linejoin:round;paint-order:stroke"
    )
    place = f"translate({x:.2f},{y:.2f}) rotate({math.degrees(name.turn_rad):.2f})"
    text = etree.SubElement(layer, svg("text"), {"transform": place, "y": f"{_TO_MIDDLE:g}", "style": style})
    text.text = words


def _title(size: StackedSize) -> str:
    if size.from_base == 0:
        return _("Size {size}, the base").format(size=size.name)
    return _("Size {size}").format(size=size.name)


def _plain(name: str) -> str:
    return "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in name)
