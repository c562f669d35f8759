"""What an element is declared to be: its ``style``, and where that is silent, its attribute."""

from __future__ import annotations

from lxml import etree


def declarations(text: str) -> dict[str, str]:
    """Split a ``style`` attribute into its declarations.

    >>> declarations("fill:none; display : none !important")
    {'fill': 'none', 'display': 'none'}
    """
    found = {}
    for part in text.split(";"):
        name, colon, value = part.partition(":")
        if colon:
            found[name.strip().lower()] = value.partition("!")[0].strip()
    return found


def declared(element: etree._Element, name: str) -> str | None:
    """Return the value of a property on an element itself: its style first, then its attribute; None without."""
    style = element.get("style")
    if style is not None and name in style:
        value = declarations(style).get(name)
        if value is not None:
            return value
    return element.get(name)


def without(text: str, names: tuple[str, ...]) -> str:
    """Return a ``style`` without some of its declarations; the others stay as they are written.

    >>> without("fill:none;rx:2px;stroke:#000", ("rx",))
    'fill:none;stroke:#000'
    """
    return ";".join(part for part in text.split(";") if part.partition(":")[0].strip().lower() not in names)
