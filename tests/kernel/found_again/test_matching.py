"""Corners are found again after what a person does to an outline; where one is gone, the error names its edges."""

import math
from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.arc import ellipse_path
from crossgrain.kernel.found_again import matching
from crossgrain.kernel.found_again.matching import Found, find
from crossgrain.kernel.found_again.remembering import Remembered, remember
from crossgrain.kernel.length import Place, path_length, point_at
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.tolerances import CORNER_TURN, SMOOTH_CORNER_SNAP
from edited_outlines import (
    RIGID,
    Labelled,
    add_nodes,
    delete_node,
    drag_corner,
    known,
    mapped,
    mirror,
    move_nodes,
    new_start,
    outline,
    reverse,
    scale,
    turn,
)

randoms = st.randoms(use_true_random=False)
NAMES = ["waist", "side", "hem", "inseam", "crotch", "centre", "facing", "placket", "band"]


def points_of(found: Found) -> list[tuple[float, float]]:
    return [point_at(found.line, place) for place in found.places]


def assert_found(drawn: Labelled, remembered: Remembered, *, smooth_within: float = 0.0) -> None:
    """The true corners are found on their very nodes, the smooth ones within a distance."""
    for number, (point, turning) in enumerate(
        zip(points_of(find(drawn.line, remembered)), remembered.turns_rad, strict=True)
    ):
        allowed = 0.0 if abs(turning) >= CORNER_TURN else smooth_within
        assert math.dist(point, drawn.node_of(number)) <= allowed, f"corner {number}"


# --- Laws ------------------------------------------------------------------------------------------------------


@given(randoms, st.lists(st.sampled_from(RIGID), max_size=6))
@settings(max_examples=60)
def test_corners_are_found_after_any_moves_that_keep_the_shape(rng, edits):
    drawn = outline(rng)
    remembered = known(drawn)
    for edit in edits:
        drawn = edit(rng, drawn)
    assert_found(drawn, remembered)


@pytest.mark.parametrize("edit", [reverse, mirror, turn, scale, new_start, add_nodes])
@given(rng=randoms)
@settings(max_examples=25)
def test_runs_are_the_outline_cut_at_the_corners_in_the_order_of_the_names(edit, rng):
    drawn = outline(rng)
    remembered = known(drawn)
    drawn = edit(rng, drawn)
    runs = find(drawn.line, remembered).runs()
    assert [run.start for run in runs] == [drawn.node_of(number) for number in range(drawn.count)]
    assert [run.end for run in runs] == [run.start for run in (*runs[1:], runs[0])]
    assert math.fsum(map(path_length, runs)) == pytest.approx(path_length(drawn.line), abs=1e-9)
    segments = [segment for run in runs for segment in run.segments]
    assert len(segments) == len(drawn.segments)


@given(randoms)
@settings(max_examples=40)
def test_reading_follows_a_reversed_line(rng):
    drawn = outline(rng)
    remembered = known(drawn)
    assert not find(drawn.line, remembered).reversed
    assert find(reverse(rng, drawn).line, remembered).reversed


@given(randoms)
@settings(max_examples=40)
def test_edges_against_the_line_are_remembered_as_such(rng):
    drawn = outline(rng)
    against = replace(known(drawn), against=True)
    found = find(reverse(rng, drawn).line, against)
    assert found.reversed
    assert points_of(found) == [drawn.node_of(number) for number in range(drawn.count)]


@given(randoms)
@settings(max_examples=40)
def test_remembering_what_was_found_is_the_same_again(rng):
    drawn = outline(rng)
    remembered = known(drawn)
    found = find(drawn.line, remembered)
    again = remember(found.line, found.places)
    assert again.shares == pytest.approx(remembered.shares, abs=1e-9)
    assert again.turns_rad == pytest.approx(remembered.turns_rad, abs=1e-9)


@given(randoms, st.booleans(), st.sampled_from([0.0, 0.1, 90.0, 180.0, -37.0]))
@settings(max_examples=60)
def test_on_a_line_that_was_only_moved_and_turned_the_search_finds_the_same(rng, against, degrees):
    drawn = outline(rng)
    remembered = replace(known(drawn), against=against)
    line = drawn.line.reversed() if against else drawn.line
    moved = Affine.rotation(math.radians(degrees)).then(Affine.translation(degrees, 3.0 * degrees))
    line = line.mapped(moved)
    assert matching._unedited(line.reversed() if against else line, remembered) is not None
    quick = find(line, remembered)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(matching, "_unedited", lambda line, remembered: None)
        assert find(line, remembered) == quick
    assert quick.reversed is against


