"""Reducing is an exact scaling across the grain where nothing is held, and keeps every promise where something is."""

import math
from dataclasses import replace

import mpmath
import numpy as np
import pytest
import shapely
import shapely.affinity
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.errors import CollapseError, ParameterError, SelfCrossingError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.length import path_length, place_at, point_at, point_at_share
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.kernel.warp import moved_point
from crossgrain.model import CutInstruction, Dart, Edge, Hold, Notch, Pattern, Piece
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.narrowing import Narrowing
from crossgrain.operations.reduction import Reduction, reduce
from outline_widths import apart, distances, node_turns, upright, widths
from pieces import against, bare_pieces, held_pieces, moved, one, pieces, turned, upright_pieces
from strategies import angles, points, simple_outlines

shares = st.one_of(st.floats(0.01, 0.35), st.floats(-0.25, -0.01))
takings = st.floats(0.02, 0.2)

few = settings(max_examples=25)
"""For laws whose pieces have holds: each example takes a tenth of a second."""


def reduced(piece, by, **how):
    [new] = reduce(one(piece), Reduction(by=by, **how)).value.pieces
    return new


def controls(piece):
    return np.array([segment.controls for segment in piece.line.segments]).reshape(-1, 2)


def frame_of(piece):
    gx, gy = piece.grain
    return Affine(gy, gx, -gx, gy)


def framed(piece, xy):
    return np.array([frame_of(piece).of(point) for point in xy])


def notch_level(piece, notch):
    line = piece.edge(notch.edge).line
    return frame_of(piece).of(point_at(line, place_at(line, notch.share * path_length(line))))[1]


def rectangle(width, height, *, left=0.0, **facts):
    """Edges top, right, bottom, left, clockwise."""
    corners = [(left, 0.0), (left + width, 0.0), (left + width, height), (left, height)]
    edges = tuple(
        Edge(name=name, line=Path((Line(corners[k], corners[(k + 1) % 4]),)))
        for k, name in enumerate(("top", "right", "bottom", "left"))
    )
    return Piece(id="band", edges=edges, **facts)


# --- without holds: an exact scaling ------------------------------------------------------------------------------


@few
@given(st.one_of(pieces(), held_pieces()))
def test_nothing_taken_is_the_piece_itself(piece):
    outcome = reduce(one(piece), Reduction(by=0.0))
    assert outcome.value == one(piece)
    assert not outcome.findings


@given(pieces(), shares)
def test_without_holds_every_control_point_is_scaled_across_the_grain(piece, by):
    new = reduced(piece, by)
    before, after = framed(piece, controls(piece)), framed(piece, controls(new))
    assert len(before) == len(after)
    box = bounds(piece.line.mapped(frame_of(piece)))
    middle = (box.left + box.right) / 2.0
    assert after[:, 0] == pytest.approx(middle + (1.0 - by) * (before[:, 0] - middle), abs=1e-9)
    assert after[:, 1] == pytest.approx(before[:, 1], abs=1e-9)


@given(bare_pieces().filter(lambda piece: piece.grain == (0.0, 1.0)), shares)
def test_with_the_grain_down_the_page_nothing_moves_along_it_at_all(piece, by):
    assert (controls(reduced(piece, by))[:, 1] == controls(piece)[:, 1]).all()


@few
@given(held_pieces(), takings)
def test_corners_of_a_held_piece_keep_their_level(piece, by):
    for old, new in zip(piece.edges, reduced(piece, by).edges, strict=True):
        assert new.line.start[1] == pytest.approx(old.line.start[1], abs=1e-9)


@given(pieces(), shares)
def test_the_inverse_gives_the_piece_back(piece, by):
    # 1 − by' = 1 / (1 − by)
    back = reduced(reduced(piece, by), -by / (1.0 - by))
    assert controls(back) == pytest.approx(controls(piece), abs=1e-7)
    assert [notch.share for notch in back.notches] == pytest.approx([n.share for n in piece.notches], abs=1e-7)


