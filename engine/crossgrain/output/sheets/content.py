"""Write lines and words as the content of a PDF page (ISO 32000-1, 8 and 9): curves stay curves.

Coordinates are mm to a thousandth, y down, under a matrix that makes points of them: over a metre a figure is off by no
more than a thousandth itself.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cache, lru_cache
from typing import Final

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment
from crossgrain.model.cutting.line_looks import LineLook
from crossgrain.output.sheets.ink import PURPOSES, Ink, Lettering, Stroke
from crossgrain.output.sheets.typeface import Typeface

POINT: Final = 72.0 / 25.4
"""Points in a millimetre."""

FONT: Final = "F"
"""What the typeface is called among a page's resources."""


Part = tuple[Ink, ...]
"""What is drawn together, perhaps on several pages."""

_LEVEL: Final = "1 0 0 -1"
"""The turn of words that lie level, where y is down."""


@dataclass(slots=True)
class Writer:
    """Writes content, and remembers which letters it took.

    Args:
        face: the typeface.
        sizes: the names of the sizes, in order.
        layered: whether what is written says which layer it is on.
    """

    face: Typeface
    sizes: Sequence[str] = ()
    layered: bool = True
    letters: dict[int, str] = field(default_factory=dict)
    _codes: dict[str, str] = field(default_factory=dict)
    _texts: dict[str, str] = field(default_factory=dict)
    _parts: dict[int, tuple[Part, bytes]] = field(default_factory=dict)

    def part(self, part: Part) -> bytes:
        """Write what belongs together: once, for all pages that show it, as the two sheets of a join.

        Parts are told by which they are, for to compare their figures would take as long as to write them; and held, so
        that no other can come to be where one was.
        """
        known = self._parts.get(id(part))
        if known is None:
            known = self._parts[id(part)] = (part, self.written(part))
        return known[1]

    def written(self, ink: Iterable[Ink]) -> bytes:
        """Write what is drawn, layer by layer."""
        groups: dict[tuple[str, str], list[Ink]] = {}
        for one in ink:
            groups.setdefault((one.size, one.purpose), []).append(one)
        lines: list[str] = []
        for size in ("", *self.sizes):
            own = [(purpose, groups[size, purpose]) for purpose in PURPOSES if (size, purpose) in groups]
            if own and size and self.layered:
                lines.append(f"/OC /{size_tag(self.sizes.index(size))} BDC")
            for purpose, items in own:
                if self.layered:
                    lines.append(f"/OC /{purpose_tag(purpose)} BDC")
                self._write(items, lines)
                if self.layered:
                    lines.append("EMC")
            if own and size and self.layered:
                lines.append("EMC")
        return "\n".join(lines).encode("ascii")

    def _write(self, items: Sequence[Ink], lines: list[str]) -> None:
        """Write one layer's part; what stays as it was - look, colour, height of letters - is said once."""
        look: LineLook | None = None
        fill, height, in_words = "", 0.0, False
        for one in items:
            is_words = isinstance(one, Lettering)
            if is_words is not in_words:
                in_words = is_words
                lines.append("BT" if in_words else "ET")
            colour = one.colour if isinstance(one, Lettering) else one.look.colour if one.filled else ""
            if colour and colour != fill:
                fill = colour
                lines.append(f"{_colour(fill)} rg")
            if isinstance(one, Lettering):
                if one.height != height:
                    height = one.height
                    lines.append(f"/{FONT} {_size(height)} Tf")
            elif not one.filled and one.look is not look and one.look != look:
                look = one.look
                lines.append(_state(look))
            lines.append(self._words(one) if isinstance(one, Lettering) else _path(one))
        if in_words:
            lines.append("ET")

    def _words(self, words: Lettering) -> str:
        (x, y), turn = words.at, _LEVEL
        if words.angle_rad or words.middle:
            cos, sin, turn = _turn(words.angle_rad)
            half = self.face.width(words.text, words.height) / 2.0 if words.middle else 0.0
            x, y = x - half * cos, y - half * sin
        text = self._texts.get(words.text) or self._text(words.text)
        return "%s %.3f %.3f Tm <%s> Tj" % (turn, x, y, text)  # noqa: UP031 - as in path_content

    def _text(self, text: str) -> str:
        """Return the numbers of a text's glyphs as they are written."""
        self._texts[text] = "".join([self._codes.get(letter) or self._code(letter) for letter in text])
        return self._texts[text]

    def _code(self, letter: str) -> str:
        """Note a letter, and return the number of its glyph as it is written."""
        known = self.face.known(letter)
        number = self.face.number(known)
        # Two letters may share a glyph, as a space and one that does not break: the first to come gives its name.
        self.letters.setdefault(number, known)
        self._codes[letter] = f"{number:04x}"
        return self._codes[letter]


