"""Single pieces: outlines, grain, darts, holds, allowances."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import mpmath
import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from crossgrain.checks.allowances import check_allowances
from crossgrain.checks.darts import check_darts
from crossgrain.checks.grain import check_grain
from crossgrain.checks.holds import check_holds
from crossgrain.checks.inside import is_inside
from crossgrain.checks.outlines import check_outline
from crossgrain.checks.pattern import check_pattern
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.arc import ellipse_path
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import Dart, Edge, Hold, Pattern, Piece, Width
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.operations.allowance import Allowance, allow
from pieces import against, moved, turned, upright_pieces
from strategies import points, simple_outlines


def piece_of(points_of_it, names="", **more):
    segments = Path.polygon(points_of_it).segments
    if not names:
        return Piece(id="p", name="p", edges=(Edge(name="", line=Path(segments)),), **more)
    edges = tuple(Edge(name=name, line=Path((one,))) for name, one in zip(names.split(), segments, strict=True))
    return Piece(id="p", name="p", edges=edges, **more)


def rectangle(width=200.0, length=300.0, **more):
    return piece_of([(0, 0), (width, 0), (width, length), (0, length)], "waist side hem centre", **more)


class TestOutlines:
    @given(simple_outlines())
    def test_a_simple_outline_is_sound(self, outline):
        assert check_outline(Piece(id="p", edges=(Edge(name="", line=Path(outline.segments)),))).findings == ()

    @given(st.lists(points, min_size=4, max_size=8, unique=True))
    def test_polygons_as_shapely_judges_them(self, corners):
        """Against shapely's is_simple."""
        assume(min(math.dist(p, q) for i, p in enumerate(corners) for q in corners[:i]) > 0.1)
        ring = shapely.LinearRing(corners)
        # Where a corner all but touches another edge, each may judge as rounding falls.
        edges = [shapely.LineString([p, q]) for p, q in zip(corners, [*corners[1:], corners[0]], strict=True)]
        for i, edge in enumerate(edges):
            for j, corner in enumerate(corners):
                assume(j in (i, (i + 1) % len(corners)) or edge.distance(shapely.Point(corner)) > 1e-3)
        checked = check_outline(piece_of(corners))
        assert (not checked.findings) == ring.is_simple
        for finding in checked.findings:
            assert sum(edge.distance(shapely.Point(finding.position)) < 1e-6 for edge in edges) >= 2

    def test_an_eight_is_found_where_it_crosses(self):
        [finding] = check_outline(piece_of([(0, 0), (10, 10), (10, 0), (0, 10)])).findings
        assert finding.position == (5.0, 5.0)
        assert finding.message == "The outline meets itself."

    def test_an_edge_without_length_and_an_outline_without_cloth(self):
        corners = [(0, 0), (100, 0), (100, 0), (100, 80), (0, 80)]
        lines = [Line(p, q) for p, q in pairwise([*corners, corners[0]])]
        edges = tuple(Edge(name=n, line=Path((one,))) for n, one in zip("abcde", lines, strict=True))
        [finding] = check_outline(Piece(id="p", name="p", edges=edges)).findings
        assert (finding.edge, finding.position) == ("b", (100, 0))
        assert finding.message == "The edge has no length: its corners lie in one place."
        there_and_back = (Line((0, 0), (100, 0)), Line((100, 0), (0, 0)))
        edges = tuple(Edge(name=n, line=Path((one,))) for n, one in zip("ab", there_and_back, strict=True))
        assert len(check_outline(Piece(id="p", name="p", edges=edges)).findings) == 1

    def test_the_other_checks_wait_for_a_sound_outline(self):
        eight = piece_of([(0, 0), (100, 100), (100, 0), (0, 100)], "a b c d", holds=(Hold(edge="a", width=500.0),))
        [finding] = check_pattern(Pattern(pieces=(eight,))).findings
        assert "meets itself" in finding.message


class TestGrain:
    def test_a_piece_without_grain_is_told_how_to_get_one(self):
        [finding] = check_grain(rectangle(), {"p"}).findings
        assert "--piece p --grain" in finding.advice
        assert finding.position == pytest.approx((100.0, 150.0))
        assert check_grain(rectangle(), {"q"}).findings == ()


class TestInside:
    @given(simple_outlines(), points)
    def test_against_shapely_on_a_fine_polyline(self, outline, point):
        polygon = shapely.Polygon(flatten(outline, 0.01).points)
        assume(polygon.exterior.distance(shapely.Point(point)) > 0.05)
        assert is_inside(outline, point) == polygon.contains(shapely.Point(point))


