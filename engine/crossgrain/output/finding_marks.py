"""Find room on a drawing for numbered findings: near their places, clear of each other and of the lines."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator, Sequence
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from crossgrain.kernel.affine import Point
from crossgrain.kernel.bounds import Box
from crossgrain.kernel.flatten import flatten
from crossgrain.model import Finding, Pattern
from crossgrain.model.finding_mark import FindingMark
from crossgrain.model.label import Label
from crossgrain.model.marking.mark_lines import mark_lines

_LINE: Final = 34
"""Signs in a line of text."""
_SIGN: Final = 4.4
"""Width of a sign of 8 mm sans-serif text, mm, on average."""
_LEADING: Final = 11.0
_DOT: Final = 6.0
"""Half the width of the dot with its rim, mm."""
_GAP: Final = 3.0
"""From the dot to the words, mm."""
_SEEN: Final = 1.0
"""How near outlines are followed where room is looked for, mm."""
_REACHES: Final = (16.0, 30.0, 50.0, 80.0, 120.0)
"""How far from its place a number may stand, mm."""
_WAYS: Final = 12
_OUTLINE: Final = 3.0
_MARK: Final = 1.0
"""What a crossing of 4 mm of an outline, or of a mark, counts, as so many mm farther away."""
_OVER: Final = 1000.0
"""What standing over other words counts."""

_Anchor = Literal["start", "end"]


def finding_marks(pattern: Pattern, findings: Sequence[Finding]) -> tuple[FindingMark, ...]:
    """Number findings and place them on the drawing.

    Args:
        pattern: the pieces, whose outlines are kept clear.
        findings: what to look at, in the order of the table; those without a place get no mark, but keep their number.

    Returns:
        A mark for each, whose words are the finding's message.

    >>> findings = [Finding(piece="", message="No place."), Finding(piece="", message="Here.", position=(0.0, 0.0))]
    >>> [(mark.number, mark.label.lines) for mark in finding_marks(Pattern(), findings)]
    [(2, ('Here.',))]
    """
    drawn = _drawn(pattern)
    ids = {piece.label: piece.id for piece in pattern.pieces}
    taken = [_around(one.position) for one in findings if one.position is not None]
    out = []
    for number, finding in enumerate(findings, start=1):
        if finding.position is None:
            continue
        words = textwrap.wrap(finding.message, _LINE) or [""]
        dot, anchor = _roomiest(finding.position, words, taken, drawn)
        box = _box(dot, anchor, words)
        taken.append(box)
        away = _DOT + _GAP if anchor == "start" else -_DOT - _GAP
        label = Label(
            about=next((ids[name] for name in (finding.piece, *finding.piece.split(", ")) if name in ids), ""),
            lines=tuple(words),
            at=(dot[0] + away, dot[1] + 3.0),
            anchor=anchor,
            kind="finding",
        )
        out.append(FindingMark(number=number, at=finding.position, dot=dot, label=label))
    return tuple(out)


def _roomiest(
    at: Point, words: Sequence[str], taken: Sequence[Box], drawn: NDArray[np.float64]
) -> tuple[Point, _Anchor]:
    return min(_rooms(at), key=lambda room: _crowding(at, room, words, taken, drawn))


def _rooms(at: Point) -> Iterator[tuple[Point, _Anchor]]:
    for reach in _REACHES:
        for way in range(_WAYS):
            angle = 2.0 * math.pi * (way + 0.5) / _WAYS
            dot = (at[0] + reach * math.cos(angle), at[1] - reach * math.sin(angle))
            yield dot, "start" if dot[0] >= at[0] else "end"


def _crowding(
    at: Point, room: tuple[Point, _Anchor], words: Sequence[str], taken: Sequence[Box], drawn: NDArray[np.float64]
) -> float:
    """Return how badly a place suits: none over another, best near, and crossing little."""
    box = _box(*room, words)
    x, y, weight = drawn.T
    crossed = (x > box.left) & (x < box.right) & (y > box.top) & (y < box.bottom)
    over = sum(box.meets(other) for other in taken)
    return math.dist(at, room[0]) + float(weight[crossed].sum()) + _OVER * over


def _box(dot: Point, anchor: _Anchor, words: Sequence[str]) -> Box:
    width = 2.0 * _DOT + _GAP + _SIGN * max(len(line) for line in words)
    left = dot[0] - _DOT if anchor == "start" else dot[0] + _DOT - width
    return Box(left, dot[1] - _DOT - 1.0, left + width, dot[1] + max(_DOT, 5.0 + _LEADING * (len(words) - 1)))


def _around(at: Point) -> Box:
    return Box(at[0] - 3.0, at[1] - 3.0, at[0] + 3.0, at[1] + 3.0)


def _drawn(pattern: Pattern) -> NDArray[np.float64]:
    """Return points along all lines of the pieces, each with what crossing it counts: x, y, weight."""
    lines = [(one.line, _OUTLINE) for one in pattern.pieces]
    lines += [(mark.line, _MARK) for one in pattern.pieces for mark in mark_lines(one)]
    return np.concatenate([np.zeros((0, 3)), *(_dense(flatten(line, _SEEN).points, weight) for line, weight in lines)])


def _dense(points: NDArray[np.float64], weight: float) -> NDArray[np.float64]:
    """Return points along a polyline no farther than 4 mm apart, with a weight."""
    steps = np.hypot(*np.diff(points, axis=0).T)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    at = np.arange(0.0, along[-1], 4.0)
    x, y = (np.interp(at, along, points[:, axis]) for axis in (0, 1))
    return np.column_stack([x, y, np.full_like(x, weight)])
