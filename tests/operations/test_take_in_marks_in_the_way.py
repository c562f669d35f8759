"""Holds and darts where a seam is moved: what is held keeps its width, what would be crossed or cut off is refused."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.errors import CollapseError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.length import path_length, point_at_share
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import Dart, Edge, Hold, Pattern, Piece
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.notation.stations import read_basting
from crossgrain.operations.take_in import Basting, TakeIn, take_in
from outline_widths import widths
from pieces import against, moved, one, turned, upright_pieces

FEW = settings(max_examples=30)


def taken(piece, seam, *texts):
    at = tuple(Basting(station=station, amount=amount) for station, amount in map(read_basting, texts))
    [new] = take_in(one(piece), TakeIn(seam=seam, at=at)).value.pieces
    return new


def box(**facts):
    """Waist, side, hem, inseam, clockwise; 200 wide, 900 high, the grain down its middle."""
    corners = [(0.0, 0.0), (200.0, 0.0), (200.0, 900.0), (0.0, 900.0)]
    names = ("waist", "side", "hem", "inseam")
    edges = tuple(Edge(name=name, line=Path((Line(corners[k], corners[(k + 1) % 4]),))) for k, name in enumerate(names))
    return Piece(id="front", name="front", edges=edges, **facts)


def leaning(angle, **facts):
    """A piece whose waist, 300 long, meets the side at an angle inside the piece, degrees."""
    lean = math.radians(angle)
    corners = [(-300.0 * math.sin(lean), 300.0 * math.cos(lean)), (0.0, 0.0), (0.0, 600.0), (-300.0, 600.0)]
    names = ("waist", "side", "hem", "inseam")
    edges = tuple(Edge(name=name, line=Path((Line(corners[k], corners[(k + 1) % 4]),))) for k, name in enumerate(names))
    return Piece(id="front", name="front", edges=edges, **facts)


WAYS = [
    pytest.param(lambda piece: piece, id="as drawn"),
    pytest.param(against, id="the other way round"),
    pytest.param(lambda piece: moved(piece, Affine.scaling(-1.0, 1.0)), id="mirrored"),
    pytest.param(lambda piece: moved(against(piece), Affine.rotation(0.7)), id="turned"),
]


def possible(caught):
    [number] = [word for word in caught.value.advice.split() if word.replace(".", "").isdigit()]
    return float(number)


def refused(piece, seam, end, other, amount, what):
    """What is possible at one end of a seam, by the error; just under it is done."""
    with pytest.raises(CollapseError, match=what) as caught:
        taken(piece, seam, f"{end}={amount}mm", f"{other}=0mm")
    assert (caught.value.piece, caught.value.edge) == ("front", seam)
    assert caught.value.position is not None
    limit = possible(caught)
    taken(piece, seam, f"{end}={limit - 0.1:.3f}mm", f"{other}=0mm")
    with pytest.raises(CollapseError):
        taken(piece, seam, f"{end}={limit + 0.1:.3f}mm", f"{other}=0mm")
    return limit


class TestHoldsOnTheSeam:
    @FEW
    @given(
        turned(upright_pieces()), st.floats(3.0, 20.0), st.floats(0.1, 0.5), st.floats(0.1, 0.4), st.floats(-9.0, 9.0)
    )
    def test_what_is_held_along_the_seam_goes_with_it_as_wide_as_it_was(self, piece, width, start, size, amount):
        piece = replace(piece, holds=(Hold(edge="side", width=width, start=start, end=start + size),))
        new = taken(piece, "side", f"waist={amount:.2f}mm", f"50%={amount / 2:.2f}mm", "hem=0mm")
        [before], [after] = piece.holds, new.holds
        assert (after.edge, after.width) == ("side", width)
        for was, now in ((before.start, after.start), (before.end, after.end)):
            here, there = (point_at_share(p.edge("side").line, share) for p, share in ((piece, was), (new, now)))
            assert math.dist(here, there) <= abs(amount) + 0.01

    def test_a_hold_from_end_to_end_is_one_still(self):
        new = taken(box(holds=(Hold(edge="side", width=5.0),)), "side", "waist=6mm", "hem=9mm")
        assert new.holds == (Hold(edge="side", width=5.0),)

    @pytest.mark.parametrize("lie", WAYS)
    @pytest.mark.parametrize(
        ("facts", "what", "free"),
        [
            ({"darts": (Dart(edge="waist", share=0.7, width=20.0, depth=110.0),)}, "a dart", 20.0),
            ({"holds": (Hold(edge="inseam", width=150.0),)}, "a hold", 20.0),
        ],
        ids=["dart", "hold"],
    )
    def test_it_is_not_pushed_into_what_lies_inside(self, lie, facts, what, free):
        """200 wide: 30 held along the side; a dart's mouth at 130 to 150, or 150 held along the other side."""
        holds = (Hold(edge="side", width=30.0), *facts.get("holds", ()))
        piece = lie(box(**{**facts, "holds": holds}))
        assert refused(piece, "side", "waist", "hem", 26.0, f"held along the seam would reach {what}") == free

    def test_it_may_lie_over_the_grain_line_which_is_only_drawn_there(self):
        new = taken(box(holds=(Hold(edge="side", width=120.0),)), "side", "waist=6mm", "hem=6mm")
        assert widths(new, [450.0]) == pytest.approx([194.0])


