"""Amounts are read as a maker writes them, or refused in one clear sentence; never misread."""

from __future__ import annotations

import math
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain import units
from crossgrain.errors import UnitError

lengths = st.floats(-9e5, 9e5)
READERS = (
    units.parse_length,
    units.parse_share,
    units.parse_angle,
    units.parse_mass,
    units.parse_force,
    units.parse_pressure,
    units.parse_tension,
    units.parse_load,
)


@pytest.fixture(scope="module")
def outside_registry():
    import pint

    return pint.UnitRegistry()


def outcome_of(read, text):
    try:
        return read(text), None
    except UnitError as error:
        return None, error


class TestLaws:
    @given(mm=lengths, unit=st.sampled_from(["mm", "cm", "in"]), digits=st.integers(0, 6))
    def test_a_printed_length_is_read_back_within_half_of_its_last_place(self, mm, unit, digits):
        text = units.format_length(mm, unit, digits=digits)
        step = {"mm": 1.0, "cm": 10.0, "in": 25.4}[unit] * 10.0**-digits
        assert abs(units.parse_length(text, signed=True) - mm) <= step / 2 * (1 + 1e-6) + abs(mm) * 1e-15

    @given(mm=lengths)
    def test_a_printed_fraction_of_an_inch_is_read_back_within_half_a_sixteenth(self, mm):
        text = units.format_length(mm, "in")
        assert abs(units.parse_length(text, signed=True) - mm) <= 25.4 / 32 * (1 + 1e-9)

    @given(mm=lengths, unit=st.sampled_from(["mm", "cm", "in"]))
    def test_printing_what_was_read_gives_the_same_text(self, mm, unit):
        text = units.format_length(mm, unit)
        assert units.format_length(units.parse_length(text, signed=True), unit) == text

    @given(ratio=st.floats(-10, 10), digits=st.integers(0, 6))
    def test_a_printed_share_is_read_back(self, ratio, digits):
        text = units.format_share(ratio, digits=digits)
        assert units.parse_share(text, signed=True) == pytest.approx(ratio, abs=0.5001 * 10.0 ** (-digits - 2), rel=0)

    @given(degrees=st.floats(-720, 720), digits=st.integers(0, 6))
    def test_a_printed_angle_is_read_back(self, degrees, digits):
        text = units.format_angle(math.radians(degrees), digits=digits)
        back = math.degrees(units.parse_angle(text))
        assert back == pytest.approx(degrees, abs=0.5001 * 10.0**-digits, rel=1e-12)

    @given(sixteenths=st.integers(0, 4000), space=st.sampled_from([" ", "", "  ", "\u00a0", "\u202f"]))
    def test_every_sixteenth_of_an_inch_is_exact_in_every_spelling(self, sixteenths, space):
        whole, rest = divmod(sixteenths, 16)
        expected = sixteenths * 25.4 / 16
        assert units.parse_length(f"{whole} {rest}/16{space}in") == pytest.approx(expected, rel=1e-15)
        assert units.parse_length(f"{sixteenths}/16{space}in") == pytest.approx(expected, rel=1e-15)
        assert units.parse_length(f"{sixteenths / 16}{space}in") == pytest.approx(expected, rel=1e-15)

    @given(whole=st.integers(0, 999), part=st.from_regex(r"[0-9]{1,2}", fullmatch=True))
    def test_a_comma_is_a_point(self, whole, part):
        assert units.parse_length(f"{whole},{part} cm") == units.parse_length(f"{whole}.{part} cm")

    @given(mm=st.floats(0.1, 9e5))
    def test_a_minus_turns_the_sign_and_nothing_else(self, mm):
        text = units.format_length(mm)
        assert units.parse_length(f"-{text}", signed=True) == -units.parse_length(text)
        with pytest.raises(UnitError, match="below zero"):
            units.parse_length(f"-{text}")

    @given(
        read=st.sampled_from(READERS),
        text=st.text(max_size=70) | st.text("0123456789.,/+-−½⅜ mcinft\"%°degNkPa'e", max_size=12),
    )
    def test_any_text_is_a_finite_amount_or_a_unit_error_on_one_line(self, read, text):
        value, error = outcome_of(read, text)
        if error is None:
            assert math.isfinite(value)
        else:
            assert error.advice
            assert str(error).isprintable()
            assert len(str(error)) < 250

    @given(read=st.sampled_from(READERS), text=st.from_regex(r"[0-9]{1,3}([.,][0-9]{1,4})?", fullmatch=True))
    def test_a_bare_number_is_never_an_amount(self, read, text):
        with pytest.raises(UnitError, match=r"has no unit|may mean"):
            read(text)