motions = st.builds(
    lambda turn, move, mirror: (
        Affine.scaling(-1.0 if mirror else 1.0, 1.0).then(Affine.rotation(turn)).then(Affine.translation(*move))
    ),
    angles,
    points,
    st.booleans(),
)


@given(pieces(), shares, motions)
def test_moving_the_piece_moves_the_result(piece, by, motion):
    assert controls(reduced(moved(piece, motion), by)) == pytest.approx(
        controls(moved(reduced(piece, by), motion)), abs=1e-6
    )


@few
@given(held_pieces(), takings, motions)
def test_moving_a_held_piece_moves_the_result(piece, by, motion):
    there, back = reduced(moved(piece, motion), by), moved(reduced(piece, by), motion)
    for one_edge, other in zip(there.edges, back.edges, strict=True):
        assert one_edge.line.end == pytest.approx(other.line.end, abs=1e-4)
        assert apart(one_edge.line, other.line) <= 0.011  # two fits, each within 0.005 of one image


@few
@given(held_pieces(), takings)
def test_a_piece_drawn_the_other_way_round_narrows_alike(piece, by):
    there, back = reduced(against(piece), by), against(reduced(piece, by))
    for one_edge, other in zip(there.edges, back.edges, strict=True):
        assert one_edge.name == other.name
        assert one_edge.line.end == pytest.approx(other.line.end, abs=1e-6)
    assert there.line.segments[0].start == pytest.approx(back.line.segments[0].start, abs=1e-6)
    assert abs(signed_area(there.line)) == pytest.approx(abs(signed_area(back.line)), abs=5.0)


@given(pieces(), shares)
def test_its_area_is_that_of_the_scaled_polygon(piece, by):
    """Against shapely.affinity.scale, on a polyline of the outline."""
    new = reduced(piece, by)
    polygon = shapely.Polygon(upright(piece))
    scaled = shapely.affinity.scale(polygon, xfact=1.0 - by, yfact=1.0, origin=_middle(piece))
    assert abs(signed_area(new.line)) == pytest.approx((1.0 - by) * abs(signed_area(piece.line)), rel=1e-9)
    assert abs(signed_area(new.line)) == pytest.approx(scaled.area, rel=1e-4)
    outline = new.line.mapped(frame_of(piece))
    assert distances(shapely.get_coordinates(scaled), outline, 0.2).max() < 5e-3  # chords of 0.2 mm


def _middle(piece):
    return bounds(piece.line.mapped(frame_of(piece))).centre


def test_the_length_of_a_narrowed_curve_is_what_mpmath_integrates():
    bend = Cubic((0.0, 0.0), (80.0, 40.0), (90.0, 160.0), (30.0, 300.0))
    piece = Piece(id="p", edges=(Edge(name="side", line=Path((bend,))),
                                 Edge(name="back", line=Path((Line((30.0, 300.0), (0.0, 0.0)),)))))  # fmt: skip
    new = reduced(piece, 0.12).edge("side").line

    def speed(t):
        x, y = (
            3 * (1 - t) ** 2 * (b - a) + 6 * (1 - t) * t * (c - b) + 3 * t * t * (d - c)
            for a, b, c, d in zip(*bend.controls, strict=True)
        )
        return mpmath.sqrt((mpmath.mpf("0.88") * x) ** 2 + y**2)

    assert path_length(new) == pytest.approx(float(mpmath.quad(speed, [0, 0.5, 1])), abs=1e-9)


@pytest.mark.parametrize("girth_inches", [1.0, 0.5, 2.0])
def test_quartering(girth_inches):
    """An inch of girth is a quarter inch on each half front and each half back: trade practice of quartering."""
    inch = 25.4
    girth = 40.0 * inch
    halves = [replace(rectangle(girth / 4.0, 200.0), id=name) for name in ("half front", "half back")]
    by = girth_inches * inch / girth
    new = reduce(Pattern(pieces=tuple(halves)), Reduction(by=by)).value
    taken = [path_length(old.edge("top").line) - path_length(p.edge("top").line)
             for old, p in zip(halves, new.pieces, strict=True)]  # fmt: skip
    assert taken == pytest.approx([0.25 * girth_inches * inch] * 2, abs=1e-9)
    assert 2.0 * sum(taken) == pytest.approx(girth_inches * inch, abs=1e-9)


