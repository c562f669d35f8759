"""The written form of marks: what a maker types, and what stands in a drawing's attributes.

=============  ======================================================================================
a notch        ``side=50%``, ``side=120mm double``, ``side=50% V``, ``side=50% triple T``, ``node 12``
a dart         ``waist=45% width 20mm depth 110mm``, ``… lean 3° drill 10mm``, ``… pressed to end``
a hold         ``centre=5mm``, ``centre=5mm from 0% to 80%``
a width        ``hem=30mm``
=============  ======================================================================================

A place on an edge is a share of it or a length from its start; several marks are parted by semicolons. What is written
here is read here: both directions stand side by side.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, Literal, TypeVar

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.marking.marks import Dart, Hold, Notch, NotchKind
from crossgrain.model.marking.wanted import END, START, WantedDart, WantedHold, WantedNotch
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

T = TypeVar("T")

_COUNTS: Final[dict[str, Literal[1, 2, 3]]] = {"single": 1, "double": 2, "triple": 3}
_KINDS: Final[dict[str, NotchKind]] = {"slit": "slit", "V": "V", "v": "V", "T": "T", "t": "T"}


def read_notch(text: str) -> WantedNotch:
    """Read a notch: an edge, a place on it, ``double`` or ``triple`` where it is, and its kind unless it is a slit.

    >>> read_notch("side=50% double V")
    WantedNotch(edge='side', at=Spot(share=0.5, along=None), count=2, kind='V')
    >>> read_notch("node 12").at.node
    12
    """
    edge, rest = place_and_rest(text, _("side=50% or side=120mm double V"))
    rest, kind = _last_word(rest, _KINDS)
    rest, count = _last_word(rest, _COUNTS)
    if kind is None:  # V double says the same as double V
        rest, kind = _last_word(rest, _KINDS)
    return WantedNotch(
        edge=edge,
        at=read_spot(rest) if edge else read_outline_spot(rest),
        count=count or 1,
        kind=kind or "slit",
    )


def _last_word(text: str, words: Mapping[str, T]) -> tuple[str, T | None]:
    """Take a key word off the end of a text: the text before it and what it stands for, None for no such word."""
    parts = text.rsplit(None, 1)
    return (parts[0], words[parts[1]]) if len(parts) == 2 and parts[1] in words else (text, None)


def write_notch(notch: Notch) -> str:
    """Write a notch; read by :func:`read_notch`.

    >>> write_notch(Notch(edge="side", share=0.5, count=2))
    'side=50% double'
    """
    words = [word for word, number in _COUNTS.items() if number == notch.count > 1]
    words += [notch.kind] if notch.kind != "slit" else []
    return " ".join([f"{notch.edge}={write_share(notch.share)}", *words])


def read_dart(text: str) -> WantedDart:
    """Read a dart: an edge, where the middle of its mouth lies, its width, its depth, how it leans, its drill hole.

    >>> read_dart("waist=45% width 20mm depth 110mm").depth
    110.0
    """
    example = _("waist=45% width 20mm depth 110mm")
    edge, rest = place_and_rest(text, example)
    at, given = keyed(rest, ("width", "depth", "lean", "drill", "pressed to"))
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
        drill=parse_length(given["drill"]) if "drill" in given else 0.0,
        pressed=_end(given["pressed to"], text) if "pressed to" in given else None,
    )


def _end(word: str, text: str) -> Literal["start", "end"]:
    """Read to which end of its edge a dart is pressed."""
    if word in ("start", "end"):
        return "start" if word == "start" else "end"
    raise ParameterError(
        _("“{text}”: {word} is not understood there.").format(text=text.strip(), word=word),
        advice=_("Write pressed to start or pressed to end: the start or the end of the edge."),
    )


def write_dart(dart: Dart) -> str:
    """Write a dart; read by :func:`read_dart`.

    >>> write_dart(Dart(edge="waist", share=0.45, width=20.0, depth=110.0))
    'waist=45% width 20mm depth 110mm'
    """
    leaning = write_angle(dart.lean_rad)
    lean = f" lean {leaning}" if leaning != write_angle(0.0) else ""
    drill = f" drill {write_length(dart.drill)}" if dart.drill else ""
    pressed = f" pressed to {dart.pressed}" if dart.pressed else ""
    sizes = f"width {write_length(dart.width)} depth {write_length(dart.depth)}"
    return f"{dart.edge}={write_share(dart.share)} {sizes}{lean}{drill}{pressed}"


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