def size_tag(number: int) -> str:
    """Return what the layer of a size is called among a page's resources."""
    return f"S{number}"


def purpose_tag(purpose: str) -> str:
    """Return what the layer of a purpose is called among a page's resources."""
    return f"P{PURPOSES.index(purpose)}"


def matrix(affine: Affine) -> str:
    """Write a map as the operator that puts it before the ones in force.

    >>> matrix(Affine.translation(12.5, 0.0))
    '1 0 0 1 12.5 0 cm'
    """
    parts = (affine.a, affine.b, affine.c, affine.d, affine.e, affine.f)
    return " ".join(figure(part, 9) for part in parts) + " cm"


@lru_cache(4096)
def figure(value: float, places: int = 3) -> str:
    """Write a number as PDF takes it: without an exponent, and without empty places.

    >>> figure(12.5), figure(-1e-17), figure(2.0)
    ('12.5', '0', '2')
    """
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


@cache
def _turn(angle_rad: float) -> tuple[float, float, str]:
    """Return the cosine and sine of a base line's turn, and the turn as it is written."""
    cos, sin = math.cos(angle_rad), math.sin(angle_rad)
    return cos, sin, " ".join(figure(part, 6) for part in (cos, sin, sin, -cos))


@cache
def _size(height: float) -> str:
    return figure(height)


@cache
def _state(look: LineLook) -> str:
    dashes = " ".join(map(figure, look.dashes))
    return f"{figure(look.width)} w [{dashes}] 0 d {_colour(look.colour)} RG"


def _path(stroke: Stroke) -> str:
    return f"{path_content(stroke.line)} {'f' if stroke.filled else 's' if stroke.line.closed else 'S'}"


def path_content(path: Path) -> str:
    """Write the segments of a path, but for the straight one that closes it: the operator that follows draws that.

    >>> path_content(Path.polygon([(0, 0), (10, 0), (10, 5.125)]))
    '0.000 0.000 m 10.000 0.000 l 10.000 5.125 l'
    """
    segments = path.segments
    if path.closed and len(segments) > 1 and isinstance(segments[-1], Line):
        segments = segments[:-1]
    # One format for the whole, the same for all lines of the same kinds of segments: half of the time that a word for
    # each figure would take.
    figures = [*path.start]
    for segment in segments:
        if isinstance(segment, Line):
            figures += segment.end
        else:
            figures += segment.control1
            figures += segment.control2
            figures += segment.end
    return _shape(tuple(map(type, segments))) % tuple(figures)


@cache
def _shape(kinds: tuple[type[Segment], ...]) -> str:
    """Return the format of a line of such segments."""
    parts = ("%.3f %.3f l" if kind is Line else "%.3f %.3f %.3f %.3f %.3f %.3f c" for kind in kinds)
    return " ".join(("%.3f %.3f m", *parts))


@cache
def _colour(colour: str) -> str:
    return " ".join(figure(int(colour[k : k + 2], 16) / 255.0) for k in (1, 3, 5))