# --- along, anchor, fold ------------------------------------------------------------------------------------------


@given(pieces(), shares, st.floats(-0.1, 0.2))
def test_along_shortens_the_piece_about_its_middle(piece, by, along):
    before = framed(piece, controls(piece))
    after = framed(piece, controls(reduced(piece, by, along=along)))
    _x, middle = _middle(piece)
    assert after[:, 1] == pytest.approx(middle + (1.0 - along) * (before[:, 1] - middle), abs=1e-7)


@given(turned(upright_pieces()), takings, st.sampled_from(["centre", "side", "waist"]))
def test_the_anchor_stays_where_it_is(piece, by, anchor):
    """The point half way along it, for it may slant."""
    middle = point_at_share(piece.edge(anchor).line, 0.5)
    assert nearest(reduced(piece, by, anchor=anchor).edge(anchor).line, middle).distance < 1e-7


@few
@given(upright_pieces(holds=True), takings, st.sampled_from(["centre", "side"]))
def test_a_held_anchor_stays_and_nothing_is_bent_by_it(piece, by, anchor):
    new = reduced(piece, by, anchor=anchor)
    middle = point_at_share(piece.edge(anchor).line, 0.5)
    assert nearest(new.edge(anchor).line, middle).distance < 0.006
    for name in ("side", "inseam", "centre"):
        assert max(map(abs, node_turns(new.edge(name).line)), default=0.0) <= 0.1


def test_the_edge_on_the_fold_stays_where_it_is():
    piece = rectangle(100.0, 60.0, left=20.0, cut=CutInstruction(on_fold="left"))
    new = reduced(piece, 0.1)
    assert new.edge("left").line == piece.edge("left").line
    assert new.edge("right").line.start[0] == pytest.approx(20.0 + 90.0, abs=1e-9)


def test_an_anchor_goes_before_the_fold():
    piece = rectangle(100.0, 60.0, cut=CutInstruction(on_fold="left"))
    assert reduced(piece, 0.1, anchor="right").edge("right").line == piece.edge("right").line


def test_an_anchor_that_is_not_there_is_named():
    with pytest.raises(ParameterError, match=r"no edge named nowhere.*band.*top, right"):
        reduced(rectangle(100.0, 60.0), 0.1, anchor="nowhere")


# --- holds --------------------------------------------------------------------------------------------------------


def full_levels(piece, count=120):
    """Levels with the piece's long edges on either side, past slanted waists and hems."""
    top = max(max(y for _x, y in piece.edge("waist").line.nodes), 0.0)
    low = min(y for _x, y in piece.edge("hem").line.nodes)
    return np.linspace(top + 0.5, low - 0.5, count)


@few
@given(held_pieces(), takings)
def test_at_every_level_the_piece_loses_its_share_of_width(piece, by):
    levels = full_levels(piece)
    waist = upright(piece, piece.edge("waist").line)[:, 1].max()
    levels = levels[levels > waist]
    assert widths(reduced(piece, by), levels) == pytest.approx((1.0 - by) * widths(piece, levels), abs=0.01)


@few
@given(upright_pieces(holds=True), st.floats(0.0, 1.0), takings)
def test_a_hold_is_as_wide_as_it_was_at_every_level(piece, share, by):
    """Its two sides, drawn as the edges of two pieces that are narrowed alike, keep their distance."""
    [hold] = piece.holds
    line = piece.edge(hold.edge).line
    x, y = point_at(line, place_at(line, (hold.start + share * (hold.end - hold.start)) * path_length(line)))
    inside = x + hold.width if hold.edge == "centre" else x - hold.width
    narrowing = Narrowing(piece, 1.0 - by)
    edge, inner = (moved_point(point, narrowing) for point in ((x, y), (inside, y)))
    assert abs(edge[0] - inner[0]) == pytest.approx(hold.width, abs=0.01)
    assert edge[1] == pytest.approx(y, abs=1e-9)


