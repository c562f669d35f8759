"""Elliptical arcs against SVG 1.1, appendix F.6, and against the ellipse itself."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from svgpathtools import Arc

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.arc import arc_cubics, ellipse_path
from crossgrain.kernel.segment import Line
from crossgrain.tolerances import ARC_ACCURACY

coordinates = st.floats(-500.0, 500.0)
points = st.tuples(coordinates, coordinates)
radii = st.floats(0.01, 800.0)
angles = st.floats(-7.0, 7.0)


def along(segments, count=33):
    return [segment.point(i / (count - 1)) for segment in segments for i in range(count)]


def centre_and_radii(start, rx, ry, phi, large, sweep, end):
    """F.6.5 and F.6.6 copied step by step from SVG 1.1, as a second opinion on our shorter arithmetic."""
    x1p = math.cos(phi) * (start[0] - end[0]) / 2 + math.sin(phi) * (start[1] - end[1]) / 2
    y1p = -math.sin(phi) * (start[0] - end[0]) / 2 + math.cos(phi) * (start[1] - end[1]) / 2
    stretch = x1p**2 / rx**2 + y1p**2 / ry**2
    if stretch > 1:
        rx, ry = math.sqrt(stretch) * rx, math.sqrt(stretch) * ry
    top = rx**2 * ry**2 - rx**2 * y1p**2 - ry**2 * x1p**2
    root = math.sqrt(max(0.0, top / (rx**2 * y1p**2 + ry**2 * x1p**2)))
    root = root if large != sweep else -root
    cxp, cyp = root * rx * y1p / ry, -root * ry * x1p / rx
    cx = math.cos(phi) * cxp - math.sin(phi) * cyp + (start[0] + end[0]) / 2
    cy = math.sin(phi) * cxp + math.cos(phi) * cyp + (start[1] + end[1]) / 2
    return (cx, cy), rx, ry


@given(points, radii, radii, angles, st.booleans(), st.booleans(), points)
def test_every_arc_follows_the_ellipse_of_svg_appendix_f6(start, rx, ry, phi, large, sweep, end):
    if math.dist(start, end) < 0.01:
        return
    segments = arc_cubics(start, rx, ry, phi, large, sweep, end)
    assert segments[0].start == start
    assert segments[-1].end == end
    centre, rx2, ry2 = centre_and_radii(start, rx, ry, phi, large, sweep, end)
    back = Affine.translation(-centre[0], -centre[1]).then(Affine.rotation(-phi))
    big, small = max(rx2, ry2), min(rx2, ry2)
    for p in along(segments):
        x, y = back.of(p)
        # The distance to an ellipse is at least (radius in the unit frame - 1) times the smaller radius and at
        # most that times the larger; the centre of F.6.5.2 itself is only good to the root of rounding.
        off = abs(math.hypot(x / rx2, y / ry2) - 1.0)
        assert off * small <= ARC_ACCURACY + 1e-6 * big


@given(points, st.floats(1.0, 800.0), st.floats(1.0, 800.0), angles, st.booleans(), st.booleans(), points)
def test_the_right_one_of_the_four_arcs_is_drawn(start, rx, ry, phi, large, sweep, end):
    if math.dist(start, end) < 1.0:
        return
    segments = arc_cubics(start, rx, ry, phi, large, sweep, end)
    centre, rx2, ry2 = centre_and_radii(start, rx, ry, phi, large, sweep, end)
    frame = (
        Affine.translation(-centre[0], -centre[1]).then(Affine.rotation(-phi)).then(Affine.scaling(1 / rx2, 1 / ry2))
    )
    turned, last = 0.0, frame.of(start)
    for p in along(segments, 9):
        now = frame.of(p)
        turned += math.atan2(last[0] * now[1] - last[1] * now[0], last[0] * now[0] + last[1] * now[1])
        last = now
    assert (turned > 0) == sweep
    if abs(abs(turned) - math.pi) > 1e-3:
        assert (abs(turned) > math.pi) == large


def test_the_worked_arcs_of_svgpathtools():
    # svgpathtools.Arc implements the same appendix on its own; the two may differ by our accuracy.
    for flags in [(False, False), (False, True), (True, False), (True, True)]:
        theirs = Arc(complex(10, 20), complex(60, 35), 25.0, *flags, complex(70, 40))
        ours = along(arc_cubics((10.0, 20.0), 60.0, 35.0, math.radians(25.0), *flags, (70.0, 40.0)), 17)
        dense = [theirs.point(i / 2000) for i in range(2001)]
        for x, y in ours:
            assert min(abs(complex(x, y) - q) for q in dense) < 0.15  # half their spacing
        for q in dense[::100]:
            assert (
                min(
                    abs(complex(x, y) - q)
                    for x, y in along(
                        arc_cubics((10.0, 20.0), 60.0, 35.0, math.radians(25.0), *flags, (70.0, 40.0)), 400
                    )
                )
                < 0.2
            )


def test_values_out_of_range_follow_appendix_f66():
    assert arc_cubics((1.0, 2.0), 5.0, 5.0, 0.0, True, True, (1.0, 2.0)) == ()
    assert arc_cubics((0.0, 0.0), 0.0, 5.0, 0.0, True, True, (1.0, 2.0)) == (Line((0.0, 0.0), (1.0, 2.0)),)
    args = (0.3, False, True, (40.0, 10.0))
    assert arc_cubics((0.0, 0.0), -30.0, -20.0, *args) == arc_cubics((0.0, 0.0), 30.0, 20.0, *args)
    # Radii too small are scaled up until the ellipse just reaches: half a circle about the middle.
    for p in along(arc_cubics((0.0, 0.0), 1.0, 1.0, 0.0, False, True, (100.0, 0.0))):
        assert math.dist(p, (50.0, 0.0)) == pytest.approx(50.0, abs=ARC_ACCURACY)


def test_a_flat_arc_of_enormous_radius_keeps_its_rise():
    chord, radius = 1000.0, 1e11
    [flat] = arc_cubics((0.0, 0.0), radius, radius, 0.0, False, False, (chord, 0.0))
    assert flat.point(0.5)[1] == pytest.approx(chord**2 / (8 * radius), rel=1e-6)  # the sagitta, c²/8r


def test_few_pieces_are_spent_and_one_less_would_not_do():
    whole = ellipse_path(0.0, 0.0, 175.07, 175.07)
    assert len(whole.segments) == 12
    worst = max(abs(math.hypot(*p) - 175.07) for p in along(whole.segments, 101))
    assert ARC_ACCURACY / 3 < worst <= ARC_ACCURACY


@given(points, radii, radii)
def test_an_ellipse_starts_at_its_right_and_runs_clockwise_through_its_extremes(centre, rx, ry):
    path = ellipse_path(*centre, rx, ry)
    assert path.closed
    quarter = len(path.segments) // 4
    x, y = centre
    assert path.nodes[::quarter] == ((x + rx, y), (x, y + ry), (x - rx, y), (x, y - ry))


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_what_is_not_a_number_is_refused(bad):
    with pytest.raises(GeometryError):
        arc_cubics((0.0, 0.0), bad, 1.0, 0.0, False, False, (1.0, 0.0))
    with pytest.raises(GeometryError):
        arc_cubics((0.0, bad), 1.0, 1.0, 0.0, False, False, (1.0, 0.0))
    with pytest.raises(GeometryError):
        ellipse_path(0.0, 0.0, 1.0, bad)


def test_an_ellipse_without_width_is_refused():
    with pytest.raises(GeometryError, match="radius of zero"):
        ellipse_path(0.0, 0.0, 0.0, 1.0)
