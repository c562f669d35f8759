"""Where the names of sizes stand on lines that lie on top of each other: on the lines, as heights do on a map.

A name beside a line may be read as its neighbour's. On the line, along it, it breaks only its own.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import path_length, place_at, point_at, point_at_share
from crossgrain.kernel.path import Path

NAME_HEIGHT: Final = 4.0
"""Height of the letters, mm: a name takes no more than this across its line."""

_LETTER: Final = 0.65 * NAME_HEIGHT
"""How wide a letter is."""

_APART: Final = 3.0
"""Between names on neighbouring lines, along these, mm."""

_SEEN: Final = 1.0
"""Where all sizes lie within this, mm, they are one to the eye: no name tells them apart."""

_LEGIBLE: Final = 1.5
"""Where lines lie on average this far from each other, mm, a second set of names helps."""

_MIDDLES: Final = (0.5, 0.3, 0.7)
"""About which shares of an edge names are tried; its middle first."""

_CHECKS: Final = 9

_LEAST_NAMES: Final = 3
"""An edge shorter than so many names is passed over where there is a longer one."""

_STEEPEST: Final = math.radians(100.0)
"""How steeply a name may run upwards."""


@dataclass(frozen=True, slots=True)
class SizeName:
    """Where a name stands: its middle, mm, and the direction it is written in, turned so that it is read upright."""

    at: Point
    turn_rad: float


def size_names(names: Sequence[str], edges: Sequence[Sequence[Path]]) -> tuple[tuple[SizeName, ...], ...]:
    """Find places for the names of sizes on a piece.

    Args:
        names: of the sizes, in order.
        edges: the edges of the piece in each size, as many and in the same order, where they lie on each other.

    Returns:
        For each size up to two places on its own line: where sizes lie farthest apart, and where they next do. Names of
        neighbouring sizes stand side by side. Nothing where all sizes are alike.

    >>> from crossgrain.kernel.segment import Line
    >>> lines = [[Path((Line((0.0, y), (60.0, y)),))] for y in (0.0, 5.0)]
    >>> [one.at[1] for (one,) in size_names(("S", "M"), lines)]
    [0.0, 5.0]
    """
    if len(names) < 2:
        return ((),) * len(names)
    pitch = _LETTER * max(map(len, names)) + _APART
    ends = [(min(path_length(own[k]) for own in (edges[0], edges[-1])), k) for k in range(len(edges[0]))]
    long = [k for length, k in ends if length >= _LEAST_NAMES * pitch] or [max(ends)[1]]
    found = sorted((_best(edges[0][k], edges[-1][k], pitch * len(names), k) for k in long), reverse=True)
    steps = len(names) - 1
    chosen = [one for one in found[:1] if one[0] > _SEEN] + [one for one in found[1:2] if one[0] > _LEGIBLE * steps]
    out: list[tuple[SizeName, ...]] = [()] * len(names)
    for _gap, share, k in chosen:
        lines = [own[k] for own in edges]
        lengths = [path_length(line) for line in lines]
        slots = min(len(names), max(1, int(0.9 * min(lengths) / pitch)))
        for number, (line, length) in enumerate(zip(lines, lengths, strict=True)):
            off = (number % slots - (slots - 1) / 2.0) * pitch
            away = min(max(share * length + off, 0.0), length)
            out[number] = (*out[number], _on(line, away))
    return tuple(out)


def _best(first: Path, last: Path, reach: float, number: int) -> tuple[float, float, int]:
    """Return how far two lines lie from each other where that is most, about which share, and the edge's number."""
    half = min(0.5 * reach / max(path_length(first), reach), 0.3)
    best = (-1.0, _MIDDLES[0], number)
    for middle in _MIDDLES:
        shares = [middle + half * (2.0 * k / (_CHECKS - 1) - 1.0) for k in range(_CHECKS)]
        inside = [min(max(share, 0.0), 1.0) for share in shares]
        here = [complex(*point_at_share(first, share)) for share in inside]
        there = [complex(*point_at_share(last, share)) for share in inside]
        way = here[-1] - here[0]
        if abs(way) == 0.0:
            continue
        gap = min(abs(((q - p) * (way * 1j).conjugate()).real) / abs(way) for p, q in zip(here, there, strict=True))
        if gap > best[0]:
            best = (gap, middle, number)
    return best


def _on(line: Path, along: float) -> SizeName:
    place = place_at(line, along)
    segment = line.segments[place.index]
    way = complex(*segment.derivative(place.t)) or complex(*line.end) - complex(*line.start)
    turn = cmath.phase(way)
    # From left to right, and upwards also on lines that lean a little: the names on a bent edge are read one way.
    if not -_STEEPEST <= turn < math.pi - _STEEPEST:
        turn -= math.copysign(math.pi, turn)
    return SizeName(at=point_at(line, place), turn_rad=turn)
