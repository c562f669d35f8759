"""Layers of our own in the drawing, which the maker can switch off: labels, findings, and the outlines before.

What stands on them is looked at and never read: no line on them is a piece. Each piece's part is a group that says in
``crossgrain:about`` which outline it is about, and is replaced when the piece is worked on again; the layer itself
stays, hidden or locked as the maker left it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Final, Literal

from lxml import etree

from crossgrain.kernel.affine import Point
from crossgrain.language import _
from crossgrain.model.finding_mark import FindingMark
from crossgrain.model.label import Label
from crossgrain.model.pattern import Pattern
from crossgrain.svg.drawing import Drawing
from crossgrain.svg.grammar import format_path
from crossgrain.svg.names import INKSCAPE, crossgrain, inkscape, svg
from crossgrain.svg.redraw import LAYER
from crossgrain.svg.transforms import format_matrix

Name = Literal["labels", "before", "findings"]

_ABOUT: Final = crossgrain("about")
_FONT: Final = "font-family:sans-serif;font-size:8px;stroke:none"
_STYLES: Final = {
    "name": f"{_FONT};fill:#1f3a5f",
    "table": f"{_FONT};font-family:monospace;fill:#000000;white-space:pre",
    "finding": f"{_FONT};fill:#7a1f1f",
}
_LEADER: Final = "fill:none;stroke:#7a1f1f;stroke-width:0.4"
DOT: Final = 5.5
"""Radius of the dot in which a finding's number stands, mm."""
_TICK: Final = 2.5
"""Half the size of the cross on the place itself, mm."""
_BEFORE: Final = "fill:none;stroke:#6a6a6a;stroke-width:0.25;stroke-dasharray:3,2;stroke-linejoin:round"
_LEADING: Final = 11.0


def draw_labels(drawing: Drawing, pieces: Iterable[str], labels: Sequence[Label]) -> None:
    """Replace the labels of some pieces on the layer of labels, which lies on top.

    Args:
        drawing: the drawing; altered in place.
        pieces: the ids of the pieces whose old labels go.
        labels: the new ones; the labels of one piece stand one after another.
    """
    layer = _layer(drawing, "labels", make=bool(labels))
    if layer is None:
        return
    _clear(layer, pieces)
    for about, own in groupby(labels, key=lambda label: label.about):
        group = etree.SubElement(layer, svg("g"), {_ABOUT: about})
        for label in own:
            _write(group, label)


def draw_before(drawing: Drawing, before: Pattern, after: Pattern) -> None:
    """Draw the outlines that changed as they were, thin and dashed, on a layer underneath.

    Args:
        drawing: the drawing; altered in place.
        before: the pieces as they were.
        after: the pieces as they are.
    """
    now = {piece.id: piece.line for piece in after.pieces}
    changed = [piece for piece in before.pieces if now.get(piece.id, piece.line) != piece.line]
    layer = _layer(drawing, "before", make=bool(changed))
    if layer is None:
        return
    _clear(layer, [piece.id for piece in changed])
    for piece in changed:
        etree.SubElement(
            layer, svg("path"), {_ABOUT: piece.id, "style": _BEFORE, "d": format_path([piece.line], unit_mm=1.0)}
        )


def draw_findings(drawing: Drawing, marks: Sequence[FindingMark]) -> None:
    """Replace all that stands on the layer of findings, which lies on top.

    Args:
        drawing: the drawing; altered in place.
        marks: the findings; none leave the layer empty.
    """
    layer = _layer(drawing, "findings", make=bool(marks))
    if layer is None:
        return
    for child in list(layer):
        layer.remove(child)
    for mark in marks:
        group = etree.SubElement(layer, svg("g"), {_ABOUT: mark.label.about})
        (x, y), (dx, dy) = mark.at, mark.dot
        leader = f"M{x:.2f},{y:.2f} L{dx:.2f},{dy:.2f}"
        etree.SubElement(group, svg("path"), {"style": _LEADER, "d": leader})
        cross = f"M{x - _TICK:.2f},{y:.2f} h{2 * _TICK} M{x:.2f},{y - _TICK:.2f} v{2 * _TICK}"
        etree.SubElement(group, svg("path"), {"style": _LEADER, "d": cross})
        _dot(group, mark.dot, mark.number)
        _write(group, mark.label)


def _dot(group: etree._Element, at: Point, number: int) -> None:
    x, y = at
    place = {"cx": f"{x:.2f}", "cy": f"{y:.2f}", "r": f"{DOT:g}"}
    etree.SubElement(group, svg("circle"), {"style": "fill:#7a1f1f;stroke:#ffffff;stroke-width:0.8", **place})
    size = 8.0 if number < 10 else 6.5
    style = f"font-family:sans-serif;font-size:{size:g}px;font-weight:bold;stroke:none;fill:#ffffff;text-anchor:middle"
    text = etree.SubElement(group, svg("text"), {"style": style, "x": f"{x:.2f}", "y": f"{y + 0.36 * size:.2f}"})
    text.text = str(number)


def _layer(drawing: Drawing, name: Name, *, make: bool) -> etree._Element | None:
    """Find a layer of ours, or make it; its coordinates are mm of the page."""
    for child in drawing.root.iterchildren(svg("g")):
        if child.get(LAYER) == name:
            return child
    if not make:
        return None
    root = drawing.root
    layer = root.makeelement(svg("g"), {"id": drawing.free_id(f"crossgrain-{name}"), LAYER: name})
    if INKSCAPE in root.nsmap.values():
        layer.set(inkscape("groupmode"), "layer")
        layer.set(inkscape("label"), _shown_name(name))
    layer.set("transform", format_matrix(drawing.page.to_mm.inverse()))
    drawn = [child for child in root.iterchildren(etree.Element) if not _is_kept_first(child)]
    if name == "before" and drawn:
        drawn[0].addprevious(layer)
        layer.tail = "\n"
    else:
        root.append(layer)
        layer.tail = "\n"
    drawing.forget()
    return layer


def _shown_name(name: Name) -> str:
    return {
        "labels": _("Crossgrain: labels"),
        "before": _("Crossgrain: before"),
        "findings": _("Crossgrain: findings"),
    }[name]


def _is_kept_first(element: etree._Element) -> bool:
    return etree.QName(element).localname in ("defs", "namedview", "metadata", "style", "title", "desc")


def _clear(layer: etree._Element, pieces: Iterable[str]) -> None:
    gone = set(pieces)
    for child in [child for child in layer.iterchildren(etree.Element) if child.get(_ABOUT) in gone]:
        layer.remove(child)


def _write(group: etree._Element, label: Label) -> None:
    x, y = label.at
    style = f"{_STYLES[label.kind]};text-anchor:{label.anchor}"
    text = etree.SubElement(group, svg("text"), {"style": style, "x": f"{x:.2f}", "y": f"{y:.2f}"})
    for number, line in enumerate(label.lines):
        span = etree.SubElement(text, svg("tspan"), {"x": f"{x:.2f}", "y": f"{y + number * _LEADING:.2f}"})
        span.text = line
