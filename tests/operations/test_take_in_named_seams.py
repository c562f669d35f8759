"""Seams inside a front, by name: a princess seam, and the legs of a dart that is cut open, taken in and trued."""

import math
from dataclasses import replace
from pathlib import Path as File

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.checks.pattern import check_pattern
from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import CutInstruction, Edge, Notch, Pattern, Piece
from crossgrain.model.seams.side import Side
from crossgrain.notation.stations import read_basting
from crossgrain.operations.take_in import Basting, TakeIn, take_in
from crossgrain.operations.trueing import Trueing, true
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from moved_lines import moved_by
from outline_widths import widths
from pieces import against, moved, smooth_run

FEW = settings(max_examples=25)
TWICE = CutInstruction(count=2, mirrored=True)
DOWN = 700.0
SAMPLES = File(__file__).parents[2] / "samples"


def basted(*texts):
    return tuple(Basting(station=station, amount=amount) for station, amount in map(read_basting, texts))


def taken(pattern, seam, *texts, **how):
    return take_in(pattern, TakeIn(seam=seam, at=basted(*texts), **how))


def piece_of(name, lines, **facts):
    edges = tuple(Edge(name=edge, line=Path(tuple(line))) for edge, line in lines.items())
    return Piece(id=name, name=name, edges=edges, **facts)


@st.composite
def princess(draw):
    """Draw a centre front on the fold and a side front that share one curved line, true at both its ends."""

    def size(low, high):
        return round(draw(st.floats(low, high)), 2)

    at_waist, at_hip, at_hem = size(70, 90), size(95, 115), size(110, 150)
    inner = smooth_run([((at_waist, 0.0), (0.0, 1.0)), ((at_hip, 200.0), (0.0, 1.0)), ((at_hem, DOWN), (0.0, 1.0))])
    outer = at_hem + size(80, 120)
    centre = piece_of(
        "centre front",
        {
            "waist": [Line((0.0, 0.0), (at_waist, 0.0))],
            "princess": inner,
            "hem": [Line((at_hem, DOWN), (0.0, DOWN))],
            "centre": [Line((0.0, DOWN), (0.0, 0.0))],
        },
        cut=CutInstruction(on_fold="centre"),
        notches=(Notch(edge="princess", share=0.5, count=2),),
    )
    side = piece_of(
        "side front",
        {
            "waist": [Line((at_waist, 0.0), (outer, 0.0))],
            "side": [Line((outer, 0.0), (outer, DOWN))],
            "hem": [Line((outer, DOWN), (at_hem, DOWN))],
            "princess": list(Path(tuple(inner)).reversed().segments),
        },
        cut=TWICE,
        notches=(Notch(edge="princess", share=0.5, count=2),),
    )
    pieces = []
    for piece, turn in ((centre, 0.0), (side, draw(st.floats(-math.pi, math.pi)))):
        piece = against(piece) if draw(st.booleans()) else piece
        mirror = Affine.scaling(-1.0 if draw(st.booleans()) else 1.0, 1.0)
        pieces.append(moved(piece, mirror.then(Affine.rotation(turn))))
    return Pattern(pieces=tuple(pieces))


def inside(old, new, seam, shares):
    """How far inside the old line of a seam the new one lies, at shares of it from the waist."""
    names = old.edge_names
    line = old.edge(seam).line
    is_turned = names[names.index(seam) - 1] != "waist"
    places = [(1.0 - share if is_turned else share) * path_length(line) for share in shares]
    return abs(moved_by(line, new.edge(seam).line, places))


