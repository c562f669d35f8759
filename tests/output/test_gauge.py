"""The gauge prints at true scale: every mark stands where its label says."""

from __future__ import annotations

import pytest
from lxml import etree

from cloths import cloth
from crossgrain.fabric.bench import Pull
from crossgrain.fabric.cloth import Cloth, Direction
from crossgrain.output.gauge import GAUGE, STEP, gauge

SVG = "{http://www.w3.org/2000/svg}"


def page(benchmark=None):
    return etree.fromstring(gauge(benchmark).encode("utf-8"))


def labelled(root, ending):
    """Return what is written and how high its middle stands: texts are set 1.2 mm below it."""
    return {
        text.text: float(text.get("y")) - 1.2 for text in root.iter(f"{SVG}text") if str(text.text).endswith(ending)
    }


def levels(root):
    return {round(float(line.get("y1")), 2) for line in root.iter(f"{SVG}line") if line.get("y1") == line.get("y2")}


def test_a_user_unit_is_a_millimetre_of_a4():
    """ISO 216: A4 is 210 × 297 mm."""
    root = page()
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("210mm", "297mm", "0 0 210 297")


def test_clamp_lines_lie_a_gauge_apart_and_marks_every_five_millimetres():
    root = page()
    thick = sorted(float(line.get("y1")) for line in root.iter(f"{SVG}line") if line.get("stroke-width") == "0.5")
    assert thick[1] - thick[0] == pytest.approx(GAUGE) == 100.0
    marks = sorted(level for level in levels(root) if level > thick[1])
    assert [b - a for a, b in zip([thick[1], *marks], marks, strict=False)] == pytest.approx([STEP] * len(marks))


def test_labels_in_percent_centimetres_and_inches_stand_at_their_marks():
    root = page()
    zero = max(float(line.get("y1")) for line in root.iter(f"{SVG}line") if line.get("stroke-width") == "0.5")
    for ending, length in ((" %", lambda n: 100.0 + n), (" cm", lambda n: 10.0 * n), (" in", lambda n: 25.4 * n)):
        found = {text: y for text, y in labelled(root, ending).items() if y > zero and len(text) < 9}
        assert len(found) >= 8
        for text, y in found.items():
            assert y - zero + 100.0 == pytest.approx(length(float(text.removesuffix(ending))), abs=0.13), text


def test_squares_prove_the_scale():
    sides = sorted(float(rect.get("width")) for rect in page().iter(f"{SVG}rect"))
    assert sides == pytest.approx([100.0, 4 * 25.4])
    assert all(rect.get("width") == rect.get("height") for rect in page().iter(f"{SVG}rect"))


def test_it_prints_whole_on_a4_and_letter():
    """Letter is 215.9 × 279.4 mm; most printers leave 6 mm."""
    root = page(cloth((0.1, 0.2), (1.0, 3.0), name="a cloth"))
    for rect in root.iter(f"{SVG}rect"):
        assert float(rect.get("x")) + float(rect.get("width")) <= 210.0 - 6.0
    assert max(float(text.get("y")) for text in root.iter(f"{SVG}text")) <= 279.4 - 6.0


def test_a_benchmark_is_marked_at_each_load():
    one = cloth((0.1, 0.2), (1.0, 3.0), name="a <cloth>")
    root, plain = page(one), page()
    arrows = list(root.iter(f"{SVG}path"))
    assert len(arrows) == 2
    assert not list(plain.iter(f"{SVG}path"))
    assert any("a <cloth>" in str(text.text) for text in root.iter(f"{SVG}text"))
    pulled = Cloth(name="remnant", cross=Direction(test=Pull(gauge=100.0, length=120.0)))
    assert not list(page(pulled).iter(f"{SVG}path"))