def with_roof(width, depth, share=0.5):
    """A piece whose upper edge is shaped so that it is straight with the dart folded: square to both legs."""
    half = math.atan2(width / 2.0, depth)
    left, right = share * 200.0 - width / 2.0, share * 200.0 + width / 2.0
    rise = math.tan(half)
    edges = {
        "waist": Path.joined(
            [Line((0.0, left * rise), (left, 0.0)), Line((left, 0.0), (right, 0.0)),
             Line((right, 0.0), (200.0, (200.0 - right) * rise))]
        ),
    }  # fmt: skip
    end, start = edges["waist"].end, edges["waist"].start
    edges["side"] = Path((Line(end, (200.0, 300.0)),))
    edges["hem"] = Path((Line((200.0, 300.0), (0.0, 300.0)),))
    edges["centre"] = Path((Line((0.0, 300.0), start),))
    total = math.dist(start, (left, 0.0)) + width / 2.0
    length = total + width / 2.0 + math.dist((right, 0.0), end)
    return Piece(
        id="p",
        name="p",
        edges=tuple(Edge(name=name, line=line) for name, line in edges.items()),
        darts=(Dart(edge="waist", share=total / length, width=width, depth=depth),),
    )


class TestDarts:
    @given(st.floats(5.0, 40.0), st.floats(60.0, 150.0), st.floats(0.3, 0.7))
    def test_square_to_both_legs_the_edge_is_smooth_when_folded(self, width, depth, share):
        piece = with_roof(width, depth, share)
        for one in (piece, against(piece), moved(piece, Affine.scaling(-1.0, 1.0)), moved(piece, Affine.rotation(2.0))):
            assert check_darts(one).findings == ()

    @given(st.floats(5.0, 40.0), st.floats(60.0, 150.0))
    def test_on_a_straight_edge_it_dips_by_the_angle_of_the_dart(self, width, depth):
        """Folding a wedge of angle a out of a straight line leaves a line bent by a (from the sum of a triangle)."""
        piece = rectangle(darts=(Dart(edge="waist", share=0.5, width=width, depth=depth),))
        [finding] = check_darts(piece).findings
        off = math.degrees(2.0 * math.atan2(width / 2.0, depth))
        assert finding.advice.endswith("crossgrain true --darts does it.")
        assert finding.message.startswith("With its dart folded the edge dips by ")
        assert float(finding.message.split(" dips by ")[1].split("°")[0]) == pytest.approx(off, abs=0.051)

    @given(turned(upright_pieces(darts=True)))
    def test_legs_are_as_long_as_a_tape_says(self, piece):
        first, tip, last = dart_points(piece, piece.darts[0])
        gap = abs(math.dist(first, tip) - math.dist(last, tip))
        assume(abs(gap - 0.5) > 1e-6)
        said = [one for one in check_darts(piece).findings if one.message.startswith("The legs")]
        assert len(said) == (gap > 0.5)

    def test_a_tip_below_the_hem(self):
        findings = check_darts(rectangle(darts=(Dart(edge="waist", share=0.5, width=20.0, depth=310.0),))).findings
        assert "The tip of its dart lies outside the piece." in [one.message for one in findings]

    def test_a_leg_that_leaves_the_piece_and_comes_back(self):
        hollow = piece_of([(0, 0), (200, 0), (200, 300), (160, 300), (120, 60), (80, 300), (0, 300)], "a b c d e f g")
        dart = Dart(edge="a", share=0.42, width=20.0, depth=200.0, lean_rad=0.35)
        messages = [one.message for one in check_darts(replace(hollow, darts=(dart,))).findings]
        assert "A leg of its dart crosses the outline." in messages

    def test_a_mouth_beyond_the_edge(self):
        [finding] = check_darts(rectangle(darts=(Dart(edge="waist", share=0.02, width=20.0, depth=90.0),))).findings
        assert finding.message == "The mouth of its dart, 20.0 mm wide, reaches 6.0 mm beyond the edge."

    @pytest.mark.parametrize(("other", "is_shared"), [(0.46, True), (0.7, False)])
    def test_two_darts_in_one_place(self, other, is_shared):
        darts = tuple(Dart(edge="waist", share=share, width=20.0, depth=90.0) for share in (0.4, other))
        messages = [one.message for one in check_darts(rectangle(darts=darts)).findings]
        assert ("Two of its darts take the same cloth." in messages) is is_shared

    def test_legs_that_cross_farther_down(self):
        darts = (
            Dart(edge="waist", share=0.4, width=10.0, depth=150.0, lean_rad=0.3),
            Dart(edge="waist", share=0.6, width=10.0, depth=150.0, lean_rad=-0.3),
        )
        assert "Two of its darts take the same cloth." in [
            one.message for one in check_darts(rectangle(darts=darts)).findings
        ]


class TestHolds:
    @given(turned(upright_pieces(holds=True)))
    def test_holds_of_a_finger_lie_in_a_leg_however_it_lies(self, piece):
        assert check_holds(piece).findings == ()

    @given(st.floats(1.0, 400.0), st.sampled_from(["side", "centre"]), st.floats(-3.0, 3.0))
    def test_a_hold_wider_than_the_piece(self, width, edge, angle):
        assume(abs(width - 200.0) > 0.01)
        piece = moved(rectangle(holds=(Hold(edge=edge, width=width),)), Affine.rotation(angle))
        findings = check_holds(piece).findings
        assert len(findings) == (width > 200.0)
        for finding in findings:
            assert finding.message.endswith("which is 200.0 mm wide there.")


