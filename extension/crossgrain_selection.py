# SPDX-License-Identifier: GPL-2.0-or-later
"""What is selected: from the objects a maker clicked to the outlines they belong to, or one sentence why not."""

from __future__ import annotations

import os
from xml.etree import ElementTree

from crossgrain_words import RefusalError, _

SVG = "{http://www.w3.org/2000/svg}"
INKSCAPE = "{http://www.inkscape.org/namespaces/inkscape}"
SODIPODI = "{http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd}"
CROSSGRAIN = "{urn:crossgrain:1}"
OUTLINES = ("path", "rect", "circle", "ellipse", "polygon", "polyline", "line")
OF, ABOUT = CROSSGRAIN + "of", CROSSGRAIN + "about"


class Selection:
    """The selected objects of a drawing.

    Args:
        document: the file the editor wrote.
        ids: the ids of the selected objects, in the order of selection.
    """

    def __init__(self, document, ids):
        try:
            self.root = ElementTree.parse(document).getroot()
        except (OSError, ElementTree.ParseError, ValueError) as error:
            raise RefusalError(
                _("The editor's copy of the drawing cannot be read ({reason}).").format(reason=error)
            ) from error
        self.ids = ids
        self.above = {child: parent for parent in self.root.iter() for child in parent}
        self.by_id = {element.get("id"): element for element in self.root.iter() if element.get("id")}

    @property
    def name(self):
        """What the drawing is called; the name of a file that any disk takes."""
        name = os.path.basename((self.root.get(SODIPODI + "docname") or "").replace("\\", "/"))
        stem = "".join(sign if sign.isalnum() or sign in "-_. ()" else "_" for sign in os.path.splitext(name)[0])
        return (stem.strip(". ")[:60] or _("drawing")) + ".svg"

    def pieces(self, one=False):
        """Return the ids of the outlines that are meant, each once.

        Args:
            one: whether there must be exactly one.

        Raises:
            RefusalError: nothing is selected, or something that is no outline and holds none.
        """
        if not self.ids:
            raise RefusalError(_("Nothing is selected. Select the outline of a piece, then choose this again."))
        found = list(dict.fromkeys(piece for id in self.ids for piece in self._pieces_of(id)))
        if one and len(found) > 1:
            raise RefusalError(
                _("{count} outlines are selected. Select one, then choose this again.").format(count=len(found))
            )
        return found

    def _pieces_of(self, id):
        element = self.by_id.get(id)
        if element is None:
            raise RefusalError(
                _("The selected object {id} is not in the drawing. Select the piece anew.").format(id=id)
            )
        owner = self._owner(element)
        if owner:
            element = self.by_id[owner]
        self._refuse_locked(element)
        kind = element.tag.rpartition("}")[2]
        if element.tag.startswith(SVG) and kind in OUTLINES:
            return [element.get("id")]
        inside = self._marked_inside(element) if kind in ("g", "a", "switch", "svg") else []
        for outline in inside:
            self._refuse_locked(outline)
        if inside:
            return [outline.get("id") for outline in inside]
        raise RefusalError(self._no_outline(element, kind))

    def _owner(self, element):
        """Return the id of the outline that a mark, a cut line or a label belongs to, if it is one."""
        while element is not None:
            for owner in (element.get(OF), element.get(ABOUT)):
                if owner in self.by_id:
                    return owner
            element = self.above.get(element)
        return None

    def _marked_inside(self, group):
        return [
            element
            for element in group.iter()
            if element.get("id")
            and element.tag.startswith(SVG)
            and element.tag[len(SVG) :] in OUTLINES
            and not self._owner(element)
            and any(name.startswith(CROSSGRAIN) for name in element.attrib)
        ]

    def _refuse_locked(self, element):
        inner = element
        while element is not None:
            if element.get(SODIPODI + "insensitive") == "true":
                if element.get(INKSCAPE + "groupmode") == "layer":
                    raise RefusalError(
                        _("{object} lies in the locked layer “{layer}”. Unlock the layer first.").format(
                            object=_called(inner), layer=_called(element)
                        )
                    )
                raise RefusalError(
                    _("{object} is locked. Unlock it first (Object ▸ Unlock All).").format(object=_called(inner))
                )
            element = self.above.get(element)

    @staticmethod
    def _no_outline(element, kind):
        name = _called(element)
        if element.get(INKSCAPE + "groupmode") == "layer":
            sentence = _("{object} is a layer without a marked piece in it. Select the outline of a piece.")
        elif kind == "g":
            sentence = _("{object} is a group. Enter it with a double click, and select the outline of the piece.")
        elif kind == "use":
            sentence = _("{object} is a clone. Unlink it (Edit ▸ Clone ▸ Unlink Clone), or select the original.")
        elif kind in ("text", "tspan", "flowRoot", "textPath"):
            sentence = _("{object} is text. Select the outline of a piece.")
        elif kind == "image":
            sentence = _("{object} is a picture. Trace it first, then select the traced outline.")
        else:
            sentence = _("{object} is no outline. Select the outline of a piece.")
        return sentence.format(object=name)


def _called(element):
    """Return what the editor's Objects panel calls an element."""
    return element.get(INKSCAPE + "label") or element.get("id") or _("The selected object")
