"""What the options of the commands on cloth take: amounts with their units. No geometry is loaded for them."""

from __future__ import annotations

from typing import Final

from crossgrain.cli.written import Written
from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.units import parse_length, parse_load, parse_pressure


def read_girth(text: str) -> tuple[str, float]:
    """Read a girth at a level.

    >>> read_girth("hip=96cm")
    ('hip', 960.0)
    """
    level, sign, length = text.partition("=")
    if not sign or not level.strip():
        raise ParameterError(_("“{text}” is no girth at a level.").format(text=text), advice=_("Write it as hip=96cm."))
    return level.strip(), parse_length(length.strip())


LENGTH: Final = Written("LENGTH", parse_length)
PRESSURE: Final = Written("PRESSURE", parse_pressure)
LOAD: Final = Written("LOAD", parse_load)
GIRTH: Final = Written("LEVEL=LENGTH", read_girth)
