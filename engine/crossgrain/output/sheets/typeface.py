"""The typeface that sheets are written in: Roboto, cut down to the letters of Latin, Greek and Cyrillic writing.

Copyright 2011 Google Inc., under the Apache License 2.0, which stands beside the file and allows to embed and to ship
it. The file was made from the package ``font-roboto`` of the Python registry by fontTools: other letters, hints and
layout tables were left out; nothing else was changed. Into a PDF go the letters that are used.

The little that is needed of the format (OpenType 1.9: ``head``, ``maxp``, ``hmtx``, ``cmap`` 4, ``loca``, ``glyf``) is
read here: a library that knows all of it takes some hundred times as long to load and to cut it down.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from struct import pack, unpack_from
from typing import Final

_FILE: Final = "roboto.ttf"
_INTO_PDF: Final = ("cvt ", "fpgm", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "prep")
_UNKNOWN: Final = "?"

# Flags of a part of a composite letter (OpenType, glyf).
_WORDS, _SCALE, _MORE, _TWO_SCALES, _MATRIX = 0x1, 0x8, 0x20, 0x40, 0x80


class Typeface:
    """A typeface of TrueType outlines.

    Args:
        data: the file.
    """

    def __init__(self, data: bytes) -> None:
        self._data = data
        count = unpack_from(">H", data, 4)[0]
        entries = [unpack_from(">4sLLL", data, 12 + 16 * k) for k in range(count)]
        self._tables = {tag.decode("ascii"): data[start : start + size] for tag, _sum, start, size in entries}
        head, hhea = self._tables["head"], self._tables["hhea"]
        self.units: int = unpack_from(">H", head, 18)[0]
        self.box = tuple(1000 * value // self.units for value in unpack_from(">4h", head, 36))
        self.ascent, self.descent = (1000 * value // self.units for value in unpack_from(">2h", hhea, 4))
        self._glyphs = unpack_from(">H", self._tables["maxp"], 4)[0]
        self._loca = self._offsets()
        advances = unpack_from(">H", hhea, 34)[0]
        widths = unpack_from(">" + "Hh" * advances, self._tables["hmtx"])[::2]
        self._widths = (*widths, *[widths[-1]] * (self._glyphs - advances))
        self._numbers = _letters(self._tables["cmap"])
        self._advances: dict[str, float] = {}

    def known(self, text: str) -> str:
        """Return a text with a question mark for each letter that it has not.

        >>> typeface().known("œ 漢")
        'œ ?'
        """
        return "".join(letter if ord(letter) in self._numbers else _UNKNOWN for letter in text)

    def number(self, letter: str) -> int:
        """Return the number of a letter's glyph; that of a question mark where it has none."""
        return self._numbers.get(ord(letter), self._numbers[ord(_UNKNOWN)])

    def advance(self, number: int) -> float:
        """Return how far a glyph moves the pen, in thousandths of the letters' height."""
        return 1000.0 * float(self._widths[number]) / self.units

    def width(self, text: str, height: float) -> float:
        """Return how wide a line of text is, mm.

        >>> round(typeface().width("hem", 10.0), 2)
        19.58
        """
        known = self._advances
        try:
            total = sum([known[letter] for letter in text])
        except KeyError:
            known.update({letter: self.advance(self.number(letter)) for letter in text})
            total = sum([known[letter] for letter in text])
        return height * total / 1000.0

    def cut_down(self, numbers: frozenset[int]) -> bytes:
        """Return a file for a PDF that has the outlines of some glyphs only, under their numbers.

        Args:
            numbers: of the glyphs that are used.

        Returns:
            A TrueType file without names and letters, as a PDF needs it where it tells the numbers itself.
        """
        glyf = self._tables["glyf"]
        outlines, offsets = bytearray(), list[int]()
        for number in sorted(self._with_parts({0} | numbers)):
            # Those that are left out before it are as long as nothing.
            offsets += [len(outlines)] * (number + 1 - len(offsets))
            outlines += glyf[self._loca[number] : self._loca[number + 1]]
            outlines += b"\0" * (-len(outlines) % 4)
        offsets += [len(outlines)] * (self._glyphs + 1 - len(offsets))
        head = bytearray(self._tables["head"])
        head[8:12] = b"\0" * 4
        head[50:52] = pack(">h", 1)  # offsets of four bytes
        tables = {**self._tables, "glyf": bytes(outlines), "loca": pack(f">{len(offsets)}L", *offsets)}
        tables["head"] = bytes(head)
        return _file({name: tables[name] for name in _INTO_PDF if name in tables})

    def _offsets(self) -> tuple[int, ...]:
        is_long = unpack_from(">h", self._tables["head"], 50)[0]
        if is_long:
            return unpack_from(f">{self._glyphs + 1}L", self._tables["loca"])
        return tuple(2 * half for half in unpack_from(f">{self._glyphs + 1}H", self._tables["loca"]))

    def _with_parts(self, numbers: set[int]) -> set[int]:
        """Add the glyphs of which others are put together: a letter and its accent."""
        glyf, wanted, kept = self._tables["glyf"], list(numbers), set[int]()
        while wanted:
            number = wanted.pop()
            if number in kept:
                continue
            kept.add(number)
            at, end = self._loca[number], self._loca[number + 1]
            if at == end or unpack_from(">h", glyf, at)[0] >= 0:
                continue
            at, flags = at + 10, _MORE
            while flags & _MORE:
                flags, part = unpack_from(">HH", glyf, at)
                wanted.append(part)
                at += 8 if flags & _WORDS else 6
                at += 2 if flags & _SCALE else 4 if flags & _TWO_SCALES else 8 if flags & _MATRIX else 0
        return kept


