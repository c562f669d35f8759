"""The cut line lies beside the stitch line at the width of each edge, and stripping it gives the stitch line back."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import CollapseError, ParameterError, SelfCrossingError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.arc import ellipse_path
from crossgrain.kernel.area import signed_area, winding
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import CutInstruction, Edge, Pattern, Piece, Width
from crossgrain.operations.allowance import Allowance, allow, strip
from outline_widths import apart, dense, distances
from pieces import against, bare_pieces, moved, one, turned, upright_pieces
from strategies import angles, points

widths = st.floats(3.0, 20.0)


def allowed(piece, width=None, /, **edges):
    named = tuple((name, mm if isinstance(mm, Width) else Width.of(mm)) for name, mm in edges.items())
    [new] = allow(one(piece), Allowance(width=width, edges=named)).value.pieces
    return new


def evens(piece):
    """The widths of a piece's edges, each the same all along."""
    assert all(edge.allowance.is_even for edge in piece.edges)
    return [edge.allowance.start for edge in piece.edges]


def stripped(line, width):
    cut = Piece(id="cut", edges=(Edge(name="", line=Path(line.segments)),), outline="cut")
    [new] = strip(one(cut), Allowance(width=width)).value.pieces
    return new.counterpart


def polygon(*corners, names=None, **facts):
    closed = [*corners, corners[0]]
    lines = [Line(tuple(map(float, p)), tuple(map(float, q))) for p, q in pairwise(closed)]
    if names is None:
        edges = (Edge(name="", line=Path(tuple(lines))),)
    else:
        edges = tuple(Edge(name=name, line=Path((line,))) for name, line in zip(names, lines, strict=True))
    return Piece(id="band", edges=edges, **facts)


def rectangle(**facts):
    return polygon((0, 0), (100, 0), (100, 60), (0, 60), names=("top", "right", "bottom", "left"), **facts)


@st.composite
def convex_polygons(draw):
    """Draw convex polygons with no corner sharper than 39°, which a mitre of three widths would cut off."""
    count = draw(st.integers(5, 9))
    # A vertex per sector of a circle; the most pointed one, between two far ones, still has 180° − 2 · 58°.
    turns = [math.tau / count * (k + draw(st.floats(-0.15, 0.15))) for k in range(count)]
    radius, flat = draw(st.floats(60.0, 300.0)), draw(st.floats(0.7, 1.0))
    x, y = draw(points)
    return polygon(*((x + radius * math.cos(a), y + flat * radius * math.sin(a)) for a in turns))


@st.composite
def ellipses(draw):
    """Draw smooth convex outlines, wound either way."""
    line = ellipse_path(*draw(points), draw(st.floats(60.0, 300.0)), draw(st.floats(60.0, 300.0)))
    line = line if draw(st.booleans()) else line.reversed()
    return Piece(id="ellipse", edges=(Edge(name="", line=Path(line.segments)),))


# --- values from outside ------------------------------------------------------------------------------------------


def test_a_rectangle_with_ten_millimetres():
    """100 × 60 mm with 10 mm all round, mitred: 120 × 80 = 9600 mm², 400 mm round. Derived."""
    new = allowed(rectangle(), 10.0)
    assert abs(signed_area(new.counterpart)) == pytest.approx(9600.0, abs=1e-9)
    assert path_length(new.counterpart) == pytest.approx(400.0, abs=1e-9)
    assert len(new.counterpart.segments) == 4


def test_every_edge_has_its_own_width():
    """Widths of 5, 15, 30 and 0 mm on a rectangle make it (0 + 100 + 15) × (5 + 60 + 30) mm. Derived."""
    new = allowed(rectangle(), 15.0, top=5.0, bottom=30.0, left=0.0)
    box = bounds(new.counterpart)
    assert (box.left, box.top, box.right, box.bottom) == pytest.approx((0.0, -5.0, 115.0, 90.0), abs=1e-9)
    assert abs(signed_area(new.counterpart)) == pytest.approx(115.0 * 95.0, abs=1e-9)
    assert evens(new) == [5.0, 15.0, 30.0, 0.0]


@given(st.floats(1.0, 40.0))
def test_the_waist_of_a_circle_skirt_with_its_allowance(width):
    """A waist of 110 cm lies on a radius of 110/2π = 17.507 cm; a parallel is 2π longer for each mm beside it.

    L(d) = L + 2πd: Steiner's formula. r = waist/2π: handbooks' circle skirt.
    """
    radius = 1100.0 / math.tau
    assert radius == pytest.approx(175.07, abs=0.01)
    waist = Piece(id="skirt", edges=(Edge(name="", line=Path(ellipse_path(0.0, 0.0, radius, radius).segments)),))
    new = allowed(waist, width).counterpart
    assert path_length(new) == pytest.approx(1100.0 + math.tau * width, abs=math.tau * 0.01)


