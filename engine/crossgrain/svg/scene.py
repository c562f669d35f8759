"""What a drawing draws: its shapes in order, through groups, nested viewports, symbols and clones.

Source: SVG 2, chapters 5 (structure), 8 (viewports); CSS Display for what is hidden.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from lxml import etree

from crossgrain.errors import DocumentError
from crossgrain.kernel.affine import Affine
from crossgrain.language import _
from crossgrain.svg.basic_shapes import GEOMETRY, View
from crossgrain.svg.lengths import user_length
from crossgrain.svg.limits import NESTING, STEPS
from crossgrain.svg.names import SVG, XLINK
from crossgrain.svg.placing import own_transform
from crossgrain.svg.scale import Page
from crossgrain.svg.shape import Shape, located
from crossgrain.svg.stylesheet import StyleSheet
from crossgrain.svg.viewport import fit, parse_aspect, parse_view_box

_PREFIX: Final = f"{{{SVG}}}"
_SHAPES: Final = {_PREFIX + tag: tag for tag in GEOMETRY}
_GROUPS: Final = {_PREFIX + tag: tag for tag in ("g", "a", "svg", "use", "switch")}


@dataclass(frozen=True, slots=True)
class Scene:
    """The shapes that are drawn, in order, and as id and sentence what could not be followed."""

    shapes: tuple[Shape, ...]
    faults: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class _Place:
    """What an element inherits from those around it."""

    to_mm: Affine | DocumentError
    view: View
    removed: bool = False
    invisible: bool = False
    clones: tuple[str, ...] = ()
    open: frozenset[etree._Element] = frozenset()
    depth: int = 0


def survey(root: etree._Element, page: Page) -> Scene:
    """Find every shape that is drawn.

    Args:
        root: the outermost ``svg``.
        page: its page and scale.

    Raises:
        DocumentError: groups or clones nested too deep, or more shapes than ``limits`` allows.
    """
    surveyor = _Surveyor(root)
    place = _styled(root, _Place(page.to_mm, (page.across, page.down)), surveyor.sheet)
    surveyor.children(root, place)
    return Scene(tuple(surveyor.shapes), tuple(surveyor.faults))


def local_name(element: etree._Element) -> str:
    """Return an element's name without its namespace; empty for a comment or a processing instruction."""
    return etree.QName(element).localname if isinstance(element.tag, str) else ""


