"""The ``transform`` of an element: SVG's attribute and the CSS property of the same name.

Source: CSS Transforms Module Level 1, sections 3 to 8. Both spellings are read alike: functions with or without
commas, lengths with or without units, angles in degrees where no unit is given. Strict: what cannot be read is an
error, since a piece drawn without its transform is a piece of the wrong size.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import Final

from crossgrain.errors import DocumentError
from crossgrain.kernel.affine import Affine, Point
from crossgrain.language import _
from crossgrain.svg.lengths import ABSOLUTE_PX
from crossgrain.svg.path_tokens import NUMBER, SEPARATOR, SPACE

_FUNCTION: Final = re.compile(rf"([A-Za-z0-9]+){SPACE}*\(([^()]*)\){SEPARATOR}")
_ARGUMENT: Final = re.compile(rf"({NUMBER})([a-zA-Z%]*)")
_GAP: Final = re.compile(SEPARATOR)

_ANGLES: Final = {
    "": math.radians(1.0),
    "deg": math.radians(1.0),
    "grad": math.pi / 200.0,
    "rad": 1.0,
    "turn": 2.0 * math.pi,
}

IDENTITY: Final = Affine()


def largest_scale(affine: Affine) -> float:
    """Return the most by which a map stretches any direction: its larger singular value.

    >>> largest_scale(Affine.scaling(-3.0, 2.0))
    3.0
    """
    a, b, c, d = affine.a, affine.b, affine.c, affine.d
    return (math.hypot(a + d, b - c) + math.hypot(a - d, b + c)) / 2.0


def parse_transform(text: str) -> Affine:
    """Read a list of transform functions.

    Args:
        text: the value of the attribute or of the CSS property; ``none`` and nothing at all are no transform.

    Returns:
        The map from the element's own coordinates to its parent's, in user units. As SVG has it, the last function
        is done first.

    Raises:
        DocumentError: text that cannot be read, a transform in space, or a percentage.

    >>> parse_transform("translate(10, 20) scale(2)").of((1.0, 1.0))
    (12.0, 22.0)
    """
    rest = text.strip(" \t\n\r\f")
    if not rest or rest == "none":
        return IDENTITY
    whole, at = IDENTITY, 0
    while at < len(rest):
        found = _FUNCTION.match(rest, at)
        if not found:
            raise _unreadable(text)
        name, inside = found.groups()
        function = _FUNCTIONS.get(name) or _FUNCTIONS_BY_LOWER.get(name.lower())
        if function is None:
            if name.lower() in _SPATIAL:
                raise DocumentError(
                    _("Its transform uses {name}, which turns it in space.").format(name=name),
                    advice=_("Flatten the object to the page."),
                )
            raise _unreadable(text)
        try:
            step = function(_arguments(inside))
        except (ValueError, TypeError) as error:
            raise _unreadable(text) from error
        whole = step.then(whole)
        at = found.end()
    if found and rest.endswith(","):
        raise _unreadable(text)
    if not all(map(math.isfinite, (whole.a, whole.b, whole.c, whole.d, whole.e, whole.f))):
        raise _unreadable(text)
    return whole


def _unreadable(text: str) -> DocumentError:
    return DocumentError(
        _("Its transform cannot be read: {text}.").format(text=text.strip()[:80]),
        advice=_("Correct the transform, or draw the object without one."),
    )


def _arguments(text: str) -> list[tuple[float, str]]:
    """Split what stands between the brackets into numbers and their units."""
    stripped = text.strip(" \t\n\r\f")
    arguments: list[tuple[float, str]] = []
    at = 0
    while at < len(stripped):
        gap = _GAP.match(stripped, at) if arguments else None
        found = _ARGUMENT.match(stripped, gap.end() if gap else at)
        if not found:
            raise ValueError(stripped)
        arguments.append((float(found.group(1)), found.group(2).lower()))
        at = found.end()
    return arguments


def _px(argument: tuple[float, str]) -> float:
    number, unit = argument
    if unit == "%":
        raise DocumentError(
            _("Its transform moves it by a share of its own size, which is not read here."),
            advice=_("Write the length instead."),
        )
    if unit and unit not in ABSOLUTE_PX:
        raise ValueError(unit)
    return number * ABSOLUTE_PX.get(unit, 1.0)


def _rad(argument: tuple[float, str]) -> float:
    number, unit = argument
    if unit not in _ANGLES:
        raise ValueError(unit)
    return number * _ANGLES[unit]


def _ratio(argument: tuple[float, str]) -> float:
    number, unit = argument
    if unit == "%":
        return number / 100.0
    if unit:
        raise ValueError(unit)
    return number


def _matrix(arguments: list[tuple[float, str]]) -> Affine:
    a, b, c, d, e, f = arguments
    return Affine(_ratio(a), _ratio(b), _ratio(c), _ratio(d), _px(e), _px(f))


def _translate(arguments: list[tuple[float, str]]) -> Affine:
    x, y = (*arguments, (0.0, ""))[:2] if len(arguments) == 1 else arguments
    return Affine.translation(_px(x), _px(y))


def _scale(arguments: list[tuple[float, str]]) -> Affine:
    x, y = arguments * 2 if len(arguments) == 1 else arguments
    return Affine.scaling(_ratio(x), _ratio(y))


def turned(angle_rad: float, about: Point = (0.0, 0.0)) -> Affine:
    """Return a turn that is exact for quarter turns, where sine and cosine leave 1e-17."""
    quarters = angle_rad / (math.pi / 2.0)
    if quarters != round(quarters) or abs(quarters) > 1e6:
        return Affine.rotation(angle_rad, about)
    cos, sin = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[round(quarters) % 4]
    x, y = about
    return Affine(cos, sin, -sin, cos, x - cos * x + sin * y, y - sin * x - cos * y)


def _rotate(arguments: list[tuple[float, str]]) -> Affine:
    if len(arguments) == 1:
        return turned(_rad(arguments[0]))
    angle, x, y = arguments
    return turned(_rad(angle), (_px(x), _px(y)))


def _skew(arguments: list[tuple[float, str]]) -> Affine:
    x, y = (*arguments, (0.0, ""))[:2] if len(arguments) == 1 else arguments
    return Affine(1.0, math.tan(_rad(y)), math.tan(_rad(x)), 1.0, 0.0, 0.0)


def _one(make: Callable[[tuple[float, str]], Affine]) -> Callable[[list[tuple[float, str]]], Affine]:
    def function(arguments: list[tuple[float, str]]) -> Affine:
        (argument,) = arguments
        return make(argument)

    return function


_FUNCTIONS: Final[dict[str, Callable[[list[tuple[float, str]]], Affine]]] = {
    "matrix": _matrix,
    "translate": _translate,
    "translateX": _one(lambda x: Affine.translation(_px(x), 0.0)),
    "translateY": _one(lambda y: Affine.translation(0.0, _px(y))),
    "scale": _scale,
    "scaleX": _one(lambda x: Affine.scaling(_ratio(x), 1.0)),
    "scaleY": _one(lambda y: Affine.scaling(1.0, _ratio(y))),
    "rotate": _rotate,
    "skew": _skew,
    "skewX": _one(lambda x: Affine(1.0, 0.0, math.tan(_rad(x)), 1.0, 0.0, 0.0)),
    "skewY": _one(lambda y: Affine(1.0, math.tan(_rad(y)), 0.0, 1.0, 0.0, 0.0)),
}
_FUNCTIONS_BY_LOWER: Final = {name.lower(): function for name, function in _FUNCTIONS.items()}
_SPATIAL: Final = frozenset(
    {"matrix3d", "translate3d", "translatez", "scale3d", "scalez", "rotate3d", "rotatex", "rotatey", "rotatez"}
    | {"perspective"}
)


def about_origin(affine: Affine, origin: Point) -> Affine:
    """Return the map done about a ``transform-origin`` instead of the zero of the coordinates."""
    x, y = origin
    if x == 0.0 and y == 0.0:
        return affine
    return Affine.translation(-x, -y).then(affine).then(Affine.translation(x, y))


def parse_origin(text: str, box: tuple[float, float, float, float]) -> Point:
    """Read a ``transform-origin``.

    Args:
        text: one to three values: keywords, lengths, percentages.
        box: x, y, width and height of the reference box, in user units.

    Returns:
        The point, in user units.

    Raises:
        DocumentError: text that cannot be read.

    >>> parse_origin("right 25%", (0.0, 0.0, 200.0, 100.0))
    (200.0, 25.0)
    """
    words = text.lower().replace(",", " ").split()
    across = {"left": "0%", "center": "50%", "right": "100%"}
    down = {"top": "0%", "center": "50%", "bottom": "100%"}
    problem = DocumentError(
        _("Its transform-origin cannot be read: {text}.").format(text=text.strip()[:80]),
        advice=_("Give two lengths, or remove it."),
    )
    if not 1 <= len(words) <= 3:
        raise problem
    if len(words) == 3 and _length_or_none(words.pop(), 0.0) is None:
        raise problem
    if len(words) == 1:
        words = ["center", words[0]] if words[0] in ("top", "bottom") else [words[0], "center"]
    elif words[0] in ("top", "bottom") or words[1] in ("left", "right"):
        words.reverse()
        if words[0] not in across or words[1] not in down:
            raise problem
    x = _length_or_none(across.get(words[0], words[0]), box[2])
    y = _length_or_none(down.get(words[1], words[1]), box[3])
    if x is None or y is None:
        raise problem
    return (box[0] + x, box[1] + y)


def _length_or_none(word: str, whole: float) -> float | None:
    found = _ARGUMENT.fullmatch(word)
    if not found:
        return None
    number, unit = float(found.group(1)), found.group(2)
    if unit == "%":
        return number / 100.0 * whole
    return number * ABSOLUTE_PX[unit] if unit in ABSOLUTE_PX else None


def format_matrix(affine: Affine) -> str:
    """Write a map as a ``matrix()``, with every digit a float has.

    >>> format_matrix(Affine.translation(1.5, 0.0))
    'matrix(1,0,0,1,1.5,0)'
    """
    values = (affine.a, affine.b, affine.c, affine.d, affine.e, affine.f)
    return f"matrix({','.join(repr(value).removesuffix('.0') for value in values)})"
