"""The typeface, as fontTools reads it: numbers, widths and outlines of letters, and what is cut out of it."""

from __future__ import annotations

from importlib.resources import files
from io import BytesIO

import pytest
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

from crossgrain.output.sheets.typeface import typeface

FRENCH = "àâæçéèêëîïôœùûüÿÀÂÆÇÉÈÊËÎÏÔŒÙÛÜŸ«»’…–—"
ENGLISH = "".join(map(chr, range(0x20, 0x7F)))
SIGNS = "×·½¼¾°²“”‘±−€"
OTHERS = "łŁßñøåžšΩαЖя"


def whole():
    return TTFont(BytesIO(files("crossgrain.output.sheets").joinpath("font", "roboto.ttf").read_bytes()))


def outline(font, name):
    pen = DecomposingRecordingPen(font.getGlyphSet())
    font.getGlyphSet()[name].draw(pen)
    return pen.value


@pytest.mark.parametrize("letters", [ENGLISH, FRENCH, SIGNS, OTHERS])
def test_every_letter_has_the_glyph_and_the_width_that_fonttools_finds(letters):
    font, face = whole(), typeface()
    names, cmap = font.getGlyphOrder(), font.getBestCmap()
    for letter in letters:
        assert names[face.number(letter)] == cmap[ord(letter)], letter
        width = font["hmtx"][cmap[ord(letter)]][0]
        assert face.advance(face.number(letter)) == pytest.approx(1000.0 * width / font["head"].unitsPerEm)


def test_every_letter_that_fonttools_finds_is_found():
    font, face = whole(), typeface()
    order = font.getGlyphOrder()
    assert {letter: order[face.number(chr(letter))] for letter in font.getBestCmap()} == font.getBestCmap()


def test_a_letter_it_has_not_is_a_question_mark():
    assert typeface().number("漢") == typeface().number("?") != 0


def test_what_is_cut_down_has_the_outlines_that_are_used_and_no_others():
    font, face = whole(), typeface()
    used = "Couture é œ Å 12,5"
    numbers = frozenset(face.number(letter) for letter in used)
    small = TTFont(BytesIO(face.cut_down(numbers)))
    order = small.getGlyphOrder()
    for number, name in enumerate(font.getGlyphOrder()):
        if number in numbers:
            assert outline(small, order[number]) == outline(font, name)
    empty = [name for name in order if small["glyf"][name].numberOfContours == 0]
    assert len(empty) > 1000
    assert len(face.cut_down(numbers)) < 0.4 * len(face.cut_down(frozenset(range(len(order)))))


def test_a_letter_with_an_accent_brings_its_parts():
    face, font = typeface(), whole()
    name = font.getBestCmap()[ord("é")]
    assert font["glyf"][name].isComposite()
    small = TTFont(BytesIO(face.cut_down(frozenset({face.number("é")}))))
    assert outline(small, small.getGlyphOrder()[face.number("é")]) == outline(font, name)


def test_the_sums_of_the_file_are_right():
    """OpenType: the sum of the whole file and its adjustment make 0xB1B0AFBA; fontTools checks those of the tables."""
    data = typeface().cut_down(frozenset({5}))
    assert len(data) % 4 == 0
    total = sum(int.from_bytes(data[k : k + 4], "big") for k in range(0, len(data), 4)) & 0xFFFFFFFF
    assert total == 0xB1B0AFBA
    TTFont(BytesIO(data), checkChecksums=2)


def test_the_licence_lies_beside_the_file_and_allows_to_embed():
    text = files("crossgrain.output.sheets").joinpath("font", "LICENSE").read_text(encoding="utf-8")
    assert "Apache License" in text
    font = whole()
    assert "Apache License" in font["name"].getDebugName(13)
    assert font["OS/2"].fsType == 0, "installable embedding (OpenType, OS/2)"
