"""The written form of the width of an allowance.

==================  ==========================================================
the same all along  ``hem=30mm``
from end to end     ``centre=10mm to 25mm``
at places           ``seat=10mm at 0%, 10mm at 60%, 25mm at 100%``
==================  ==========================================================

Places are shares of the edge from its start. What is written here is read here.
"""

from __future__ import annotations

import re
from typing import Final

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.cutting.width import Width
from crossgrain.notation.words import edge_and_rest, write_length, write_share
from crossgrain.units import parse_length, parse_share

# A comma behind a unit parts two stations; one inside a number is a decimal comma.
_PARTING: Final = re.compile(r"(?<=[^\d\s])\s*,\s*")


def read_width_along(text: str) -> Width:
    """Read a width: ``10mm``, ``10mm to 25mm`` or ``10mm at 0%, 25mm at 100%``.

    >>> read_width_along("10mm to 25mm").stations
    ((0.0, 10.0), (1.0, 25.0))
    """
    parts = _PARTING.split(text.strip())
    if len(parts) > 1 or re.search(r"\sat\s", text):
        return Width(stations=tuple(_read_station(part, text) for part in parts))
    ends = re.split(r"\s+to\s+", text.strip(), maxsplit=1)
    if len(ends) == 2:
        return Width(stations=((0.0, parse_length(ends[0])), (1.0, parse_length(ends[1]))))
    return Width.of(parse_length(text))


def _read_station(part: str, text: str) -> tuple[float, float]:
    width, between, place = part.partition(" at ")
    if not between:
        raise ParameterError(
            _("“{text}” does not say where along the edge each width is.").format(text=text.strip()),
            advice=_("Write it as {example}.").format(example="10mm at 0%, 25mm at 100%"),
        )
    return parse_share(place), parse_length(width)


def write_width_along(width: Width) -> str:
    """Write a width; read by :func:`read_width_along`.

    >>> write_width_along(Width(stations=((0.0, 10.0), (0.6, 10.0), (1.0, 25.0))))
    '10mm at 0%, 10mm at 60%, 25mm at 100%'
    """
    if width.is_even:
        return write_length(width.start)
    if [share for share, _mm in width.stations] == [0.0, 1.0]:
        return f"{write_length(width.start)} to {write_length(width.end)}"
    return ", ".join(f"{write_length(mm)} at {write_share(share)}" for share, mm in width.stations)


def read_edge_width(text: str) -> tuple[str, Width]:
    """Read the width of an edge.

    >>> read_edge_width("hem = 3 cm")[1].most
    30.0
    """
    edge, rest = edge_and_rest(text, _("hem=30mm"))
    return edge, read_width_along(rest)


def write_edge_width(edge: str, width: Width) -> str:
    """Write the width of an edge; read by :func:`read_edge_width`.

    >>> write_edge_width("hem", Width.of(30.0))
    'hem=30mm'
    """
    return f"{edge}={write_width_along(width)}"


def read_edge_class(text: str) -> tuple[str, str]:
    """Read as what an edge is sewn: a class of seam by its name in a set of widths.

    >>> read_edge_class("side = plain seam")
    ('side', 'plain seam')
    """
    edge, rest = edge_and_rest(text, _("side=plain seam"))
    return edge, rest


def write_edge_class(edge: str, sewn_as: str) -> str:
    """Write as what an edge is sewn; read by :func:`read_edge_class`.

    >>> write_edge_class("side", "plain seam")
    'side=plain seam'
    """
    return f"{edge}={sewn_as}"
