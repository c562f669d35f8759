"""The gauge for the strip test and the chart that ships with a pattern, as PDF."""

from __future__ import annotations

import pytest

from cloths import cloth
from crossgrain.output.gauge_marks import GAUGE, STEP, Rule, gauge_marks
from crossgrain.output.sheets.gauge_sheet import gauge_sheet
from sheet_reading import pages_of, printed_by, rendered, text_of


@pytest.fixture
def gauge(tmp_path):
    path = tmp_path / "gauge.pdf"
    path.write_bytes(gauge_sheet(cloth((0.1, 0.2), (1.0, 3.0), name="a <cloth>")))
    return path


def test_the_gauge_is_one_page_of_a4_at_true_scale(gauge):
    """ISO 216. Clamp lines 100 mm apart, marks every 5 mm, squares of 100 mm and 4 in; read from the file's numbers."""
    [page] = pages_of(gauge.read_bytes())
    assert (page.width, page.height) == pytest.approx((210.0, 297.0), abs=1e-4)
    thick = sorted(one.box[1] for one in page.lines() if one.width == 0.5)
    assert thick[1] - thick[0] == pytest.approx(GAUGE, abs=0.001)
    marks = sorted({round(one.box[1], 3) for one in page.lines() if one.width == 0.3})
    assert [b - a for a, b in zip([thick[1], *marks], marks, strict=False)] == pytest.approx([STEP] * 16, abs=0.002)
    squares = sorted(one.box[2] - one.box[0] for one in page.lines() if one.kinds == "mllll")
    assert squares == pytest.approx([100.0, 101.6], abs=0.001)


def test_the_gauge_draws_what_the_drawing_of_it_does(gauge):
    [page] = pages_of(gauge.read_bytes())
    rules = [(*one.start, *one.end) for one in gauge_marks() if isinstance(one, Rule)]
    drawn = [(*one.points[0], *one.points[-1]) for one in page.lines() if one.kinds == "ml"]
    assert len(drawn) == len(rules)
    for one, other in zip(sorted(drawn), sorted(rules), strict=True):
        assert one == pytest.approx(other, abs=0.001)


def test_the_gauge_prints_whole_on_a4_and_letter(gauge):
    """Letter is 279.4 mm high; printers at home leave 6.35 mm."""
    page = rendered(gauge, 1, 254)
    rows, columns = (page < 200).any(axis=1).nonzero()[0], (page < 200).any(axis=0).nonzero()[0]
    assert rows.min() > 63
    assert rows.max() < 2794 - 63
    assert columns.min() > 63
    assert columns.max() < 2100 - 63


def test_its_words_are_found_and_its_font_is_embedded(gauge):
    text = text_of(gauge)
    for words in ("Gauge for the strip test", "80 %", "18.0 cm", "Marks: a <cloth>", "the inner square is 100 mm wide"):
        assert words in text
    [line] = printed_by("pdffonts", gauge).splitlines()[2:]
    assert line.split()[-5:-2] == ["yes", "yes", "yes"]