@given(ellipses(), widths)
def test_smooth_convex_outlines_follow_steiner(piece, width):
    """A(d) = A + L d + π d², L(d) = L + 2π d for closed convex lines: Steiner's formulas."""
    length, area = path_length(piece.line), abs(signed_area(piece.line))
    new = allowed(piece, width).counterpart
    assert path_length(new) == pytest.approx(length + math.tau * width, abs=math.tau * 0.01)
    assert abs(signed_area(new)) == pytest.approx(area + length * width + math.pi * width**2, abs=0.01 * length)


@given(convex_polygons(), widths)
def test_mitred_polygons_are_what_shapely_buffers(piece, width):
    """Against shapely's buffer with mitred joins, and between Steiner's round joins and the mitres' own bound."""
    new = allowed(piece, width).counterpart
    sharp = shapely.Polygon(piece.line.nodes).buffer(width, join_style="mitre", mitre_limit=5.0)
    assert abs(signed_area(new)) == pytest.approx(sharp.area, rel=1e-9)
    assert shapely.hausdorff_distance(shapely.linearrings(new.nodes), sharp.exterior) < 1e-6
    length, area = path_length(piece.line), abs(signed_area(piece.line))
    assert abs(signed_area(new)) >= area + length * width + math.pi * width**2
    # Each mitre adds w² tan(turn/2) where a round join adds w² turn/2.
    turns = [abs(math.atan2(_cross(p, q, r), _dot(p, q, r))) for p, q, r in _triples(piece.line.nodes)]
    assert abs(signed_area(new)) == pytest.approx(
        area + length * width + width**2 * sum(math.tan(turn / 2.0) for turn in turns), rel=1e-9
    )


def _triples(nodes):
    return [(nodes[k - 2], nodes[k - 1], nodes[k]) for k in range(len(nodes))]


def _cross(p, q, r):
    return (q[0] - p[0]) * (r[1] - q[1]) - (q[1] - p[1]) * (r[0] - q[0])


def _dot(p, q, r):
    return (q[0] - p[0]) * (r[0] - q[0]) + (q[1] - p[1]) * (r[1] - q[1])


# --- the distance, everywhere -------------------------------------------------------------------------------------


def parallel_points(path, width, step=3.0):
    """Points at the width from places on a closed line, along its own normals, outwards; shape (m, 2)."""
    side = winding(path) * width
    out = []
    for segment in path.segments:
        count = max(2, math.ceil(math.dist(segment.start, segment.end) / step))
        for k in range(1, count):
            (x, y), (dx, dy) = segment.point(k / count), segment.derivative(k / count)
            size = math.hypot(dx, dy)
            if size > 1e-6:
                out.append((x + side * dy / size, y - side * dx / size))
    return np.array(out)


def mitred_corners(path):
    """The nodes of a closed line at which it turns outwards."""
    for before, after in pairwise((path.segments[-1], *path.segments)):
        (x, y), (u, v) = before.end_tangent, after.start_tangent
        if winding(path) * (x * v - y * u) > 1e-3:
            yield after.start


@given(st.one_of(turned(upright_pieces()), bare_pieces()), widths)
def test_the_cut_line_keeps_its_distance(piece, width):
    """No point of it is nearer than the width, and every true parallel point that is not nearer itself lies on it.

    But for what mitres cover, up to their limit of three widths from a corner, and for inlets that the allowances of
    both sides fill: what shapely's buffer leaves as a hole is not cut.
    """
    cut = allowed(piece, width).counterpart
    assert distances(dense(cut), piece.line, 0.2).min() >= width - 0.011
    wanted = parallel_points(piece.line, width)
    wanted = wanted[distances(wanted, piece.line, 0.1) >= width - 1e-3]
    for corner in mitred_corners(piece.line):
        wanted = wanted[np.hypot(*(wanted - corner).T) > 3.0 * width]
    for hole in shapely.Polygon(dense(piece.line)[:-1]).buffer(width).interiors:
        wanted = wanted[shapely.distance(shapely.points(wanted), hole) > 0.1]
    if len(wanted):
        assert distances(wanted, cut, 0.2).max() <= 0.011
    assert shapely.is_valid(shapely.Polygon(dense(cut)[:-1]))
    assert winding(cut) == winding(piece.line)


@given(turned(upright_pieces()), st.lists(widths, min_size=5, max_size=5))
def test_away_from_corners_each_edge_has_its_width(piece, given_widths):
    named = dict(zip(piece.edge_names, given_widths, strict=True))
    cut = allowed(piece, **named).counterpart
    for edge in piece.edges:
        ends = edge.line.start, edge.line.end
        clear = min(math.dist(*ends) / 3.0, 50.0)
        middle = [point for point in dense(edge.line, 3.0) if min(math.dist(point, end) for end in ends) > clear]
        gaps = distances(np.array(middle), cut)
        assert np.abs(gaps - named[edge.name]).max() <= 0.011


