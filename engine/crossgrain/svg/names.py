"""The XML namespaces a drawing uses, and ours."""

from __future__ import annotations

from typing import Final

from lxml import etree

SVG: Final = "http://www.w3.org/2000/svg"
XLINK: Final = "http://www.w3.org/1999/xlink"
INKSCAPE: Final = "http://www.inkscape.org/namespaces/inkscape"
SODIPODI: Final = "http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd"
CROSSGRAIN: Final = "urn:crossgrain:1"

# The prefix our attributes get where a drawing declares none for them.
etree.register_namespace("crossgrain", CROSSGRAIN)


def svg(name: str) -> str:
    """Return the qualified name of an SVG element.

    >>> svg("path")
    '{http://www.w3.org/2000/svg}path'
    """
    return f"{{{SVG}}}{name}"


def inkscape(name: str) -> str:
    """Return the qualified name of one of the editor's attributes."""
    return f"{{{INKSCAPE}}}{name}"


def sodipodi(name: str) -> str:
    """Return the qualified name of one of the editor's older attributes."""
    return f"{{{SODIPODI}}}{name}"


def crossgrain(name: str) -> str:
    """Return the qualified name of one of our attributes.

    >>> crossgrain("piece")
    '{urn:crossgrain:1}piece'
    """
    return f"{{{CROSSGRAIN}}}{name}"
