"""The written form of marks: what is written is read again, and what is not understood is said."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import InputError
from crossgrain.model import CutInstruction, Dart, Hold, Notch
from crossgrain.model.grain import GrainTurn
from crossgrain.model.marking.marks import NOTCH_KINDS
from crossgrain.model.marking.wanted import Spot, WantedGrain, WantedNotch
from crossgrain.notation.cutting import read_cut, read_grain, read_grain_turn, write_cut, write_grain_turn
from crossgrain.notation.marks import (
    read_dart,
    read_hold,
    read_notch,
    read_width,
    write_dart,
    write_hold,
    write_notch,
    write_width,
)
from crossgrain.notation.words import read_list, read_name, read_names, read_outline_spot, read_spot, write_list

names = st.from_regex(r"\A[^\W\d_][\w-]{0,8}\Z")
shares = st.floats(0.0, 1.0)
lengths = st.floats(0.001, 2000.0)
angles = st.floats(-math.pi, math.pi)


def near(value):
    """The share, length or angle as far as it is written."""
    return pytest.approx(value, abs=6e-5)


# --- Laws --------------------------------------------------------------------------------------------------------


@given(names, shares, st.sampled_from([1, 2, 3]), st.sampled_from(NOTCH_KINDS))
def test_notches(edge, share, count, kind):
    read = read_notch(write_notch(Notch(edge=edge, share=share, count=count, kind=kind)))
    assert (read.edge, read.count, read.kind, read.at.along) == (edge, count, kind, None)
    assert read.at.share == pytest.approx(share, abs=1e-8)


@given(names, shares, lengths, lengths, angles, st.one_of(st.just(0.0), lengths))
def test_darts(edge, share, width, depth, lean, drill):
    read = read_dart(write_dart(Dart(edge=edge, share=share, width=width, depth=depth, lean_rad=lean, drill=drill)))
    assert (read.edge, read.drill) == (edge, near(drill))
    assert (read.at.share, read.width, read.depth, read.lean_rad) == (
        pytest.approx(share, abs=1e-8),
        near(width),
        near(depth),
        pytest.approx(lean, abs=1e-7),
    )


@given(names, lengths, st.floats(0.0, 0.5), st.floats(0.51, 1.0))
def test_holds(edge, width, start, end):
    read = read_hold(write_hold(Hold(edge=edge, width=width, start=start, end=end)))
    assert (read.edge, read.width) == (edge, near(width))
    assert (read.start.share, read.end.share) == (pytest.approx(start, abs=1e-8), pytest.approx(end, abs=1e-8))


@given(names, lengths, st.floats(0.0, 0.5) | st.floats(0.0, 1e-7), st.floats(0.51, 1.0) | st.floats(1.0 - 1e-7, 1.0))
def test_a_hold_that_was_read_is_written_as_it_stood(edge, width, start, end):
    text = write_hold(Hold(edge=edge, width=width, start=start, end=end))
    read = read_hold(text)
    assert write_hold(Hold(edge=edge, width=read.width, start=read.start.share, end=read.end.share)) == text


@pytest.mark.parametrize(("start", "end"), [(1e-10, 1.0), (0.0, 1.0 - 1e-10), (5e-324, 1.0)])
def test_a_hold_that_leaves_less_than_a_hair_free_is_the_whole_edge(start, end):
    assert write_hold(Hold(edge="centre", width=5.0, start=start, end=end)) == "centre=5mm"


@given(names, st.floats(0.0, 2000.0))
def test_widths(edge, width):
    assert read_width(write_width(edge, width)) == (edge, near(width))


@given(names, angles)
def test_grain_turns(edge, turn):
    read = read_grain_turn(write_grain_turn(GrainTurn(edge=edge, turn_rad=turn)))
    assert (read.edge, read.turn_rad) == (edge, pytest.approx(turn, abs=1e-7))


@given(st.integers(1, 999), st.booleans(), st.one_of(st.just(""), names), st.booleans())
def test_cuts(count, mirrored, fold, stabilised):
    cut = CutInstruction(count=count, mirrored=mirrored, on_fold=fold, stabilised=stabilised)
    assert read_cut(write_cut(cut)) == cut


@given(st.lists(st.builds(Notch, edge=names, share=st.sampled_from([0.0, 0.25, 1.0])), max_size=4))
def test_lists(notches):
    read = read_list(write_list(map(write_notch, notches)), read_notch)
    assert read == tuple(WantedNotch(edge=notch.edge, at=Spot(share=notch.share)) for notch in notches)


# --- By hand -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "grain"),
    [
        ("vertical", WantedGrain()),
        (" horizontal ", WantedGrain(turn_rad=-math.pi / 2.0)),
        ("along centre", WantedGrain(edge="centre")),
        ("90° from hem", WantedGrain(turn_rad=math.pi / 2.0, edge="hem")),
        ("-180 deg", WantedGrain(turn_rad=-math.pi)),
    ],
)
def test_grain_by_hand(text, grain):
    assert read_grain(text) == grain


@pytest.mark.parametrize(
    ("text", "point"),
    [
        ("120mm,45mm", (120.0, 45.0)),
        ("12,5 mm, 4,5 cm", (12.5, 45.0)),
        ("-1 in 2in", (-25.4, 50.8)),
        ("120 mm  -45 mm", (120.0, -45.0)),
    ],
)
def test_points_by_hand(text, point):
    assert read_outline_spot(text).point == pytest.approx(point)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("side=50%", (0.5, None, 1)),
        ("side = 4 3/4 in triple", (None, 120.65, 3)),
        ("side=12,5 mm single", (None, 12.5, 1)),
    ],
)
def test_notches_by_hand(text, wanted):
    notch = read_notch(text)
    assert (notch.at.share, notch.at.along and pytest.approx(notch.at.along), notch.count) == wanted


@pytest.mark.parametrize(
    ("text", "count", "kind"),
    [
        ("side=50% V", 1, "V"),
        ("side=50% double V", 2, "V"),
        ("side=50% v double", 2, "V"),
        ("side=120 mm triple T", 3, "T"),
        ("side=50% single slit", 1, "slit"),
        ("node 12 double T", 2, "T"),
    ],
)
def test_the_kind_of_a_notch_by_hand(text, count, kind):
    notch = read_notch(text)
    assert (notch.count, notch.kind) == (count, kind)


def test_names_keep_their_order():
    assert read_names(" waist  side-seam Säume ") == ("waist", "side-seam", "Säume")


def test_an_empty_list_is_empty():
    assert read_list(" ; ", read_notch) == ()


@pytest.mark.parametrize(
    ("read", "text", "said"),
    [
        (read_name, "2nd", "2nd"),
        (read_name, "side seam", "side seam"),
        (read_names, "side side", "both named side"),
        (read_notch, "side", "does not name an edge"),
        (read_notch, "side=", "does not name an edge"),
        (read_notch, "=50%", "cannot be the name"),
        (read_notch, "side=50", "no unit"),
        (read_notch, "side=50% quadruple", "quadruple"),
        (read_notch, "side=50% V T", "50% V"),
        (read_notch, "V", "does not name an edge"),
        (read_notch, "side=101%", "101"),
        (read_spot, "50", "no unit"),
        (read_dart, "waist=50% depth 90mm", "no width or no depth"),
        (read_dart, "waist=50% width 20mm depth 90mm depth 80mm", "twice"),
        (read_dart, "waist=50% width 20mm deep 90mm depth 80mm", "20mm deep 90mm"),
        (read_hold, "centre=5%", "no unit for this"),
        (read_hold, "centre=5mm from 0% until 80%", "0% until 80%"),
        (read_width, "hem", "does not name an edge"),
        (read_width, "hem=-3mm", "below zero"),
        (read_grain, "diagonal", "diagonal"),
        (read_grain, "3 from hem", "no unit"),
        (read_grain, "along", "along"),
        (read_grain_turn, "3°", "no grain against an edge"),
        (read_cut, "", "how many"),
        (read_cut, "two", "how many"),
        (read_cut, "0", "at least once"),
        (read_cut, "2 mirrored mirrored", "mirrored is not understood"),
        (read_cut, "1 on fold", "on is not understood"),
        (read_outline_spot, "node x", "no place"),
        (read_outline_spot, "12", "no place"),
        (read_outline_spot, "12,5", "no place"),
        (read_outline_spot, "1mm,2mm,3mm", "no place"),
        (read_outline_spot, "120%", "lies off it"),
    ],
)
def test_what_is_not_understood_is_said_with_what_to_write(read, text, said):
    with pytest.raises(InputError) as caught:
        read(text)
    assert said in caught.value.message
    assert caught.value.advice