def zipped(slant=0.0, extension=5.0):
    """A front with a zip extension whose foot steps back, as the left front has: right edges top, zip, step, seam."""
    nodes = [(0, 0), (100 - slant, 0), (100, 160), (100 - extension, 160), (95, 500), (0, 500)]
    names = ["top", "zip", "step", "seam", "hem", "side"]
    edges = tuple(
        Edge(name=name, line=Path((Line(tuple(map(float, nodes[k])), tuple(map(float, nodes[(k + 1) % 6]))),)))
        for k, name in enumerate(names)
    )
    return Piece(id="front", edges=edges, holds=(Hold(edge="zip", width=extension),))


@pytest.mark.parametrize("by", [0.08, 0.12, 0.2])
@pytest.mark.parametrize("slant", [0.0, 8.0, 60.0])
def test_a_zip_extension_keeps_its_width_and_its_step(by, slant):
    piece = zipped(slant)
    new = reduced(piece, by)
    assert path_length(new.edge("step").line) == pytest.approx(5.0, abs=0.01)
    levels = np.linspace(0.5, 159.5, 60)
    assert widths(new, levels) == pytest.approx((1.0 - by) * widths(piece, levels), abs=0.01)


@pytest.mark.parametrize("by", [0.08, 0.12, 0.2])
def test_under_a_step_the_width_misses_by_no_more_than_documented(by):
    """Up to the hold's width times the share, fading over 80 mm: model/narrowing.py."""
    piece = zipped()
    levels = np.linspace(160.5, 499.5, 200)
    off = widths(reduced(piece, by), levels) - (1.0 - by) * widths(piece, levels)
    assert np.abs(off).max() <= 5.0 * by + 0.01
    assert off[0] == pytest.approx(-5.0 * by, abs=0.02)
    assert np.abs(off[levels > 240.0]).max() <= 0.01
    assert (np.diff(off[levels < 240.0]) > -0.01).all()


@given(st.floats(4.0, 40.0), takings)
def test_the_factor_goes_from_the_hold_to_the_rest_smoothly_and_never_back(width, by):
    """Of an even strip held at one side in its middle: the free part's width over what it was, level by level."""
    piece = rectangle(160.0, 900.0, holds=(Hold(edge="right", width=width, start=0.4, end=0.6),))
    narrowing = Narrowing(piece, 1.0 - by)
    levels = np.arange(5.0, 896.0, 1.0)
    far, near = (narrowing(x + 1j * levels, np.ones_like(levels, dtype=complex))[0].real for x in (100.0, 20.0))
    factor = (far - near) / 80.0
    least, most = (160.0 * (1.0 - by) - width) / (160.0 - width), 1.0 - by
    assert factor[(levels > 361.0) & (levels < 539.0)] == pytest.approx(least, abs=1e-6)
    assert factor[(levels < 279.0) | (levels > 621.0)] == pytest.approx(most, abs=1e-6)
    rise = np.diff(factor)
    assert (rise[levels[1:] < 450.0] <= 1e-9).all()
    assert (rise[levels[:-1] > 450.0] >= -1e-9).all()
    # 3t² − 2t³ over 80 mm rises by at most 1.5/80 of the whole a millimetre.
    assert np.abs(rise).max() <= 1.6 / 80.0 * (most - least)


@few
@given(held_pieces(), takings)
def test_smooth_seams_stay_smooth(piece, by):
    new = reduced(piece, by)
    for name in ("side", "inseam", "hem", "centre"):
        assert max(map(abs, node_turns(piece.edge(name).line)), default=0.0) < 1e-6
        assert max(map(abs, node_turns(new.edge(name).line)), default=0.0) <= 0.1


