"""Start an empty drawing at true scale."""

from __future__ import annotations

import math

from lxml import etree

from crossgrain.errors import DocumentError
from crossgrain.language import _
from crossgrain.svg.drawing import Drawing
from crossgrain.svg.names import CROSSGRAIN, INKSCAPE, SODIPODI, SVG, svg
from crossgrain.svg.scale import page_of


def new_drawing(width: float, height: float, *, name: str = "drawing.svg") -> Drawing:
    """Start an empty drawing whose user unit is the millimetre.

    Args:
        width: of the page, mm, above 0.
        height: of the page, mm, above 0.
        name: what messages call it.

    Raises:
        DocumentError: a page of no size.

    >>> new_drawing(210, 297).root.get("viewBox")
    '0 0 210 297'
    """
    if not all(math.isfinite(size) and size > 0.0 for size in (width, height)):
        raise DocumentError(_("A page has no size."), advice=_("Give a width and a height above zero."))
    namespaces: dict[str | None, str] = {
        None: SVG,
        "inkscape": INKSCAPE,
        "sodipodi": SODIPODI,
        "crossgrain": CROSSGRAIN,
    }
    # The stubs of lxml do not know the nameless prefix.
    root = etree.Element(svg("svg"), nsmap=namespaces)  # type: ignore[arg-type]
    root.set("width", f"{width:g}mm")
    root.set("height", f"{height:g}mm")
    root.set("viewBox", f"0 0 {width:g} {height:g}")
    root.set("version", "1.1")
    root.text = "\n"
    return Drawing(
        tree=etree.ElementTree(root),
        name=name,
        page=page_of(root, unit_mm=None),
        before=b'<?xml version="1.0" encoding="UTF-8"?>\n',
    )
