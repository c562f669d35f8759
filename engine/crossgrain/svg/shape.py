"""One line drawing of a document: a path or a basic shape, where it stands on the page, and its lines in mm."""

from __future__ import annotations

from dataclasses import dataclass, field

from lxml import etree

from crossgrain.errors import DocumentError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.svg.basic_shapes import View, shape_paths
from crossgrain.svg.names import inkscape, svg
from crossgrain.svg.placing import depends_on_itself, own_transform


@dataclass(eq=False, slots=True)
class Shape:
    """A path or basic shape as it is drawn.

    What it holds is read when it is asked for, so that one broken shape does not stop work on another.

    Args:
        element: the element in the document.
        id: its id; one made up, as ``path-3`` for the third path, where it has none. Through a clone: the clone's id,
            and where that clone stands for several shapes, ``clone/shape``.
        tag: ``path``, ``rect``, ``circle``, ``ellipse``, ``line``, ``polyline`` or ``polygon``.
        hidden: whether it, or a group or layer around it, is hidden.
        cloned: whether it is drawn through a ``use``: it can be measured but not altered.
        around: from the coordinates around the element to mm of the page, or why that cannot be told.
        view: width and height of the nearest viewport in user units.
    """

    element: etree._Element
    id: str
    tag: str
    hidden: bool
    cloned: bool
    around: Affine | DocumentError
    view: View
    _to_mm: Affine | None = field(default=None, repr=False)
    _paths: tuple[Path, ...] | None = field(default=None, repr=False)

    @property
    def label(self) -> str:
        """What the maker called it in the editor: its label, or its title; empty without."""
        return self.element.get(inkscape("label")) or self.element.findtext(svg("title")) or ""

    @property
    def parent_to_mm(self) -> Affine:
        """The map from the coordinates around the element to mm of the page.

        Raises:
            DocumentError: the transform of a group around it cannot be read.
        """
        if isinstance(self.around, DocumentError):
            raise located(self.around, self.id)
        return self.around

    @property
    def to_mm(self) -> Affine:
        """The map from the element's own coordinates to mm of the page.

        Raises:
            DocumentError: its transform, or that of a group around it, cannot be read.
        """
        if self._to_mm is None:
            parent = self.parent_to_mm
            try:
                self._to_mm = own_transform(self.element, self.tag, self.view).then(parent)
            except DocumentError as error:
                raise located(error, self.id) from error
        return self._to_mm

    @property
    def paths(self) -> tuple[Path, ...]:
        """Its lines in mm of the page, one per subpath; none where it draws nothing.

        Raises:
            DocumentError: it cannot be read; the message names its id, and the character for path data.
        """
        if self._paths is None:
            to_mm = self.to_mm
            try:
                self._paths = shape_paths(self.element, self.tag, self.view, to_mm)
            except DocumentError as error:
                raise located(error, self.id) from error
        return self._paths

    @property
    def turns_about_itself(self) -> bool:
        """Whether its transform is done about a point of its own outline, so that altering one moves the other."""
        return depends_on_itself(self.element)

    def forget(self) -> None:
        """Drop what was read, after the element has been altered."""
        self._to_mm = None
        self._paths = None


def located(error: DocumentError, id: str) -> DocumentError:
    """Return the same complaint with the id of the object it is about, if it names none yet."""
    return DocumentError(
        error.message,
        advice=error.advice,
        piece=error.piece or id,
        edge=error.edge,
        position=error.position,
    )
