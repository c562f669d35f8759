"""Walking both sides of a seam from their common end, however each is drawn."""

from __future__ import annotations

import math
from dataclasses import replace

import mpmath
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.model.seams.pairing import pair_edges
from crossgrain.model.seams.walking import walk
from sewn import legs, lying, sewn


def walked(pattern, name="side"):
    return next(walk(pair) for pair in pair_edges(pattern).pairs if pair.name == name)


class TestWalk:
    @given(legs(), st.data())
    def test_it_starts_at_the_waist_and_meets_the_notches_in_order(self, pair, data):
        pattern, _lies = lying(data.draw, sewn(*pair))
        one = walked(pattern)
        assert (one.end_name(0), one.end_name(1)) == ("waist", "hem")
        assert len(one.partners) == len(pair[0].notches)
        assert one.alone == ()
        for first, second in one.partners:
            assert first.along == pytest.approx(second.along, abs=1e-6)
            assert first.along % 40.0 == pytest.approx(0.0, abs=1e-6) or first.along % 40.0 == pytest.approx(40.0)
            assert math.dist(one.place(0, first.along), one.place(0, 0.0)) <= first.along + 1e-9

    @settings(max_examples=25)
    @given(legs())
    def test_lengths_are_those_of_the_curves(self, pair):
        """Against mpmath: the arc length of each cubic by quadrature in 20 digits."""
        one = walked(sewn(*pair))
        with mpmath.workdps(20):
            length = mpmath.fsum(
                mpmath.quad(lambda t, s=segment: mp_speed(s, t), mpmath.linspace(0, 1, 5)) for segment in
                one.pair.first.line.segments
            )  # fmt: skip
        assert one.lengths[0] == pytest.approx(float(length), abs=1e-8)
        assert one.lengths[1] == pytest.approx(one.lengths[0], abs=1e-8)

    @given(legs(), st.lists(st.integers(1, 12), min_size=1, max_size=4, unique=True), st.data())
    def test_notches_that_one_side_lacks_are_alone_and_the_rest_keep_their_partners(self, pair, at, data):
        front, back = (replace(leg, notches=()) for leg in pair)
        kept = data.draw(st.lists(st.sampled_from(at), max_size=3, unique=True))
        for place in at:
            front = front.with_notch_at(50.0 * place)
        for place in kept:
            back = back.with_notch_at(50.0 * place)
        one = walked(sewn(front, back))
        assert sorted(round(first.along) for first, _second in one.partners) == sorted(50 * place for place in kept)
        assert all(first.along == pytest.approx(second.along, abs=1e-6) for first, second in one.partners)
        lone = sorted(round(stop.along) for _which, stop in one.alone)
        assert lone == sorted(50 * place for place in at if place not in kept)


def mp_speed(segment, t):
    p, q, r, w = segment.controls
    s = 1 - t
    parts = []
    for axis in (0, 1):
        a, b, c = (mpmath.mpf(v[axis]) - mpmath.mpf(u[axis]) for u, v in ((p, q), (q, r), (r, w)))
        parts.append(3 * (s * s * a + 2 * s * t * b + t * t * c))
    return mpmath.sqrt(parts[0] ** 2 + parts[1] ** 2)
