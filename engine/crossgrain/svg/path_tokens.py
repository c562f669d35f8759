"""The smallest parts of path data: numbers, flags, separators. Source: SVG 2, section 9.3.9."""

from __future__ import annotations

import re
from typing import Final

SPACE: Final = r"[ \t\n\r\f]"
NUMBER: Final = r"[+-]?(?>[0-9]++(?:\.[0-9]*+)?|\.[0-9]++)(?:[eE][+-]?[0-9]++)?"
"""A number, and with it the trailing point that SVG 1.1 allows and SVG 2 does not."""
SEPARATOR: Final = rf"(?>{SPACE}*+(?:,{SPACE}*+)?)"

TAKES: Final = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
"""How many numbers each command takes at a time."""

ONE_NUMBER: Final = re.compile(NUMBER)
FLAG: Final = re.compile("[01]")
COMMAND: Final = re.compile(r"([MmZzLlHhVvCcSsQqTtAa])")

# A list of numbers, and a list of arcs, whose two flags are single digits that may touch what follows.
NUMBERS: Final = re.compile(rf"{SPACE}*+{NUMBER}(?:{SEPARATOR}{NUMBER})*+{SPACE}*+")
_ARC: Final = (
    rf"({NUMBER}){SEPARATOR}({NUMBER}){SEPARATOR}({NUMBER}){SEPARATOR}"
    rf"([01]){SEPARATOR}([01]){SEPARATOR}({NUMBER}){SEPARATOR}({NUMBER})"
)
ONE_ARC: Final = re.compile(_ARC)
ARCS: Final = re.compile(rf"{SPACE}*+{_ARC}(?:{SEPARATOR}{_ARC})*+{SPACE}*+")

_EVEN: Final = re.compile(r"[0-9.eE+\-, ]++")


def numbers_or_none(text: str) -> list[float] | None:
    """Return the numbers in a text that holds nothing else; None where that is not so.

    >>> numbers_or_none("1,2-3.5.5 1e1"), numbers_or_none("1,,2")
    ([1.0, 2.0, -3.5, 0.5, 10.0], None)
    """
    # Nearly all text has its numbers apart, where Python's own split is quickest; what is left can hold no word that
    # float() takes and the grammar does not. A comma too many shows once the spaces are out.
    if _EVEN.fullmatch(text):
        bare = text.replace(" ", "")
        if ",," in bare or bare[:1] == "," or bare[-1:] == ",":
            return None
        try:
            return [*map(float, text.replace(",", " ").split())] or None
        except ValueError:
            pass
    if not NUMBERS.fullmatch(text):
        return None
    return [*map(float, ONE_NUMBER.findall(text))]


def arcs_or_none(text: str) -> list[float] | None:
    """Return the numbers in a text of arcs, seven to each; None where it is no such text."""
    if not ARCS.fullmatch(text):
        return None
    return [float(number) for found in ONE_ARC.findall(text) for number in found]
