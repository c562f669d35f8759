"""The laws of comparing cloths: the same changes nothing, a softer one is cut narrower, what is unknown is a range."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from cloths import cloth, points, straight
from crossgrain.errors import ParameterError
from crossgrain.fabric.bench import Pull
from crossgrain.fabric.body import Body, BodyLevel
from crossgrain.fabric.by_stretch import share_by_stretch
from crossgrain.fabric.cloth import Cloth, Direction, Learned
from crossgrain.fabric.comparison import Level, Matching, compare
from crossgrain.fabric.learning import learn

strains = st.floats(0.005, 0.3)
bodies = st.floats(300.0, 1500.0)


@st.composite
def cloths(draw):
    read = draw(points())
    return cloth([e for _t, e in read], [t for t, _e in read])


def softer(one, factor):
    """Return a cloth that stretches farther by a factor under every load, or pulls less at every stretch."""
    strip = one.cross.test
    readings = tuple(replace(r, length=100.0 + (r.length - 100.0) * factor) for r in strip.readings)
    return replace(one, cross=Direction(test=replace(strip, readings=readings)))


def at(body, strain, **facts):
    return Level(name="hip", body=body, piece=body / (1.0 + strain), **facts)


pulled = Cloth(name="remnant", cross=Direction(test=Pull(gauge=100.0, length=120.0)))


@given(cloths(), bodies, strains, st.sampled_from(["tension", "pressure", "strain"]))
def test_the_same_cloth_twice_changes_nothing(one, body, strain, match):
    level = at(body, strain)
    [row] = compare(one, one, [level], Matching(match=match))
    assert row.girth.value == pytest.approx(level.piece, rel=1e-12)
    assert row.matched == row.as_it_stands or row.matched.strain == pytest.approx(row.drafted.strain, rel=1e-9)


@given(cloths(), bodies, strains)
def test_a_cloth_read_anew_the_same_changes_nothing(one, body, strain):
    """Other loads on another width, the same tensions: not the same values, but the same cloth."""
    strip = one.cross.test
    other = replace(strip, width=75.0, readings=tuple(replace(r, load=r.load * 1.5) for r in strip.readings))
    [row] = compare(one, replace(one, cross=Direction(test=other)), [at(body, strain)])
    assert row.change.value == pytest.approx(0.0, abs=1e-6 * body)


@given(cloths(), bodies, strains, st.floats(1.05, 3.0))
def test_a_softer_cloth_is_cut_narrower_and_back_again(one, body, strain, factor):
    assume(one.cross.stretch * factor < 2.9)
    soft = softer(one, factor)
    level = at(body, strain)
    [row] = compare(one, soft, [level])
    assert row.change.value < 0.0 < row.per_seam.value
    narrow = replace(level, piece=row.girth.value)
    [back] = compare(soft, one, [narrow])
    assert back.girth.value == pytest.approx(level.piece, rel=1e-6)


@given(cloths(), bodies, strains, st.floats(1.05, 3.0))
def test_the_girth_found_has_the_tension_of_the_old_one(one, body, strain, factor):
    assume(one.cross.stretch * factor < 2.9)
    [row] = compare(one, softer(one, factor), [at(body, strain)])
    assert row.matched.tension.value == pytest.approx(row.drafted.tension.value, rel=1e-6)
    assert row.matched.pressure.value == pytest.approx(row.drafted.pressure.value, rel=1e-6)


@given(cloths(), cloths(), bodies, st.floats(-0.3, 0.0))
def test_what_hangs_loose_stays(one, other, body, strain):
    level = at(body, strain)
    [row] = compare(one, other, [level])
    assert row.girth.value == pytest.approx(level.piece, rel=1e-12)
    assert (row.verdict, row.drafted.tension.value, row.matched.pressure.value) == ("fits as it is", 0.0, 0.0)


@given(bodies, strains)
def test_where_the_firmness_is_unknown_the_answer_is_a_range_with_the_test_that_settles_it(body, strain):
    one = straight(3.0)
    for old, new in ((one, pulled), (pulled, one)):
        [row] = compare(old, new, [at(body, strain)])
        assert row.girth.value is None
        assert row.girth.low < row.girth.high
        assert any("unknown" in reason and "hang" in reason.lower() for reason in row.reasons) or (
            row.verdict == "not suitable"
        )


def test_a_range_on_both_sides_cannot_be_told():
    [row] = compare(straight(3.0), pulled, [at(1000.0, 0.05)])
    assert row.verdict == "cannot be told"


def test_a_range_holds_every_cloth_that_was_pulled_so_far():
    """Whatever such a cloth does between 0.98 and 6 N/cm, in proportion or as the square, lies in the range."""
    old = straight(3.0)
    for strain in (0.02, 0.05, 0.1):
        [row] = compare(old, pulled, [at(1000.0, strain)])
        for tension in (0.98, 2.0, 4.0, 6.0):
            for power in (0.5, 0.75, 1.0):
                known = [(tension * share, 0.2 * share**power) for share in (0.05, 0.2, 0.5, 1.0)]
                one = cloth([e for _t, e in known], [t for t, _e in known])
                [found] = compare(old, one, [at(1000.0, strain)])
                assert row.girth.low - 5.0 <= found.girth.value <= row.girth.high + 5.0


class TestVerdicts:
    OLD = straight(3.0)

    def verdict(self, new, strain=0.06, **facts):
        [row] = compare(self.OLD, new, [at(1000.0, strain, **facts)])
        return row.verdict, " ".join(row.reasons)

    def test_words(self):
        assert self.verdict(self.OLD)[0] == "fits as it is"
        assert self.verdict(straight(2.0))[0] == "take in"
        assert self.verdict(straight(6.0))[0] == "let out"

    def test_past_what_was_tested(self):
        new = cloth((0.02, 0.03), (0.2, 0.4))
        verdict, why = self.verdict(new)
        assert verdict == "not suitable"
        assert "past the 3.0 % it was tested to" in why

    def test_most_of_its_stretch_used(self):
        verdict, why = self.verdict(cloth((0.04, 0.065), (0.45, 1.0)))
        assert verdict == "not suitable"
        assert "80 % at most" in why

    def test_growth(self):
        verdict, why = self.verdict(cloth((0.1, 0.3), (1.5, 4.5), released=106.0))
        assert verdict == "not suitable"
        assert "6.0 % longer" in why

    def test_pressure(self):
        verdict, why = self.verdict(cloth((0.4, 0.9), (5.0, 20.0)), 0.36)
        assert verdict == "not suitable"
        assert "3.3 kPa" in why

    def test_what_is_sewn_on_does_not_stretch(self):
        assert self.verdict(straight(1.0), -0.01, is_stable=True)[0] == "fits as it is"
        verdict, why = self.verdict(straight(1.0), 0.05, is_stable=True)
        assert verdict == "not suitable"
        assert "does not stretch" in why

    def test_a_guess_beyond_the_old_cloths_test_is_said(self):
        [row] = compare(straight(1.0), cloth((0.5, 0.9), (2.0, 4.0)), [at(1000.0, 0.45)])
        assert "a guess beyond its largest load" in " ".join(row.reasons)


def test_per_side_seam():
    """Stitched d inside takes d from each of two layers: 2d a seam, 2nd for n seams (trade; derived). 48 mm of girth
    over two side seams is 12 mm at each; round one leg there is one side seam."""
    hip, thigh = (
        compare(straight(3.0), straight(1.0), [Level(name=name, body=1100.0, piece=1000.0, limbs=limbs)], Matching())[0]
        for name, limbs in (("hip", 1), ("thigh", 2))
    )
    assert hip.per_seam.value == pytest.approx(-hip.change.value / 4.0)
    assert thigh.per_seam.value == pytest.approx(-thigh.change.value / 2.0)


class TestByStretch:
    def test_a_half_of_twenty_percent(self):
        assert share_by_stretch(0.5, pulled) == pytest.approx(1.0 - 1.0 / 1.1)

    def test_equal_stretch_changes_nothing_and_that_is_its_fault(self):
        assert share_by_stretch(0.5, pulled, cloth((0.1, 0.2), (1.0, 3.0))) == pytest.approx(0.0)

    @pytest.mark.parametrize("share", [0.0, -0.1, 1.1])
    def test_shares_that_mean_nothing(self, share):
        with pytest.raises(ParameterError, match="cannot be used"):
            share_by_stretch(share, pulled)


class TestLearning:
    @given(cloths(), cloths(), bodies, st.floats(0.02, 0.2), st.floats(0.02, 0.2))
    def test_a_learned_cloth_gives_the_girth_that_felt_right(self, old, new, body, drafted, fitted):
        assume(drafted <= old.cross.stretch)
        level = at(body, drafted)
        girth = body / (1.0 + fitted)
        lesson = learn(old, new, level, girth, "trousers")
        taught = new.having_learned(lesson.learned)
        [row] = compare(old, taught, [level])
        assert row.girth.value == pytest.approx(girth, rel=2e-3)

    def test_it_says_how_far_off_the_test_had_been(self):
        lesson = learn(straight(3.0), straight(1.5), at(1000.0, 0.05), 1000.0 / 1.12)
        assert lesson.learned.tension == pytest.approx(0.75)
        assert lesson.bench.value == pytest.approx(0.10)
        assert lesson.was_off_by == pytest.approx(0.02)

    def test_from_two_fittings_a_pulled_cloth_gets_its_firmness(self):
        one = pulled.having_learned(Learned(tension=1.0, strain=0.08))
        assert one.cross.curve is None
        assert one.cross.strain(1.0).low == one.cross.strain(1.0).high == pytest.approx(0.08)
        assert one.having_learned(Learned(tension=1.0, strain=0.081)).cross.curve is None  # the same once more
        two = one.having_learned(Learned(tension=2.0, strain=0.12))
        assert two.cross.strain(2.0).value == pytest.approx(0.12)

    @pytest.mark.parametrize(
        ("old", "strain", "girth", "said"),
        [
            (pulled, 0.05, 900.0, "firmness"),
            (straight(3.0), -0.05, 900.0, "hangs loose"),
            (straight(3.0), 0.05, 1100.0, "hangs loose"),
            (straight(3.0), 0.9, 900.0, "not tested as far"),
        ],
    )
    def test_where_nothing_can_be_learned(self, old, strain, girth, said):
        with pytest.raises(ParameterError, match=said):
            learn(old, straight(2.0), at(1000.0, strain), girth)


class TestBody:
    def test_levels_in_order(self):
        with pytest.raises(ParameterError, match="does not lie below"):
            Body(name="b", levels=(BodyLevel(name="hip", depth=300.0), BodyLevel(name="thigh", depth=200.0)))

    @pytest.mark.parametrize("facts", [{"name": "nose"}, {"name": "hip", "girth": 0.0}, {"name": "hip", "depth": -1.0}])
    def test_what_is_no_level(self, facts):
        with pytest.raises(ParameterError):
            BodyLevel(**facts)

    def test_twice(self):
        with pytest.raises(ParameterError, match="twice"):
            Body(name="b", levels=(BodyLevel(name="hip"), BodyLevel(name="hip")))
