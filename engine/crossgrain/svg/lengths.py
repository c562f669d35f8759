"""SVG lengths, which are not a maker's: a bare number is a user unit, and a px is a 96th of an inch by decree.

Source: CSS Values and Units Level 4, section 6.2; SVG 2, section 8.9.
"""

from __future__ import annotations

import math
import re
from typing import Final

from crossgrain.errors import DocumentError
from crossgrain.language import _
from crossgrain.svg.path_tokens import NUMBER

MM_PER_PX: Final = 25.4 / 96.0

ABSOLUTE_PX: Final = {
    "": 1.0,
    "px": 1.0,
    "pt": 96.0 / 72.0,
    "pc": 16.0,
    "mm": 96.0 / 25.4,
    "cm": 96.0 / 2.54,
    "q": 96.0 / 101.6,
    "in": 96.0,
}
"""User units to a unit, by the unit in lower case."""

_LENGTH: Final = re.compile(rf"[ \t\n\r\f]*({NUMBER})([a-zA-Z%]*)[ \t\n\r\f]*")


def parse_length(text: str, what: str) -> tuple[float, str]:
    """Split an SVG length into its number and its unit.

    Args:
        text: the attribute's value.
        what: the attribute's name, for the message.

    Returns:
        The number, and the unit in lower case: one of ``ABSOLUTE_PX`` or ``%``.

    Raises:
        DocumentError: text that is no length, or a length that depends on a font or on a window.

    >>> parse_length("21cm", "width")
    (21.0, 'cm')
    """
    found = _LENGTH.fullmatch(text)
    if not found or not math.isfinite(float(found.group(1))):
        raise DocumentError(
            _("Its {what} is no length: {text}.").format(what=what, text=text.strip()[:40]),
            advice=_("Give a number, with mm, cm, in, pt, pc, px or nothing after it."),
        )
    unit = found.group(2).lower()
    if unit != "%" and unit not in ABSOLUTE_PX:
        raise DocumentError(
            _("Its {what} is given in {unit}, which is no fixed length.").format(what=what, unit=found.group(2)),
            advice=_("Give it in mm, cm, in, pt, pc or px."),
        )
    return float(found.group(1)), unit


def user_length(text: str | None, what: str, whole: float, default: float = 0.0) -> float:
    """Return an SVG length in user units.

    Args:
        text: the attribute's value, or None where it is not there.
        what: the attribute's name, for the message.
        whole: what 100 % is, in user units.
        default: the value where the attribute is not there.

    >>> user_length("50%", "width", 300.0), user_length("1in", "width", 300.0)
    (150.0, 96.0)
    """
    if text is None:
        return default
    number, unit = parse_length(text, what)
    if unit == "%" and math.isnan(whole):
        raise DocumentError(
            _("Its {what} is a share of the page, whose size is not known.").format(what=what),
            advice=_("Give the drawing a width and a height."),
        )
    return number / 100.0 * whole if unit == "%" else number * ABSOLUTE_PX[unit]
