"""Draw pieces laid out for cutting, on layers by purpose: cut lines, stitch lines, marks, words.

Each layer can be switched off in the editor. Lines are told apart by width and dash, and by words along them; colour
only helps. What stands on these layers is looked at and cut from, and never read as a piece: the truth is the drawing
that it came from.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final, Literal, get_args

from lxml import etree

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.model.cutting.cut_plan import CutPiece, CutPlan
from crossgrain.model.cutting.lettering import BASELINE, LEADING
from crossgrain.model.cutting.line_words import SIZE
from crossgrain.model.cutting.piece_label import PieceLabel
from crossgrain.svg.cut_head import draw_head, words
from crossgrain.svg.drawing import Drawing
from crossgrain.svg.looks import line_style
from crossgrain.svg.names import INKSCAPE, crossgrain, inkscape, svg
from crossgrain.svg.path_format import format_path
from crossgrain.svg.redraw import LAYER
from crossgrain.svg.transforms import format_matrix

Purpose = Literal["cut-marks", "cut-stitch-lines", "cut-lines", "cut-words"]
PURPOSES: Final[tuple[Purpose, ...]] = get_args(Purpose)
"""The layers, from the lowest to the one on top."""

_WHOLE: Final = "cut-pieces"
_ABOUT: Final = crossgrain("about")


def draw_cut_pieces(drawing: Drawing, plan: CutPlan, *, left: float = 0.0, top: float = 0.0) -> None:
    """Draw a plan on layers of its own, one for each purpose, in place of those of an earlier plan.

    The layers themselves stay, hidden or locked as the maker left them.

    Args:
        drawing: the drawing; altered in place.
        plan: what is laid out.
        left: where its sheet begins on the page, mm.
        top: the same, down the page.
    """
    to_page = Affine.translation(left, top).then(drawing.page.to_mm.inverse())
    whole = _layer(drawing, drawing.root, _WHOLE)
    whole.set("transform", format_matrix(to_page))
    layers = {purpose: _layer(drawing, whole, purpose) for purpose in PURPOSES}
    for layer in layers.values():
        for child in list(layer):
            layer.remove(child)
    draw_head(layers["cut-words"], plan)
    for piece in plan.pieces:
        _draw(drawing, piece, layers)
    drawing.forget()


def beside(drawing: Drawing, right: float) -> float:
    """Return where a sheet begins that is drawn beside what is there, mm: clear of the page and of all pieces."""
    width = drawing.page.width
    return max(right, width if math.isfinite(width) else right) + _BESIDE


_BESIDE: Final = 60.0
"""Between the drawing and the sheet beside it, mm."""


def _draw(drawing: Drawing, piece: CutPiece, layers: dict[Purpose, etree._Element]) -> None:
    id = f"{piece.piece.id}-{piece.number}" + ("-template" if piece.is_template else "")
    id += "-stabiliser" if piece.material == "stabiliser" else ""
    if piece.cut is not None:
        _path(drawing, layers["cut-lines"], piece, piece.cut, f"cut-{id}", "scissors")
    if piece.stitch is not None:
        _path(drawing, layers["cut-stitch-lines"], piece, piece.stitch, f"stitch-{id}", "stitch")
    if piece.marks:
        marks = _group(layers["cut-marks"], piece)
        for mark in piece.marks:
            d = format_path([mark.line])
            etree.SubElement(marks, svg("path"), {"style": line_style(mark.kind), "d": d})
    lettering = _group(layers["cut-words"], piece)
    _letter(lettering, piece.label)
    for word in piece.words:
        text = words(lettering, word.text, (0.0, 0.0), SIZE, anchor="middle")
        text.set("transform", format_matrix(Affine.rotation(word.angle_rad).then(Affine.translation(*word.at))))


def _path(drawing: Drawing, layer: etree._Element, piece: CutPiece, line: Path, id: str, look: str) -> None:
    attributes = {"id": drawing.free_id(id), _ABOUT: piece.piece.id, "style": line_style(look)}
    etree.SubElement(layer, svg("path"), {**attributes, "d": format_path([line])})


def _group(layer: etree._Element, piece: CutPiece) -> etree._Element:
    return etree.SubElement(layer, svg("g"), {_ABOUT: piece.piece.id})


def _letter(group: etree._Element, label: PieceLabel) -> None:
    """Write the words on a piece, with their leader where they stand beside it."""
    if label.leader is not None:
        etree.SubElement(group, svg("path"), {"style": line_style("leader"), "d": format_path([label.leader])})
    box = label.box
    turn = Affine.translation(box.left, box.top)
    if label.turned:
        turn = Affine.rotation(-math.pi / 2.0).then(Affine.translation(box.left, box.bottom))
    group = etree.SubElement(group, svg("g"), {"transform": format_matrix(turn)})
    for text, size, y in _lines(label):
        words(group, text, (0.0, y), size)


def _lines(label: PieceLabel) -> Iterator[tuple[str, float, float]]:
    """Yield the lines of a label with their sizes and how far down the block their base lines lie, mm."""
    down = 0.0
    for text, size in label.lines:
        yield text, size, down + BASELINE * size
        down += LEADING * size


def _layer(drawing: Drawing, into: etree._Element, name: str) -> etree._Element:
    for child in into.iterchildren(svg("g")):
        if child.get(LAYER) == name:
            return child
    layer = etree.SubElement(into, svg("g"), {"id": drawing.free_id(f"crossgrain-{name}"), LAYER: name})
    if INKSCAPE in drawing.root.nsmap.values():
        layer.set(inkscape("groupmode"), "layer")
        layer.set(inkscape("label"), _shown_name(name))
    layer.tail = "\n"
    return layer


def _shown_name(name: str) -> str:
    return {
        _WHOLE: _("Crossgrain: cut pieces"),
        "cut-lines": _("cut lines"),
        "cut-stitch-lines": _("stitch lines"),
        "cut-marks": _("marks"),
        "cut-words": _("words"),
    }[name]