@given(st.one_of(turned(upright_pieces()), convex_polygons()), widths, angles, points, st.booleans())
def test_moving_mirroring_and_reversing_the_piece_moves_the_cut_line(piece, width, turn, move, mirror):
    motion = Affine.scaling(-1.0 if mirror else 1.0, 1.0).then(Affine.rotation(turn)).then(Affine.translation(*move))
    plain = allowed(piece, width).counterpart
    for there in (allowed(moved(piece, motion), width), allowed(against(moved(piece, motion)), width)):
        assert abs(signed_area(there.counterpart)) == pytest.approx(
            abs(signed_area(plain)), abs=0.02 * path_length(plain)
        )
        assert apart(there.counterpart, plain.mapped(motion)) <= 0.02


@given(turned(upright_pieces()), widths)
def test_few_nodes_are_needed(piece, width):
    """At most one segment for each of the outline's, two short ones at each corner, and a quarter of shapely's nodes
    at 0.01 mm: on the curves of the samples it is a thirteenth, and here the median."""
    cut = allowed(piece, width).counterpart
    assert len(cut.segments) <= len(piece.line.segments) + 2 * len(piece.edges) + 2
    buffered = shapely.Polygon(dense(piece.line)[:-1]).simplify(0.01).buffer(width, join_style="mitre")
    assert 4 * len(cut.segments) <= len(buffered.exterior.coords)


@given(turned(upright_pieces()), widths)
def test_only_the_widths_and_the_cut_line_are_new(piece, width):
    new = allowed(piece, width)
    back = replace(new, counterpart=None, edges=tuple(replace(edge, allowance=None) for edge in new.edges))
    assert back == piece


def test_no_allowance_at_all_is_the_stitch_line():
    assert apart(allowed(rectangle(), 0.0).counterpart, rectangle().line) < 1e-9


# --- back again ---------------------------------------------------------------------------------------------------


@given(st.one_of(ellipses(), convex_polygons()), widths)
def test_stripping_a_convex_cut_line_gives_the_stitch_line_back(piece, width):
    assert apart(stripped(allowed(piece, width).counterpart, width), piece.line) <= 0.02


def test_stripping_each_edge_by_its_own_width():
    widths_by_edge = {"top": 5.0, "right": 15.0, "bottom": 30.0, "left": 0.0}
    cut = polygon((0, -5), (115, -5), (115, 90), (0, 90), names=tuple(widths_by_edge), outline="cut")
    named = tuple((name, Width.of(mm)) for name, mm in widths_by_edge.items())
    outcome = strip(one(cut), Allowance(edges=named))
    assert apart(outcome.value.pieces[0].counterpart, rectangle().line) < 1e-9
    [change] = outcome.changes
    assert (change.before, change.after) == pytest.approx((115.0 * 95.0, 6000.0))
    assert (change.unit, "stitch line" in change.what) == ("mm2", True)


@pytest.mark.parametrize("width", [30.0, 31.0, 200.0])
def test_widths_that_leave_no_stitch_line_are_refused(width):
    with pytest.raises(CollapseError, match="smaller width") as caught:
        strip(one(rectangle(outline="cut")), Allowance(width=width))
    assert caught.value.piece == "band"
    assert caught.value.position is not None


def test_a_strip_that_falls_apart_is_refused():
    """Two squares with a neck of 10 mm between them, stripped by 6 mm, are two pieces."""
    neck = [(0, 0), (60, 0), (60, 25), (100, 25), (100, 0), (160, 0), (160, 60), (100, 60), (100, 35), (60, 35),
            (60, 60), (0, 60)]  # fmt: skip
    with pytest.raises(CollapseError, match="falls apart into 2 pieces"):
        strip(one(polygon(*neck, outline="cut")), Allowance(width=6.0))


# --- which width counts -------------------------------------------------------------------------------------------


def test_the_edge_on_the_fold_takes_none():
    new = allowed(rectangle(cut=CutInstruction(on_fold="left")), 10.0)
    box = bounds(new.counterpart)
    assert (box.left, box.right) == pytest.approx((0.0, 110.0), abs=1e-9)
    assert new.edge("left").allowance == Width.of(0.0)


def test_the_edge_on_the_fold_takes_one_when_it_is_named():
    new = allowed(rectangle(cut=CutInstruction(on_fold="left")), 10.0, left=4.0)
    assert bounds(new.counterpart).left == pytest.approx(-4.0, abs=1e-9)


