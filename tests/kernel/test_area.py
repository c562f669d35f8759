"""Areas and centroids against affine laws, Steiner's circle and shapely."""

import math

import pytest
from hypothesis import given
from shapely.geometry import Polygon

from crossgrain.errors import CollapseError, OpenOutlineError
from crossgrain.kernel.arc import ellipse_path
from crossgrain.kernel.area import centroid, signed_area, winding
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from strategies import affines, rigid_motions, simple_outlines


def polygon(outline, per_segment):
    return Polygon([s.point(i / per_segment) for s in outline.segments for i in range(per_segment)])


@given(simple_outlines(kinds=("line",)))
def test_straight_sided_areas_and_centroids_are_those_of_shapely(outline):
    theirs = polygon(outline, 1)
    assert signed_area(outline) == pytest.approx(theirs.area, rel=1e-9)
    assert centroid(outline) == pytest.approx((theirs.centroid.x, theirs.centroid.y), abs=1e-6)


@given(simple_outlines())
def test_curved_areas_are_what_shapely_finds_from_ever_finer_polygons(outline):
    # The polygon's error falls with the square of the step: Richardson's step takes its leading term away.
    coarse, fine = polygon(outline, 100), polygon(outline, 200)
    area = (4 * fine.area - coarse.area) / 3
    assert signed_area(outline) == pytest.approx(area, rel=1e-6)
    assert centroid(outline) == pytest.approx((fine.centroid.x, fine.centroid.y), abs=0.05)


@given(simple_outlines(), affines())
def test_an_affine_map_scales_the_area_by_its_determinant_and_carries_the_centroid(outline, affine):
    mapped = outline.mapped(affine)
    assert signed_area(mapped) == pytest.approx(affine.determinant * signed_area(outline), rel=1e-9)
    assert centroid(mapped) == pytest.approx(affine.of(centroid(outline)), abs=1e-6)


@given(simple_outlines(), rigid_motions())
def test_the_other_way_round_turns_the_sign(outline, motion):
    assert winding(outline.mapped(motion)) == 1
    assert winding(outline.reversed()) == -1
    assert signed_area(outline.reversed()) == pytest.approx(-signed_area(outline), rel=1e-12)


@given(simple_outlines())
def test_splitting_every_segment_keeps_the_area(outline):
    split = Path(tuple(part for segment in outline.segments for part in segment.split(0.3)), True)
    assert signed_area(split) == pytest.approx(signed_area(outline), rel=1e-10)


@given(simple_outlines(kinds=("line",)))
def test_a_line_written_as_a_cubic_encloses_the_same(outline):
    raised = Path(tuple(Cubic(*segment.controls) for segment in outline.segments), True)
    assert signed_area(raised) == pytest.approx(signed_area(outline), rel=1e-10)


def test_a_circle_has_the_area_pi_r_squared():
    radius = 175.07
    assert signed_area(ellipse_path(30.0, -20.0, radius, radius)) == pytest.approx(math.pi * radius**2, rel=1e-6)
    assert centroid(ellipse_path(30.0, -20.0, radius, 60.0)) == pytest.approx((30.0, -20.0), abs=1e-9)


def test_half_a_disc_has_its_centroid_at_4r_over_3pi():
    # Handbook value (Guldin): 4 r / 3π from the straight side.
    half = ellipse_path(0.0, 0.0, 90.0, 90.0)
    arcs = half.segments[: len(half.segments) // 2]  # the lower half on the page, from right to left
    outline = Path((*arcs, Line(arcs[-1].end, arcs[0].start)), True)
    assert centroid(outline) == pytest.approx((0.0, 4 * 90.0 / (3 * math.pi)), abs=1e-3)


def test_far_from_the_origin_no_digit_is_lost():
    far = Path.polygon([(1e7, 1e7), (1e7 + 10, 1e7), (1e7 + 10, 1e7 + 10), (1e7, 1e7 + 10)])
    assert signed_area(far) == 100.0


def test_an_open_line_or_one_that_encloses_nothing_is_refused():
    with pytest.raises(OpenOutlineError):
        signed_area(Path((Line((0.0, 0.0), (1.0, 0.0)),)))
    flat = Path.polygon([(0, 0), (10, 0), (5, 0)])
    assert signed_area(flat) == 0.0
    with pytest.raises(CollapseError):
        winding(flat)
    with pytest.raises(CollapseError):
        centroid(flat)
