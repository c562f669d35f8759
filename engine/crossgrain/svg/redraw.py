"""Draw again what is seen of a piece beside its outline: its marks, and the other of its two lines.

The marks are told apart by dash and width, so that they hold in black and white; colour only helps. They stand in a
group right after the outline, with the outline's id in ``crossgrain:of``; so does the counterpart line. Neither is ever
read as a piece, and neither holds a fact.
"""

from __future__ import annotations

from typing import Final

from lxml import etree

from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.model.marking.mark_lines import mark_lines
from crossgrain.model.piece import OutlineKind, Piece
from crossgrain.svg.drawing import Drawing
from crossgrain.svg.looks import line_style
from crossgrain.svg.markup import is_marked
from crossgrain.svg.names import INKSCAPE, crossgrain, inkscape
from crossgrain.svg.shape import Shape
from crossgrain.svg.transforms import largest_scale
from crossgrain.svg.writer import add_group, add_path

_OF: Final = crossgrain("of")
_LINE: Final = crossgrain("line")
LAYER: Final = crossgrain("layer")
"""On a layer of ours, its name: nothing on it is ever read as a piece."""


def follows(element: etree._Element) -> bool:
    """Tell whether an element, or a group or layer around it, only shows what belongs to an outline."""
    return any(one.get(_OF) is not None or one.get(LAYER) is not None for one in (element, *element.iterancestors()))


def counterpart(drawing: Drawing, shape: Shape, kind: OutlineKind) -> Path | None:
    """Find the cut line that is drawn for a stitch line, or the reverse.

    Args:
        drawing: the drawing.
        shape: the outline.
        kind: which line the outline is.

    Returns:
        The line in mm, or None where none is drawn, or none that still closes.
    """
    wanted = _other(kind)
    drawn = {id(one) for one in _followers(drawing, shape) if one.get(_LINE) == wanted}
    for other in drawing.shapes:
        if id(other.element) in drawn and not other.cloned and len(other.paths) == 1 and other.paths[0].closed:
            return other.paths[0]
    return None


def redraw(drawing: Drawing, shape: Shape, piece: Piece, *, with_marks: bool) -> None:
    """Replace the marks and the counterpart line of a piece beside its outline.

    Args:
        drawing: the drawing; altered in place.
        shape: the outline, as it now stands in the drawing.
        piece: the piece.
        with_marks: whether to draw its marks.
    """
    label = shape.element.get("id") or piece.id
    for old in _followers(drawing, shape):
        _remove(old)
    drawing.forget()
    if with_marks:
        group = add_group(drawing, shape, id=drawing.free_id(f"{label}-marks"), attributes={_OF: label})
        if INKSCAPE in drawing.root.nsmap.values():
            group.set(inkscape("label"), _("Marks of {piece}").format(piece=piece.label))
        for mark in mark_lines(piece):
            add_path(
                drawing,
                shape,
                [mark.line],
                id=drawing.free_id(f"{label}-{mark.kind}"),
                style=_style(shape, mark.kind),
                into=group,
            )
    if piece.counterpart is not None:
        kind = _other(piece.outline)
        add_path(
            drawing,
            shape,
            [piece.counterpart],
            id=drawing.free_id(f"{label}-{kind}-line"),
            style=_style(shape, kind),
            attributes={_OF: label, _LINE: kind},
        )


def _other(kind: OutlineKind) -> OutlineKind:
    return "cut" if kind == "stitch" else "stitch"


def _followers(drawing: Drawing, shape: Shape) -> tuple[etree._Element, ...]:
    """Find what is drawn beside an outline: the marks, the cut line, the stitch line, one of each at most.

    A copy of all of them made in the editor still says the old id, but stands right after the copied outline: so what
    follows an outline directly is its own, and what follows another marked outline is not.
    """
    label = shape.element.get("id")
    found: dict[str, etree._Element] = {}
    for element in shape.element.itersiblings():
        if element.get(_OF) is None:
            break
        found.setdefault(element.get(_LINE, "marks"), element)
    if label is not None:
        for element in drawing.root.iter(etree.Element):
            if element.get(_OF) == label and not _behind_another(element, shape.element):
                found.setdefault(element.get(_LINE, "marks"), element)
    return tuple(found.values())


def _behind_another(element: etree._Element, outline: etree._Element) -> bool:
    for before in element.itersiblings(preceding=True):
        if before.get(_OF) is None:
            return before is not outline and is_marked(before)
    return False


def _remove(element: etree._Element) -> None:
    parent = element.getparent()
    if parent is None:
        return
    if element.tail and element.tail.strip():
        before = element.getprevious()
        if before is not None:
            before.tail = (before.tail or "") + element.tail
        else:
            parent.text = (parent.text or "") + element.tail
    parent.remove(element)


def _style(shape: Shape, look: str) -> str:
    return line_style(look, largest_scale(shape.parent_to_mm))