@given(randoms)
@settings(max_examples=40)
def test_true_corners_survive_nodes_that_are_deleted_and_added(rng):
    drawn = outline(rng)
    remembered = known(drawn)
    for edit in (add_nodes, delete_node, delete_node, new_start):
        drawn = edit(rng, drawn)
    for number, point in enumerate(points_of(find(drawn.line, remembered))):
        if abs(remembered.turns_rad[number]) >= CORNER_TURN:
            assert point == drawn.node_of(number)


def front() -> Labelled:
    """A trouser front: waist side hem inseam crotch centre; crotch runs smoothly into the straight centre."""
    corners = [(0.0, 0.0), (230.0, -12.0), (215.0, 1000.0), (40.0, 1000.0), (-55.0, 270.0)]
    line = [Line(p, q) for p, q in pairwise(corners)]
    crotch = Cubic((-55.0, 270.0), (-20.0, 268.0), (-2.0, 240.0), (0.0, 190.0))
    segments = (*line, crotch, Line((0.0, 190.0), (0.0, 0.0)))
    return Labelled(segments, (0, 1, 2, 3, 4, 5))


@given(randoms)
@settings(max_examples=60)
def test_a_trouser_front_survives_a_corner_dragged_by_50_mm_and_any_moves(rng):
    drawn = front()
    remembered = known(drawn)
    for edit in (drag_corner, *rng.choices(RIGID, k=3), move_nodes):
        drawn = edit(rng, drawn)
    assert_found(drawn, remembered, smooth_within=60.0)


@given(randoms, st.floats(0.5, 2.0), st.floats(0.5, 2.0))
@settings(max_examples=60)
def test_a_trouser_front_survives_uneven_scaling(rng, across, along):
    drawn = front()
    remembered = known(drawn)
    drawn = new_start(rng, mapped(drawn, Affine.scaling(across, along)))
    assert_found(drawn, remembered, smooth_within=40.0)


@given(randoms, st.floats(0.9, 1.1))
@settings(max_examples=40)
def test_a_smooth_corner_stays_on_its_node_when_the_piece_is_narrowed_a_little(rng, across):
    drawn = front()
    remembered = known(drawn)
    drawn = new_start(rng, mapped(drawn, Affine.scaling(across, 1.0)))
    assert_found(drawn, remembered)


# --- Pieces that look alike in several readings ------------------------------------------------------------------


def band(start: int = 0) -> Labelled:
    """A waistband: the same from both ends, and from both sides."""
    line = Path.polygon([(0.0, 0.0), (800.0, 0.0), (800.0, 40.0), (0.0, 40.0)])
    return Labelled(line.segments[start:] + line.segments[:start], tuple(range(4))[start:] + tuple(range(4))[:start])


@pytest.mark.parametrize("start", range(4))
@pytest.mark.parametrize(
    "affine",
    [
        Affine(),
        Affine.translation(50.0, 60.0),
        Affine.rotation(1.0),
        Affine.rotation(math.pi, (400.0, 20.0)),
        Affine.scaling(-1.0, 1.0, (400.0, 20.0)),
        Affine.scaling(1.0, -1.0, (400.0, 20.0)),
        Affine.scaling(-1.0, 1.0),
        Affine.scaling(0.9, 1.0),
    ],
)
def test_a_rectangle_is_read_from_its_own_start_when_it_is_mapped(start, affine):
    remembered = known(band(start))
    drawn = mapped(band(start), affine)
    assert_found(drawn, remembered)


@pytest.mark.parametrize("start", range(4))
def test_a_rectangle_that_is_reversed_in_place_keeps_its_corners(start):
    drawn = band(start)
    assert_found(reverse(Random(0), drawn), known(drawn))


@pytest.mark.parametrize("start", [1, 3])  # half way round is the same line as half a turn, which is the likelier
def test_a_rectangle_whose_start_moved_in_place_keeps_its_corners(start):
    assert_found(band(start), known(band()))


def test_a_square_that_is_reversed_in_place_keeps_its_corners_and_mirrored_takes_them_along():
    line = Path.polygon([(0.0, 0.0), (90.0, 0.0), (90.0, 90.0), (0.0, 90.0)])
    square = Labelled(line.segments, (0, 1, 2, 3))
    assert_found(reverse(Random(0), square), known(square))
    assert_found(mapped(square, Affine.scaling(-1.0, 1.0, (45.0, 45.0))), known(square))


def test_without_old_places_a_rectangle_is_read_forwards():
    drawn = band()
    forgetful = replace(known(drawn), places=())
    assert_found(drawn, forgetful)
    assert not find(reverse(Random(0), drawn).line, forgetful).reversed