class TestLengths:
    @pytest.mark.parametrize(
        ("text", "mm"),
        [
            ("12.5 mm", 12.5),
            ("12,5 mm", 12.5),
            ("1.2cm", 12.0),
            (".5 cm", 5.0),
            (",5 cm", 5.0),
            ("0,125 in", 3.175),
            ("1.250 mm", 1.25),
            ("1250 mm", 1250.0),
            ("1.5 m", 1500.0),
            ("3/8 in", 9.525),
            ("1 1/2 in", 38.1),
            ("1-1/2 in", 38.1),
            ("3/2 in", 38.1),
            ("⅜ in", 9.525),
            ("1½ in", 38.1),
            ("1 ½ in", 38.1),
            ("1⁄2 in", 12.7),
            ('2"', 50.8),
            ("2″", 50.8),
            ('5/8"', 15.875),
            ("2 inches", 50.8),
            ("1 ft", 304.8),
            ("1 yd", 914.4),
            ("72 pt", 25.4),
            ("+3 mm", 3.0),
            ("0 mm", 0.0),
            (" 3  mm ", 3.0),
        ],
    )
    def test_reads(self, text, mm):
        assert units.parse_length(text) == pytest.approx(mm, rel=1e-15, abs=0)

    @pytest.mark.parametrize(
        ("text", "said"),
        [
            ("", "cannot be read"),
            ("mm", "cannot be read"),
            ("nan mm", "cannot be read"),
            ("inf mm", "cannot be read"),
            ("-inf mm", "cannot be read"),
            ("1e3 mm", "cannot be read"),
            ("0x10 mm", "cannot be read"),
            ("12", "has no unit"),
            ("12 px", "“px”"),
            ("12 MM", "“MM”"),
            ("8 %", "“%”"),
            ("3°", "“°”"),
            ("1,250 mm", "1250 or 1.250"),
            ("1,234.5 mm", "cannot be read"),
            ("1.234,5 mm", "cannot be read"),
            ("1 250 mm", "cannot be read"),
            ("1'250 mm", "cannot be read"),
            ("1.2.3 mm", "cannot be read"),
            ("1..2 mm", "cannot be read"),
            ("1. mm", "cannot be read"),
            ("1/0 in", "divides by zero"),
            ("1 3/2 in", "one or more"),
            ("1.5 1/2 in", "cannot be read"),
            ("½½ in", "cannot be read"),
            ("--3 mm", "cannot be read"),
            ("3 mm mm", "“mm mm”"),
            ("3 mm, 4 mm", "cannot be read"),
            ("5' 3\"", "cannot be read"),
            ("１２ mm", "cannot be read"),
            ("-3 mm", "below zero"),
            ("2000000 mm", "kilometre"),
            ("9" * 60 + " mm", "kilometre"),
            ("9" * 70 + " mm", "cannot be read"),
            ("3 mm\n", "no unit for this"),
        ],
    )
    def test_refuses(self, text, said):
        with pytest.raises(UnitError, match=said.replace(".", r"\.")):
            units.parse_length(text)

    def test_the_error_repeats_the_text_and_shows_how_to_write_it(self):
        with pytest.raises(UnitError) as caught:
            units.parse_length("twelve")
        assert str(caught.value) == ("“twelve” cannot be read as an amount. Write it as 12.5 mm, 1.2 cm or 1 1/2 in.")

    @pytest.mark.parametrize(
        ("mm", "unit", "text"),
        [
            (12.5, "mm", "12.5 mm"),
            (-0.01, "mm", "0.0 mm"),
            (-12.5, "mm", "-12.5 mm"),
            (12.5, "cm", "1.25 cm"),
            (0.0, "in", "0 in"),
            (-0.1, "in", "0 in"),
            (9.525, "in", "3/8 in"),
            (25.4, "in", "1 in"),
            (25.3, "in", "1 in"),
            (38.1, "in", "1 1/2 in"),
            (-38.1, "in", "-1 1/2 in"),
            (1.6, "in", "1/16 in"),
        ],
    )
    def test_prints(self, mm, unit, text):
        assert units.format_length(mm, unit) == text

    @pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
    @pytest.mark.parametrize(
        "printed", [units.format_length, units.format_share, units.format_angle, units.format_area]
    )
    def test_what_is_no_number_is_not_printed(self, printed, value):
        with pytest.raises(ValueError, match="an amount to print"):
            printed(value)


