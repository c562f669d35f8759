"""How much room words take, before any programme draws them.

Which sans-serif face a maker's machine has is not known. The widths here are those of a wide one, rounded up (measured
on DejaVu Sans; most others run a tenth narrower), so that words stay within the room that was found for them.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import Final

LEADING: Final = 1.35
"""From line to line, in sizes: capitals with accents and descenders do not touch."""

BASELINE: Final = 1.02
"""From the top of a line to where its letters stand, in sizes."""

# Widths in sizes; what stands in none of these is taken to be small letters, or capitals.
_NARROW: Final = frozenset(" !'(),./:;I[\\]ijl|·’")
_SLIM: Final = frozenset('frt-*`"“”')
_WIDE: Final = frozenset("MWmw%@&^œ—…→½¼¾+=<>~#×")
_WIDTHS: Final = (0.41, 0.53, 1.03)
_SMALL, _CAPITAL = 0.65, 0.8
_LATIN: Final = 0x250


def text_width(text: str, size: float) -> float:
    """Return how wide a line of sans-serif text is at most, mm.

    Args:
        text: the line.
        size: of the letters, mm: what SVG calls ``font-size``.

    Returns:
        An upper bound for the usual sans-serif faces; for writing other than Latin, a little more than a square each.

    >>> round(text_width("hem 30 mm", 10.0), 6)
    65.1
    """
    return size * _in_sizes(text)


def block_size(lines: Iterable[tuple[str, float]]) -> tuple[float, float]:
    """Return the width and height of lines of text under one another, mm, each with its size."""
    some = tuple(lines)
    return max(text_width(text, size) for text, size in some), LEADING * sum(size for _text, size in some)


@cache
def _in_sizes(text: str) -> float:
    return sum(map(_width, text))


@cache
def _width(sign: str) -> float:
    for signs, width in zip((_NARROW, _SLIM, _WIDE), _WIDTHS, strict=True):
        if sign in signs:
            return width
    if ord(sign) >= _LATIN:
        return _WIDTHS[-1]
    return _CAPITAL if sign.isupper() else _SMALL
