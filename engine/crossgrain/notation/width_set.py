"""The written form of a set of widths, in TOML::

name = "our trousers"
otherwise = "plain seam"      # what an edge is sewn as of which nothing is said

[widths]                      # class of seam = width
"plain seam" = "10mm"
"hem" = "30mm"

[edges]                       # edge = class of seam
hem = "hem"

[corners]                     # edge, or edge/edge = style
hem = "mirrored"
"waist/side" = "squared to side"
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from crossgrain.errors import InputError
from crossgrain.fabric.toml_table import Table, read_table
from crossgrain.language import _
from crossgrain.model.cutting.width_set import WidthSet
from crossgrain.notation.corners import read_corner
from crossgrain.notation.widths import read_width_along

T = TypeVar("T")


def read_width_set(text: str, name: str) -> WidthSet:
    """Read a set of widths.

    Args:
        text: the text of the file.
        name: what messages call it.

    Raises:
        DocumentError: it cannot be read; the message says where.

    >>> read_width_set('[widths]\\nhem = "3cm"', "widths.toml").width("hem").most
    30.0
    """
    table = read_table(text, name)
    table.only(("name", "otherwise", "widths", "edges", "corners"))
    widths = _each(table, "widths", lambda _key, value: read_width_along(value))
    if not widths:
        raise table.fault(_("“{key}” is missing.").format(key="widths"), _('Write [widths] and lines as hem = "30mm".'))
    return table.made(
        lambda: WidthSet(
            name=table.text("name", ""),
            widths=widths,
            edges=_each(table, "edges", lambda _key, value: value.strip()),
            otherwise=table.text("otherwise", ""),
            corners=tuple(
                corner for _key, corner in _each(table, "corners", lambda key, value: read_corner(f"{key}={value}"))
            ),
        )
    )


def _each(table: Table, key: str, read: Callable[[str, str], T]) -> tuple[tuple[str, T], ...]:
    """Read a table of texts, line by line; nothing where there is no such table."""
    if key not in table:
        return ()
    lines = table.table(key)
    out = []
    for name in lines.keys():  # noqa: SIM118  # a table is no mapping
        text = lines.text(name)
        try:
            out.append((name, read(name, text)))
        except InputError as error:
            raise lines.fault(f"“{name}”: {error.message}", error.advice) from error
    return tuple(out)