class TestOtherAmounts:
    @pytest.mark.parametrize(("text", "ratio"), [("8 %", 0.08), ("8%", 0.08), ("12,5 %", 0.125), ("½ %", 0.005)])
    def test_shares(self, text, ratio):
        assert units.parse_share(text) == pytest.approx(ratio, rel=1e-15)

    @pytest.mark.parametrize(("text", "degrees"), [("3 deg", 3), ("3°", 3), ("-2,5°", -2.5), ("1½ deg", 1.5)])
    def test_angles(self, text, degrees):
        assert units.parse_angle(text) == pytest.approx(math.radians(degrees), rel=1e-15)

    @pytest.mark.parametrize(
        ("read", "text"),
        [
            (units.parse_share, "0.08"),
            (units.parse_share, "8 mm"),
            (units.parse_share, "-8 %"),
            (units.parse_angle, "3 mm"),
            (units.parse_angle, "3 rad"),
            (units.parse_mass, "3 N"),
            (units.parse_force, "3 kg"),
            (units.parse_pressure, "3 N/cm"),
            (units.parse_tension, "3 N"),
            (units.parse_tension, "-3 N/cm"),
        ],
    )
    def test_one_kind_is_not_taken_for_another(self, read, text):
        with pytest.raises(UnitError, match="Write"):
            read(text)


class TestAgainstOutsideDefinitions:
    """From memory: the international yard and pound agreement of 1959 (1 yd = 0.9144 m, 1 lb = 0.45359237 kg), the
    SI brochure (standard gravity 9.80665 m/s²), CSS Values 3 (1 pt = 1/72 in)."""

    def test_lengths_by_definition(self):
        assert units.parse_length("1 yd") == 914.4
        assert units.parse_length("36 in") == pytest.approx(914.4, rel=1e-15)
        assert units.parse_length("3 ft") == pytest.approx(914.4, rel=1e-15)
        assert units.parse_length("72 pt") == pytest.approx(25.4, rel=1e-15)

    def test_loads_by_definition(self):
        assert units.parse_mass("1 lb") == pytest.approx(0.45359237, rel=1e-14)
        assert units.parse_mass("16 oz") == pytest.approx(0.45359237, rel=1e-14)
        assert units.parse_force("1 kgf") == pytest.approx(9.80665, rel=1e-14)
        assert units.parse_force("1 lbf") == pytest.approx(0.45359237 * 9.80665, rel=1e-14)

    def test_mercury_by_its_definition(self):
        # conventional mmHg, from memory: density 13 595.1 kg/m³ under standard gravity
        assert units.parse_pressure("1 mmHg") == pytest.approx(13595.1 * 9.80665 * 1e-3 / 1000, rel=1e-9)

    def test_loads_in_a_published_test(self):
        # ASTM D3107 gives 3 lb as 1.35 kg and 4 lb as 1.8 kg on the strip, rounded there
        assert units.parse_mass("3 lb") == pytest.approx(1.35, rel=0.01)
        assert units.parse_mass("4 lb") == pytest.approx(1.8, rel=0.01)

    def test_a_load_pulls_with_its_weight_and_a_litre_of_water_is_a_kilogram(self):
        # derived: standard gravity 9.80665 m/s²; 1 l of water = 1 kg
        assert units.parse_load("0.5 l") == units.parse_load("500 ml") == units.parse_load("0.5 kg")
        assert units.parse_load("1 kg") == units.parse_force("1 kgf") == 9.80665
        assert units.parse_load("3 lb") == pytest.approx(units.parse_force("3 lbf"), rel=1e-12)

    @pytest.mark.parametrize(
        ("read", "unit", "outside", "target"),
        [
            *[(units.parse_length, unit, unit, "mm") for unit in ("mm", "cm", "m", "in", "inch", "ft", "yd")],
            (units.parse_length, "pt", "point", "mm"),
            (units.parse_angle, "deg", "degree", "rad"),
            *[(units.parse_mass, unit, unit, "kg") for unit in ("g", "kg", "oz", "lb")],
            *[(units.parse_force, unit, unit, "N") for unit in ("N", "cN", "kgf", "lbf")],
            (units.parse_force, "gf", "force_gram", "N"),
            *[(units.parse_pressure, unit, unit, "kPa") for unit in ("Pa", "hPa", "kPa", "mmHg")],
            *[(units.parse_tension, unit, unit, "N/cm") for unit in ("N/cm", "N/m", "N/mm", "cN/cm")],
            *[(units.parse_tension, unit, unit, "N/cm") for unit in ("kgf/cm", "lbf/in")],
            (units.parse_tension, "gf/cm", "force_gram/cm", "N/cm"),
        ],
    )  # fmt: skip
    def test_factors_are_those_of_pints_own_registry(self, outside_registry, read, unit, outside, target):
        expected = outside_registry.Quantity(1.75, outside).m_as(target)
        assert read(f"1.75 {unit}") == pytest.approx(expected, rel=1e-8)


def test_no_unit_needs_pint():
    program = (
        "import sys; from crossgrain import units; units.parse_length('3/8 in'); units.parse_share('8 %');"
        "units.parse_angle('3°'); units.parse_load('3 lb'); units.parse_tension('3 N/cm');"
        "units.parse_pressure('1 kPa'); units.format_length(3.0); sys.exit('pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
