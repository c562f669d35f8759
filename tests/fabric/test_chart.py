"""The chart that ships with a pattern agrees with comparing the cloths themselves."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cloths import cloth, straight
from crossgrain.errors import ParameterError
from crossgrain.fabric.bench import Pull
from crossgrain.fabric.chart import chart
from crossgrain.fabric.cloth import Cloth, Direction
from crossgrain.fabric.comparison import Level, compare

DRAFTED = cloth((0.06, 0.12, 0.2), (1.0, 3.0, 6.0))
HIP = Level(name="hip", body=1000.0, piece=960.0)
THIGH = Level(name="thigh", body=600.0, piece=580.0, limbs=2)
LOOSE = Level(name="knee", body=360.0, piece=400.0, limbs=2)


@given(st.floats(0.3, 2.5))
def test_a_cloth_that_stiffens_alike_is_taken_in_as_a_comparison_says(factor):
    new = cloth((0.06 * factor, 0.12 * factor, 0.2 * factor), (1.0, 3.0, 6.0))
    made = chart(DRAFTED, (HIP, THIGH, LOOSE), 3.0, (0.12 * factor,))
    rows = compare(DRAFTED, new, (HIP, THIGH, LOOSE))
    for cell, row in zip(made.cells[0], rows, strict=True):
        assert cell.per_seam == pytest.approx(row.per_seam.value, abs=1e-6)
    for p, row in zip(made.pressures, rows, strict=True):
        assert p == pytest.approx(row.drafted.pressure.value, rel=1e-9)


def test_the_reading_of_the_cloth_drafted_for_changes_nothing():
    made = chart(DRAFTED, (HIP, THIGH), 3.0, (0.12,))
    assert [cell.fit for cell in made.cells[0]] == ["as it is", "as it is"]


def test_words_from_too_firm_to_too_soft():
    tight = Level(name="hip", body=1020.0, piece=960.0)
    made = chart(DRAFTED, (tight, LOOSE), 3.0, (0.01, 0.09, 0.12, 0.3, 0.9))
    assert [row[0].fit for row in made.cells] == ["too firm", "let out", "as it is", "take in", "too soft"]
    assert {row[1].fit for row in made.cells} == {"as it is"}
    seams = [row[0].per_seam for row in made.cells]
    assert seams == sorted(seams)


def test_cautions_come_along():
    tight = Level(name="thigh", body=500.0, piece=440.0, limbs=2)
    assert "thigh" in chart(DRAFTED, (tight,), 3.0, (0.12,)).cautions[0]
    assert not chart(DRAFTED, (HIP,), 3.0, (0.12,)).cautions


@pytest.mark.parametrize(
    ("one", "tension", "said"),
    [
        (Cloth(name="remnant", cross=Direction(test=Pull(gauge=100.0, length=120.0))), 3.0, "firmness"),
        (straight(3.0), 7.0, "was tested to 6.00 N/cm"),
        (straight(3.0), 0.0, "was tested to"),
    ],
)
def test_of_what_no_chart_can_be_made(one, tension, said):
    with pytest.raises(ParameterError, match=said):
        chart(one, (HIP,), tension, (0.12,))
