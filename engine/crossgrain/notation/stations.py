"""The written form of stations along a seam and of the amounts basted there.

==================  ==========================================================================
a level or an end   ``hip=12mm``, ``waist=0mm``
a share             ``60%=10mm``, ``25% from hem=4mm``
a distance          ``120mm from waist=6mm``
a notch             ``notch 2=5mm``, ``notch 1 from hem=5mm``
a node              ``node 12=5mm``, ``node 12 of front=5mm``
==================  ==========================================================================

Where no end is named, the upper one on the body counts. What is written here is read here.
"""

from __future__ import annotations

import re
from typing import Final

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.model.seams.ease import Ease
from crossgrain.model.seams.station import Station
from crossgrain.notation.words import read_name, write_length, write_share
from crossgrain.units import parse_length, parse_share

_NUMBERED: Final = re.compile(r"(notch|node)\s+([0-9]{1,6})(?:\s+(from|of)\s+(\S.*))?")


def read_station(text: str) -> Station:
    """Read a place along a seam.

    >>> read_station("60% from hem").share, read_station("notch 2").notch, read_station("hip").name
    (0.6, 2, 'hip')
    """
    words = " ".join(text.split())
    numbered = _NUMBERED.fullmatch(words)
    if numbered:
        kind, number, between, rest = numbered.groups()
        if kind == "notch" and between != "of":
            return Station(notch=int(number), start=read_name(rest) if rest else "")
        if kind == "node" and between != "from":
            return Station(spot=OutlineSpot(node=int(number)), piece=rest or "")
        raise _unclear(text)
    place, between, start = words.partition(" from ")
    end = read_name(start) if between else ""
    if place.endswith("%"):
        return Station(share=parse_share(place), start=end)
    if re.match(r"[0-9.,]", place):
        return Station(along=parse_length(place), start=end)
    if between or not place:
        raise _unclear(text)
    return Station(name=read_name(place))


def write_station(station: Station) -> str:
    """Write a place along a seam; read by :func:`read_station`.

    >>> write_station(Station(along=120.0, start="waist"))
    '120mm from waist'
    """
    start = f" from {station.start}" if station.start else ""
    if station.name:
        return station.name
    if station.share is not None:
        return f"{write_share(station.share)}{start}"
    if station.along is not None:
        return f"{write_length(station.along)}{start}"
    if station.notch is not None:
        return f"notch {station.notch}{start}"
    assert station.spot is not None  # a station has one of them
    of = f" of {station.piece}" if station.piece else ""
    if station.spot.node is None:
        return _("the place chosen")
    return f"node {station.spot.node}{of}"


def read_basting(text: str) -> tuple[Station, float]:
    """Read an amount at a station; a negative one lets out.

    >>> station, amount = read_basting("120mm from waist = -6 mm")
    >>> station.along, amount
    (120.0, -6.0)
    """
    place, sign, amount = text.rpartition("=")
    if not sign or not place.strip():
        raise _unclear(text)
    return read_station(place), parse_length(amount, signed=True)


def write_basting(station: Station, amount: float) -> str:
    """Write an amount at a station; read by :func:`read_basting`.

    >>> write_basting(Station(name="hip"), 12.0)
    'hip=12mm'
    """
    return f"{write_station(station)}={write_length(amount)}"


def read_side_share(text: str) -> tuple[str, float]:
    """Read what share of an amount the pieces of a name take.

    >>> read_side_share("front=40%")
    ('front', 0.4)
    """
    piece, sign, share = text.rpartition("=")
    if not sign or not piece.strip():
        raise ParameterError(
            _("“{text}” does not say which piece takes what share.").format(text=text.strip()),
            advice=_("Write it as front=40%."),
        )
    return piece.strip(), parse_share(share)


def read_nodes(text: str) -> tuple[tuple[int, ...], str]:
    """Read the numbers of nodes of one piece.

    >>> read_nodes("3 5 9 of front")
    ((3, 5, 9), 'front')
    """
    numbers, _between, piece = text.partition(" of ")
    if not all(re.fullmatch(r"[0-9]{1,6}", word) for word in numbers.split()) or not numbers.split():
        raise ParameterError(
            _("“{text}” are no nodes of a piece.").format(text=text.strip()),
            advice=_("Write them as 3 5 9 of front."),
        )
    return tuple(int(word) for word in numbers.split()), piece.strip()


def read_depth(text: str) -> tuple[str, float | None]:
    """Read a level by its name, or by its depth below the waist, mm.

    >>> read_depth("knee"), read_depth("55 cm")
    (('knee', None), ('', 550.0))
    """
    return ("", parse_length(text)) if re.match(r"\s*[0-9.,]", text) else (read_name(text.strip()), None)


def read_ease(text: str) -> Ease:
    """Read which side of a seam stays longer, by how much, and between which places.

    >>> read_ease("back=4mm between knee and hip").start
    Station(name='knee', share=None, along=None, notch=None, spot=None, start='', piece='')
    """
    piece, sign, rest = text.partition("=")
    amount, between, places = rest.partition(" between ")
    start, joined, end = places.partition(" and ")
    if not sign or not piece.strip() or bool(between) != bool(joined):
        raise ParameterError(
            _("“{text}” is no ease.").format(text=text.strip()),
            advice=_("Write it as back=4mm, or as back=4mm between knee and hip."),
        )
    return Ease(
        piece=piece.strip(),
        amount=parse_length(amount),
        start=read_station(start) if between else None,
        end=read_station(end) if between else None,
    )


def _unclear(text: str) -> ParameterError:
    return ParameterError(
        _("“{text}” is no amount at a place along a seam.").format(text=text.strip()),
        advice=_("Write it as hip=12mm, 60%=10mm, 120mm from waist=6mm or notch 2=5mm."),
    )
