"""Read and print amounts at the door: inside the engine there are only mm, radians and ratios.

The grammar is our own and strict, because general converters misread what makers write (``1 1/2 in`` as half an
inch, ``12,5 cm`` as 125 cm). An amount is a number and a unit:

* a decimal, with a point or a comma: ``12.5``, ``12,5``, ``.5``;
* a fraction, alone or after a whole number: ``3/8``, ``1 1/2``, ``1-1/2``, ``⅜``, ``1½``.

A comma before exactly three digits is refused (``1,250`` may be one and a quarter or twelve hundred and fifty), and so
are exponents, separators of thousands, NaN, infinity and a number without its unit.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from typing import Final, Literal

from crossgrain.errors import UnitError
from crossgrain.language import _, in_figures

LengthUnit = Literal["mm", "cm", "in"]

# Each factor is an exact fraction, so that the result is right to the last place of a float.
_MM_PER: Final[Mapping[str, tuple[int, int]]] = {
    "mm": (1, 1),
    "cm": (10, 1),
    "m": (1000, 1),
    "in": (254, 10),  # exact since the international yard and pound agreement of 1959
    "inch": (254, 10),
    "inches": (254, 10),
    '"': (254, 10),
    "″": (254, 10),
    "”": (254, 10),  # what a word processor makes of the mark above
    "ft": (3048, 10),
    "yd": (9144, 10),
    "pt": (254, 720),  # the point of CSS and PostScript, a 72nd of an inch
}
_PERCENT: Final[Mapping[str, tuple[int, int]]] = {"%": (1, 100)}
_DEGREES: Final[Mapping[str, tuple[int, int]]] = {"deg": (1, 1), "°": (1, 1)}

# Masses, forces, pressures and tensions: exact by definition, but for mmHg, which is conventional (13.5951 g/cm³).
_KG_PER: Final[Mapping[str, tuple[int, int]]] = {
    "g": (1, 10**3), "kg": (1, 1), "oz": (28349523125, 10**12), "lb": (45359237, 10**8),
}  # fmt: skip
_N_PER: Final[Mapping[str, tuple[int, int]]] = {
    "N": (1, 1), "cN": (1, 10**2), "gf": (980665, 10**8), "kgf": (980665, 10**5), "lbf": (44482216152605, 10**13),
}  # fmt: skip
_KPA_PER: Final[Mapping[str, tuple[int, int]]] = {
    "Pa": (1, 10**3), "hPa": (1, 10), "kPa": (1, 1), "mmHg": (133322387415, 10**12),
}  # fmt: skip
_N_PER_CM_PER: Final[Mapping[str, tuple[int, int]]] = {
    "N/cm": (1, 1), "N/m": (1, 10**2), "N/mm": (10, 1), "cN/cm": (1, 10**2), "gf/cm": (980665, 10**8),
    "kgf/cm": (980665, 10**5), "lbf/in": (44482216152605, 254 * 10**11),
}  # fmt: skip
# What hangs on a strip of cloth: a mass pulls with its weight, and a litre of water is a kilogram.
_LOAD_N_PER: Final[Mapping[str, tuple[int, int]]] = {
    **_N_PER,
    **{unit: (by * 980665, per * 10**5) for unit, (by, per) in _KG_PER.items()},
    "l": (980665, 10**5),
    "ml": (980665, 10**8),
}

_LONGEST_TEXT: Final = 64
_LONGEST_MM: Final = 1e6
"""A kilometre. More is a slip of the key, and would drown a piece of trousers in rounding."""

_FRACTIONS: Final = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_SPELLING: Final = str.maketrans(
    {sign: f" {plain}" for sign, plain in _FRACTIONS.items()}
    | {"⁄": "/", "−": "-", "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\t": " "}
)
_AMOUNT: Final = re.compile(
    r"(?P<sign>[+-]?) ?"
    r"(?:(?P<decimal>[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)"
    r"|(?:(?P<whole>[0-9]+)[ -])?(?P<top>[0-9]+) ?/ ?(?P<bottom>[0-9]+))"
    r" ?(?P<unit>[^0-9.,+ -][^0-9.,+-]*)?"
)
_THOUSANDS: Final = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


def parse_length(text: str, *, signed: bool = False) -> float:
    """Read a length: ``12.5 mm``, ``12,5 mm``, ``1.2cm``, ``3/8 in``, ``1½"``.

    Args:
        text: a number and one of mm, cm, m, in (inch, inches, ``"``), ft, yd, pt.
        signed: whether a length below zero means something here.

    Returns:
        mm, right to the last place of a float; finite, and at most a kilometre.

    Raises:
        UnitError: anything else; the message repeats the text and shows how to write it.

    >>> parse_length("1 1/2 in")
    38.1
    """
    example = _("12.5 mm, 1.2 cm or 1 1/2 in")
    mm = _parse(text, _MM_PER, example, signed=signed)
    if abs(mm) > _LONGEST_MM:
        raise UnitError(
            _("{text} is more than a kilometre.").format(text=_quoted(text)),
            advice=_("Look at the number and its unit again."),
        )
    return mm


def parse_share(text: str, *, signed: bool = False) -> float:
    """Read a share in percent as a ratio.

    Args:
        text: a number and ``%``.
        signed: whether a share below zero means something here.

    Returns:
        A ratio: 0.08 for ``8 %``.

    Raises:
        UnitError: anything else. A bare ``0.08`` too: it could be a ratio or a small percentage.

    >>> parse_share("12½ %")
    0.125
    """
    return _parse(text, _PERCENT, _("8 % or 12,5 %"), signed=signed)


def parse_angle(text: str, *, signed: bool = True) -> float:
    """Read an angle in degrees.

    Args:
        text: a number and ``deg`` or ``°``.
        signed: whether an angle below zero means something here; it mostly does.

    Returns:
        Radians.

    Raises:
        UnitError: anything else.

    >>> round(parse_angle("180°"), 6)
    3.141593
    """
    return math.radians(_parse(text, _DEGREES, _("3 deg or 3°"), signed=signed))


def parse_mass(text: str) -> float:
    """Read a mass, as hung on a strip of cloth, in kg.

    Args:
        text: a number and one of g, kg, oz, lb.

    Returns:
        kg.

    Raises:
        UnitError: anything else.

    >>> parse_mass("1350 g")
    1.35
    """
    return _parse(text, _KG_PER, _("500 g or 3 lb"), signed=False)


def parse_force(text: str) -> float:
    """Read a force in N.

    Args:
        text: a number and one of N, cN, gf, kgf, lbf.

    Returns:
        N.

    Raises:
        UnitError: anything else, a mass too: hanging 1 kg pulls with 1 kgf.

    >>> parse_force("2 kgf")
    19.6133
    """
    return _parse(text, _N_PER, _("6 N or 600 gf"), signed=False)


def parse_load(text: str) -> float:
    """Read what hangs on a strip of cloth: a mass, a force, or water in a bottle.

    Args:
        text: a number and one of g, kg, oz, lb (a mass), N, cN, gf, kgf, lbf (a force), l, ml (water; the bottle itself
            is taken to weigh nothing).

    Returns:
        The pull in N, under standard gravity.

    Raises:
        UnitError: anything else.

    >>> parse_load("0.5 l"), parse_load("500 g"), parse_load("5 N")
    (4.903325, 4.903325, 5.0)
    """
    return _parse(text, _LOAD_N_PER, _("500 g, 5 N or, for a bottle of water, 0.5 l"), signed=False)


def parse_pressure(text: str) -> float:
    """Read a pressure in kPa.

    Args:
        text: a number and one of Pa, hPa, kPa, mmHg.

    Returns:
        kPa.

    Raises:
        UnitError: anything else.

    >>> round(parse_pressure("10 mmHg"), 4)
    1.3332
    """
    return _parse(text, _KPA_PER, _("1.3 kPa or 10 mmHg"), signed=False)


def parse_tension(text: str) -> float:
    """Read the tension in cloth, force per width, in N/cm.

    Args:
        text: a number and one of N/cm, N/m, N/mm, cN/cm, gf/cm, kgf/cm, lbf/in.

    Returns:
        N/cm.

    Raises:
        UnitError: anything else.

    >>> parse_tension("3 N/cm")
    3.0
    """
    return _parse(text, _N_PER_CM_PER, _("3 N/cm or 300 gf/cm"), signed=False)


def format_length(mm: float, unit: LengthUnit = "mm", *, digits: int | None = None) -> str:
    """Print a length so that :func:`parse_length` reads it again.

    Args:
        mm: a length, mm, finite.
        unit: ``mm``, ``cm`` or ``in``.
        digits: places after the point. Without it, a tenth of a millimetre, or for inches a fraction to the nearest
            sixteenth, as on a tape.

    Returns:
        The length, within half of the last place or half of a sixteenth of an inch.

    >>> format_length(12.5), format_length(12.5, "cm"), format_length(38.1, "in"), format_length(38.1, "in", digits=2)
    ('12.5 mm', '1.25 cm', '1 1/2 in', '1.50 in')
    """
    by, per = _MM_PER[unit]
    amount = _finite(mm) * per / by
    if unit == "in" and digits is None:
        return f"{_in_sixteenths(amount)} in"
    if digits is None:
        digits = {"mm": 1, "cm": 2}[unit]
    return f"{_plain(amount, digits)} {unit}"


def format_both(mm: float) -> str:
    """Print a length in mm and, in brackets, in inches.

    >>> format_both(38.1)
    '38.1 mm (1 1/2 in)'
    """
    return f"{format_length(mm)} ({format_length(mm, 'in')})"


def format_area(mm2: float) -> str:
    """Print an area in cm², to a tenth.

    >>> format_area(6000.0)
    '60.0 cm²'
    """
    return f"{_plain(_finite(mm2) / 100.0, 1)} cm²"


def format_share(ratio: float, *, digits: int = 1) -> str:
    """Print a ratio in percent so that :func:`parse_share` reads it again.

    >>> format_share(0.08)
    '8.0 %'
    """
    return f"{_plain(_finite(ratio) * 100.0, digits)} %"


def format_tension(n_per_cm: float, *, digits: int = 2) -> str:
    """Print a tension in N/cm so that :func:`parse_tension` reads it again.

    >>> format_tension(0.6)
    '0.60 N/cm'
    """
    return f"{_plain(_finite(n_per_cm), digits)} N/cm"


def format_pressure(kpa: float, *, digits: int = 2) -> str:
    """Print a pressure in kPa so that :func:`parse_pressure` reads it again.

    >>> format_pressure(1.3)
    '1.30 kPa'
    """
    return f"{_plain(_finite(kpa), digits)} kPa"


def format_angle(angle_rad: float, *, digits: int = 1) -> str:
    """Print an angle in degrees so that :func:`parse_angle` reads it again.

    >>> format_angle(0.05236)
    '3.0°'
    """
    return f"{_plain(math.degrees(_finite(angle_rad)), digits)}°"


def _parse(text: str, factors: Mapping[str, tuple[int, int]], example: str, *, signed: bool) -> float:
    top, bottom, unit = _read(text, factors, example, signed=signed)
    by, per = factors[unit]
    return (top * by) / (bottom * per)


def _read(text: str, units: Iterable[str], example: str, *, signed: bool) -> tuple[int, int, str]:
    """Split an amount into its number, as an exact fraction, and its unit, which is one of ``units``."""
    advice = _("Write it as {example}.").format(example=example)
    quoted = _quoted(text)
    match = None
    if len(text) <= _LONGEST_TEXT:
        match = _AMOUNT.fullmatch(" ".join(part for part in text.translate(_SPELLING).split(" ") if part))
    if match is None:
        raise UnitError(_("{text} cannot be read as an amount.").format(text=quoted), advice=advice)
    top, bottom = _number(match, quoted)
    unit = match["unit"]
    if not unit:
        raise UnitError(_("{text} has no unit.").format(text=quoted), advice=advice)
    if unit not in units:
        raise UnitError(
            _("{text} ends in {unit}, which is no unit for this.").format(text=quoted, unit=_quoted(unit)),
            advice=advice,
        )
    if top < 0 and not signed:
        raise UnitError(_("{text} is below zero.").format(text=quoted), advice=_("Write an amount above zero."))
    return top, bottom, unit


def _number(match: re.Match[str], quoted: str) -> tuple[int, int]:
    decimal = match["decimal"]
    if decimal is not None:
        if _THOUSANDS.fullmatch(decimal):
            whole, part = decimal.split(",")
            raise UnitError(
                _("{text} may mean {large} or {small}.").format(
                    text=quoted, large=f"{whole}{part}", small=f"{whole}.{part}"
                ),
                advice=_("Write one of those, without the comma."),
            )
        before, _point, after = decimal.replace(",", ".").partition(".")
        top, bottom = int(before + after), 10 ** len(after)
    else:
        top, bottom = int(match["top"]), int(match["bottom"])
        if bottom == 0:
            raise UnitError(_("{text} divides by zero.").format(text=quoted), advice=_("Mend the fraction."))
        if match["whole"]:
            if top >= bottom:
                raise UnitError(
                    _("{text} has a fraction of one or more after a whole number.").format(text=quoted),
                    advice=_("Write one number, as 1 1/2 or 3/2."),
                )
            top += int(match["whole"]) * bottom
    return (-top if match["sign"] == "-" else top), bottom


def _quoted(text: str) -> str:
    """Show what was read, on one line and not endlessly."""
    shown = text if len(text) <= 40 else text[:39] + "…"
    return "“" + "".join(sign if sign.isprintable() else f"\\x{ord(sign):02x}" for sign in shown) + "”"


def _finite(value: float) -> float:
    if not math.isfinite(value):
        raise ValueError(f"an amount to print is {value}")
    return value


def _plain(amount: float, digits: int) -> str:
    text = f"{amount:.{digits}f}"
    return in_figures(text.removeprefix("-") if float(text) == 0.0 else text)


def _in_sixteenths(inches: float) -> str:
    sixteenths = round(abs(inches) * 16)
    whole, rest = divmod(sixteenths, 16)
    sign = "-" if inches < 0.0 and sixteenths else ""
    if rest == 0:
        return f"{sign}{whole}"
    common = math.gcd(rest, 16)
    fraction = f"{rest // common}/{16 // common}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"
