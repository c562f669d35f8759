"""A drawing that has been read: its tree, and the shapes in it."""

from __future__ import annotations

import pathlib
from dataclasses import dataclass, field

from lxml import etree

from crossgrain.errors import DocumentError
from crossgrain.language import _
from crossgrain.svg.names import inkscape
from crossgrain.svg.scale import Page
from crossgrain.svg.scene import Scene, local_name, survey
from crossgrain.svg.shape import Shape


@dataclass(eq=False, slots=True)
class Drawing:
    """A drawing. Its tree is altered in place by the functions of ``writer``, never the file it came from.

    Args:
        tree: the document.
        name: what messages call it: the file's name.
        page: its page and scale.
        source: the file it was read from, or none for a new one.
        before: what stood in the file before the root, which the tree holds only in part.
        after: the white space after it.
    """

    tree: etree._ElementTree
    name: str
    page: Page
    source: pathlib.Path | None = None
    before: bytes = b""
    after: bytes = b"\n"
    _scene: Scene | None = field(default=None, repr=False)

    @property
    def root(self) -> etree._Element:
        """The outermost ``svg``."""
        return self.tree.getroot()

    @property
    def scene(self) -> Scene:
        """What is drawn, surveyed when first asked for."""
        if self._scene is None:
            self._scene = survey(self.root, self.page)
        return self._scene

    @property
    def shapes(self) -> tuple[Shape, ...]:
        """Every shape that is drawn, hidden ones and clones too, in document order."""
        return self.scene.shapes

    @property
    def unreadable(self) -> tuple[tuple[str, str], ...]:
        """What could not be read, as id and sentence, in document order. Reads every shape."""
        faults = list(self.scene.faults)
        for shape in self.shapes:
            try:
                shape.paths  # noqa: B018
            except DocumentError as error:
                faults.append((shape.id, str(error)))
        return tuple(faults)

    def forget(self) -> None:
        """Drop the survey, after elements have been added or removed."""
        self._scene = None

    def element(self, id: str) -> etree._Element | None:
        """Find an element of any kind by its id; None where there is none."""
        for element in self.root.iter(etree.Element):
            if element.get("id") == id:
                return element
        return None

    def free_id(self, wanted: str) -> str:
        """Return ``wanted``, or where the drawing has that id already, the first of ``wanted-2`` … that is free."""
        taken = {element.get("id") for element in self.root.iter(etree.Element)}
        free, count = wanted, 2
        while free in taken:
            free, count = f"{wanted}-{count}", count + 1
        return free

    def shape(self, id: str) -> Shape:
        """Find a shape by its id.

        Raises:
            DocumentError: no shape of that id; the message says what it is instead, or which ids are near.
        """
        found = [shape for shape in self.shapes if shape.id == id]
        if len(found) == 1:
            return found[0]
        if found:
            raise DocumentError(
                _("{count} objects of {drawing} have the same id {id}.").format(
                    count=len(found), drawing=self.name, id=id
                ),
                advice=_("Give each an id of its own in the editor's object properties."),
            )
        element = self.element(id)
        raise self._absent(id) if element is None else self._no_shape(id, element)

    def _absent(self, id: str) -> DocumentError:
        from difflib import get_close_matches

        ids = list(dict.fromkeys(shape.id for shape in self.shapes))
        near = get_close_matches(id, ids, n=3, cutoff=0.5) or ids[:5]
        advice = _("It has: {ids}.").format(ids=", ".join(near)) if near else _("It has no paths or shapes at all.")
        labelled = [shape.id for shape in self.shapes if shape.label == id]
        if labelled:
            advice = _("That is the label of {ids}; name it by its id.").format(ids=", ".join(labelled))
        return DocumentError(_("There is no object {id} in {drawing}.").format(id=id, drawing=self.name), advice=advice)

    def _no_shape(self, id: str, element: etree._Element) -> DocumentError:
        tag = local_name(element)
        if tag == "use":
            inside = [shape.id for shape in self.shapes if shape.id.startswith(f"{id}/")]
            if inside:
                return DocumentError(
                    _("{id} is a clone of a group.").format(id=id),
                    advice=_("Name one of the shapes in it: {ids}.").format(ids=", ".join(inside[:8])),
                )
            return DocumentError(
                _("{id} is a clone that draws nothing.").format(id=id),
                advice=_("Name the path that is the outline."),
            )
        if tag in ("g", "svg", "a", "switch"):
            within = set(element.iter(etree.Element))
            inside = [shape.id for shape in self.shapes if not shape.cloned and shape.element in within]
            what = _("a layer") if element.get(inkscape("groupmode")) == "layer" else _("a group")
            return DocumentError(
                _("{id} is {what}, not an outline.").format(id=id, what=what),
                advice=_("Name one of the paths in it: {ids}.").format(ids=", ".join(inside[:8]))
                if inside
                else _("It has no paths in it."),
            )
        if tag in ("text", "flowRoot", "tspan", "textPath"):
            return DocumentError(
                _("{id} is text, not an outline.").format(id=id),
                advice=_("Turn it into a path in the editor first, if it is a line to be sewn."),
            )
        if tag == "image":
            return DocumentError(
                _("{id} is a picture made of dots; it has no line to measure.").format(id=id),
                advice=_("Draw the outline over it as a path, and name that."),
            )
        through = [shape.id for shape in self.shapes if shape.cloned and shape.element is element]
        if through:
            return DocumentError(
                _("{id} is drawn only through clones.").format(id=id),
                advice=_("Name the clone: {ids}.").format(ids=", ".join(through[:8])),
            )
        return DocumentError(
            _("{id} is a <{tag}>, which draws no outline on the page.").format(id=id, tag=tag),
            advice=_("Name the path that is the outline."),
        )