@given(st.floats(-35.0, 35.0), st.floats(5.0, 30.0))
def test_nothing_is_cut_beyond_the_fold(slope, width):
    """However its neighbours slant, the cut line ends on the straight line of the fold."""
    piece = polygon(
        (0, 0), (100, 0), (100, 160), (0, 160 + slope), names=("top", "right", "foot", "fold"),
        cut=CutInstruction(on_fold="fold"),
    )  # fmt: skip
    cut = allowed(piece, width).counterpart
    assert bounds(cut).left == pytest.approx(0.0, abs=1e-6)


def test_the_drawing_holds_widths_and_what_is_given_goes_before():
    held = replace(rectangle(), edges=tuple(replace(edge, allowance=Width.of(7.0)) for edge in rectangle().edges))
    assert evens(allowed(held)) == [7.0] * 4
    assert evens(allowed(held, top=3.0)) == [3.0, 7.0, 7.0, 7.0]
    assert evens(allowed(held, 12.0, top=3.0)) == [3.0, 12.0, 12.0, 12.0]


def test_one_edge_name_serves_every_piece_that_has_it():
    other = polygon((0, 0), (50, 0), (50, 50), (0, 50), names=("waist", "right", "hem", "left"))
    pattern = Pattern(pieces=(rectangle(), replace(other, id="other")))
    named = (("hem", Width.of(30.0)), ("right", Width.of(5.0)))
    new = allow(pattern, Allowance(width=10.0, edges=named)).value
    assert [evens(piece) for piece in new.pieces] == [
        [10.0, 5.0, 10.0, 10.0],
        [10.0, 5.0, 30.0, 10.0],
    ]


def test_the_area_is_told_before_and_after():
    [change] = allow(one(rectangle()), Allowance(width=10.0)).changes
    assert (change.piece, change.before, change.after, change.unit) == ("band", 6000.0, pytest.approx(9600.0), "mm2")
    assert "cut line" in change.what


# --- what cannot be -----------------------------------------------------------------------------------------------


def test_an_edge_that_no_piece_has_is_named_with_those_there_are():
    with pytest.raises(ParameterError, match=r"No piece has an edge named hemm\. .*bottom, left, right, top"):
        allowed(rectangle(), 10.0, hemm=30.0)
    with pytest.raises(ParameterError, match=r"no named edges"):
        allowed(polygon((0, 0), (10, 0), (10, 10)), 10.0, hem=30.0)


def test_without_any_width_it_says_which_edge_has_none():
    with pytest.raises(ParameterError, match=r"No allowance is given.*band.*edge right") as caught:
        allowed(rectangle(), top=5.0)
    assert caught.value.edge == "right"


def test_a_cut_line_gets_no_second_allowance_and_a_stitch_line_none_stripped():
    with pytest.raises(ParameterError, match=r"cut line.*Strip it"):
        allowed(rectangle(outline="cut"), 10.0)
    with pytest.raises(ParameterError, match=r"stitch line.*Mark the outline as the cut line"):
        strip(one(rectangle()), Allowance(width=10.0))


def test_an_outline_that_crosses_itself_is_refused_where_it_does():
    with pytest.raises(SelfCrossingError, match="crosses itself") as caught:
        allowed(polygon((0, 0), (100, 100), (100, 0), (0, 100)), 10.0)
    assert caught.value.position == pytest.approx((50.0, 50.0), abs=1e-6)
    assert caught.value.piece == "band"


@pytest.mark.parametrize("width", [-1.0, math.nan, math.inf])
def test_a_width_that_is_none_is_refused(width):
    with pytest.raises(ParameterError, match="cannot be drawn"):
        Allowance(width=width)


def test_contradictory_or_senseless_parameters_are_refused():
    with pytest.raises(ParameterError, match="hem is given two"):
        Allowance(edges=(("hem", Width.of(10.0)), ("hem", Width.of(20.0))))
    for limit in (1.0, 0.0, math.nan):
        with pytest.raises(ParameterError, match="limit"):
            Allowance(width=10.0, limit=limit)
    for accuracy in (0.0, -0.01, math.nan, math.inf):
        with pytest.raises(ParameterError, match="accuracy"):
            Allowance(width=10.0, accuracy=accuracy)


def test_a_sharp_corner_is_cut_off_square_at_the_limit():
    """A thorn of 2·atan(1/10): its mitre would lie 10 widths out; it is cut off three widths from the corner."""
    thorn = polygon((0, 0), (100, 10), (0, 20))
    cut = allowed(thorn, 5.0).counterpart
    reach = max(x for x, _y in cut.nodes) - 100.0
    assert reach == pytest.approx(15.0, abs=1e-6)
    longer = allow(one(thorn), Allowance(width=5.0, limit=20.0)).value.pieces[0].counterpart
    assert max(x for x, _y in longer.nodes) - 100.0 == pytest.approx(5.0 * math.hypot(10.0, 1.0), abs=1e-6)
