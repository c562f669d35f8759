"""Alter the shapes of a drawing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from lxml import etree

from crossgrain.errors import DocumentError, GeometryError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.svg.basic_shapes import GEOMETRY
from crossgrain.svg.drawing import Drawing
from crossgrain.svg.grammar import format_path
from crossgrain.svg.names import inkscape, sodipodi, svg
from crossgrain.svg.shape import Shape
from crossgrain.svg.style import without
from crossgrain.svg.transforms import format_matrix, largest_scale

# What the editor would draw the line anew from, over the outline we wrote.
_EFFECT: Final = inkscape("path-effect")
_INKSCAPE: Final = (
    "path-effect original-d original radius flatsided rounded randomized "
    "connector-type connector-curvature connector-avoid connector-spacing "
    "connection-start connection-end connection-start-point connection-end-point"
)
_SODIPODI: Final = (
    "type cx cy rx ry start end open arc-type sides r1 r2 arg1 arg2 expansion revolution radius argument t0"
)
_STALE: Final = frozenset((*map(inkscape, _INKSCAPE.split()), *map(sodipodi, _SODIPODI.split())))
_NODE_TYPES: Final = sodipodi("nodetypes")


def set_outline(shape: Shape, paths: Sequence[Path]) -> bool:
    """Give a shape new lines.

    A basic shape becomes a path in the same place of the document. Every other attribute, its children and the text
    around it stay. What would make the editor draw the old line again is taken off.

    Args:
        shape: a shape that is not a clone.
        paths: its new lines, mm of the page.

    Returns:
        Whether a live path effect was taken off.

    Raises:
        DocumentError: a clone, or a shape that cannot be read.
        GeometryError: its transform flattens it, so that there is no way back from the page.
    """
    if shape.cloned:
        raise DocumentError(
            _("{id} is a clone, which cannot be altered.").format(id=shape.id),
            advice=_("Unlink the clone in the editor, or alter the object it copies."),
            piece=shape.id,
        )
    element, to_mm = shape.element, shape.to_mm
    own = inverse_map(to_mm, shape.id)
    before = nodes_or_none(shape)
    if shape.turns_about_itself:
        _fix_transform(shape, to_mm)
    for name in GEOMETRY[shape.tag]:
        if name != "d":
            _drop(element, name)
    element.tag = svg("path")
    element.set("d", format_path([path.mapped(own) for path in paths], unit_mm=largest_scale(to_mm)))
    if element.get("id") is None and shape.id:
        element.set("id", shape.id)
    effect = element.get(_EFFECT) is not None
    for name in [name for name in element.attrib if name in _STALE]:
        del element.attrib[name]
    if before != sum(len(path.nodes) for path in paths):
        _drop(element, _NODE_TYPES)
    shape.tag = "path"
    shape.forget()
    return effect


def _drop(element: etree._Element, name: str) -> None:
    if name in element.attrib:
        del element.attrib[name]


def nodes_or_none(shape: Shape) -> int | None:
    """Return how many nodes a shape has; None where it cannot be read."""
    try:
        return sum(len(path.nodes) for path in shape.paths)
    except DocumentError:
        return None


def inverse_map(to_mm: Affine, id: str) -> Affine:
    """Return the way back from the page; a flattened object is named in the complaint."""
    try:
        return to_mm.inverse()
    except GeometryError as error:
        raise GeometryError(error.message, advice=error.advice, piece=id) from error


def _fix_transform(shape: Shape, to_mm: Affine) -> None:
    """Write a transform done about the shape's own box as a plain one, since the box is about to change."""
    element = shape.element
    matrix = to_mm.then(inverse_map(shape.parent_to_mm, shape.id))
    for name in ("transform-origin", "transform-box"):
        _drop(element, name)
    style = element.get("style")
    if style is not None:
        rest = without(style, ("transform", "transform-origin", "transform-box"))
        if rest:
            element.set("style", rest)
        else:
            del element.attrib["style"]
    element.set("transform", format_matrix(matrix))


def add_path(
    drawing: Drawing,
    beside: Shape,
    paths: Sequence[Path],
    *,
    id: str,
    style: str = "",
    attributes: Mapping[str, str] | None = None,
    into: etree._Element | None = None,
) -> etree._Element:
    """Put a new path right after a shape, in the coordinates around it.

    Args:
        drawing: the drawing.
        beside: the shape.
        paths: the new lines, mm of the page.
        id: its id, which must be free.
        style: its ``style``.
        attributes: more attributes, by qualified name.
        into: put it at the end of this group instead, which ``add_group`` has put beside the same shape.

    Returns:
        The new element.

    Raises:
        DocumentError: the id is taken, or the shape is a clone.
        GeometryError: a transform around the shape flattens it.
    """
    back = inverse_map(beside.parent_to_mm, beside.id)
    element = _new(drawing, beside, "path", id, attributes)
    if style:
        element.set("style", style)
    d = format_path([path.mapped(back) for path in paths], unit_mm=largest_scale(beside.parent_to_mm))
    element.set("d", d)
    _insert(drawing, beside, element, into)
    return element


def add_group(
    drawing: Drawing, beside: Shape, *, id: str, attributes: Mapping[str, str] | None = None
) -> etree._Element:
    """Put a new, empty group right after a shape, in the coordinates around it.

    Args:
        drawing: the drawing.
        beside: the shape.
        id: its id, which must be free.
        attributes: more attributes, by qualified name.

    Raises:
        DocumentError: the id is taken, or the shape is a clone.
    """
    element = _new(drawing, beside, "g", id, attributes)
    _insert(drawing, beside, element, None)
    return element


def _new(drawing: Drawing, beside: Shape, tag: str, id: str, attributes: Mapping[str, str] | None) -> etree._Element:
    if beside.cloned:
        raise DocumentError(
            _("Nothing can be put beside {id}, which is a clone.").format(id=beside.id),
            advice=_("Unlink the clone in the editor."),
            piece=beside.id,
        )
    if drawing.element(id) is not None:
        raise DocumentError(
            _("{drawing} already has an object {id}.").format(drawing=drawing.name, id=id),
            advice=_("Remove it, or choose another id."),
        )
    element = drawing.root.makeelement(svg(tag), {"id": id})
    for name, value in (attributes or {}).items():
        element.set(name, value)
    return element


def _insert(drawing: Drawing, beside: Shape, element: etree._Element, into: etree._Element | None) -> None:
    """Put an element in its place, with the white space its neighbour has."""
    if into is not None:
        into.append(element)
    else:
        parent = beside.element.getparent()
        assert parent is not None, "a shape is never the root"
        # The text after the shape stays right after it; the new element repeats it if it is only white space.
        tail = beside.element.tail
        parent.insert(parent.index(beside.element) + 1, element)
        element.tail = tail if tail is not None and not tail.strip() else None
    drawing.forget()