class _Surveyor:
    """Walks the tree, following clones, and notes what is drawn."""

    def __init__(self, root: etree._Element) -> None:
        self.root = root
        self.sheet = StyleSheet(root)
        self.shapes: list[Shape] = []
        self.faults: list[tuple[str, str]] = []
        self.steps = 0
        self.counts: dict[str, int] = {}
        self.names: dict[etree._Element, str] = {}
        self.ids: dict[str, etree._Element] | None = None
        if self.sheet.moves:
            self.faults.append(
                (
                    "style",
                    _("The style sheet moves or draws objects, which is not read here. Give them a transform instead."),
                )
            )

    def children(self, element: etree._Element, place: _Place) -> None:
        for child in element:
            self.visit(child, place)

    def visit(self, element: etree._Element, place: _Place, *, cloned_alone: bool = False) -> None:
        """Note a shape, or go into a group; what is neither draws no line."""
        tag = element.tag
        if not isinstance(tag, str):
            return
        shape = _SHAPES.get(tag)
        if shape is not None:
            self.shape(element, shape, place, cloned_alone)
        elif tag in _GROUPS:
            self.group(element, _GROUPS[tag], place)

    def shape(self, element: etree._Element, tag: str, place: _Place, cloned_alone: bool) -> None:
        self.count()
        styled = _styled(element, place, self.sheet)
        own = () if cloned_alone else (element.get("id") or self.made_up_id(element, tag),)
        self.shapes.append(
            Shape(
                element=element,
                id="/".join((*place.clones, *own)),
                tag=tag,
                hidden=styled.removed or styled.invisible,
                cloned=bool(place.clones),
                around=place.to_mm,
                view=place.view,
            )
        )

    def count(self) -> None:
        self.steps += 1
        if self.steps > STEPS:
            raise DocumentError(
                _("The drawing draws more than {count} objects, counting clones.").format(count=STEPS),
                advice=_("Take out what is not part of the pattern."),
            )

    def made_up_id(self, element: etree._Element, tag: str) -> str:
        """Return the name of a shape without an id: the tag and the first number that is free."""
        if element not in self.names:
            number = self.counts.get(tag, 0) + 1
            while f"{tag}-{number}" in self.by_id():
                number += 1
            self.counts[tag] = number
            self.names[element] = f"{tag}-{number}"
        return self.names[element]

    def by_id(self) -> dict[str, etree._Element]:
        if self.ids is None:
            self.ids = {}
            for element in self.root.iter(etree.Element):
                id = element.get("id")
                if id:
                    self.ids.setdefault(id, element)
        return self.ids

    def group(self, element: etree._Element, tag: str, place: _Place) -> None:
        self.count()
        if place.depth >= NESTING:
            raise DocumentError(
                _("The drawing nests groups or clones more than {depth} deep.").format(depth=NESTING),
                advice=_("Ungroup it in the editor."),
            )
        name = element.get("id") or tag
        inner = _placed(element, tag, name, replace(_styled(element, place, self.sheet), depth=place.depth + 1))
        if tag == "use":
            self.clone(element, name, inner)
        elif tag == "svg":
            self.viewport(element, element, name, inner)
        elif tag == "switch":
            # The first child that asks for nothing special, as in a viewer without extensions.
            for child in element.iterchildren(etree.Element):
                if child.get("requiredExtensions") is None:
                    self.visit(child, inner)
                    break
        else:
            self.children(element, inner)

    def clone(self, element: etree._Element, name: str, place: _Place) -> None:
        href = (element.get("href") or element.get(f"{{{XLINK}}}href") or "").strip()
        target = self.by_id().get(href[1:]) if href.startswith("#") else None
        around = {*place.open, *element.iterancestors()}
        if target is None or target in around:
            if target is not None:
                reason = _("The clone contains itself and is left out.")
            elif href.startswith("#"):
                reason = _("The clone refers to {href}, which is not in the drawing; it is left out.")
            else:
                reason = _("The clone refers to another file, which is not read; it is left out.")
            self.faults.append((name, reason.format(href=href)))
            return
        inner = replace(place, clones=(*place.clones, name), open=frozenset((*around, target)))
        if not isinstance(inner.to_mm, DocumentError):
            try:
                x = user_length(element.get("x"), "x", place.view[0])
                y = user_length(element.get("y"), "y", place.view[1])
                inner = replace(inner, to_mm=Affine.translation(x, y).then(inner.to_mm))
            except DocumentError as error:
                inner = replace(inner, to_mm=located(error, name))
        tag = local_name(target)
        if tag in ("symbol", "svg"):
            at = replace(_styled(target, inner, self.sheet), depth=inner.depth + 1)
            self.viewport(target, element, name, _placed(target, tag, name, at))
        else:
            self.visit(target, inner, cloned_alone=True)

    def viewport(self, element: etree._Element, sized: etree._Element, name: str, place: _Place) -> None:
        """Go into a nested ``svg`` or a symbol, whose size a clone may give instead."""
        inner = place
        try:
            x = user_length(element.get("x"), "x", place.view[0])
            y = user_length(element.get("y"), "y", place.view[1])
            width, height = (
                user_length(_not_auto(sized.get(side)) or _not_auto(element.get(side)) or "100%", side, whole)
                for side, whole in zip(("width", "height"), place.view, strict=True)
            )
            if width <= 0.0 or height <= 0.0:
                return
            box = parse_view_box(element.get("viewBox"))
            aspect = parse_aspect(element.get("preserveAspectRatio"))
            into = Affine.translation(x, y)
            if box is not None:
                into = fit(box, aspect, width, height).then(into)
            to_mm = place.to_mm if isinstance(place.to_mm, DocumentError) else into.then(place.to_mm)
            inner = replace(place, to_mm=to_mm, view=(box[2], box[3]) if box is not None else (width, height))
        except DocumentError as error:
            inner = replace(place, to_mm=located(error, name))
        self.children(element, inner)


def _not_auto(text: str | None) -> str | None:
    return None if text is None or text.strip() == "auto" else text


def _styled(element: etree._Element, place: _Place, sheet: StyleSheet) -> _Place:
    """Return the place with what the element itself says about being seen."""
    display, visibility = sheet.value(element, "display"), sheet.value(element, "visibility")
    if display is None and visibility is None:
        return place
    return replace(
        place,
        removed=place.removed or display == "none",
        invisible=place.invisible if visibility in (None, "inherit") else visibility in ("hidden", "collapse"),
    )


def _placed(element: etree._Element, tag: str, name: str, place: _Place) -> _Place:
    """Return the place inside an element, after its own transform."""
    if isinstance(place.to_mm, DocumentError):
        return place
    try:
        return replace(place, to_mm=own_transform(element, tag, place.view).then(place.to_mm))
    except DocumentError as error:
        return replace(place, to_mm=located(error, name))