@few
@given(held_pieces(), takings)
def test_a_waist_bends_only_where_a_hold_begins_and_slightly(piece, by):
    """Across a hold's side the map is creased: a waist that slopes by m there is bent by at most m (1/k − 1)."""
    bends = [abs(turn) for turn in node_turns(reduced(piece, by).edge("waist").line) if abs(turn) > 0.1]
    assert len(bends) <= len(piece.holds) + 2 * len(piece.darts)
    slope = max(abs(dy / dx) for s in piece.edge("waist").line.segments
                for dx, dy in (s.derivative(t / 20) for t in range(21)))  # fmt: skip
    free = 1.0 - by * 230.0 / 80.0  # the factor is lowest where a piece of 230 mm has 150 mm held: never so here
    assert all(bend <= math.degrees(math.atan(slope / free) - math.atan(slope)) for bend in bends)


@few
@given(held_pieces(), takings)
def test_few_nodes_are_added(piece, by):
    """A dart and a hold along a whole edge bend the seams on both sides once, a hold on part of one twice."""
    added = len(reduced(piece, by).line.segments) - len(piece.line.segments)
    parts = sum((hold.start, hold.end) != (0.0, 1.0) for hold in piece.holds)
    assert 0 <= added <= 10 * (len(piece.holds) + len(piece.darts)) + 8 * parts


@few
@given(st.one_of(pieces(), held_pieces()), takings)
def test_edges_keep_their_names_and_meet_exactly(piece, by):
    new = reduced(piece, by)
    assert new.edge_names == piece.edge_names
    assert (new.id, new.name, new.cut, new.grain, new.outline) == (
        piece.id, piece.name, piece.cut, piece.grain, piece.outline,
    )  # fmt: skip
    assert new.line.closed
    for hold, old in zip(new.holds, piece.holds, strict=True):
        assert (hold.edge, hold.width) == (old.edge, old.width)


@few
@given(st.one_of(turned(upright_pieces(notches=True)), upright_pieces(holds=True, darts=True, notches=True)), takings)
def test_notches_stay_at_their_height_along_the_grain(piece, by):
    new = reduced(piece, by)
    for old, notch in zip(piece.notches, new.notches, strict=True):
        assert notch_level(new, notch) == pytest.approx(notch_level(piece, old), abs=0.02)


def test_marks_at_the_ends_of_an_edge_stay_there():
    piece = rectangle(100.0, 60.0, notches=(Notch(edge="top", share=0.0), Notch(edge="right", share=1.0)))
    assert reduced(piece, 0.1).notches == piece.notches


# --- darts --------------------------------------------------------------------------------------------------------


@few
@given(upright_pieces(darts=True), takings)
def test_a_dart_takes_in_what_it_took_in(piece, by):
    [old], [new] = piece.darts, (after := reduced(piece, by)).darts
    assert new.width == old.width
    (ax, ay), tip, (bx, by_) = dart_points(piece, old)
    (cx, cy), new_tip, (dx, dy) = dart_points(after, new)
    assert math.dist((cx, cy), (dx, dy)) == pytest.approx(math.dist((ax, ay), (bx, by_)), abs=0.02)
    assert new_tip[1] == pytest.approx(tip[1], abs=0.01)
    # Its legs are sewn together: what they differed by, they still do.
    for end, new_end in (((ax, ay), (cx, cy)), ((bx, by_), (dx, dy))):
        assert math.dist(new_end, new_tip) == pytest.approx(math.dist(end, tip), abs=0.02)


def test_shortening_a_piece_shortens_its_darts_alike():
    piece = rectangle(200.0, 300.0, darts=(Dart(edge="top", share=0.5, width=20.0, depth=100.0),))
    [dart] = reduced(piece, 0.1, along=0.05).darts
    assert (dart.width, dart.depth, dart.lean_rad) == pytest.approx((20.0, 95.0, 0.0), abs=1e-6)


# --- what cannot be -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("by", [1.0, -1.0, 8.0, math.nan, math.inf])
def test_a_share_out_of_range_is_refused(by):
    with pytest.raises(ParameterError, match=r"cannot be reduced.*between -100 % and 100 %"):
        Reduction(by=by)
    with pytest.raises(ParameterError, match="cannot be reduced"):
        Reduction(by=0.1, along=by)


