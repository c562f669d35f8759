"""Corners of the cut line as they are sewn and pressed: each style does what it is for."""

import math
import os
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st

from crossgrain.errors import CollapseError, ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.area import signed_area, winding
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.meetings.crossing import path_crossings, self_crossings
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import CutInstruction, Edge, Piece, SewnCorner, Width
from crossgrain.model.cutting.sewn_corner import WAYS
from crossgrain.operations.allowance import Allowance, allow
from outline_widths import apart, dense, distances
from pieces import against, moved, one, turned, upright_pieces
from sewn_corners import folded_up, leg, legs
from strategies import angles

OUTLINES = int(os.environ.get("CROSSGRAIN_OUTLINES", "30"))
"""How many outlines are drawn where the issue asks for 500; fewer in every run of the tests."""


def allowed(piece, width, /, *corners, **edges):
    named = tuple((name, Width.of(mm)) for name, mm in edges.items())
    [new] = allow(one(piece), Allowance(width=width, edges=named, corners=corners)).value.pieces
    return new


def of(text, way, guide="", amount=None):
    return SewnCorner(edges=tuple(text.split("/")), way=way, guide=guide, amount=amount)


def polygon(*corners, names):
    lines = Path.polygon(corners).segments
    edges = tuple(Edge(name=name, line=Path((line,))) for name, line in zip(names.split(), lines, strict=True))
    return Piece(id="p", edges=edges)


def square():
    return polygon((0, 0), (100, 0), (100, 100), (0, 100), names="top right bottom left")


def point_at_angle(degrees):
    """A piece with one corner of this many degrees, between the edges named upper and lower."""
    reach, half = 300.0, math.radians(degrees) / 2.0
    up, down = (
        (-reach * math.cos(half), -reach * math.sin(half)),
        (-reach * math.cos(half), reach * math.sin(half)),
    )
    return polygon(up, (0.0, 0.0), down, names="upper lower back")


def is_node(path, point, reach=1e-6):
    return min(math.dist(node, point) for node in path.nodes) <= reach


def is_on(path, point):
    """Tell whether a point lies on a path of straight lines."""
    return shapely.distance(shapely.Point(point), shapely.linearrings(path.nodes)) <= 1e-6


# --- mirrored: hems and facings that lie flat --------------------------------------------------------------------