class TestHoldsBeside:
    @pytest.mark.parametrize("lie", WAYS)
    def test_one_that_reaches_the_corner_is_cut_shorter_and_keeps_its_width(self, lie):
        """A zip extension down the side, and the waist lowered there."""
        piece = lie(box(holds=(Hold(edge="side", width=5.0, end=0.3),)))
        new = taken(piece, "waist", "inseam=8mm", "side=8mm")
        [hold] = new.holds
        assert hold.width == 5.0
        assert {round(hold.start, 12), round(hold.end, 12)} & {0.0, 1.0}
        assert (hold.end - hold.start) * path_length(new.edge("side").line) == pytest.approx(270.0 - 8.0, abs=1e-6)

    @pytest.mark.parametrize("lie", WAYS)
    def test_one_that_reaches_the_corner_is_not_cut_off_altogether(self, lie):
        piece = lie(box(holds=(Hold(edge="side", width=5.0, end=0.02),)))
        assert refused(piece, "waist", "side", "inseam", 30.0, "a hold") == 18.0

    @pytest.mark.parametrize("lie", WAYS)
    def test_one_farther_along_is_not_cut_into(self, lie):
        piece = lie(box(holds=(Hold(edge="side", width=5.0, start=0.02, end=0.3),)))
        assert refused(piece, "waist", "side", "inseam", 25.0, "a hold") == 18.0

    @pytest.mark.parametrize("lie", WAYS)
    def test_along_an_edge_across_the_grain_what_is_held_is_only_cut_shorter(self, lie):
        piece = lie(box(holds=(Hold(edge="waist", width=5.0),)))
        new = taken(piece, "side", "waist=6mm", "hem=6mm")
        assert new.holds == piece.holds
        assert path_length(new.edge("waist").line) == pytest.approx(194.0)

    @pytest.mark.parametrize("angle", [20.0, 160.0])
    @pytest.mark.parametrize("kind", ["hold", "dart"])
    def test_where_the_corner_slides_far_it_is_not_slid_past_a_mark(self, angle, kind):
        """At 20° and at 160° the corner slides three times the amount along the waist: 9 mm of it are free."""
        marks = (
            {"holds": (Hold(edge="waist", width=2.0, start=0.93, end=0.97),)}
            if kind == "hold"
            else {"darts": (Dart(edge="waist", share=0.95, width=12.0, depth=15.0),)}
        )
        piece = leaning(angle, **marks)
        with pytest.raises(CollapseError, match=kind) as caught:
            taken(piece, "side", "waist=6mm", "hem=0mm")
        if angle > 90.0:
            assert possible(caught) == pytest.approx(9.0 * math.sin(math.radians(angle)), abs=0.1)
            taken(piece, "side", f"waist={possible(caught) - 0.1:.3f}mm", "hem=0mm")

    @FEW
    @given(
        st.sampled_from([20.0, 45.0, 90.0, 135.0, 160.0]),
        st.floats(0.5, 12.0),
        st.floats(0.85, 0.99),
        st.floats(0.002, 0.1),
    )
    def test_a_mark_is_whole_or_the_amount_is_refused(self, angle, amount, end, size):
        piece = leaning(angle, holds=(Hold(edge="waist", width=1.0, start=end - size, end=end),))
        try:
            new = taken(piece, "side", f"waist={amount:.3f}mm", "hem=0mm")
        except CollapseError as error:
            new = error
        if isinstance(new, CollapseError):
            assert "hold" in new.message
            return
        [hold] = new.holds
        for was, now in ((end - size, hold.start), (end, hold.end)):
            here, there = (point_at_share(p.edge("waist").line, share) for p, share in ((piece, was), (new, now)))
            assert math.dist(here, there) <= 1e-6


class TestDartsOnTheSeam:
    def test_the_tip_stays_and_the_dart_becomes_shorter(self):
        piece = box(darts=(Dart(edge="waist", share=0.6, width=20.0, depth=110.0),))
        new = taken(piece, "waist", "inseam=8mm", "side=8mm")
        [dart] = new.darts
        assert (dart.width, dart.depth) == (20.0, pytest.approx(102.0, abs=0.01))
        assert dart_points(new, dart)[1] == pytest.approx(dart_points(piece, piece.darts[0])[1], abs=1e-6)

    @pytest.mark.parametrize("lie", WAYS)
    def test_the_seam_does_not_reach_its_tip(self, lie):
        piece = lie(box(darts=(Dart(edge="waist", share=0.8, width=20.0, depth=110.0),)))
        with pytest.raises(CollapseError, match="tip of its dart") as caught:
            taken(piece, "waist", "inseam=112mm", "side=112mm")
        assert possible(caught) == pytest.approx(110.0, abs=0.05)


def test_the_left_and_the_right_of_a_pattern_are_refused_by_name():
    left = replace(box(holds=(Hold(edge="inseam", width=196.0),)), id="left", name="left")
    with pytest.raises(CollapseError) as caught:
        take_in(
            Pattern(pieces=(box(), left)),
            TakeIn(
                seam="side",
                at=tuple(Basting(station=s, amount=a) for s, a in map(read_basting, ["waist=6mm", "hem=6mm"])),
            ),
        )
    assert caught.value.piece == "left"
