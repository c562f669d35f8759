"""A bench test: the formulas of the standards, the lines of the table of cloth, and what cannot have been read."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cloths import points, strip
from crossgrain.errors import ParameterError
from crossgrain.fabric.bench import Pull, Reading, Strip, growth, recovery, stretch
from crossgrain.fabric.cloth import Cloth, Direction
from crossgrain.fabric.comparison import Level, compare
from crossgrain.units import parse_length, parse_load

lengths = st.floats(1.0, 500.0)


@given(lengths, st.floats(1.001, 3.0), st.floats(0.0, 1.0))
def test_stretch_less_growth_is_what_recovers(a, longer, share):
    """(B − A)/A, (C − A)/A, (B − C)/(B − A): ASTM D3107, D6614; ISO 20932-1 (wording from memory)."""
    b = a * longer
    c = a + (b - a) * share
    assert recovery(a, b, c) == pytest.approx(1.0 - growth(a, c) / stretch(a, b), abs=1e-9)


@pytest.mark.parametrize(
    ("a", "b", "percent"), [("10 cm", "12 cm", 20.0), ("4 in", "5 in", 25.0), ("4 in", "7 in", 75.0)]
)
def test_a_hand_gauge(a, b, percent):
    """Common practice: 10 cm pulled to 12 cm is 20 %, 4 in to 5 in 25 %, 4 to 7 75 %."""
    pull = Pull(gauge=parse_length(a), length=parse_length(b))
    assert pull.stretch * 100.0 == pytest.approx(percent)


@pytest.mark.parametrize(("load", "n_per_cm"), [("30 N", 6.0), ("15 N", 3.0), ("20 N", 4.0)])
def test_the_strip_of_a_standard(load, n_per_cm):
    """EN 14704-1 (comparison table SGS Safeguards 179/09, seen): 50 mm wide, gauge 100 mm; woven to 6 N/cm, weft knits
    to 3 N/cm under 5 % elastane and to 4 N/cm over."""
    one = Strip(
        width=50.0,
        gauge=100.0,
        readings=(Reading(load=1.0, length=101.0), Reading(load=parse_load(load), length=110.0)),
    )
    assert one.points[-1] == (pytest.approx(n_per_cm), pytest.approx(0.10))


def test_the_loads_of_another():
    """ASTM D3107 §1.2–1.3 (seen): gauge 250 mm; 3 lb (1.35 kg) or 4 lb (1.8 kg); over 12 % at up to 360 g/cm."""
    assert parse_load("3 lb") == pytest.approx(parse_load("1.35 kg"), rel=0.01)
    assert parse_load("4 lb") == pytest.approx(parse_load("1.8 kg"), rel=0.01)
    readings = (Reading(load=parse_load("3 lb"), length=281.0), Reading(load=parse_load("4 lb"), length=285.0))
    one = Strip(width=50.0, gauge=250.0, readings=readings)
    assert one.points[-1][0] == pytest.approx(parse_load("360 g"), rel=0.01)
    assert one.points[0][1] > 0.12


def fast(strains):
    """A cloth by extensions at 5, 20 and 100 gf/cm, in percent."""
    tensions = [parse_load(f"{gf} gf") for gf in (5, 20, 100)]
    return Cloth(name="wool", cross=Direction(test=strip([e / 100.0 for e in strains], tensions)))


class TestFast:
    """Wool plain weave, extension at 5/20/100 gf/cm: warp 0.67/1.87/4.60 %, weft 0.40/1.87/5.87 % (FAST student
    laboratory report, seen): equal at 20, unequal at 100."""

    WARP, WEFT = fast((0.67, 1.87, 4.60)), fast((0.40, 1.87, 5.87))

    def test_what_was_read_is_what_is_said(self):
        for cloth, strains in ((self.WARP, (0.67, 1.87, 4.60)), (self.WEFT, (0.40, 1.87, 5.87))):
            found = [cloth.cross.strain(parse_load(f"{gf} gf")).value * 100.0 for gf in (5, 20, 100)]
            assert found == pytest.approx(strains)

    def test_where_they_are_equal_the_girth_stays(self):
        [row] = compare(self.WARP, self.WEFT, [Level(name="hip", body=1018.7, piece=1000.0)])
        assert row.drafted.tension.value == pytest.approx(parse_load("20 gf"), rel=1e-6)
        assert row.change.value == pytest.approx(0.0, abs=1e-6)

    def test_where_they_are_not_the_softer_is_cut_narrower(self):
        """At 100 gf/cm: G = 1046.0, P₁ = 1000; P₂ = 1046.0/1.0587 = 988.004 (derived)."""
        [row] = compare(self.WARP, self.WEFT, [Level(name="hip", body=1046.0, piece=1000.0)])
        assert row.girth.value == pytest.approx(1046.0 / 1.0587, abs=1e-3)
        assert row.change.value == pytest.approx(-11.996, abs=0.01)
        [back] = compare(self.WEFT, self.WARP, [Level(name="hip", body=1058.7, piece=1000.0)])
        assert back.change.value == pytest.approx(1058.7 / 1.046 - 1000.0, abs=1e-3)
        assert back.change.value > 0.0

    def test_formability_comes_from_the_same_readings(self):
        """F = (E20 − E5)·B/14.7 mm², B = W·c³·9.81e-6 µN·m, with W 168 g/m² and c 15.0 mm: B 5.56, F 0.45; c 14.5:
        5.02, 0.50; G = 123/EB5 N/m: EB5 4.7 gives 26.17 (same report, seen and reproduced)."""
        for cloth, c, b, f in ((self.WARP, 15.0, 5.56, 0.45), (self.WEFT, 14.5, 5.02, 0.50)):
            bending = 168.0 * c**3 * 9.81e-6
            (_t5, e5), (_t20, e20), _last = cloth.cross.test.points
            assert bending == pytest.approx(b, abs=0.01)
            assert (e20 - e5) * 100.0 * bending / 14.7 == pytest.approx(f, abs=0.006)
        assert pytest.approx(26.17, abs=0.005) == 123.0 / 4.7


def test_stretch_does_not_follow_from_what_a_cloth_is_made_of():
    """Common practice: 3–5 % elastane is usual in trouser cloth, and stretch varies freely."""
    one = Direction(test=strip((0.05, 0.1), (1.0, 3.0)))
    assert Cloth(name="a", composition="97 % cotton, 3 % elastane", cross=one).cross == Cloth(name="b", cross=one).cross


@given(points(), st.floats(0.2, 5.0))
def test_loads_and_widths_scaled_together_change_nothing(read, factor):
    strains, tensions = [e for _t, e in read], [t for t, _e in read]
    one, other = strip(strains, tensions, width=50.0), strip(strains, tensions, width=50.0 * factor)
    assert [r.load for r in other.readings] == pytest.approx([r.load * factor for r in one.readings])
    for (t, e), (s, f) in zip(one.points, other.points, strict=True):
        assert (s, f) == (pytest.approx(t, rel=1e-12), pytest.approx(e, rel=1e-12))


def test_figures_of_a_strip():
    one = strip((0.1, 0.2), (2.0, 5.0), released=104.0, rested=102.0)
    assert (one.growth, one.recovery) == (pytest.approx(0.02), pytest.approx(0.9))
    assert strip((0.1, 0.2), (2.0, 5.0), released=104.0).growth == pytest.approx(0.04)
    assert strip((0.1, 0.2), (2.0, 5.0)).growth is None
    narrow = Strip(
        width=50.0,
        gauge=100.0,
        readings=(Reading(load=5.0, length=105.0), Reading(load=20.0, length=120.0, width=45.0)),
    )
    assert narrow.narrowing == pytest.approx(0.5)


GOOD = (Reading(load=5.0, length=105.0), Reading(load=15.0, length=112.0))


@pytest.mark.parametrize(
    ("facts", "said"),
    [
        ({"readings": GOOD[:1]}, "one reading only"),
        ({"readings": ()}, "one reading only"),
        ({"readings": (GOOD[0], Reading(load=1000.0, length=112.0))}, "more than cloth bears"),
        ({"readings": (GOOD[0], Reading(load=15.0, length=500.0))}, "four times the gauge"),
        ({"readings": (GOOD[0], Reading(load=15.0, length=12.0))}, "no farther than at rest"),
        ({"readings": (GOOD[0], Reading(load=15.0, length=112.0, width=80.0))}, "wider"),
        ({"released": 2.0}, "After release"),
        ({"rested": 130.0}, "After release"),
        ({"width": 0.0}, "strip width is 0"),
        ({"gauge": math.nan}, "gauge is nan"),
    ],
)
def test_what_cannot_have_been_read(facts, said):
    with pytest.raises(ParameterError, match=said) as caught:
        Strip(**({"width": 50.0, "gauge": 100.0, "readings": GOOD} | facts))
    assert caught.value.advice


@pytest.mark.parametrize("length", [100.0, 90.0, 500.0])
def test_what_no_hand_can_have_pulled(length):
    with pytest.raises(ParameterError, match="cannot have been pulled"):
        Pull(gauge=100.0, length=length)