def test_a_hold_across_the_grain_is_refused_with_its_edge():
    piece = rectangle(100.0, 60.0, holds=(Hold(edge="top", width=5.0),))
    with pytest.raises(ParameterError, match="runs across the grain") as caught:
        reduced(piece, 0.1)
    assert (caught.value.piece, caught.value.edge) == ("band", "top")


@pytest.mark.parametrize("width", [95.0, 100.0, 140.0])
def test_a_hold_that_leaves_too_little_is_refused_with_figures(width):
    piece = rectangle(100.0, 400.0, holds=(Hold(edge="left", width=width),))
    with pytest.raises(CollapseError, match=r"are held.*Reduce by less") as caught:
        reduced(piece, 0.1)
    assert caught.value.piece == "band"
    assert caught.value.position is not None


def test_a_stabilised_piece_alone_is_refused_with_the_reason():
    with pytest.raises(ParameterError, match=r"does not stretch.*band"):
        reduced(rectangle(40.0, 600.0, cut=CutInstruction(stabilised=True)), 0.08)


def test_a_stabilised_piece_among_others_is_left_and_found():
    stiff = replace(rectangle(40.0, 600.0, cut=CutInstruction(stabilised=True)), id="stiff", name="waistband")
    outcome = reduce(Pattern(pieces=(rectangle(100.0, 60.0), stiff)), Reduction(by=0.1))
    assert outcome.value.piece("stiff") is stiff
    assert [finding.piece for finding in outcome.findings] == ["waistband"]
    assert "stabilised" in outcome.findings[0].message
    assert {change.piece for change in outcome.changes} == {"band"}


def test_the_line_beside_the_outline_is_dropped_and_found():
    piece = replace(rectangle(100.0, 60.0), counterpart=Path.polygon([(-5, -5), (105, -5), (105, 65), (-5, 65)]))
    outcome = reduce(one(piece), Reduction(by=0.1))
    assert outcome.value.pieces[0].counterpart is None
    [finding] = outcome.findings
    assert "no longer fits" in finding.message
    assert "again" in finding.advice


def test_what_changed_is_told_in_old_and_new_figures():
    outcome = reduce(one(rectangle(100.0, 60.0)), Reduction(by=0.08))
    told = {(change.edge, change.what): (change.before, change.after) for change in outcome.changes}
    assert told["", "width at the widest"] == pytest.approx((100.0, 92.0), abs=0.01)
    assert told["top", "length"] == pytest.approx((100.0, 92.0))
    assert told["right", "length"] == pytest.approx((60.0, 60.0))


def test_a_piece_without_a_dart_along_the_grain_keeps_its_intake_out_of_the_width():
    """A dart that opens on an edge along the grain takes no width: the piece narrows as if it had none."""
    piece = rectangle(100.0, 300.0, darts=(Dart(edge="right", share=0.5, width=20.0, depth=40.0),))
    new = reduced(piece, 0.1)
    assert len(new.line.segments) == 4
    assert path_length(new.edge("top").line) == pytest.approx(90.0)


@given(simple_outlines(), takings)
def test_pieces_do_not_influence_each_other(outline, by):
    bare = Piece(id="bare", edges=(Edge(name="", line=Path(outline.segments)),))
    both = reduce(Pattern(pieces=(bare, rectangle(80.0, 30.0))), Reduction(by=by)).value
    assert both.pieces == (reduced(bare, by), reduced(rectangle(80.0, 30.0), by))


def test_an_outline_that_crosses_itself_is_refused_with_the_place():
    bow = Path.polygon([(0, 0), (100, 100), (100, 0), (0, 100)])
    piece = Piece(id="bow", edges=(Edge(name="", line=Path(bow.segments)),))
    with pytest.raises(SelfCrossingError) as refusal:
        reduce(one(piece), Reduction(by=0.08))
    assert refusal.value.position == pytest.approx((50.0, 50.0))
    assert refusal.value.piece == "bow"