class TestPrincess:
    @FEW
    @given(princess(), st.floats(2.0, 9.0), st.floats(2.0, 6.0))
    def test_it_is_taken_in_on_both_pieces_and_as_much_as_asked(self, pattern, at_half, at_hem):
        new = taken(pattern, "princess", "waist=0mm", f"50%={at_half:.3f}mm", f"hem={at_hem:.3f}mm").value
        for old, now in zip(pattern.pieces, new.pieces, strict=True):
            assert inside(old, now, "princess", [0.5]) == pytest.approx([round(at_half, 3)], abs=0.01)
            hems = [path_length(piece.edge("hem").line) for piece in (old, now)]
            assert hems[0] - hems[1] == pytest.approx(round(at_hem, 3), abs=0.02)
            assert now.edge("waist") == old.edge("waist")

    @FEW
    @given(princess(), st.floats(4.0, 20.0))
    def test_girth_is_divided_by_both_layers_of_both_seams(self, pattern, girth):
        """Two princess seams, two layers each: a quarter each. Trade, as for side seams."""
        new = taken(pattern, "princess", f"waist={girth:.2f}mm", f"hem={girth:.2f}mm", is_girth=True).value
        for old, now in zip(pattern.pieces, new.pieces, strict=True):
            lost = path_length(old.edge("waist").line) - path_length(now.edge("waist").line)
            assert lost == pytest.approx(round(girth, 2) / 4.0, abs=0.01)

    @FEW
    @given(princess(), st.floats(3.0, 9.0), st.floats(0.1, 0.9))
    def test_moved_forward_and_trued_it_has_no_findings(self, pattern, amount, share):
        assert not check_pattern(pattern).findings
        at = ("waist=2mm", f"40%={amount:.2f}mm", "hem=0mm")
        moved_ = taken(pattern, "princess", *at, shares=(("centre", share),)).value
        trued = true(moved_, Trueing(seam="princess")).value
        first, second = (Side(piece, "princess").length for piece in trued.pieces)
        assert abs(first - second) <= 0.5
        found = [finding for finding in check_pattern(trued).findings if finding.edge == "princess"]
        assert not found, found

    def test_trueing_moves_what_gives_and_keeps_what_is_kept(self):
        pattern = princess_of_two_lengths(3.0)
        trued = true(pattern, Trueing(seam="princess", keep=("centre",), give="hem")).value
        assert trued.piece("centre front") is pattern.piece("centre front")
        lengths = [Side(piece, "princess").length for piece in trued.pieces]
        assert lengths == pytest.approx([DOWN, DOWN], abs=1e-6)


def princess_of_two_lengths(longer):
    centre = piece_of(
        "centre front",
        {
            "waist": [Line((0.0, 0.0), (80.0, 0.0))],
            "princess": [Line((80.0, 0.0), (80.0, DOWN))],
            "hem": [Line((80.0, DOWN), (0.0, DOWN))],
            "centre": [Line((0.0, DOWN), (0.0, 0.0))],
        },
    )
    side = piece_of(
        "side front",
        {
            "waist": [Line((100.0, 0.0), (200.0, 0.0))],
            "side": [Line((200.0, 0.0), (200.0, DOWN + longer))],
            "hem": [Line((200.0, DOWN + longer), (100.0, DOWN + longer))],
            "princess": [Line((100.0, DOWN + longer), (100.0, 0.0))],
        },
    )
    return Pattern(pieces=(centre, side))


def opened_dart(width=24.0, depth=110.0, **facts):
    """A back whose dart is cut out of its waist: its legs are edges."""
    corners = [(0.0, 0.0), (100.0 - width / 2.0, 0.0), (100.0, depth), (100.0 + width / 2.0, 0.0)]
    corners += [(200.0, 0.0), (200.0, 300.0), (0.0, 300.0)]
    names = ("waist-left", "dart-left", "dart-right", "waist-right", "side", "foot", "seat")
    lines = {name: [Line(corners[k], corners[(k + 1) % 7])] for k, name in enumerate(names)}
    return piece_of("back", lines, **facts)


