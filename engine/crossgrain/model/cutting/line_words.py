"""The words that stand along a line and say what it is, so that it is known without colour too."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.length import segment_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import unit
from crossgrain.model.cutting.lettering import text_width

SIZE: Final = 3.2
"""Of the letters, mm: they fit into an allowance of 6 mm."""

_OFF: Final = 0.9
"""From the line to the letters, mm."""

_ASCENT, _DESCENT = 0.78, 0.25
"""How far letters reach over and under their base line, in sizes."""

_STEEP: Final = 3.0
"""A line that rises by so much more than it runs is read from below."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineWord:
    """A word along a line, inside of it.

    Args:
        text: the word.
        at: the middle of its base line, mm.
        angle_rad: the turn of its base line, clockwise as seen on the page; the word is never upside down.
    """

    text: str
    at: Point
    angle_rad: float

    @property
    def room(self) -> Path:
        """The rectangle it takes, mm."""
        half = text_width(self.text, SIZE) / 2.0
        top, foot = -_ASCENT * SIZE, _DESCENT * SIZE
        corners = ((-half, top), (half, top), (half, foot), (-half, foot))
        turn = Affine.rotation(self.angle_rad).then(Affine.translation(*self.at))
        return Path.polygon([turn.of(corner) for corner in corners])


def line_word(text: str, line: Path) -> LineWord | None:
    """Set a word inside a closed line, in the middle of its longest segment.

    Returns:
        The word, or None where the segment is too short for it.

    >>> word = line_word("cut line", Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)]))
    >>> round(word.at[0]), word.at[1] > 0.0, word.angle_rad
    (50, True, 0.0)
    """
    longest = max(line.segments, key=segment_length)
    before, here, after = (longest.point(t) for t in (0.45, 0.5, 0.55))
    if segment_length(longest) < 1.5 * text_width(text, SIZE) or before == after:
        return None
    x, y = unit(after[0] - before[0], after[1] - before[1])
    inwards = (-y, x) if winding(line) > 0 else (y, -x)
    if y > 0.0 if abs(y) > _STEEP * abs(x) else x < 0.0:
        x, y = -x, -y  # read from the left, and on a steep line from below
    # On the page letters stand up from their base line towards (y, -x).
    hangs = inwards[0] * y - inwards[1] * x < 0.0
    away = _OFF + (_ASCENT if hangs else _DESCENT) * SIZE
    at = (here[0] + away * inwards[0], here[1] + away * inwards[1])
    return LineWord(text=text, at=at, angle_rad=math.atan2(y, x))
