"""What the written forms of marks are made of: names, lists, amounts, places, key words."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Sequence
from typing import Final, TypeVar

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.marking.wanted import Spot
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.units import parse_length, parse_share

T = TypeVar("T")

_NAME: Final = re.compile(r"[^\W\d_][\w-]*")


def read_name(text: str) -> str:
    """Read the name of an edge: a letter, then letters, digits, ``-`` and ``_``.

    >>> read_name("side-back")
    'side-back'
    """
    if not _NAME.fullmatch(text):
        raise ParameterError(
            _("“{text}” cannot be the name of an edge.").format(text=text),
            advice=_("Begin it with a letter, and use letters, digits, - and _ without a space."),
        )
    return text


def read_names(text: str) -> tuple[str, ...]:
    """Read names of edges parted by blanks.

    >>> read_names("waist side hem")
    ('waist', 'side', 'hem')
    """
    names = tuple(read_name(word) for word in text.split())
    for name in names:
        if names.count(name) > 1:
            raise ParameterError(
                _("Two edges are both named {name}.").format(name=name), advice=_("Give each edge a name of its own.")
            )
    return names


def read_list(text: str, read: Callable[[str], T]) -> tuple[T, ...]:
    """Read several marks parted by semicolons.

    >>> read_list("25%; 50%", parse_share)
    (0.25, 0.5)
    """
    return tuple(read(part) for part in text.split(";") if part.strip())


def write_list(texts: Iterable[str]) -> str:
    """Part several marks by semicolons; read by :func:`read_list`."""
    return "; ".join(texts)


def write_length(mm: float) -> str:
    """Write a length to a ten thousandth of a millimetre, without idle zeros.

    >>> write_length(12.5)
    '12.5mm'
    """
    return f"{_plain(mm, 4)}mm"


def write_share(share: float) -> str:
    """Write a share to a millionth of a percent, without idle zeros.

    >>> write_share(1 / 3)
    '33.333333%'
    """
    return f"{_plain(share * 100.0, 6)}%"


def write_angle(angle_rad: float, *, digits: int = 6) -> str:
    """Write an angle in degrees with so many digits after the point, without idle zeros.

    >>> write_angle(0.05)
    '2.864789°'
    """
    return f"{_plain(math.degrees(angle_rad), digits)}°"


def _plain(amount: float, digits: int) -> str:
    text = f"{amount:.{digits}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def read_spot(text: str) -> Spot:
    """Read a place on a line: ``37.5%`` of it, or ``120mm`` from its start.

    >>> read_spot("120 mm")
    Spot(share=None, along=120.0)
    """
    return Spot(share=parse_share(text)) if text.rstrip().endswith("%") else Spot(along=parse_length(text))


def place_and_rest(text: str, example: str) -> tuple[str, str]:
    """Split a mark into the name of its edge and the rest; a node tells its edge itself."""
    return ("", text.strip()) if re.match(r"\s*node\s", text) else edge_and_rest(text, example)


def edge_and_rest(text: str, example: str) -> tuple[str, str]:
    """Split ``side=50%`` into the name of its edge and the rest; an error shows the example."""
    edge, sign, rest = text.partition("=")
    if not sign or not rest.strip():
        raise ParameterError(
            _("“{text}” does not name an edge and an amount.").format(text=text.strip()),
            advice=_("Write it as {example}.").format(example=example),
        )
    return read_name(edge.strip()), rest.strip()


def keyed(text: str, keys: Sequence[str]) -> tuple[str, dict[str, str]]:
    """Split ``20mm from 0% to 80%`` at its key words: what stands before them, and what follows each."""
    parts = re.split(rf"(?:^|\s)({'|'.join(keys)})(?:\s|$)", text)
    given: dict[str, str] = {}
    for key, value in zip(parts[1::2], parts[2::2], strict=True):
        if key in given:
            raise ParameterError(
                _("“{text}” says {word} twice.").format(text=text, word=key), advice=_("Keep one of them.")
            )
        given[key] = value.strip()
    return parts[0].strip(), given


def read_outline_spot(text: str) -> OutlineSpot:
    """Read a place on a bare outline: a node, a share from its start, or a point in the drawing.

    >>> read_outline_spot("node 12").node, read_outline_spot("120mm, 45mm").point
    (12, (120.0, 45.0))
    """
    words = text.split()
    if len(words) == 2 and words[0] == "node" and re.fullmatch(r"[0-9]{1,6}", words[1]):
        return OutlineSpot(node=int(words[1]))
    if text.rstrip().endswith("%"):
        return OutlineSpot(share=parse_share(text))
    # A comma after a unit parts the two; one inside a number is a decimal comma.
    parts = re.split(r"(?<=[^\W\d])\s*,\s*|(?<=[^\W\d])\s+(?=[-+0-9.])", text.strip())
    if len(parts) != 2:
        raise ParameterError(
            _("“{text}” is no place on an outline.").format(text=text.strip()),
            advice=_("Write it as 120mm, 45mm, as 37.5% or as node 12."),
        )
    return OutlineSpot(point=(parse_length(parts[0], signed=True), parse_length(parts[1], signed=True)))
