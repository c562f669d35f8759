"""Rules as values: their order, what lies between sizes, where a body falls."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import ParameterError
from crossgrain.model.sizes.body_among_sizes import body_among_sizes
from crossgrain.model.sizes.grade_point import GradePoint
from crossgrain.model.sizes.grade_rules import GradeRule, GradeRules, between_sizes, place_among

POINT = GradePoint(piece="front", edge="waist", meets="side")
rising = st.lists(st.integers(1, 80), min_size=2, max_size=12).map(
    lambda steps: tuple(float(sum(steps[:k]) + 500) for k in range(len(steps)))
)


def rules(across=(-5.0, 0.0, 7.0), by="", **more):
    sizes = more.pop("sizes", ("36", "38", "40"))
    rule = GradeRule(point=POINT, along=(0.0,) * len(sizes), across=across, by=by)
    return GradeRules(sizes=sizes, base=more.pop("base", "38"), rules=(rule,), **more)


@given(rising, st.floats(-3.0, 15.0))
def test_where_a_measure_falls_is_the_inverse_of_what_lies_there(values, place):
    if values[0] < values[-1]:
        found = place_among(values, between_sizes(values, place))
        assert found == pytest.approx(place, abs=1e-9)


@given(rising)
def test_at_a_size_lies_what_its_list_says_to_the_bit(values):
    assert [between_sizes(values, float(k)) for k in range(len(values))] == list(values)


def test_moves_at_one_point_add_up():
    twice = GradeRules(sizes=("S", "M"), base="S", rules=(
        GradeRule(point=POINT, along=(0.0, 1.0), across=(0.0, 5.0), by="waist_girth"),
        GradeRule(point=POINT, along=(0.0, -4.0), across=(0.0, 0.0), by="hip_girth"),
    ))  # fmt: skip
    (shift,) = twice.shifts({"waist_girth": 1.0, "hip_girth": 0.5})
    assert (shift.across, shift.along) == (5.0, -1.0)


@pytest.mark.parametrize(
    ("sizes", "said"),
    [
        (("38", "36", "40"), "Size 36 stands after 38"),
        (("0", "00", "2"), "Size 00 stands after 0"),
        (("M", "S", "L"), "Size S stands after M"),
        (("a", "b", "a"), "Size a is named twice"),
        (("38",), "only one size"),
    ],
)
def test_sizes_that_are_not_in_order(sizes, said):
    with pytest.raises(ParameterError, match=said):
        GradeRules(sizes=sizes, base=sizes[0])


def test_a_base_that_is_none_of_the_sizes():
    with pytest.raises(ParameterError, match=r"base 37 is none.*36, 38, 40"):
        rules(base="37")


def test_a_base_that_moves():
    with pytest.raises(ParameterError, match="moves in the base size 38"):
        rules(across=(-5.0, 1.0, 7.0))


def test_too_few_moves():
    with pytest.raises(ParameterError, match="2 moves are given for 3 sizes"):
        GradeRules(
            sizes=("S", "M", "L"), base="S", rules=(GradeRule(point=POINT, along=(0.0, 0.0, 0.0), across=(0.0, 1.0)),)
        )


def test_a_size_that_is_not_there():
    with pytest.raises(ParameterError, match=r"no size 44.*36, 38, 40"):
        rules().index("44")


class TestOneBody:
    MEASURES = (("waist_girth", (700.0, 740.0, 800.0)), ("hip_girth", (940.0, 980.0, 1020.0)))

    def test_each_measure_falls_by_itself_between_and_beyond(self):
        one = rules(by="waist_girth", measures=self.MEASURES)
        assert body_among_sizes(one, {"waist_girth": 770.0}).places == {"waist_girth": 1.5}
        assert body_among_sizes(one, {"waist_girth": 830.0}).places == {"waist_girth": 2.5}
        assert one.shifts({"waist_girth": 2.5})[0].across == pytest.approx(10.5)

    def test_a_girth_that_the_body_lacks(self):
        with pytest.raises(ParameterError, match=r"body has no waist_girth.*waist_girth"):
            body_among_sizes(rules(by="waist_girth", measures=self.MEASURES), {"hip_girth": 900.0})

    def test_a_height_that_the_body_lacks_is_the_base_s_and_said(self):
        one = rules(by="hip_height", measures=(("hip_height", (810.0, 820.0, 830.0)),))
        found = body_among_sizes(one, {"waist_girth": 700.0})
        assert found.places == {"hip_height": 1.0}
        assert "that of the base is kept" in found.findings[0].message

    def test_a_height_that_all_sizes_share_cannot_be_followed(self):
        one = rules(by="knee_height", measures=(("knee_height", (450.0, 450.0, 450.0)),))
        assert body_among_sizes(one, {"knee_height": 450.2}).findings == ()
        assert "do not tell how to follow" in body_among_sizes(one, {"knee_height": 470.0}).findings[0].message

    def test_rules_without_measures(self):
        with pytest.raises(ParameterError, match=r"\[measures\]"):
            body_among_sizes(rules(by="hip_girth"), {"hip_girth": 900.0})

    def test_a_rule_that_follows_nothing(self):
        with pytest.raises(ParameterError, match="does not say which measure it follows"):
            body_among_sizes(rules(measures=self.MEASURES), {"hip_girth": 900.0})