class TestDartLegs:
    @pytest.mark.parametrize("mirrored", [False, True])
    @pytest.mark.parametrize("drawn_against", [False, True])
    def test_both_legs_taken_in_at_the_mouth_widen_it_and_keep_its_tip(self, mirrored, drawn_against):
        back = opened_dart()
        back = moved(back, Affine.scaling(-1.0, 1.0)) if mirrored else back
        back = against(back) if drawn_against else back
        new = Pattern(pieces=(back,))
        for side in ("left", "right"):
            at = (f"waist-{side}=3mm", f"dart-{'right' if side == 'left' else 'left'}=0mm")
            new = taken(new, f"dart-{side}", *at).value
        [now] = new.pieces
        # Square to a leg 110 deep and 12 aside, 3 mm are so much along the waist.
        along = 3.0 / math.cos(math.atan2(12.0, 110.0))
        mouth = 200.0 - sum(path_length(now.edge(f"waist-{side}").line) for side in ("left", "right"))
        assert mouth == pytest.approx(24.0 + 2.0 * along, abs=0.05)
        tips = [{now.edge(f"dart-{side}").line.start, now.edge(f"dart-{side}").line.end} for side in ("left", "right")]
        assert any(math.dist(tip, (-100.0 if mirrored else 100.0, 110.0)) < 1e-9 for tip in tips[0] & tips[1])
        legs = [path_length(now.edge(f"dart-{side}").line) for side in ("left", "right")]
        assert legs[0] == pytest.approx(legs[1], abs=1e-6)
        for name in ("side", "foot", "seat"):
            assert now.edge(name) == back.edge(name)

    def test_let_out_beyond_the_other_leg_is_refused(self):
        pattern = Pattern(pieces=(opened_dart(width=6.0),))
        with pytest.raises(GeometryError) as caught:
            taken(pattern, "dart-left", "waist-left=-8mm", "dart-right=0mm")
        assert (caught.value.piece, caught.value.edge) == ("back", "dart-left")
        assert caught.value.position is not None
        assert caught.value.advice

    def test_cut_apart_at_the_dart_both_pieces_have_its_seam(self):
        """Where the dart runs through, its legs are a seam like a princess seam."""
        left = replace(princess_of_two_lengths(0.0).pieces[0], id="a", name="inner back")
        right = replace(princess_of_two_lengths(0.0).pieces[1], id="b", name="outer back")
        pattern = Pattern(
            pieces=tuple(
                replace(
                    piece,
                    edges=tuple(replace(e, name="dart" if e.name == "princess" else e.name) for e in piece.edges),
                )
                for piece in (left, right)
            )
        )
        new = taken(pattern, "dart", "waist=5mm", "hem=0mm").value
        for old, now in zip(pattern.pieces, new.pieces, strict=True):
            assert widths(old, [1.0]) - widths(now, [1.0]) == pytest.approx([5.0], abs=0.05)
        assert true(new, Trueing(seam="dart", give="waist")).value.seam("dart")


@pytest.fixture(scope="module")
def trousers():
    return pattern_of(read_drawing(SAMPLES / "trousers.svg"))


class TestLayers:
    """What lies under a front, and what follows it, is no girth of the body."""

    def test_the_fly_facing_moves_with_the_centre_and_counts_for_nothing(self, trousers):
        outcome = taken(trousers, "centre", "waist=5mm", "crotch=0mm")
        [at_waist, _at_crotch] = [change.after for change in outcome.changes if "girth" in change.what]
        assert at_waist == pytest.approx(-10.0)
        assert outcome.value.piece("fly-facing") != trousers.piece("fly-facing")

    def test_so_girth_is_shared_by_the_two_fronts(self, trousers):
        new = taken(trousers, "centre", "waist=10mm", "crotch=0mm", is_girth=True).value
        for name in ("front-left", "front-right"):
            waists = [path_length(pattern.piece(name).edge("waist").line) for pattern in (trousers, new)]
            assert waists[0] - waists[1] == pytest.approx(5.0, abs=0.05)

    def test_a_band_that_follows_the_waist_is_left_to_be_brought_up_to_date(self, trousers):
        outcome = taken(trousers, "waist", "side=5mm", "centre=5mm")
        assert outcome.value.piece("waistband") is trousers.piece("waistband")
        [said] = [finding for finding in outcome.findings if "follows" in finding.message]
        assert (said.piece, said.edge) == ("waistband", "waist")
        assert not [finding for finding in outcome.findings if "sides of the seam" in finding.message]

    def test_sides_of_two_lengths_are_named_with_what_they_are_sewn_to(self, trousers):
        value = taken(trousers, "side", "waist=0mm", "20%=12mm", "hem=0mm", shares=(("front", 1.0),))
        [said] = [finding for finding in value.findings if "sides of the seam" in finding.message]
        assert said.piece == "left front, back, right front"