def test_a_round_piece_keeps_corners_that_nobody_can_see():
    line = ellipse_path(0.0, 0.0, 60.0, 40.0)
    remembered = remember(line, [Place(0, 0.0), Place(2, 0.0)])
    here = [line.nodes[0], line.nodes[2]]
    assert points_of(find(line, remembered)) == here
    assert points_of(find(line.reversed(), remembered)) == here
    started_later = Path(line.segments[1:] + line.segments[:1], True)
    assert points_of(find(started_later, remembered)) == here


# --- Corners that are gone ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("gone", range(5))
def test_a_deleted_corner_is_an_error_that_names_the_two_edges_and_the_place(gone):
    drawn = front()
    remembered = known(drawn)
    names = NAMES[:6]
    corner = drawn.node_of(gone)
    segments = [*drawn.segments]
    before, after = segments[gone - 1], segments[gone]
    # As the editor does: the node goes, the neighbours' own directions stay, so that the line sweeps round.
    joined = Cubic(before.start, before.controls[1], after.controls[2], after.end)
    segments[gone] = joined
    del segments[gone - 1]
    with pytest.raises(GeometryError) as caught:
        find(Path(tuple(segments), True), remembered, names)
    assert names[gone - 1] in caught.value.message
    assert names[gone] in caught.value.message
    assert caught.value.edge == names[gone]
    assert caught.value.advice
    assert caught.value.position == pytest.approx(corner, abs=1e-6)


def test_a_corner_cut_off_by_a_straight_line_is_not_silently_one_of_the_two_new_ones():
    drawn = band()
    remembered = known(drawn)
    triangle = Path.polygon([(0.0, 0.0), (800.0, 0.0), (0.0, 40.0)])
    with pytest.raises(GeometryError, match="cannot be found"):
        find(triangle, remembered, NAMES[:4])


@pytest.mark.parametrize("gone", [1, 2, 3, 4])
def test_slight_bends_do_not_make_up_for_a_corner_that_is_gone(gone):
    # Side and inseam bend by some 15 to 20 degrees at nodes: nearly corners, and there for the taking.
    corners = [(0.0, 0.0), (230.0, -12.0), (330.0, 300.0), (300.0, 700.0), (215.0, 1000.0)]
    corners += [(40.0, 1000.0), (90.0, 700.0), (60.0, 450.0), (-55.0, 270.0), (0.0, 190.0)]
    drawn = Labelled(Path.polygon(corners).segments, (0, 1, None, None, 2, 3, None, None, 4, 5))
    remembered = known(drawn)
    at = drawn.labels.index(gone)
    before, after = drawn.segments[at - 1], drawn.segments[at]
    swept = Cubic(before.start, before.controls[1], after.controls[2], after.end)
    segments = [*drawn.segments[: at - 1], swept, *drawn.segments[at + 1 :]]
    with pytest.raises(GeometryError, match="cannot be found") as caught:
        find(Path(tuple(segments), True), remembered, NAMES[:6])
    assert caught.value.edge == NAMES[gone]


def test_another_outline_altogether_is_refused():
    remembered = known(front())
    star = Path.polygon(
        [((200.0 if k % 2 else 80.0) * math.cos(k * math.pi / 6), 200.0 * math.sin(k * math.pi / 6)) for k in range(12)]
    )
    with pytest.raises(GeometryError, match=r"cannot be found|too different"):
        find(star, remembered, NAMES[:6])


def test_a_corner_flattened_below_what_counts_as_one_is_still_known():
    corners = [(0.0, 0.0), (200.0, 0.0), (310.0, 60.0), (300.0, 300.0), (0.0, 300.0)]
    drawn = Labelled(Path.polygon(corners).segments, (0, 1, 2, 3, 4))
    remembered = known(drawn)
    corners[1] = (200.0, 18.0)
    flatter = Labelled(Path.polygon(corners).segments, (0, 1, 2, 3, 4))
    now = known(flatter).turns_rad[1]
    assert remembered.turns_rad[1] >= CORNER_TURN > now
    assert_found(flatter, remembered)


def test_a_smooth_corner_goes_to_a_node_that_lies_very_near_and_to_no_other():
    drawn = front()
    remembered = known(drawn)
    for gap, expected in ((SMOOTH_CORNER_SNAP * 0.5, True), (SMOOTH_CORNER_SNAP * 3.0, False)):
        moved = mapped(drawn, Affine())
        last = moved.segments[5]
        shifted = (0.0, 190.0 - gap)
        crotch = replace(moved.segments[4], end=shifted, control2=(-2.0, 240.0))
        line = Path((*moved.segments[:4], crotch, Line(shifted, last.end)), True)
        assert (points_of(find(line, remembered))[5] == shifted) is expected
