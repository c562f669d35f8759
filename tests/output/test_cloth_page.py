"""Curves are drawn where the figures say, and pages hold every level, every caution, and nothing from the network."""

from __future__ import annotations

import re

import pytest
from lxml import etree, html

from cloths import cloth, straight
from crossgrain.fabric.bench import Pull
from crossgrain.fabric.body import Body
from crossgrain.fabric.chart import chart
from crossgrain.fabric.cloth import Cloth, Direction, Learned
from crossgrain.fabric.comparison import Level, compare
from crossgrain.fabric.pressure import ESTIMATE
from crossgrain.model import Finding
from crossgrain.output.chart_page import chart_page
from crossgrain.output.cloth_page import comparison_page
from crossgrain.output.curve_drawing import curve_drawing

OLD, NEW = straight(3.0, name="<old> & firm"), straight(1.5, name="new")
PULLED = Cloth(name="remnant", cross=Direction(test=Pull(gauge=100.0, length=120.0)))
LEVELS = (Level(name="hip", body=1000.0, piece=950.0), Level(name="thigh", body=600.0, piece=610.0, limbs=2))


def places(drawing):
    root = etree.fromstring(drawing)
    return [(float(one.get("cx")), float(one.get("cy"))) for one in root.iter("{*}circle")]


class TestCurves:
    def test_readings_lie_in_proportion(self):
        """Three readings of a straight cloth lie on one line through the origin of the axes."""
        (x1, y1), (x2, y2), (x3, y3) = places(curve_drawing([("a", OLD.cross)]))
        assert (x2 - x1) / (x3 - x1) == pytest.approx(1.0 / 3.0, abs=1e-3)
        assert (y2 - y1) / (y3 - y1) == pytest.approx(1.0 / 3.0, abs=1e-3)
        assert x1 < x2 < x3
        assert y1 > y2 > y3

    def test_two_cloths_are_told_apart_by_dashes(self):
        drawing = curve_drawing([("a", OLD.cross), ("b", NEW.cross)])
        assert len(places(drawing)) == 6
        assert drawing.count("stroke-dasharray:3 1.6") == 2  # the curve and its key

    def test_what_was_learned_is_no_dot(self):
        taught = OLD.having_learned(Learned(tension=2.0, strain=0.15))
        assert len(places(curve_drawing([("a", taught.cross)]))) == 3
        assert (
            curve_drawing([("a", taught.cross)]).count("<path") == curve_drawing([("a", OLD.cross)]).count("<path") + 1
        )

    def test_unknown_firmness_is_said(self):
        assert "firmness unknown" in curve_drawing([("remnant", PULLED.cross)])

    def test_everything_lies_on_the_sheet(self):
        for one in (cloth((0.01, 0.02), (0.001, 0.002)), cloth((0.9, 1.9), (20.0, 90.0)), OLD):
            root = etree.fromstring(curve_drawing([("a", one.cross), ("b", PULLED.cross)]))
            for path in root.iter("{*}path"):
                numbers = [float(number) for number in re.findall(r"-?[0-9.]+", path.get("d"))]
                assert all(0.0 <= x <= 150.0 for x in numbers[::2])
                assert all(0.0 <= y <= 90.0 for y in numbers[1::2])


class TestComparison:
    def page(self, old=OLD, new=NEW, **more):
        return comparison_page(old, new, compare(old, new, LEVELS), body=Body(name="size"), **more)

    def test_a_bar_for_the_body_and_both_cloths_at_each_level(self):
        root = html.document_fromstring(self.page())
        widths = [float(bar.get("width")) for bar in root.iter("rect")]
        assert len(widths) == 6
        girths = (1000.0, 950.0, 1000.0 / (1.0 + 2.0 * (1000.0 / 950.0 - 1.0)), 600.0, 610.0, 610.0)
        assert [width / widths[0] for width in widths] == pytest.approx([g / 1000.0 for g in girths], abs=1e-3)

    def test_cautions_stand_on_it(self):
        page = self.page(findings=[Finding(piece="hip", message="Too tight.", severity="caution")])
        text = html.document_fromstring(page).text_content()
        assert ESTIMATE in text
        assert "Too tight." in text
        assert "table 13.5" in text

    def test_names_are_no_markup_and_nothing_is_fetched(self):
        page = self.page()
        assert "<old>" not in page
        assert not re.search(r"(src|href)=", page)
        assert "Content-Security-Policy" in page

    def test_a_range_is_a_range(self):
        assert re.search(r"[0-9.]+ mm … [0-9.]+ mm", self.page(new=PULLED))


def test_the_chart_says_what_to_hang_and_what_to_take_in():
    tight = (Level(name="thigh", body=600.0, piece=500.0, limbs=2), *LEVELS[:1])
    made = chart(OLD, tight, 2.94, (0.1, 0.2, 0.4))
    text = html.document_fromstring(chart_page(made, OLD, Body(name="size"), "trousers")).text_content()
    assert "Hang 1499 g on a strip 5 cm wide (2.94 N/cm)" in text
    assert ESTIMATE in text
    assert all(sentence in text for sentence in made.cautions)
    assert made.cautions
    assert "20 %, 120.0 mm" in text
