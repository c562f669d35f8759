"""Measures of one body by the names of ISO 8559-1, as they stand in its file: girths, heights, lengths, any unit."""

from __future__ import annotations

import re
from typing import Final

from crossgrain.fabric.toml_table import read_table
from crossgrain.language import _
from crossgrain.units import parse_length

_TEXTS: Final = ("name", "source")
_MEASURE: Final = re.compile(r"[a-z][a-z0-9_]*_(girth|height|length|breadth|width|depth|rise)")


def read_measures(text: str, name: str) -> dict[str, float]:
    """Read all measures in the file of a body, mm.

    Args:
        text: its text.
        name: what messages call it.

    Raises:
        DocumentError: it cannot be read, or holds no measure; the message says where.

    >>> read_measures('waist_girth = "74 cm"\\nname = "Size 12"', "body.toml")
    {'waist_girth': 740.0}
    """
    table = read_table(text, name)
    out = {}
    for key in table.keys():  # noqa: SIM118  # a table is no mapping
        if key in _TEXTS:
            continue
        if not _MEASURE.fullmatch(key):
            raise table.fault(
                _("“{key}” is no measure.").format(key=key), _("Use the names of ISO 8559-1, as hip_girth.")
            )
        out[key] = table.amount(key, parse_length)
        if not out[key]:
            raise table.fault(
                _("“{key}” is zero.").format(key=key), _("Write what you measured, or leave the line out.")
            )
    if not out:
        raise table.fault(_("No measure is given."), _("Add hip_girth or another."))
    return out


def read_name_of_body(text: str, name: str) -> str:
    """Return what the file of a body calls it; empty where it does not say.

    >>> read_name_of_body('name = "Ada"\\nwaist_girth = "74 cm"', "body.toml")
    'Ada'
    """
    return read_table(text, name).text("name", "")
