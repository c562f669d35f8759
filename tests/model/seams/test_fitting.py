"""Records of fittings: distances and girths are never mixed, and nothing that was basted is lost."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import ParameterError
from crossgrain.model.seams.fitting import MEASURED, Basted, FittingRecord, for_another_size
from crossgrain.model.seams.station import Station

HIP, HEM = Station(name="hip"), Station(name="hem")
amounts = st.floats(-40.0, 40.0)


def basted(amount, measured="inside", seam="side", seams=2):
    return Basted(seam=seam, at=((HIP, amount),), measured=measured, seams=seams)


def inside(one):
    return one.inside[0][1]


class TestMeasured:
    def test_stitched_7_mm_inside_takes_14_mm_after_10_mm_of_girth_that_makes_24_and_48_over_two_seams(self):
        """Source: trade practice; derived."""
        total = inside(basted(10.0, "seam girth")) + inside(basted(7.0))
        assert 2.0 * 7.0 == 14.0
        assert 2.0 * total == pytest.approx(24.0)
        assert 2 * 2.0 * total == pytest.approx(48.0)

    def test_an_inch_of_girth_is_a_quarter_inch_on_each_half_front_and_half_back(self):
        """Quartering, common practice: two side seams, two layers each."""
        assert inside(basted(25.4, "garment girth")) == pytest.approx(25.4 / 4.0)

    @given(amounts, st.sampled_from(MEASURED), st.integers(1, 6))
    def test_a_distance_is_the_girth_it_takes_over_layers_and_seams(self, amount, measured, seams):
        parts = {"inside": 1, "seam girth": 2, "garment girth": 2 * seams}[measured]
        assert inside(basted(amount, measured, seams=seams)) * parts == pytest.approx(amount)

    @given(amounts)
    def test_a_basting_and_its_reverse_add_up_to_nothing(self, amount):
        assert inside(basted(amount)) + inside(basted(-amount)) == 0.0


class TestRecord:
    @given(st.lists(amounts, max_size=6), st.integers(0, 6))
    def test_every_earlier_version_is_its_beginning(self, given_amounts, count):
        record = FittingRecord(bastings=tuple(basted(amount) for amount in given_amounts))
        assert record.up_to(None) == record
        if count <= len(given_amounts):
            assert record.up_to(count).bastings == record.bastings[:count]
        else:
            with pytest.raises(ParameterError, match=str(len(given_amounts))):
                record.up_to(count)

    def test_a_seam_at_which_nothing_was_basted_is_named_with_those_there_are(self):
        record = FittingRecord(bastings=(basted(5.0),))
        assert record.of_seam("side") == record.bastings
        with pytest.raises(ParameterError, match=r"inseam.*side"):
            record.of_seam("inseam")

    @pytest.mark.parametrize(
        ("fields", "sentence"),
        [({"at": ()}, "Nothing was basted"), ({"measured": "girth"}, "garment girth"), ({"seams": 0}, "one such seam")],
    )
    def test_what_cannot_be_is_refused(self, fields, sentence):
        with pytest.raises(ParameterError, match=sentence):
            Basted(**({"seam": "side", "at": ((HIP, 1.0),)} | fields))


GIRTHS = {"hip": 1000.0, "knee": 360.0}


class TestAnotherSize:
    @given(amounts, st.floats(0.8, 1.25))
    def test_amounts_scale_with_the_girths_and_back(self, amount, ratio):
        record = FittingRecord(bastings=(basted(amount),))
        other = {name: ratio * girth for name, girth in GIRTHS.items()}
        there = for_another_size(record, GIRTHS, other)
        assert inside(there.bastings[0]) == pytest.approx(ratio * amount)
        back = for_another_size(there, other, GIRTHS)
        assert inside(back.bastings[0]) == pytest.approx(amount)

    def test_the_same_body_changes_nothing(self):
        record = FittingRecord(person="form 2", bastings=(basted(5.0),))
        assert for_another_size(record, GIRTHS, GIRTHS) == record

    def test_a_level_is_scaled_by_its_own_girth_and_another_station_by_the_hip(self):
        knee = Station(name="knee")
        record = FittingRecord(bastings=(Basted(seam="side", at=((knee, 10.0), (HEM, 10.0))),))
        there = for_another_size(record, GIRTHS, {"hip": 1100.0, "knee": 396.0 * 0.5})
        assert [amount for _station, amount in there.bastings[0].at] == pytest.approx([5.5, 11.0])

    def test_bodies_without_a_hip_are_refused_with_what_to_add(self):
        record = FittingRecord(bastings=(basted(5.0),))
        with pytest.raises(ParameterError, match="hip_girth"):
            for_another_size(record, {"knee": 360.0}, GIRTHS)
