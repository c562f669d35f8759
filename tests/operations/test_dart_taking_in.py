"""Darts taken in at their mouths: as far from the old leg as asked, the tip where it was, and back again."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.errors import CollapseError, ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Dart, Edge, Pattern, Piece
from crossgrain.model.girths import girth_along
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.notation.stations import read_basting
from crossgrain.operations.dart_taking_in import DartTakeIn, are_darts, take_in_darts
from pieces import against, moved, one, turned, upright_pieces

FEW = settings(max_examples=40)
TWICE = CutInstruction(count=2, mirrored=True)


def taken(pattern, *texts, **how):
    return take_in_darts(pattern, DartTakeIn(at=tuple(map(read_basting, texts)), **how))


def box(*darts, **facts):
    lines = Path.polygon([(0, 0), (200, 0), (200, 300), (0, 300)]).segments
    names = ("waist", "side", "foot", "seat")
    edges = tuple(Edge(name=name, line=Path((line,))) for name, line in zip(names, lines, strict=True))
    return Piece(id="back", name="back", edges=edges, darts=darts, **facts)


DART = Dart(edge="waist", share=0.5, width=24.0, depth=90.0)


def from_leg(point, mouth, tip):
    """How far a point lies from the straight line of a leg, mm."""
    leg, way = complex(*tip) - complex(*mouth), complex(*point) - complex(*mouth)
    return abs((leg.conjugate() * way).imag) / abs(leg)


@FEW
@given(turned(upright_pieces(darts=True)), st.floats(0.0, 9.0))
def test_each_leg_lies_as_far_from_the_old_one_as_was_asked_and_meets_it_at_the_tip(piece, amount):
    """On a waist that bends the mouth follows it; 9 mm aside that is a tenth of a millimetre."""
    [new] = taken(one(piece), f"waist={amount:.3f}mm", "tip=0mm").value.pieces
    (first, tip, last), (new_first, new_tip, new_last) = (dart_points(p, p.darts[0]) for p in (piece, new))
    assert new_tip == pytest.approx(tip, abs=1e-6)
    for point, mouth in ((new_first, first), (new_last, last)):
        assert from_leg(point, mouth, tip) == pytest.approx(abs(round(amount, 3)), abs=0.12)
    assert (new.darts[0].width > piece.darts[0].width) == (round(amount, 3) > 0.0) or round(amount, 3) == 0.0
    assert new.edges == piece.edges


@FEW
@given(turned(upright_pieces(darts=True)), st.floats(0.5, 9.0))
def test_and_back_again(piece, amount):
    there = taken(one(piece), f"waist={amount:.3f}mm").value
    [back] = taken(there, f"waist={-amount:.3f}mm").value.pieces
    assert back.darts[0].width == pytest.approx(piece.darts[0].width, abs=0.02)
    assert dart_points(back, back.darts[0])[1] == pytest.approx(dart_points(piece, piece.darts[0])[1], abs=1e-6)


@pytest.mark.parametrize("lie", [lambda p: p, against, lambda p: moved(p, Affine.scaling(-1.0, 1.0))])
def test_square_to_the_leg_along_the_waist_it_is_more(lie):
    """A leg 90 deep and 12 aside: 3 mm square to it are 3 / cos(atan(12 / 90)) along the waist."""
    [new] = taken(one(lie(box(DART))), "waist=3mm").value.pieces
    assert new.darts[0].width == pytest.approx(24.0 + 6.0 / math.cos(math.atan2(12.0, 90.0)), abs=1e-9)
    assert new.darts[0].share == pytest.approx(0.5)


@pytest.mark.parametrize(("count", "girth"), [(1, 6.0), (2, 12.0)])
def test_the_girth_taken_is_twice_the_distance_for_each_dart(count, girth):
    """Trade: two layers. The mouth runs along the waist, a little aslant to the legs: under a tenth of a millimetre."""
    before = Pattern(pieces=(box(DART, cut=replace(TWICE, count=count, mirrored=count > 1)),))
    outcome = taken(before, "waist=3mm", "tip=0mm")
    lost = girth_along(before.pieces, "waist").girth - girth_along(outcome.value.pieces, "waist").girth
    assert lost == pytest.approx(girth, abs=0.12)
    assert outcome.changes[0].after == pytest.approx(-girth)
    assert taken(before, f"waist={girth}mm", is_girth=True).value == outcome.value


def test_several_fittings_add_up_and_their_reverse_is_nothing():
    before = Pattern(pieces=(box(DART),))
    first, second = (tuple(map(read_basting, texts)) for texts in (["waist=2mm"], ["waist=-2mm", "tip=0mm"]))
    assert take_in_darts(before, DartTakeIn(at=second, earlier=(first,))).value == before


def test_one_side_only_makes_left_and_right():
    new = taken(Pattern(pieces=(box(DART, cut=TWICE),)), "waist=3mm", only="left").value
    widths = {piece.name: piece.darts[0].width for piece in new.pieces}
    assert widths["right back"] == 24.0
    assert widths["left back"] > 30.0


@pytest.mark.parametrize(
    ("darts", "amount", "possible", "said"),
    [
        ((replace(DART, share=0.1),), 9.0, 8.0, "the end of the edge"),
        ((DART, replace(DART, share=0.65)), 7.0, 6.0, "another dart"),
        ((DART,), -13.0, -12.0, "nothing would be left"),
    ],
    ids=["end", "other dart", "nothing left"],
)
def test_what_cannot_be_says_how_much_can(darts, amount, possible, said):
    """Free along the waist beside the mouth: 8 mm to its end, 6 mm to the next dart; half of 24 mm to nothing."""
    piece = box(*darts)
    with pytest.raises(CollapseError, match=said) as caught:
        taken(one(piece), f"waist={amount}mm")
    square = abs(possible) * (math.cos(math.atan2(12.0, 90.0)) if amount > 0.0 else 1.0)
    assert f"less than {square:.1f} mm" in caught.value.advice
    assert (caught.value.piece, caught.value.edge) == ("back", "waist")
    just = math.copysign(square - 0.05, amount)
    if len(darts) == 1:
        taken(one(piece), f"waist={just:.3f}mm")


@pytest.mark.parametrize(
    ("texts", "said"),
    [
        (["50%=3mm"], "legs of a dart stay straight"),
        (["waist=3mm", "tip=1mm"], "tip of a dart is no place"),
        (["side=3mm"], "No dart opens on an edge named side"),
        (["tip=0mm"], "No amount"),
    ],
)
def test_each_slip_gets_one_sentence(texts, said):
    with pytest.raises(ParameterError, match=said) as caught:
        taken(one(box(DART)), *texts)
    assert caught.value.advice


def test_an_edge_of_that_name_comes_first():
    named = tuple(replace(e, name="dart" if e.name == "seat" else e.name) for e in box().edges)
    assert are_darts(one(box(DART)), "dart")
    assert not are_darts(one(box()), "dart")
    assert not are_darts(one(box(DART)), "side")
    assert not are_darts(one(replace(box(DART), edges=named)), "dart")
