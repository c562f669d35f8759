"""Every line of the table of pressures, with its source; the law in both its forms."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cloths import straight
from crossgrain.errors import ParameterError
from crossgrain.fabric.comparison import Level, Matching, compare
from crossgrain.fabric.pressure import BANDS, band_of, caution, check_accepted, pressure, tension_for
from crossgrain.units import parse_pressure

girths, tensions = st.floats(100.0, 1500.0), st.floats(0.01, 20.0)


@given(tensions, girths)
def test_laplace_by_girth_and_by_radius(tension, girth):
    """p = T/r for a thin shell (law of Laplace), with T in N/m and r in m: Pa."""
    radius_m = girth / 1000.0 / (2.0 * math.pi)
    assert pressure(tension, girth) * 1000.0 == pytest.approx(tension * 100.0 / radius_m, rel=1e-12)


@given(tensions, girths)
def test_tension_for_a_pressure_is_the_inverse(tension, girth):
    assert tension_for(pressure(tension, girth), girth) == pytest.approx(tension, rel=1e-12)


def test_one_newton_per_centimetre_on_a_metre():
    """Derived from the law: 1 N/cm on a girth of 100 cm = 0.628 kPa = 4.71 mmHg."""
    assert pressure(1.0, 1000.0) == pytest.approx(0.628, abs=5e-4)
    assert pressure(1.0, 1000.0) / parse_pressure("1 mmHg") == pytest.approx(4.71, abs=5e-3)


@given(st.floats(0.05, 5.0), st.floats(10.0, 120.0), st.floats(3.0, 20.0), st.integers(1, 3))
def test_the_form_used_for_bandages(kgf, girth_cm, width_cm, layers):
    """p[mmHg] = 4620 T[kgf] n / (girth[cm] width[cm]): Thomas 2003, from memory; exactly 4621.7, derived."""
    exact = layers * pressure(kgf * 9.80665 / width_cm, girth_cm * 10.0) / parse_pressure("1 mmHg")
    assert exact == pytest.approx(4621.7 * kgf * layers / (girth_cm * width_cm), rel=1e-4)
    assert exact == pytest.approx(4620.0 * kgf * layers / (girth_cm * width_cm), rel=5e-4)


def test_the_comfort_bands():
    """Anthropometry, Apparel Sizing and Design, table 13.5 (seen): 0.4, 1.3, 2.0, 3.3 kPa."""
    assert [band.high for band in BANDS] == [0.4, 1.3, 2.0, 3.3, math.inf]
    assert [band.low for band in BANDS] == [0.0, 0.4, 1.3, 2.0, 3.3]
    assert band_of(0.39).words == "negligible"
    assert band_of(1.0).words.startswith("comfortable")
    assert band_of(1.5).words.startswith("critical, for casual")
    assert "medical" in band_of(2.5).words
    assert band_of(9.0).words.startswith("critical even")


@pytest.mark.parametrize(
    ("low_mmhg", "high_mmhg", "low_kpa", "high_kpa"), [(18, 21, 2.4, 2.8), (23, 32, 3.1, 4.3), (34, 46, 4.5, 6.1)]
)
def test_compression_classes_are_never_called_comfortable(low_mmhg, high_mmhg, low_kpa, high_kpa):
    """RAL-GZ 387/1 (seen): class I 18–21 mmHg = 2.4–2.8 kPa, II 23–32 = 3.1–4.3, III 34–46 = 4.5–6.1."""
    assert parse_pressure(f"{low_mmhg} mmHg") == pytest.approx(low_kpa, abs=0.05)
    assert parse_pressure(f"{high_mmhg} mmHg") == pytest.approx(high_kpa, abs=0.05)
    assert caution(parse_pressure(f"{low_mmhg} mmHg"), "hip")
    assert parse_pressure("49 mmHg") == pytest.approx(6.5, abs=0.05)  # class IV begins


@pytest.mark.parametrize(("target", "strain", "cut"), [(1.3, 0.1379, 87.88), (2.0, 0.2122, 82.49)])
def test_a_cloth_that_pulls_in_proportion(target, strain, cut):
    """Derived: 3 N/cm at 20 %, girth 100 cm: 1.3 kPa at 13.79 %, cut 87.88 cm; 2.0 kPa at 21.22 %, cut 82.49 cm."""
    cloth = straight(3.0)
    level = Level(name="hip", body=1000.0, piece=950.0)
    [row] = compare(cloth, cloth, [level], Matching(match="pressure", target=target))
    assert row.matched.strain == pytest.approx(strain, abs=5e-5)
    assert row.girth.value / 10.0 == pytest.approx(cut, abs=0.01)
    assert row.matched.pressure.value == pytest.approx(target, rel=1e-9)


class TestCautions:
    @pytest.mark.parametrize(
        ("kpa", "level", "said"),
        [
            (0.5, "thigh", ""),
            (1.3, "thigh", ""),
            (1.31, "thigh", "JAMA 1984;251:1553"),
            (1.31, "waist", "1.3 kPa is too much"),
            (1.9, "hip", ""),
            (2.01, "hip", "2.0 kPa"),
            (2.01, "thigh", "2.0 kPa"),
            (3.31, "knee", "3.3 kPa"),
        ],
    )
    def test_where_one_is_called_for(self, kpa, level, said):
        assert bool(caution(kpa, level)) == bool(said)
        assert said in caution(kpa, level)

    def test_more_than_a_body_bears_must_be_accepted(self):
        check_accepted({"hip": 3.3}, is_accepted=False)
        check_accepted({}, is_accepted=False)
        check_accepted({"hip": 9.0}, is_accepted=True)
        with pytest.raises(ParameterError, match="--accept-pressure"):
            check_accepted({"waist": 1.0, "hip": 3.4}, is_accepted=False)