@cache
def typeface() -> Typeface:
    """Return the typeface of the sheets."""
    return Typeface(files("crossgrain.output.sheets").joinpath("font", _FILE).read_bytes())


def _letters(cmap: bytes) -> dict[int, int]:
    """Read which glyph stands for which letter (format 4, Unicode)."""
    found: dict[int, int] = {}
    for k in range(unpack_from(">H", cmap, 2)[0]):
        at = unpack_from(">HHL", cmap, 4 + 8 * k)[2]
        if unpack_from(">H", cmap, at)[0] != 4:
            continue
        runs = unpack_from(">H", cmap, at + 6)[0] // 2
        ends = unpack_from(f">{runs}H", cmap, at + 14)
        starts, shifts, jumps = (unpack_from(f">{runs}H", cmap, at + 16 + 2 * runs * row) for row in (1, 2, 3))
        for run, (start, end) in enumerate(zip(starts, ends, strict=True)):
            for letter in range(start, end + 1):
                number = letter
                if jumps[run]:
                    place = at + 16 + 6 * runs + 2 * run + jumps[run] + 2 * (letter - start)
                    number = unpack_from(">H", cmap, place)[0]
                    if not number:
                        continue
                number = (number + shifts[run]) & 0xFFFF
                if number and letter != 0xFFFF:
                    found[letter] = number
    return found


def _file(tables: dict[str, bytes]) -> bytes:
    """Put tables together to a file, with the sums that the format asks for."""
    power = len(tables).bit_length() - 1
    head = pack(">LHHHH", 0x00010000, len(tables), 16 << power, power, 16 * (len(tables) - (1 << power)))
    at, entries, body = 12 + 16 * len(tables), b"", b""
    for name, data in tables.items():
        padded = data + b"\0" * (-len(data) % 4)
        entries += pack(">4sLLL", name.encode("ascii"), _sum(padded), at + len(body), len(data))
        body += padded
    whole = bytearray(head + entries + body)
    start = unpack_from(">L", entries, 16 * list(tables).index("head") + 8)[0]
    whole[start + 8 : start + 12] = pack(">L", (0xB1B0AFBA - _sum(bytes(whole))) & 0xFFFFFFFF)
    return bytes(whole)


def _sum(data: bytes) -> int:
    words: tuple[int, ...] = unpack_from(f">{len(data) // 4}L", data)
    return sum(words) & 0xFFFFFFFF
