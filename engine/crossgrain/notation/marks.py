"""The written form of marks: what a maker types, and what stands in a drawing's attributes.

=============  ==========================================================================
a notch        ``side=50%``, ``side=120mm double``, ``node 12``
a dart         ``waist=45% width 20mm depth 110mm``, ``… lean 3°``, ``node 12 width 20mm depth 110mm``
a hold         ``centre=5mm``, ``centre=5mm from 0% to 80%``
a width        ``hem=30mm``
=============  ==========================================================================

A place on an edge is a share of it or a length from its start; several marks are parted by semicolons. What is written
here is read here: both directions stand side by side.
"""

from __future__ import annotations

from typing import Final, Literal

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.marks import Dart, Hold, Notch
from crossgrain.model.wanted import END, START, WantedDart, WantedHold, WantedNotch
from crossgrain.notation.words import (
    edge_and_rest,
    keyed,
    place_and_rest,
    read_outline_spot,
    read_spot,
    write_angle,
    write_length,
    write_share,
)
from crossgrain.units import parse_angle, parse_length

_COUNTS: Final[dict[str, Literal[1, 2, 3]]] = {"single": 1, "double": 2, "triple": 3}


def read_notch(text: str) -> WantedNotch:
    """Read a notch: an edge, a place on it, and ``double`` or ``triple`` where it is.

    >>> read_notch("side=50% double")
    WantedNotch(edge='side', at=Spot(share=0.5, along=None), count=2)
    >>> read_notch("node 12").at.node
    12
    """
    edge, rest = place_and_rest(text, _("side=50% or side=120mm double"))
    words = rest.rsplit(None, 1)
    count: Literal[1, 2, 3] = 1
    if len(words) == 2 and words[1] in _COUNTS:
        rest, count = words[0], _COUNTS[words[1]]
    return WantedNotch(edge=edge, at=read_spot(rest) if edge else read_outline_spot(rest), count=count)


def write_notch(notch: Notch) -> str:
    """Write a notch; read by :func:`read_notch`.

    >>> write_notch(Notch(edge="side", share=0.5, count=2))
    'side=50% double'
    """
    count = {number: f" {word}" for word, number in _COUNTS.items()}
    return f"{notch.edge}={write_share(notch.share)}{count[notch.count] if notch.count > 1 else ''}"


def read_dart(text: str) -> WantedDart:
    """Read a dart: an edge, where the middle of its mouth lies on it, its width, its depth and how it leans.

    >>> read_dart("waist=45% width 20mm depth 110mm").depth
    110.0
    """
    example = _("waist=45% width 20mm depth 110mm")
    edge, rest = place_and_rest(text, example)
    at, given = keyed(rest, ("width", "depth", "lean"))
    if "width" not in given or "depth" not in given:
        raise ParameterError(
            _("“{text}” gives a dart no width or no depth.").format(text=text.strip()),
            advice=_("Write it as {example}.").format(example=example),
        )
    return WantedDart(
        edge=edge,
        at=read_spot(at) if edge else read_outline_spot(at),
        width=parse_length(given["width"]),
        depth=parse_length(given["depth"]),
        lean_rad=parse_angle(given["lean"]) if "lean" in given else 0.0,
    )


def write_dart(dart: Dart) -> str:
    """Write a dart; read by :func:`read_dart`.

    >>> write_dart(Dart(edge="waist", share=0.45, width=20.0, depth=110.0))
    'waist=45% width 20mm depth 110mm'
    """
    leaning = write_angle(dart.lean_rad)
    lean = f" lean {leaning}" if leaning != write_angle(0.0) else ""
    return (
        f"{dart.edge}={write_share(dart.share)} width {write_length(dart.width)} depth {write_length(dart.depth)}{lean}"
    )


def read_hold(text: str) -> WantedHold:
    """Read a hold: an edge, its width inwards and, where it is not the whole edge, from where to where.

    >>> read_hold("centre=5mm to 80%").end
    Spot(share=0.8, along=None)
    """
    edge, rest = edge_and_rest(text, _("centre=5mm or centre=5mm from 0% to 80%"))
    width, given = keyed(rest, ("from", "to"))
    return WantedHold(
        edge=edge,
        width=parse_length(width),
        start=read_spot(given["from"]) if "from" in given else START,
        end=read_spot(given["to"]) if "to" in given else END,
    )


def write_hold(hold: Hold) -> str:
    """Write a hold; read by :func:`read_hold`.

    >>> write_hold(Hold(edge="centre", width=5.0, end=0.8))
    'centre=5mm from 0% to 80%'
    """
    start, end = write_share(hold.start), write_share(hold.end)
    part = "" if (start, end) == ("0%", "100%") else f" from {start} to {end}"
    return f"{hold.edge}={write_length(hold.width)}{part}"


def read_width(text: str) -> tuple[str, float]:
    """Read a width for an edge, in mm.

    >>> read_width("hem = 3 cm")
    ('hem', 30.0)
    """
    edge, rest = edge_and_rest(text, _("hem=30mm"))
    return edge, parse_length(rest)


def write_width(edge: str, mm: float) -> str:
    """Write a width for an edge; read by :func:`read_width`."""
    return f"{edge}={write_length(mm)}"
