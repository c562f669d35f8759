"""Papers: their sizes by the standards, the tile that fits two of them, and what printers need."""

from __future__ import annotations

import math

import pytest

from crossgrain.errors import ParameterError
from crossgrain.output.sheets.paper import LEAST_MARGIN, LONGEST, MARGIN, TILE, paper_named

NAMES = ("a4", "letter", "a3", "a0", "roll-914mm", "roll-36in", "projector")


@pytest.mark.parametrize(
    ("name", "size"),
    [
        ("a4", (210.0, 297.0)),  # ISO 216
        ("a3", (297.0, 420.0)),  # ISO 216
        ("a0", (841.0, 1189.0)),  # ISO 216
        ("letter", (8.5 * 25.4, 11.0 * 25.4)),  # ANSI/ASME Y14.1: 215.9 × 279.4 mm
    ],
)
def test_sizes_are_those_of_the_standards(name, size):
    paper = paper_named(name)
    assert (paper.width, paper.height) == pytest.approx(size, abs=1e-9)


def test_a_sizes_are_halves_of_one_square_metre():
    """ISO 216: A0 has an area of 1 m² and sides as 1 : √2; each size is half of the one before, down to the mm."""
    wide, high = 1000.0 / 2.0**0.25, 1000.0 * 2.0**0.25
    sizes = {}
    for number in range(5):
        sizes[f"a{number}"] = (wide, high)
        wide, high = high / 2.0, wide
    for name in ("a0", "a3", "a4"):
        paper = paper_named(name)
        assert (paper.width, paper.height) == pytest.approx(sizes[name], abs=0.6)
        assert paper.height / paper.width == pytest.approx(math.sqrt(2.0), abs=0.002)


def test_one_tile_of_190_by_259_fits_a4_and_letter_with_10_mm_margins():
    for name in ("a4", "letter"):
        paper = paper_named(name)
        assert paper.tile == TILE == (190.0, 259.0)
        assert min(paper.margins) >= 10.0


@pytest.mark.parametrize("name", NAMES)
def test_margins_are_what_printers_at_home_need(name):
    assert LEAST_MARGIN == 0.25 * 25.4
    paper = paper_named(name)
    left, top, right, bottom = paper.margins
    assert min(left, top, right, bottom) >= LEAST_MARGIN
    assert (left, top) == (MARGIN, MARGIN)
    assert left + paper.tile[0] + right == pytest.approx(paper.width, abs=1e-9)
    assert top + paper.tile[1] + bottom == pytest.approx(paper.height, abs=1e-9)


def test_a_roll_is_as_wide_as_is_said():
    assert paper_named("roll-914mm").width == 914.0
    assert paper_named("roll-36in").width == pytest.approx(914.4)
    assert paper_named("roll-914mm").way == "roll"


def test_no_page_is_longer_than_a_pdf_page_may_be():
    """14,400 points, 200 inches (PDF 1.7 Reference, appendix C: what Acrobat shows)."""
    for name in NAMES:
        assert paper_named(name).height <= LONGEST < 200.0 * 25.4


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("a9", "There is no paper a9. There are: a4, letter"),
        ("", "There is no paper"),
        ("roll-", "The width of a roll cannot be read in roll-"),
        ("roll-914", "The width of a roll cannot be read in roll-914"),
        ("roll-wide", "Write it so: roll-914mm."),
        ("roll-15mm", "too small to draw on with margins of 10"),
        ("roll-0mm", "Take a larger one"),
    ],
)
def test_what_is_no_paper_gets_one_sentence(name, said):
    with pytest.raises(ParameterError) as caught:
        paper_named(name)
    assert said in str(caught.value).replace(" ", " ")
