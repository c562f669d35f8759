"""Leading a line elsewhere leaves the corners in it as they were."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.kernel.blending import led_from
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line


@given(st.floats(-60.0, 60.0), st.floats(-8.0, 8.0), st.floats(-5.0, 5.0))
def test_a_corner_at_the_end_of_the_blend_keeps_the_angle_it_had(degrees, turn, shift):
    """A waist with the mouth of a dart 85 mm from its end, led over 80 mm: the blend ends at the mouth."""
    bend = math.radians(degrees)
    mouth = (105.0 * math.cos(bend) + 0.0, 105.0 * math.sin(bend))
    line = Path((Line((-85.0, 0.0), (0.0, 0.0)), Line((0.0, 0.0), mouth)))
    way = (math.cos(math.radians(turn)), math.sin(math.radians(turn)))
    led = led_from(line, (-85.0, shift), way, 80.0)
    assert led.segments[0].end == (0.0, 0.0)
    assert led.segments[0].end_tangent == pytest.approx((1.0, 0.0), abs=1e-9)
    assert led.segments[1:] == line.segments[1:]
