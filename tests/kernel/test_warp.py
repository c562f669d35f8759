"""Bent lines against the map itself, sampled densely."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from beside import Drawn, bezier, distances, rows, sampled, stray
from crossgrain.errors import GeometryError
from crossgrain.kernel.curvature import cusps, simplified
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.kernel.warp import moved_point, warped
from random_cubics import drawn
from strategies import affines, plain_cubics, simple_outlines

FEW = settings(max_examples=30)


def as_map(affine):
    def move(point, direction):
        x, y, dx, dy = point.real, point.imag, direction.real, direction.imag
        return (
            affine.a * x + affine.c * y + affine.e + 1j * (affine.b * x + affine.d * y + affine.f),
            affine.a * dx + affine.c * dy + 1j * (affine.b * dx + affine.d * dy),
        )

    return move


def wave(point, direction):
    """Shift sideways by a wave 12 mm high and 500 mm long, as a blend of widths by level does."""
    k = 2.0 * math.pi / 500.0
    return (
        point + 12.0 * np.sin(k * point.imag),
        direction + 12.0 * k * np.cos(k * point.imag) * direction.imag,
    )


class Image:
    """The image of segments under a map, for the judge."""

    def __init__(self, segments, move):
        self.controls, self.move = rows(segments), move

    def __call__(self, piece, t):
        at = bezier(self.controls[piece], t)
        return self.move(at, np.ones_like(at))[0]

    def __len__(self):
        return len(self.controls)


@given(simple_outlines())
def test_a_map_that_moves_nothing_changes_no_line_and_hardly_a_curve(outline):
    same = warped(outline.segments, lambda point, direction: (point, direction))
    for before, [*after] in zip(outline.segments, same, strict=True):
        if isinstance(before, Line):
            assert len(after) == 1
            np.testing.assert_allclose(after[0].controls, before.controls, atol=1e-9)
        else:
            assert max(stray(Drawn(rows([before])), Drawn(rows(after)), 2.0)) <= 0.01


@FEW
@given(plain_cubics(), affines())
def test_an_affine_map_is_followed(cubic, affine):
    try:
        assume(isinstance(simplified(cubic), Cubic) and not cusps(cubic))
    except GeometryError:
        assume(False)
    [image] = warped([cubic], as_map(affine))
    assert max(stray(Drawn(rows([cubic.mapped(affine)])), Drawn(rows(image)), 2.0)) <= 0.01
    assert image[0].start == pytest.approx(affine.of(cubic.start), abs=1e-9)
    assert image[-1].end == pytest.approx(affine.of(cubic.end), abs=1e-9)


@pytest.mark.parametrize("accuracy", [0.05, 0.01, 0.002])
@pytest.mark.parametrize("family", ["uniform", "gentle", "s-curve", "loop", "handle drawn in", "arc"])
def test_a_bent_cubic_stays_within_the_accuracy(family, accuracy):
    cubics = [cubic for cubic, _d in drawn(family, 6, f"warp {family}")]
    for cubic, image in zip(cubics, warped(cubics, wave, accuracy), strict=True):
        assert max(stray(Image([cubic], wave), Drawn(rows(image)), 2.0)) <= accuracy, cubic
        assert len(image) <= 16


@given(simple_outlines())
def test_pieces_that_met_still_meet_and_every_node_goes_where_the_map_takes_it(outline):
    images = warped(outline.segments, wave)
    for k, (segment, image) in enumerate(zip(outline.segments, images, strict=True)):
        assert image[0].start == pytest.approx(moved_point(segment.start, wave), abs=1e-9)
        assert images[k - 1][-1].end == pytest.approx(image[0].start, abs=1e-9)


@given(st.floats(-200.0, 200.0), st.floats(10.0, 300.0))
def test_a_line_across_the_wave_stays_one_straight_line(y, width):
    """Along a level all points move alike."""
    [[image]] = warped([Line((0.0, y), (width, y))], wave)
    assert isinstance(image, Line)
    assert image.end[0] - image.start[0] == pytest.approx(width)


def test_a_line_along_the_wave_becomes_smooth_cubics():
    line = Line((50.0, 0.0), (50.0, 500.0))
    [image] = warped([line], wave, 0.01)
    assert max(stray(Image([line], wave), Drawn(rows(image)), 2.0)) <= 0.01
    assert 2 <= len(image) <= 6
    for before, after in zip(image, image[1:], strict=False):  # noqa: RUF007
        assert before.end == after.start
        assert before.end_tangent == pytest.approx(after.start_tangent, abs=1e-6)


def test_the_side_of_a_crease_is_that_of_the_segment():
    """A map that leaves the left half alone and doubles the widths of the right one."""

    def crease(point, direction):
        right = (point.real > 0.0) | ((point.real == 0.0) & (direction.real > 0.0))
        factor = np.where(right, 2.0, 1.0)
        return factor * point.real + 1j * point.imag, factor * direction.real + 1j * direction.imag

    left = Cubic((-90.0, 0.0), (-60.0, 30.0), (-30.0, 30.0), (0.0, 0.0))
    right = Cubic((0.0, 0.0), (30.0, -30.0), (60.0, -30.0), (90.0, 0.0))
    images = warped([left, right], crease)
    assert max(stray(Drawn(rows([left])), Drawn(rows(images[0])), 1.0)) <= 0.01
    doubled = Cubic((0.0, 0.0), (60.0, -30.0), (120.0, -30.0), (180.0, 0.0))
    assert max(stray(Drawn(rows([doubled])), Drawn(rows(images[1])), 1.0)) <= 0.01


def test_the_judge_sees_what_is_bent_wrongly():
    """The samples of a line and of its image lie as far apart as the wave is high."""
    line = Line((50.0, 0.0), (50.0, 500.0))
    curve = Drawn(rows([line]))
    _piece, _t, at = sampled(Image([line], wave), 2.0)
    assert distances(at, curve, sampled(curve, 2.0)).max() == pytest.approx(12.0, abs=0.01)
