"""Say where path data goes wrong. Slow, and only done when it does."""

from __future__ import annotations

import math
import re
from typing import Final

from crossgrain.errors import DocumentError
from crossgrain.language import _
from crossgrain.svg.path_tokens import COMMAND, FLAG, ONE_NUMBER, SEPARATOR, SPACE, TAKES

_BLANK: Final = re.compile(f"{SPACE}*")
_BEGUN: Final = re.compile(r"[+-]?\.?")
_GAP: Final = re.compile(SEPARATOR)
_ARC_PARTS: Final = (*(ONE_NUMBER,) * 3, FLAG, FLAG, ONE_NUMBER, ONE_NUMBER)


def path_error(d: str) -> DocumentError:
    """Return the complaint about path data that cannot be read: which character, where, and what should be there.

    >>> print(path_error("M0,0 L10,xx20").message)
    Its path data has 'x' at character 10, where a number should stand.
    """
    place, expected = _mistake(d)
    if place >= len(d):
        message = _("Its path data ends at character {place}, where {expected} should follow.")
        place -= 1
    else:
        message = _("Its path data has {character} at character {place}, where {expected} should stand.")
    return DocumentError(
        message.format(character=_shown(d[place : place + 1]), place=place + 1, expected=expected),
        advice=_("Correct the d attribute, or draw the line again."),
    )


def _shown(character: str) -> str:
    if not character:
        return ""
    return f"'{character}'" if character.isprintable() else f"U+{ord(character):04X}"


def _skip(pattern: re.Pattern[str], d: str, at: int) -> int:
    found = pattern.match(d, at)
    return found.end() if found else at


def _mistake(d: str) -> tuple[int, str]:
    """Return where the first mistake stands, from 0, and what should stand there."""
    at = _skip(_BLANK, d, 0)
    if d[at : at + 1] not in ("M", "m"):
        return at, _("the command M")
    while at < len(d):
        if not COMMAND.match(d, at):
            return at, _("a number or a command")
        kind = d[at].upper()
        at = _skip(_BLANK, d, at + 1)
        if kind == "Z":
            continue
        parts = _ARC_PARTS if kind == "A" else (ONE_NUMBER,) * TAKES[kind]
        end = _group(d, at, parts)
        if isinstance(end, tuple):
            return end
        # More groups may follow without the command; what starts with a comma must be one.
        while True:
            at = _skip(_BLANK, d, end)
            begin = _skip(_GAP, d, end)
            if "," not in d[end:begin] and not parts[0].match(d, begin):
                break
            end = _group(d, begin, parts)
            if isinstance(end, tuple):
                return end
    return len(d), _("a number")


def _group(d: str, at: int, parts: tuple[re.Pattern[str], ...]) -> int | tuple[int, str]:
    """Return where the numbers of a command end, or the mistake among them."""
    for index, part in enumerate(parts):
        begin = _skip(_GAP, d, at) if index else at
        found = part.match(d, begin)
        if not found:
            if part is FLAG:
                return begin, _("the flag 0 or 1")
            # A sign or a point may begin a number: what is wrong is what follows it.
            return _skip(_BEGUN, d, begin), _("a number")
        if not math.isfinite(float(found.group())):
            return begin, _("a number that can be drawn")
        at = found.end()
    return at
