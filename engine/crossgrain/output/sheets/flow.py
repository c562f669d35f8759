"""Words under one another on pages of a tile's size: headings, paragraphs, tables, and lines with their names."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Final

from crossgrain.kernel.bounds import Box
from crossgrain.kernel.path import Path
from crossgrain.model.cutting.lettering import BASELINE, LEADING
from crossgrain.model.cutting.line_looks import LineLook
from crossgrain.output.sheets.ink import Block, Ink, Lettering, Stroke, ruled
from crossgrain.output.sheets.typeface import typeface
from crossgrain.output.text_table import TextTable

TEXT: Final = 3.4
"""Height of letters, mm: what is read in the hand."""

_HEADING: Final = 4.6
_LEAST: Final = 1.8
_BETWEEN: Final = 4.0
_SAMPLE: Final = 26.0


@dataclass(slots=True)
class Flow:
    """Fills blocks from the top, and goes on in a new one where one is full.

    Args:
        width: of a block, mm.
        height: of a block, mm.
    """

    width: float
    height: float
    blocks: list[list[Ink]] = field(default_factory=lambda: [[]])
    down: float = 0.0

    def words(self, text: str, height: float = TEXT, *, left: float = 0.0, width: float | None = None) -> None:
        """Write a paragraph.

        Args:
            text: the paragraph.
            height: of the letters, mm.
            left: where it begins, mm.
            width: how wide it may be, mm; else up to the right.
        """
        for line in wrapped(text, height, self.width - left if width is None else width):
            self.line([(line, left)], height)

    def line(self, parts: Iterable[tuple[str, float]], height: float) -> None:
        """Write one line of texts, each with where it begins, mm."""
        if self.down + LEADING * height > self.height:
            self.blocks.append([])
            self.down = 0.0
        base = self.down + BASELINE * height
        self.blocks[-1].extend(Lettering(text=text, at=(left, base), height=height) for text, left in parts if text)
        self.down += LEADING * height

    def heading(self, text: str) -> None:
        """Write a heading, not as the last line of a block."""
        self.down += 2.5 if self.down else 0.0
        if self.down + LEADING * (_HEADING + 2.0 * TEXT) > self.height:
            self.down = self.height
        self.words(text, _HEADING)

    def table(self, table: TextTable) -> None:
        """Write a table, with smaller letters where it is wide; nothing where it has no rows."""
        if not table.rows:
            return
        used = table.used()
        if used.title:
            self.heading(used.title)
        else:
            self.space(TEXT)
        columns = list(zip(used.heads, *used.rows, strict=True))
        unit = [max(typeface().width(text, 1.0) for text in column) for column in columns]
        room = self.width - _BETWEEN * (len(unit) - 1)
        height = max(min(0.9 * TEXT, room / sum(unit)), _LEAST)
        lefts = [sum(unit[:k]) * height + _BETWEEN * k for k in range(len(unit))]
        for row in (used.heads, *used.rows):
            self.line(zip(row, lefts, strict=True), height)
            if row is used.heads:
                self.blocks[-1].append(ruled([(0.0, self.down), (self.width, self.down)], 0.15))

    def samples(self, looks: Sequence[tuple[tuple[LineLook, ...], str]]) -> None:
        """Draw lines with their names, as many in a row as there is room for."""
        widest = max((typeface().width(name, TEXT) for _look, name in looks), default=0.0)
        columns = max(1, int(self.width / (widest + _SAMPLE + 3.0 + _BETWEEN)))
        step = self.width / columns
        for start in range(0, len(looks), columns):
            row = looks[start : start + columns]
            self.line([(name, k * step + _SAMPLE + 3.0) for k, (_look, name) in enumerate(row)], TEXT)
            middle = self.down - 0.55 * LEADING * TEXT
            for k, (some, _name) in enumerate(row):
                for number, look in enumerate(some):
                    y = middle + 1.6 * (number - (len(some) - 1) / 2.0)
                    line = Path(Path.polygon([(k * step, y), (k * step + _SAMPLE, y)]).segments[:1])
                    self.blocks[-1].append(Stroke(line=line, look=look, purpose="labels"))

    def space(self, height: float) -> None:
        """Leave room."""
        self.down += height

    def filled(self) -> tuple[Block, ...]:
        """Return the blocks."""
        corners = ((0.0, 0.0), (self.width, 0.0), (self.width, self.height), (0.0, self.height))
        page = Path.polygon(corners)
        return tuple(Block(ink=tuple(ink), regions=(page,), is_head=True) for ink in self.blocks)


def wrapped(text: str, height: float, width: float) -> list[str]:
    """Part a text into lines that are no wider than is asked, but for single words that are.

    >>> wrapped("Measure both squares before you cut.", 4.0, 40.0)
    ['Measure both squares', 'before you cut.']
    """
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and typeface().width(longer, height) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def middled(text: str, height: float, box: Box, base: float) -> Lettering:
    """Return words in the middle of a box, on a base line so far down, mm."""
    return Lettering(text=text, at=(box.centre[0], base), height=height, middle=True)
