"""The written form of how the corners of a cut line are shaped.

=======================  ======================================================================
one corner               ``side/hem=mirrored about hem``, ``waist/side=squared to side``
both ends of an edge     ``hem=mirrored``, ``facing=blunted``
every corner             ``blunted at 12mm``, ``mitred limit 5``
=======================  ======================================================================

The styles: ``mitred``, ``mitred limit 5``, ``blunted``, ``blunted at 12mm``, ``squared to side``, ``straight along
side``, ``mirrored about hem``, ``stepped``. Of two edges the second is the guide where none is named; of one edge, it
is itself. What is written here is read here.
"""

from __future__ import annotations

import re
from typing import Final, Literal, get_args

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.cutting.sewn_corner import GUIDED, CornerWay, SewnCorner
from crossgrain.notation.words import edge_and_rest, read_name, write_length
from crossgrain.units import parse_length

_WORDS: Final = {"squared": "to", "straight": "along", "mirrored": "about", "mitred": "limit", "blunted": "at"}
"""What stands between a style and its guide or amount."""

_ENDS: Final[dict[str, Literal["start", "end"] | None]] = {"start": "start", "end": "end", "open": None}


def read_corner(text: str) -> SewnCorner:
    """Read the style of a corner.

    >>> read_corner("side/hem=mirrored")
    SewnCorner(edges=('side', 'hem'), way='mirrored', guide='hem', amount=None)
    >>> read_corner("blunted at 12 mm").amount
    12.0
    """
    names, sign, style = text.rpartition("=")
    edges = tuple(read_name(name.strip()) for name in names.split("/")) if sign else ()
    word, _between, rest = style.strip().partition(" ")
    rest = rest.strip()
    if word not in get_args(CornerWay):
        raise ParameterError(
            _("“{text}” is no style of a corner.").format(text=text.strip()),
            advice=_(
                "Write it as {example}; the styles are mitred, blunted, squared, straight, mirrored and stepped."
            ).format(example=_("side/hem=mirrored about hem")),
        )
    way: CornerWay = word  # type: ignore[assignment]  # it is one of them, as was just asked
    if rest:
        key = _WORDS.get(way, "")
        said, _between, value = rest.partition(" ")
        if said != key or not value.strip():
            raise ParameterError(
                _("“{text}”: {word} is not understood there.").format(text=text.strip(), word=said),
                advice=_("Write it as {example}.").format(example=f"{way} {key} …" if key else way),
            )
        rest = value.strip()
    if way in GUIDED:
        return SewnCorner(edges=edges, way=way, guide=read_name(rest) if rest else edges[-1] if edges else "")
    if way == "mitred" and rest:
        return SewnCorner(edges=edges, way=way, amount=_read_number(rest, text))
    return SewnCorner(edges=edges, way=way, amount=parse_length(rest) if rest else None)


def write_corner(corner: SewnCorner) -> str:
    """Write the style of a corner; read by :func:`read_corner`.

    >>> write_corner(SewnCorner(edges=("waist", "side"), way="squared", guide="side"))
    'waist/side=squared to side'
    """
    parts: list[str] = [corner.way]
    if corner.guide and corner.edges != (corner.guide,):
        parts += [_WORDS[corner.way], corner.guide]
    if corner.amount is not None:
        amount = f"{corner.amount:.6g}" if corner.way == "mitred" else write_length(corner.amount)
        parts += [_WORDS[corner.way], amount]
    style = " ".join(parts)
    return f"{'/'.join(corner.edges)}={style}" if corner.edges else style


def _read_number(text: str, whole: str) -> float:
    if not re.fullmatch(r"[0-9]{1,4}(?:[.,][0-9]{1,6})?", text):
        raise ParameterError(
            _("“{text}”: {word} is not understood there.").format(text=whole.strip(), word=text),
            advice=_("Write it as {example}.").format(example="mitred limit 5"),
        )
    return float(text.replace(",", "."))


def read_pressed(text: str) -> tuple[str, Literal["start", "end"] | None]:
    """Read to which end of their edge darts are pressed: ``waist=start``, ``waist=end``, or ``waist=open`` for neither.

    >>> read_pressed("waist=end")
    ('waist', 'end')
    """
    edge, word = edge_and_rest(text, "waist=start")
    if word not in _ENDS:
        raise ParameterError(
            _("“{text}”: {word} is not understood there.").format(text=text.strip(), word=word),
            advice=_("Write it as {example}.").format(example=_("waist=start, waist=end or waist=open")),
        )
    return edge, _ENDS[word]
