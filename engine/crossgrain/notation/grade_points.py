"""The written form of points that rules name, and of the sizes and steps they move by.

===============  ==========================
a corner         ``front: waist/side``
a level          ``front: side at hip``
a place          ``front: side at 40%``
a notch          ``front: notch 1 of side``
a dart's tip     ``back: dart 1 of waist``
===============  ==========================
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import accumulate, pairwise

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.sizes.grade_point import GradePoint
from crossgrain.notation.words import read_name, write_length, write_share
from crossgrain.units import parse_length, parse_share

_NUMBERED = re.compile(r"(notch|dart)\s+([1-9][0-9]{0,2})\s+of\s+(\S+)")


def read_grade_point(text: str) -> GradePoint:
    """Read a point of a piece.

    Raises:
        ParameterError: it is none.

    >>> read_grade_point("left front: side at hip").level, read_grade_point("back: dart 1 of waist").dart
    ('hip', 1)
    """
    piece, colon, rest = (part.strip() for part in text.partition(":"))
    if not colon or not piece or not rest:
        raise _unclear(text)
    numbered = _NUMBERED.fullmatch(rest)
    if numbered:
        kind, number, edge = numbered.groups()
        if kind == "notch":
            return GradePoint(piece=piece, edge=read_name(edge), notch=int(number))
        return GradePoint(piece=piece, edge=read_name(edge), dart=int(number))
    edge, slash, other = (part.strip() for part in rest.partition("/"))
    if slash:
        return GradePoint(piece=piece, edge=read_name(edge), meets=read_name(other))
    edge, between, where = (part.strip() for part in rest.partition(" at "))
    if not between:
        raise _unclear(text)
    if where.endswith("%"):
        return GradePoint(piece=piece, edge=read_name(edge), share=parse_share(where))
    return GradePoint(piece=piece, edge=read_name(edge), level=read_name(where))


def write_grade_point(point: GradePoint) -> str:
    """Write a point of a piece; read by :func:`read_grade_point`.

    >>> write_grade_point(GradePoint(piece="front", edge="side", share=0.4))
    'front: side at 40%'
    """
    if point.meets:
        words = f"{point.edge}/{point.meets}"
    elif point.level:
        words = f"{point.edge} at {point.level}"
    elif point.share is not None:
        words = f"{point.edge} at {write_share(point.share)}"
    elif point.notch is not None:
        words = f"notch {point.notch} of {point.edge}"
    else:
        words = f"dart {point.dart} of {point.edge}"
    return f"{point.piece}: {words}"


def read_steps(text: str, sizes: Sequence[str], base: int) -> tuple[float, ...]:
    """Read how far a point moves with each step from one size to the next: ``4 mm``, or ``34-42: 4 mm, 44-50: 6 mm``.

    Args:
        text: one amount for every step, or ranges of sizes with the amount of each step that leads to one of them.
        sizes: the names of the sizes, in order.
        base: the number of the base.

    Returns:
        How far it lies from the base in each size, mm.

    Raises:
        ParameterError: a size that is not there, a step of which nothing is said, or of which two things are.
        UnitError: an amount without its unit.

    >>> read_steps("34-36: 4 mm, 38: 6 mm", ("34", "36", "38"), 1)
    (-4.0, 0.0, 6.0)
    """
    if ":" not in text:
        each = parse_length(text, signed=True)
        return tuple((number - base) * each for number in range(len(sizes)))
    steps: list[float | None] = [None] * len(sizes)
    for part in re.split(r"[,;](?=[^,;]*:)", text):
        named, colon, amount = part.partition(":")
        if not named.strip() or not colon or not amount.strip():
            raise ParameterError(
                _("“{text}” is no range of sizes with an amount.").format(text=part.strip()),
                advice=_("Write it as 34-42: 4 mm, 44-50: 6 mm."),
            )
        low, high = _range(named, sizes)
        by = parse_length(amount, signed=True)
        for number in range(low, high + 1):
            if steps[number] is not None:
                raise ParameterError(
                    _("The step to size {size} is given twice.").format(size=sizes[number]),
                    advice=_("Let each size stand in one range."),
                )
            steps[number] = by
    for number in range(1, len(sizes)):
        if steps[number] is None:
            raise ParameterError(
                _("The step from size {one} to {other} is not given.").format(
                    one=sizes[number - 1], other=sizes[number]
                ),
                advice=_("Let each size stand in one range."),
            )
    from_first = list(accumulate((step or 0.0 for step in steps[1:]), initial=0.0))
    return tuple(value - from_first[base] for value in from_first)


def size_number(name: str, sizes: Sequence[str]) -> int:
    """Return the number of a size, from 0.

    Raises:
        ParameterError: there is none of that name.
    """
    if name not in sizes:
        raise ParameterError(
            _("There is no size {name}.").format(name=name),
            advice=_("The sizes are: {names}.").format(names=", ".join(sizes)),
        )
    return list(sizes).index(name)


def read_sizes(text: str, sizes: Sequence[str]) -> tuple[str, ...]:
    """Read which sizes are wanted: ``36-44``, ``38``, ``36, 40-44``.

    >>> read_sizes("36-38, 42", ("34", "36", "38", "40", "42"))
    ('36', '38', '42')
    """
    numbers: set[int] = set()
    for part in text.split(","):
        low, high = _range(part, sizes)
        numbers.update(range(low, high + 1))
    return tuple(sizes[number] for number in sorted(numbers))


def _range(text: str, sizes: Sequence[str]) -> tuple[int, int]:
    """Return the numbers of the first and last size that a text names: ``38``, ``34-42``; names may have dashes too.

    Raises:
        ParameterError: a size that is not there, or a range that runs backwards.
    """
    text = text.strip()
    halves = [(text[: dash.start()].strip(), text[dash.end() :].strip()) for dash in re.finditer("[-–]", text)]
    first, last = next(
        (half for half in halves if half[0] in sizes and half[1] in sizes), halves[0] if halves else (text, text)
    )
    if text in sizes:
        first = last = text
    low, high = size_number(first, sizes), size_number(last, sizes)
    if high < low:
        raise ParameterError(
            _("The range {first}-{last} runs backwards.").format(first=first, last=last),
            advice=_("Name the smaller size first."),
        )
    return low, high


def write_steps(moves: Sequence[float], sizes: Sequence[str]) -> str | list[str]:
    """Write how far a point moves: one amount where every step is alike, else one for each size from the base.

    Args:
        moves: how far it lies from the base in each size, mm.
        sizes: the names of the sizes.

    >>> write_steps((-4.0, 0.0, 4.0), ("34", "36", "38")), write_steps((-4.0, 0.0, 6.0), ("34", "36", "38"))
    ('4mm', ['-4mm', '0mm', '6mm'])
    """
    assert len(moves) == len(sizes)
    texts = [write_length(move) for move in moves]
    steps = [after - before for before, after in pairwise(moves)]
    base = texts.index("0mm") if "0mm" in texts else 0
    even = write_length(steps[0])
    again = [write_length((number - base) * parse_length(even, signed=True)) for number in range(len(moves))]
    return even if again == texts else texts


def _unclear(text: str) -> ParameterError:
    return ParameterError(
        _("“{text}” names no point of a piece.").format(text=text.strip()),
        advice=_("Write it as front: waist/side, front: side at 40%, front: side at hip, front: notch 1 of side."),
    )
