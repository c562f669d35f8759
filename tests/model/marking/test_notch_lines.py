"""Notches are cut from the cut line inwards, clear of the stitch line, at the same place of the seam on both pieces."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.kernel.length import distance_of, path_length, point_at_share
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.meetings.sections import chords
from crossgrain.kernel.parallels.outline_parallel import parallel_of_outline
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import Edge, Notch, Piece
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.marks import NOTCH_KINDS
from crossgrain.model.marking.notch_lines import NOTCH_CLEAR, NOTCH_DEPTH, NOTCH_LEAST, dart_notch_lines, notch_lines
from pieces import against, turned, upright_pieces
from strategies import simple_outlines

shares = st.floats(0.15, 0.85)
counts = st.sampled_from([1, 2, 3])


def with_cut_line(piece, width):
    """The piece with its cut line at one width all round."""
    line = piece.line
    return replace(piece, counterpart=parallel_of_outline(line, [width] * len(line.segments)))


def as_cut(piece):
    """The same two lines, the outline being the cut line."""
    cut = Path(piece.counterpart.segments)
    return replace(piece, outline="cut", edges=(Edge(name="", line=cut),), counterpart=piece.line, notches=())


def band(width=None, **more):
    lines = Path.polygon([(0.0, 0.0), (400.0, 0.0), (400.0, 40.0), (0.0, 40.0)]).segments
    names = ("waist", "end", "top", "front")
    edges = tuple(Edge(name=name, line=Path((line,))) for name, line in zip(names, lines, strict=True))
    piece = Piece(id="band", edges=edges, **more)
    return piece if width is None else with_cut_line(piece, width)


# --- Laws --------------------------------------------------------------------------------------------------------


@given(turned(upright_pieces()), st.sampled_from(["side", "inseam", "hem"]), shares, counts, st.floats(5.5, 25.0))
@settings(max_examples=30)
def test_a_slit_starts_on_the_cut_line_points_at_its_place_and_ends_clear_of_the_seam(piece, edge, share, count, width):
    piece = with_cut_line(piece, width)
    line = piece.edge(edge).line
    strokes = notch_lines(piece, Notch(edge=edge, share=share, count=count))
    assert len(strokes) == count
    for number, stroke in enumerate(strokes):
        [slit] = stroke.segments
        assert nearest(piece.counterpart, slit.start).distance <= 1e-6
        assert nearest(piece.line, slit.end).distance >= NOTCH_CLEAR - 1e-6
        assert NOTCH_LEAST - 1e-6 <= path_length(stroke) <= NOTCH_DEPTH + 1e-6
        # On towards the seam it meets it square, at its own place.
        met = nearest(line, slit.end)
        along = distance_of(line, met.place)
        assert along == pytest.approx(share * path_length(line) + (number - (count - 1) / 2.0) * 5.0, abs=1e-3)
        x, y = met.point[0] - slit.end[0], met.point[1] - slit.end[1]
        u, v = slit.end_tangent
        assert abs(x * v - y * u) <= 1e-3 * math.hypot(x, y)


@given(upright_pieces(), shares, st.floats(6.0, 25.0), st.floats(6.0, 25.0), counts)
@settings(max_examples=20)
def test_notches_meet_whatever_the_allowances_are(piece, share, one, other, count):
    """Laid seam on seam, the strokes of both pieces lie in one line, through the same place of the seam."""
    notch = Notch(edge="side", share=share, count=count)
    here, there = (notch_lines(with_cut_line(piece, width), notch) for width in (one, other))
    for mine, theirs in zip(here, there, strict=True):
        (x, y), (u, v) = mine.start, mine.end
        for p, q in (theirs.start, theirs.end):
            assert abs((p - x) * (v - y) - (q - y) * (u - x)) <= 1e-3 * math.hypot(p - x, q - y) + 1e-6


@given(turned(upright_pieces()), shares, counts, st.sampled_from(NOTCH_KINDS), st.floats(0.0, 25.0))
@settings(max_examples=30)
def test_the_other_way_round_the_strokes_are_the_same(piece, share, count, kind, width):
    piece = with_cut_line(replace(piece, notches=(Notch(edge="side", share=share, count=count, kind=kind),)), width)

    def strokes(one):
        [notch] = one.notches
        return sorted(
            tuple(sorted((round(x, 4), round(y, 4)) for x, y in line.nodes)) for line in notch_lines(one, notch)
        )

    for mine, theirs in zip(strokes(piece), strokes(against(piece)), strict=True):
        for p, q in zip(mine, theirs, strict=True):
            assert q == pytest.approx(p, abs=1e-3)


@given(upright_pieces(), shares, st.floats(5.5, 25.0))
@settings(max_examples=20)
def test_where_the_outline_is_the_cut_line_it_starts_there_all_the_same(piece, share, width):
    piece = as_cut(with_cut_line(piece, width))
    [stroke] = notch_lines(piece, Notch(edge="", share=share))
    assert stroke.start == pytest.approx(point_at_share(piece.edge("").line, share), abs=1e-6)
    if nearest(piece.counterpart, stroke.start).distance - NOTCH_CLEAR >= NOTCH_LEAST:
        assert nearest(piece.counterpart, stroke.end).distance >= NOTCH_CLEAR - 1e-6


@given(simple_outlines(), st.floats(0.0, 1.0), st.sampled_from(["slit", "V"]), counts, st.floats(5.0, 25.0))
@settings(max_examples=30)
def test_on_any_outline_what_is_cut_stays_clear_of_all_of_the_seam(outline, share, kind, count, width):
    piece = with_cut_line(Piece(id="p", edges=(Edge(name="", line=Path(outline.segments)),)), width)
    for stroke in notch_lines(piece, Notch(edge="", share=share, count=count, kind=kind)):
        if nearest(piece.counterpart, stroke.start).distance <= 1e-6:  # else there is no room, and a T stands for it
            assert min(nearest(piece.line, node).distance for node in stroke.nodes) >= NOTCH_CLEAR - 1e-6


@given(turned(upright_pieces(darts=True)), st.floats(6.0, 25.0))
@settings(max_examples=20)
def test_the_slits_of_a_dart_lie_in_line_with_its_legs_clear_of_the_seam(piece, width):
    piece = with_cut_line(piece, width)
    [dart] = piece.darts
    first, tip, last = dart_points(piece, dart)
    slits = dart_notch_lines(piece, dart)
    assert len(slits) == 2
    for mouth, slit in zip((first, last), slits, strict=True):
        assert nearest(piece.counterpart, slit.start).distance <= 1e-6
        assert nearest(piece.line, slit.end).distance >= NOTCH_CLEAR - 1e-6
        for x, y in slit.nodes:
            off = (x - tip[0]) * (mouth[1] - tip[1]) - (y - tip[1]) * (mouth[0] - tip[0])
            assert abs(off) <= 1e-6 * math.dist(mouth, tip) ** 2


@given(upright_pieces(darts=True), st.floats(0.0, 4.9))
@settings(max_examples=5)
def test_a_dart_without_room_for_slits_has_none(piece, width):
    [dart] = piece.darts
    assert dart_notch_lines(piece, dart) == ()
    assert dart_notch_lines(with_cut_line(piece, width), dart) == ()


# --- By hand -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("width", "ends_at"),
    [
        (25.0, -20.0),  # no deeper than 5 mm, however wide the allowance
        (10.0, -5.0),
        (7.0, -3.0),
        (5.5, -3.0),
    ],
)
def test_how_deep_a_slit_is(width, ends_at):
    [stroke] = notch_lines(band(width), Notch(edge="waist", share=0.5))
    assert stroke.nodes == ((200.0, -width), (200.0, pytest.approx(ends_at)))


@pytest.mark.parametrize("width", [0.0, 2.0, 4.9])
@pytest.mark.parametrize("kind", NOTCH_KINDS)
def test_where_there_is_no_room_to_cut_a_t_is_drawn_inside_the_seam(width, kind):
    stem, bar = notch_lines(band(width), Notch(edge="waist", share=0.5, kind=kind))
    assert stem.nodes == ((200.0, 0.0), (200.0, 5.0))
    assert bar.nodes == ((198.0, 5.0), (202.0, 5.0))


def test_a_v_has_its_tip_where_a_slit_ends():
    [v] = notch_lines(band(10.0), Notch(edge="waist", share=0.5, kind="V"))
    for node, point in zip(v.nodes, ((198.0, -10.0), (200.0, -5.0), (202.0, -10.0)), strict=True):
        assert node == pytest.approx(point)


def test_a_v_at_a_bent_seam_has_both_ends_on_the_cut_line():
    from crossgrain.kernel.arc import ellipse_path

    disc = Piece(id="d", edges=(Edge(name="", line=Path(ellipse_path(0.0, 0.0, 60.0, 60.0).segments)),))
    disc = with_cut_line(disc, 10.0)
    [v] = notch_lines(disc, Notch(edge="", share=0.3, kind="V"))
    for point in (v.start, v.end):
        assert nearest(disc.counterpart, point).distance <= 1e-6
    assert math.dist(v.start, v.end) == pytest.approx(4.0, abs=0.01)


def test_a_t_is_a_slit_with_a_bar_at_its_end():
    stem, bar = notch_lines(band(10.0), Notch(edge="waist", share=0.5, kind="T"))
    assert stem.nodes == ((200.0, -10.0), (200.0, -5.0))
    assert bar.nodes == ((198.0, -5.0), (202.0, -5.0))


@pytest.mark.parametrize(("kind", "gap"), [("slit", 5.0), ("V", 8.0), ("T", 8.0)])
def test_broad_strokes_stand_farther_apart(kind, gap):
    strokes = notch_lines(band(10.0), Notch(edge="waist", share=0.5, count=2, kind=kind))
    first, last = strokes if kind != "T" else strokes[::2]
    middles = [sum(x for x, _y in line.nodes) / len(line.nodes) for line in (first, last)]
    assert middles == pytest.approx([200.0 - gap / 2.0, 200.0 + gap / 2.0])


def test_without_a_cut_line_it_reaches_inwards_from_the_outline():
    [stroke] = notch_lines(band(), Notch(edge="waist", share=0.5))
    assert stroke == Path((Line((200.0, 0.0), (200.0, 5.0)),))


def test_it_stays_clear_of_the_seam_round_the_corner():
    """In a corner that turns into the cloth, the neighbour's stitch line is nearer than its own."""
    points = [(0.0, 0.0), (100.0, 0.0), (100.0, -60.0), (200.0, -60.0), (200.0, 80.0), (0.0, 80.0)]
    lines = Path.polygon(points).segments
    piece = Piece(id="l", edges=tuple(Edge(name=f"e{n}", line=Path((line,))) for n, line in enumerate(lines)))
    piece = with_cut_line(piece, 10.0)
    cut = 0
    for share in (0.5, 0.85, 0.89, 0.94, 0.98):
        first, *_bar = notch_lines(piece, Notch(edge="e0", share=share))
        assert math.dist(first.start, (100.0 * share, 0.0)) <= 10.0 + 1e-6
        if not chords_hold(piece.line, first.end):
            cut += 1
            assert nearest(piece.line, first.end).distance >= NOTCH_CLEAR - 1e-6
    assert cut == 3


def chords_hold(outline, point):
    return any(start - 1e-9 <= point[0] <= end + 1e-9 for start, end in chords(outline, (1.0, 0.0), point[1]))