@settings(max_examples=max(OUTLINES // 3, 10))
@given(legs(), st.floats(0.0, 15.0), st.floats(20.0, 40.0), st.booleans(), st.booleans())
@example(leg(math.radians(12.0), math.radians(12.0), 12.0), 0.5, 40.0, False, False)
@example(leg(math.radians(12.0), math.radians(12.0), -12.0), 0.5, 40.0, False, False)
def test_a_mirrored_hem_turned_up_lies_on_the_leg(piece, width, depth, is_against, is_mirrored):
    """Folded back by exact isometries, no point of its cut edge lies outside the leg's own by more than 0.2 mm."""
    piece = against(piece) if is_against else piece
    piece = moved(piece, Affine.scaling(-1.0, 1.0)) if is_mirrored else piece
    cut = allowed(piece, width, of("hem", "mirrored", "hem"), hem=depth).counterpart
    hem = piece.edge("hem").line
    points = dense(cut, 0.5)
    ring = shapely.Polygon(dense(piece.line)[:-1])
    below = points[[shapely.distance(shapely.Point(p), ring) > 0.0 and on_the_far_side(p, hem) for p in points]]
    back = folded_up(below, hem)
    cloth = shapely.Polygon(dense(cut)[:-1])
    outside = shapely.distance(shapely.points(back), cloth)
    assert outside.max() <= 0.2
    # And it is no narrower than it must be: its side edges lie on the leg's, within the same.
    sides = [p for p in back if 1.0 < distances(np.array([p]), hem)[0] < depth - 1.0]
    on_edge = np.array(sides)
    assert distances(on_edge, cut).max() <= 0.2
    assert not self_crossings(cut)


def on_the_far_side(point, hem):
    """Tell whether a point lies below a hem of a leg drawn upright."""
    x, y = point
    (x0, y0), (x1, y1) = hem.start, hem.end
    if min(x0, x1) <= x <= max(x0, x1):
        return y > min(p[1] for p in dense(hem) if abs(p[0] - x) < 1.0) + 0.01
    return y > (y0 if abs(x - x0) < abs(x - x1) else y1) + 3.0


@pytest.mark.parametrize("lean", [-12.0, -5.0, 0.0, 5.0, 12.0])
def test_on_a_straight_hem_the_image_is_exact(lean):
    """The foot of the side's cut line mirrors its height: the cut edge is as wide at 30 mm as the leg is 30 mm up."""
    angle = math.radians(lean)
    piece = leg(angle, angle)
    cut = allowed(piece, 10.0, of("hem", "mirrored", "hem"), hem=30.0).counterpart
    row = shapely.LineString([(-500.0, 430.0 - 1e-9), (500.0, 430.0 - 1e-9)])
    leg_row = shapely.LineString([(-500.0, 370.0), (500.0, 370.0)])
    cloth = shapely.Polygon(cut.nodes)
    assert cloth.intersection(row).length == pytest.approx(cloth.intersection(leg_row).length, abs=1e-6)
    mitred = allowed(piece, 10.0, hem=30.0).counterpart
    assert (apart(cut, mitred) < 1e-6) == (lean == 0.0)


def test_a_facing_grown_on_at_the_waist_is_mirrored_alike():
    piece = leg(math.radians(8.0), math.radians(8.0))
    cut = allowed(piece, 10.0, of("waist", "mirrored", "waist"), waist=50.0).counterpart
    cloth = shapely.Polygon(cut.nodes)
    rows = [shapely.LineString([(-500.0, y), (500.0, y)]) for y in (-49.0, 49.0)]
    above, below = (cloth.intersection(row).length for row in rows)
    assert above == pytest.approx(below, abs=1e-6)


def test_a_hem_deeper_than_its_seam_is_long_names_both():
    short = leg(length=20.0)
    with pytest.raises(CollapseError, match=r"shorter than the 30 mm") as caught:
        allowed(short, 10.0, of("hem", "mirrored", "hem"), hem=30.0)
    assert caught.value.edge in ("side/hem", "hem/inseam")
    assert caught.value.piece == "leg"


def test_a_mirrored_hem_without_depth_ends_on_its_fold():
    cut = allowed(leg(0.1, 0.1), 10.0, of("hem", "mirrored", "hem"), hem=0.0).counterpart
    assert bounds(cut).bottom == pytest.approx(400.0, abs=1e-9)


def test_nothing_is_cut_beyond_a_fold_whatever_its_corners():
    piece = replace(leg(0.1, 0.0), cut=CutInstruction(on_fold="inseam"))
    piece = replace(piece, corners=(of("hem", "mirrored", "hem"), of("waist", "squared", "waist")))
    cut = allowed(piece, 10.0, hem=30.0).counterpart
    assert bounds(cut).left == pytest.approx(-100.0, abs=1e-9)


# --- squared: to the seam that is sewn first ---------------------------------------------------------------------


@settings(max_examples=30)
@given(st.floats(-12.0, 12.0), st.floats(5.0, 20.0), st.floats(5.0, 20.0))
def test_squared_ends_lie_on_each_other_when_the_seam_is_sewn(lean, wide, narrow):
    """The end of the side's allowance is at right angles to it, where its line gone on meets the waist's cut line."""
    piece = leg(math.radians(lean), 0.0)
    cut = allowed(piece, narrow, of("waist/side", "squared", "side"), side=wide).counterpart
    angle = math.radians(lean)
    on_line = (100.0 - narrow * math.tan(angle), -narrow)
    out = (math.cos(angle), -math.sin(angle))
    assert is_on(cut, on_line)
    assert is_on(cut, (on_line[0] + wide * out[0], on_line[1] + wide * out[1]))


@settings(max_examples=30)
@given(st.floats(-12.0, 12.0), st.floats(5.0, 20.0))
def test_the_ends_of_two_squared_pieces_that_are_sewn_agree(lean, width):
    """A piece and its mirror image sewn at the side: opened flat, their squared ends make one straight line."""
    piece = leg(math.radians(lean), 0.0)
    cut = allowed(piece, width, of("waist/side", "squared", "side")).counterpart
    (x, y), angle = (100.0, 0.0), math.radians(lean)
    t = (math.sin(angle), math.cos(angle))
    a, b, d = 2 * t[0] ** 2 - 1, 2 * t[0] * t[1], 2 * t[1] ** 2 - 1
    about_side = Affine(a, b, b, d, x - a * x - b * y, y - b * x - d * y)
    own = (100.0 - width * math.tan(angle), -width)
    assert is_on(cut, own)
    assert math.dist(about_side.of(own), own) <= 1e-6
    # The end square to the seam is mirrored into the straight line on with itself.
    square_end = (own[0] + width * t[1], own[1] - width * t[0])
    ahead = about_side.of(square_end)
    assert (ahead[0] + square_end[0]) / 2.0 == pytest.approx(own[0], abs=1e-6)


# --- blunted, straight, stepped, mitred --------------------------------------------------------------------------


@pytest.mark.parametrize(("at", "reach"), [(None, 10.0), (12.0, 12.0), (13.0, 13.0)])
def test_a_blunted_corner_is_cut_square_so_far_out(at, reach):
    cut = allowed(square(), 10.0, of("top/right", "blunted", amount=at)).counterpart
    out = max((x - 100.0 - y) / math.sqrt(2.0) for x, y in cut.nodes)
    assert out == pytest.approx(reach, abs=1e-9)
    assert signed_area(cut) == pytest.approx(120.0**2 - (math.sqrt(200.0) - reach) ** 2, abs=1e-6)


def test_a_corner_blunted_beyond_its_point_is_the_point():
    cut = allowed(square(), 10.0, of("top/right", "blunted", amount=15.0)).counterpart
    assert signed_area(cut) == pytest.approx(120.0**2, abs=1e-9)


def test_blunting_into_the_allowance_is_refused_with_the_width():
    with pytest.raises(CollapseError, match=r"8 mm out.*10 mm wide.*top/right") as caught:
        allowed(square(), 10.0, of("top/right", "blunted", amount=8.0))
    assert caught.value.position == (100.0, 0.0)


def test_straight_goes_on_past_the_limit_of_a_mitre():
    """A point of 12°: a mitre is cut off three widths out; straight on it ends 10 / sin 6° = 95.67 mm out. Derived."""
    thorn = point_at_angle(12.0)
    mitred = allowed(thorn, 10.0).counterpart
    straight = allowed(thorn, 10.0, of("upper/lower", "straight", "upper")).counterpart
    assert max(x for x, _y in mitred.nodes) == pytest.approx(30.0, abs=1e-6)
    assert max(x for x, _y in straight.nodes) == pytest.approx(10.0 / math.sin(math.radians(6.0)), abs=1e-6)


@pytest.mark.parametrize("way", WAYS)
def test_a_point_of_12_degrees_is_right_or_refused(way):
    guide = "upper" if way in ("squared", "straight", "mirrored") else ""
    thorn = point_at_angle(12.0)
    try:
        cut = allowed(thorn, 10.0, of("upper/lower", way, guide)).counterpart
    except CollapseError as error:
        assert error.edge == "upper/lower"  # noqa: PT017  # either is right, but a refusal must say where
        assert error.advice  # noqa: PT017
        return
    assert not self_crossings(cut)
    assert distances(dense(cut), thorn.line).min() >= 10.0 - 1e-6


def test_a_corner_too_sharp_to_go_straight_on_names_it_and_the_limit():
    with pytest.raises(CollapseError, match=r"more than 10 widths.*upper/lower"):
        allowed(point_at_angle(6.0), 10.0, of("upper/lower", "straight", "upper"))
    with pytest.raises(CollapseError, match=r"more than 10 widths.*upper/lower"):
        allowed(point_at_angle(4.0), 10.0, of("upper/lower", "squared", "upper"))


def test_stepped_the_wider_one_ends_square_at_the_corner():
    """10 mm and 30 mm at a right angle: the 30 mm end at the corner; 10 mm go round it. Derived."""
    cut = allowed(square(), 10.0, of("right/bottom", "stepped"), bottom=30.0).counterpart
    wanted = [(110.0, 110.0), (100.0, 110.0), (100.0, 130.0)]
    for point in wanted:
        assert is_node(cut, point)
    assert signed_area(cut) == pytest.approx(120.0 * 120.0 + 20.0 * 110.0, abs=1e-6)


def test_a_mitre_of_one_corner_has_a_limit_of_its_own():
    thorn = point_at_angle(12.0)
    cut = allowed(thorn, 10.0, of("upper/lower", "mitred", amount=5.0)).counterpart
    assert max(x for x, _y in cut.nodes) == pytest.approx(50.0, abs=1e-6)


# --- what holds for all ------------------------------------------------------------------------------------------


@st.composite
def styles(draw, names):
    """Draw a style for one corner, an edge or all, as a maker may ask for it."""
    way = draw(st.sampled_from(WAYS))
    edges = draw(st.sampled_from([(names[k - 1], names[k]) for k in range(len(names))] + [(n,) for n in names]))
    guide = draw(st.sampled_from(edges)) if way in ("squared", "straight", "mirrored") else ""
    return SewnCorner(edges=edges, way=way, guide=guide)


NAMES = ("waist", "side", "hem", "inseam", "centre")


@settings(max_examples=OUTLINES)
@given(turned(upright_pieces()), st.lists(styles(NAMES), min_size=1, max_size=4), st.lists(st.floats(4.0, 20.0),
       min_size=5, max_size=5))  # fmt: skip
def test_whatever_the_corners_edges_keep_their_width_and_nothing_crosses(piece, corners, widths):
    """Within 0.01 mm of the true distance away from corners; no line crosses itself or the stitch line."""
    named = dict(zip(NAMES, widths, strict=True))
    cut = allowed(piece, None, *corners, **named).counterpart
    assert not self_crossings(cut)
    assert winding(cut) == winding(piece.line)
    assert not [met for met in path_crossings(cut, piece.line) if met.kind == "cross"]
    for edge in piece.edges:
        ends = edge.line.start, edge.line.end
        clear = min(math.dist(*ends) / 3.0, 60.0)
        middle = [point for point in dense(edge.line, 3.0) if min(math.dist(point, end) for end in ends) > clear]
        gaps = distances(np.array(middle), cut)
        assert np.abs(gaps - named[edge.name]).max() <= 0.011
    # Nowhere is the cloth narrower than the narrowest width.
    assert distances(dense(cut), piece.line, 0.2).min() >= min(widths) - 0.011


@settings(max_examples=20)
@given(legs(), st.sampled_from(WAYS), angles, st.booleans())
def test_moving_mirroring_and_reversing_move_the_corners_too(piece, way, turn, mirror):
    guide = "side" if way in ("squared", "straight", "mirrored") else ""
    corners = (of("side", way, guide), of("hem", "mirrored", "hem"))
    motion = Affine.scaling(-1.0 if mirror else 1.0, 1.0).then(Affine.rotation(turn))
    plain = allowed(piece, 9.0, *corners, hem=25.0).counterpart
    for other in (moved(piece, motion), against(moved(piece, motion))):
        assert apart(allowed(other, 9.0, *corners, hem=25.0).counterpart, plain.mapped(motion)) <= 0.02


def test_a_side_in_two_parts_mirrored_about_a_hem_that_rises_stays_one_line():
    """Where the side goes straight on to the fold, both parts' images end in one point, whatever rounding says."""
    foot, left = (100.0, 400.0), (-25.187195199683217, 400.0)
    hem = Cubic(foot, (58.27093493343893, 386.84375), (16.541869866877853, 386.84375), left)
    lines = [Line((-100.0, 0.0), (100.0, 0.0)), Line((100.0, 0.0), foot), hem, Line(left, (-100.0, 0.0))]
    names = ("waist", "side", "hem", "inseam")
    piece = Piece(id="leg", edges=tuple(Edge(name=n, line=Path((s,))) for n, s in zip(names, lines, strict=True)))
    cut = allowed(piece, 9.0, of("side", "mitred"), of("hem", "mirrored", "hem"), hem=25.0).counterpart
    assert not self_crossings(cut)
    assert signed_area(cut) > signed_area(piece.line)


@pytest.mark.parametrize("way", WAYS)
def test_an_inside_corner_is_where_the_lines_cross_whatever_its_style(way):
    hook = polygon((0, 0), (100, 0), (100, 50), (50, 50), (50, 100), (0, 100), names="a b c d e f")
    guide = "c" if way in ("squared", "straight", "mirrored") else ""
    styled = allowed(hook, 10.0, of("c/d", way, guide)).counterpart
    assert apart(styled, allowed(hook, 10.0).counterpart) < 1e-9


@pytest.mark.parametrize("way", WAYS)
def test_an_edge_shorter_than_the_allowance_is_right_or_refused(way):
    """A chamfer of 5 mm between two edges with 15 mm."""
    piece = polygon((0, 0), (95, 0), (100, 5), (100, 100), (0, 100), names="top chamfer right bottom left")
    guide = "chamfer" if way in ("squared", "straight", "mirrored") else ""
    try:
        cut = allowed(piece, 15.0, of("chamfer", way, guide)).counterpart
    except CollapseError as error:
        assert error.edge in ("top/chamfer", "chamfer/right")  # noqa: PT017  # either is right; a refusal says where
        assert error.advice  # noqa: PT017
        return
    assert not self_crossings(cut)
    assert distances(dense(cut), piece.line).min() >= 15.0 - 1e-6


def test_two_words_on_one_corner_the_nearer_one_counts():
    all_blunt, bottom, corner = (
        SewnCorner(edges=(), way="blunted"), of("bottom", "mitred"), of("right/bottom", "stepped"),
    )  # fmt: skip
    one_of_each = allowed(square(), 10.0, corner, all_blunt, bottom, bottom=20.0).counterpart
    assert is_node(one_of_each, (100.0, 120.0))  # stepped
    assert is_node(one_of_each, (-10.0, 120.0))  # mitred
    assert not is_node(one_of_each, (110.0, -10.0))  # blunted


@pytest.mark.parametrize(
    ("given_edges", "way", "guide", "amount", "said"),
    [
        (("a", "b", "c"), "blunted", "", None, "between two edges"),
        (("a", "a"), "blunted", "", None, "between two edges"),
        (("a",), "mirrored", "", None, "by which of its edges"),
        (("a",), "squared", "b", None, "by which of its edges"),
        (("a",), "blunted", "a", None, "by neither"),
        (("a",), "blunted", "", 0.0, "no such amount"),
        (("a",), "mitred", "", 1.0, "no such amount"),
        (("a",), "stepped", "", 5.0, "no such amount"),
        (("a",), "folded", "", None, "no style"),
    ],
)
def test_a_style_that_makes_no_sense_is_refused(given_edges, way, guide, amount, said):
    with pytest.raises(ParameterError, match=said):
        SewnCorner(edges=given_edges, way=way, guide=guide, amount=amount)


def test_a_corner_of_an_edge_that_no_piece_has_is_refused():
    with pytest.raises(ParameterError, match=r"No piece has an edge named hemm\. .*bottom, left"):
        allowed(square(), 10.0, of("hemm", "blunted"))


def test_the_only_corner_of_an_outline_can_be_shaped():
    """A drop with one corner: blunted 10 mm out, its point is gone, and the rest is what it was."""
    t = math.radians(60.0)
    side = 100.0
    corner, right, left = (
        (0.0, 0.0),
        (side * math.cos(t), side * math.sin(t)),
        (-side * math.cos(t), side * math.sin(t)),
    )
    outline = Path.polygon([corner, right, (0.0, 160.0), left])
    piece = Piece(id="drop", edges=(Edge(name="rim", line=Path(outline.segments)),))
    cut = allowed(piece, 10.0, of("rim", "blunted")).counterpart
    assert min(y for _x, y in cut.nodes) == pytest.approx(-10.0, abs=1e-6)
    assert isinstance(cut.segments[0], Line)
