"""Where an element puts its content: its transform about its origin. Source: CSS Transforms 1, sections 4, 5 and 10."""

from __future__ import annotations

from lxml import etree

from crossgrain.errors import DocumentError
from crossgrain.kernel.affine import Affine
from crossgrain.language import _
from crossgrain.svg.basic_shapes import GEOMETRY, View, shape_paths
from crossgrain.svg.extent import extent
from crossgrain.svg.style import declared
from crossgrain.svg.transforms import IDENTITY, about_origin, parse_origin, parse_transform


def own_transform(element: etree._Element, tag: str, view: View) -> Affine:
    """Return the map from an element's own coordinates to those around it.

    Args:
        element: a shape, a group or a clone.
        tag: its local name.
        view: the nearest viewport's size in user units, to which percentages of the origin refer.

    Raises:
        DocumentError: a transform or an origin that cannot be read.
    """
    text = declared(element, "transform")
    if text is None:
        return IDENTITY
    affine = parse_transform(text)
    origin = declared(element, "transform-origin")
    box = declared(element, "transform-box") or "view-box"
    if affine == IDENTITY or (origin is None and box == "view-box"):
        return affine
    if box == "view-box":
        return about_origin(affine, parse_origin(origin or "0 0", (0.0, 0.0, *view)))
    # In the other boxes too an origin that is not given is 0 0 of the box for an element without a CSS layout box.
    if box not in ("fill-box", "content-box") or tag not in GEOMETRY:
        raise DocumentError(
            _("Its transform-box is {box}, which is not read here on <{tag}>.").format(box=box, tag=tag),
            advice=_("Apply the transform to the paths, or remove transform-box."),
        )
    lines = shape_paths(element, tag, view)
    return about_origin(affine, parse_origin(origin or "0 0", extent(lines))) if lines else affine


def depends_on_itself(element: etree._Element) -> bool:
    """Tell whether the transform of an element is done about its own box."""
    return (
        declared(element, "transform") is not None and (declared(element, "transform-box") or "view-box") != "view-box"
    )
