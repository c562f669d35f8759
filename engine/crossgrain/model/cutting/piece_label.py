"""The words on a piece that is cut: where they stand, and how large."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from textwrap import wrap
from typing import Final

from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.bounds import Box, bounds
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.kernel.room import Room
from crossgrain.kernel.segment import Line
from crossgrain.model.cutting.lettering import block_size

_LARGE, _MIDDLE, _SMALL = (9.0, 8.0, 7.0), (6.0, 5.0), (4.5, 4.0, 3.5)
"""Sizes of the first line, mm: read across a table, standing before it, and in the hand."""

_HAND: Final = 5.0
"""The size of the first line beside a piece, mm."""

SMALLER: Final = 0.7
"""The other lines against the first."""

_SHORT: Final = 28
"""Signs to a line where long lines are broken."""

_HEIGHT: Final = 0.42
"""Where down the piece the words had best be: about the middle of a leg's broad part."""

_AIR: Final = 0.3
"""Kept free around the words, in sizes of the first line."""

_BESIDE: Final = 6.0
"""From a piece that is too small for its words to the words, mm."""

_PARTING: Final = " · "


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceLabel:
    """Words on a piece, or beside it.

    Args:
        lines: the text, each line with its size, mm.
        box: within which they stand, mm.
        turned: whether they run up the page instead of across it.
        leader: from the words to the piece they stand beside; None where they stand on it.
    """

    lines: tuple[tuple[str, float], ...]
    box: Box
    turned: bool = False
    leader: Path | None = None

    def moved(self, dx: float, dy: float) -> PieceLabel:
        """Return the same words in another place."""
        box = Box(self.box.left + dx, self.box.top + dy, self.box.right + dx, self.box.bottom + dy)
        leader = self.leader and self.leader.mapped(Affine.translation(dx, dy))
        return replace(self, box=box, leader=leader)


def labelled(words: Sequence[str], outline: Path, clear: Sequence[Sequence[Path]] = ()) -> PieceLabel:
    """Find room for words on a piece, else beside it.

    They stand across the page if they can, else up it; line by line if they can, else with long lines broken, else in
    fewer lines; and large before all.

    Args:
        words: the lines, the first of which is the largest; at least one.
        outline: the line within which they stand: a closed path.
        clear: lines of which they keep clear if they can: of all of them, else of all but the last group, and so on.

    Returns:
        The words within the outline, the first line at least 3.5 mm large; or on the right of it with a leader.

    >>> piece = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> label = labelled(["band", "cut 2"], piece)
    >>> label.lines, label.turned, label.leader
    ((('band', 9.0), ('cut 2', 6.3)), False, None)
    >>> labelled(["band", "cut 2"], Path.polygon([(0, 0), (9, 0), (9, 9)])).leader is None
    False
    """
    box = bounds(outline)
    target = (box.centre[0], box.top + _HEIGHT * box.height)
    for count in range(len(clear), -1, -1):
        room = Room(outline, [line for group in clear[:count] for line in group])
        for block, turned in _settings(words):
            size = block_size(block)
            wide, high = reversed(size) if turned else size
            air = _AIR * block[0][1]
            found = room.place(wide + 2.0 * air, high + 2.0 * air, near=target)
            if found is not None:
                return PieceLabel(lines=block, box=found.grown(-air), turned=turned)
    return _beside(words, outline, box)


def _settings(words: Sequence[str]) -> Iterator[tuple[tuple[tuple[str, float], ...], bool]]:
    """Yield the ways in which words can be set, the best first: each line with its size, and whether turned."""
    as_given, broken = tuple(words), tuple(line for word in words for line in wrap(word, _SHORT))
    three, two, one = (_in_lines(words, count) for count in (3, 2, 1))
    ways = (
        ((as_given, broken), _LARGE),
        ((as_given, broken, three), _MIDDLE),
        ((three, two, one), (*_LARGE, *_MIDDLE)),
        ((as_given, broken, three, two, one), _SMALL),
    )
    for settings, sizes in ways:
        for turned, lines, size in product((False, True), dict.fromkeys(settings), sizes):
            yield _sized(lines, size), turned


def _in_lines(words: Sequence[str], most: int) -> tuple[str, ...]:
    """Join words so that they fill no more lines than that."""
    count = min(most, len(words))
    return tuple(_PARTING.join(words[k * len(words) // count : (k + 1) * len(words) // count]) for k in range(count))


def _sized(lines: Sequence[str], size: float) -> tuple[tuple[str, float], ...]:
    return tuple((text, size if k == 0 else SMALLER * size) for k, text in enumerate(lines))


def _beside(words: Sequence[str], outline: Path, box: Box) -> PieceLabel:
    """Set the words on the right of a piece, with a leader to the nearest point of its outline."""
    block = _sized(words, _HAND)
    wide, high = block_size(block)
    room = Box(box.right + _BESIDE, box.top, box.right + _BESIDE + wide, box.top + high)
    start: Point = (room.left - _AIR * _HAND, room.top + block[0][1] / 2.0)
    return PieceLabel(lines=block, box=room, leader=Path((Line(start, nearest(outline, start).point),)))