def hollow(radius):
    """A piece with a hollow quarter of a circle between two straight runs, as under an arm."""
    k = 0.5522847498307936 * radius
    corner = (100.0 + radius, 0.0)
    arc = Cubic(corner, (100.0 + radius - k, 0.0), (100.0, radius - k), (100.0, radius))
    ends = [(100.0, 400.0), (0.0, 400.0), (0.0, -200.0), (100.0 + radius, -200.0), corner]
    lines = {
        "armhole": Path((arc,)),
        "rest": Path(tuple(Line(p, q) for p, q in pairwise([(100.0, radius), *ends]))),
    }
    return Piece(id="p", name="p", edges=tuple(Edge(name=name, line=line) for name, line in lines.items()))


def allowed(piece, width):
    return replace(
        piece,
        edges=tuple(replace(one, allowance=Width.of(width if one.name == "armhole" else 0.0)) for one in piece.edges),
    )


class TestAllowances:
    @given(st.floats(5.0, 60.0), st.floats(1.0, 60.0), st.booleans(), st.booleans())
    def test_an_allowance_wider_than_the_hollow_is_round(self, radius, width, is_against, is_mirrored):
        """A quarter of a circle as one cubic keeps its radius within 0.7 % of curvature (from memory)."""
        assume(abs(width / radius - 1.0) > 0.02)
        piece = allowed(hollow(radius), width)
        piece = against(piece) if is_against else piece
        piece = moved(piece, Affine.scaling(-1.0, 1.0)) if is_mirrored else piece
        findings = check_allowances(piece).findings
        assert len(findings) == (width > radius)
        for finding in findings:
            assert finding.edge == "armhole"

    @given(st.floats(5.0, 60.0), st.floats(1.0, 60.0))
    def test_inside_a_cut_line_it_is_the_rounds_that_count(self, radius, width):
        assume(abs(width / radius - 1.0) > 0.02)
        assert check_allowances(replace(allowed(hollow(radius), width), outline="cut")).findings == ()
        disc = Piece(
            id="d",
            name="d",
            outline="cut",
            edges=(Edge(name="", line=Path(ellipse_path(0, 0, radius, radius).segments), allowance=Width.of(width)),),
        )
        assert len(check_allowances(disc).findings) == (width > radius)

    @given(st.floats(10.0, 60.0), st.floats(0.15, 0.9), st.floats(-0.8, 0.8))
    def test_the_radius_said_is_that_of_the_curve(self, size, stretch, lean):
        """Against mpmath: the greatest curvature of the cubic, worked from its derivatives in 30 digits."""
        curve = Cubic((0.0, 0.0), (0.0, size), (size * (1 + lean), size * (1 + stretch)), (2.0 * size, size))
        outline = [*Path((curve,)).segments, Line((2.0 * size, size), (2.0 * size, 500.0)),
                   Line((2.0 * size, 500.0), (-300.0, 500.0)), Line((-300.0, 500.0), (-300.0, 0.0)),
                   Line((-300.0, 0.0), (0.0, 0.0))]  # fmt: skip
        piece = Piece(
            id="p",
            name="p",
            edges=(
                Edge(name="hole", line=Path((curve,)), allowance=Width.of(1e5)),
                Edge(name="rest", line=Path(tuple(outline[1:]))),
            ),
        )
        with mpmath.workdps(30):
            bend = max(-mp_curvature(curve, t) for t in np.linspace(0, 1, 193))
        findings = [one for one in check_allowances(piece).findings if "radius" in one.message]
        assume(bend > 1e-4)
        radius = float(findings[0].message.split("radius of ")[1].split(" mm")[0])
        assert radius == pytest.approx(float(1 / bend), rel=0.02, abs=0.06)

    def test_a_cut_line_that_crosses_itself_and_one_that_crosses_the_stitch_line(self):
        square = rectangle()
        bow = replace(square, counterpart=Path.polygon([(-10, -10), (210, 310), (210, -10), (-10, 310)]))
        assert check_allowances(bow).findings[0].message == "The cut line drawn beside the outline meets itself."
        shifted = replace(square, counterpart=square.line.mapped(Affine.translation(20.0, 20.0)))
        assert check_allowances(shifted).findings[0].message == "The cut line crosses the stitch line."

    @given(turned(upright_pieces()), st.floats(1.0, 15.0))
    def test_the_cut_line_that_allow_draws_is_sound(self, piece, width):
        [cut] = allow(Pattern(pieces=(piece,)), Allowance(width=width)).value.pieces
        assert check_allowances(cut).findings == ()


def mp_curvature(curve, t):
    xs, ys = ([mpmath.mpf(control[axis]) for control in curve.controls] for axis in (0, 1))

    def derivatives(p):
        a, b, c = p[1] - p[0], p[2] - p[1], p[3] - p[2]
        s = 1 - mpmath.mpf(t)
        u = mpmath.mpf(t)
        return 3 * (s * s * a + 2 * s * u * b + u * u * c), 6 * (s * (b - a) + u * (c - b))

    (dx, ddx), (dy, ddy) = derivatives(xs), derivatives(ys)
    speed = mpmath.sqrt(dx * dx + dy * dy)
    return (dx * ddy - dy * ddx) / speed**3 if speed else mpmath.mpf(0)
