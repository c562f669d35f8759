"""Measuring says what a tape says: laws over outlines, and figures worked out by hand."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.arc import ellipse_path
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic
from crossgrain.model import CutInstruction, Dart, Edge, Pattern, Piece
from crossgrain.operations.measuring import girths, measure
from edited_outlines import outline

randoms = st.randoms(use_true_random=False)
angles = st.floats(-math.pi, math.pi)


def piece_of(line: Path, names=(), id="p", **more) -> Piece:
    edges = tuple(Edge(name=name, line=Path((segment,))) for name, segment in zip(names, line.segments, strict=False))
    return Piece(id=id, edges=edges or (Edge(name="", line=Path(line.segments)),), **more)


def only(piece: Piece, *levels: float):
    [measured] = measure(Pattern(pieces=(piece,)), levels).pieces
    return measured


def widths(measured) -> dict:
    return {width.kind: width.width for width in measured.widths}


# A leg: waist 200 wide and slanted by 20, hem 120 wide; straight sides, 1000 long on the left.
LEG = Path.polygon([(0.0, 20.0), (200.0, 0.0), (160.0, 1020.0), (40.0, 1020.0)])
NAMES = ("waist", "side", "hem", "inseam")


# --- Laws --------------------------------------------------------------------------------------------------------


@given(randoms, angles, st.booleans())
@settings(max_examples=30)
def test_moving_turning_and_mirroring_with_the_grain_changes_no_measure(rng, angle, mirrored):
    line = outline(rng).line
    here = piece_of(line)
    affine = Affine.rotation(angle, (30.0, 40.0)).then(Affine.scaling(-1.0 if mirrored else 1.0, 1.0))
    there = piece_of(line.mapped(affine), grain=affine.of_vector((0.0, 1.0)))
    one, other = only(here, 50.0, 150.0), only(there, 50.0, 150.0)
    for field in ("perimeter", "area", "along", "across"):
        assert getattr(other, field) == pytest.approx(getattr(one, field), rel=1e-9)
    for mine, theirs in zip(one.widths, other.widths, strict=True):
        if mine.kind not in ("upper end", "lower end"):  # a level at a slanted edge's end may fall to either side
            assert theirs.width == pytest.approx(mine.width, abs=0.01)


@given(randoms, st.floats(0.5, 2.0))
@settings(max_examples=30)
def test_scaling_across_the_grain_scales_widths_and_area_and_no_lengths_along(rng, factor):
    line = outline(rng).line
    one, other = only(piece_of(line), 80.0), only(piece_of(line.mapped(Affine.scaling(factor, 1.0))), 80.0)
    assert other.area == pytest.approx(factor * one.area, rel=1e-9)
    assert other.along == pytest.approx(one.along, rel=1e-9)
    assert widths(other)["widest"] == pytest.approx(factor * widths(one)["widest"], abs=0.01 * factor)
    assert widths(other)["given"] == pytest.approx(factor * widths(one)["given"], abs=0.01 * factor)


@given(randoms)
@settings(max_examples=30)
def test_no_width_exceeds_the_widest_nor_that_the_extent(rng):
    measured = only(piece_of(outline(rng).line), *(30.0 * number for number in range(8)))
    widest = widths(measured)["widest"]
    assert all(0.0 <= width.width <= widest + 0.01 for width in measured.widths)
    assert 0.0 < widest <= measured.across + 1e-9
    assert measured.area <= measured.along * measured.across


@given(randoms)
@settings(max_examples=20)
def test_edges_add_up_to_the_outline(rng):
    line = outline(rng).line
    names = [f"e{number}" for number in range(len(line.segments))]
    measured = only(piece_of(line, names))
    assert math.fsum(edge.length for edge in measured.edges) == pytest.approx(measured.perimeter, rel=1e-12)


def test_measuring_is_blind_to_the_direction_of_the_edges():
    one, other = only(piece_of(LEG)), only(piece_of(LEG.reversed()))
    assert other.area == one.area > 0.0
    assert [width.width for width in other.widths] == pytest.approx([width.width for width in one.widths])


# --- Worked by hand ----------------------------------------------------------------------------------------------


def test_a_leg_measured_by_hand():
    measured = only(piece_of(LEG, NAMES, name="leg"), 520.0)
    assert [edge.name for edge in measured.edges] == list(NAMES)
    assert measured.edges[0].length == pytest.approx(math.hypot(200.0, 20.0))
    assert measured.edges[2].length == 120.0
    left, right = (40.0 / 1000.0, 40.0 / 1020.0)
    # Below the slanted waist a trapezium, above its lower end a triangle.
    full = 200.0 - 20.0 * right
    assert measured.area == pytest.approx((full + 120.0) / 2.0 * 1000.0 + full * 20.0 / 2.0)
    assert measured.along == 1020.0
    assert measured.across == 200.0
    upper, widest, lower, given_level = measured.widths
    assert (upper.kind, upper.depth) == ("upper end", 20.0)
    assert upper.width == pytest.approx(full)
    assert widest.width == pytest.approx(upper.width, abs=0.01)
    assert (lower.depth, lower.width) == (1020.0, 120.0)
    assert given_level.width == pytest.approx(200.0 - 500.0 * left - 520.0 * right)


def test_past_a_hollow_waist_the_piece_has_its_full_width():
    waist = Cubic((0.0, 0.0), (60.0, 40.0), (140.0, 40.0), (200.0, 0.0))
    line = Path((waist, *Path.polygon([(0.0, 0.0), (200.0, 0.0), (200.0, 500.0), (0.0, 500.0)]).segments[1:]), True)
    for piece in (piece_of(line, NAMES), piece_of(line)):
        upper = only(piece).widths[0]
        assert upper.depth == pytest.approx(30.0)  # the middle of the curve: three quarters of its handles' depth
        assert upper.width == pytest.approx(200.0)


def test_a_bare_outline_has_its_ends_at_its_corners():
    assert [width.depth for width in only(piece_of(LEG)).widths] == pytest.approx([20.0, 20.0, 1020.0])


def test_the_end_with_the_waist_is_the_upper_one_wherever_the_grain_points():
    expected = [width.width for width in only(piece_of(LEG, NAMES), 100.0).widths]
    for names in (NAMES, ("top", "side", "hem", "inseam")):
        measured = only(piece_of(LEG, names, grain=(0.0, -1.0)), 100.0)
        assert [width.width for width in measured.widths] == pytest.approx(expected)
    unnamed = only(piece_of(LEG, grain=(0.0, -1.0)), 0.0)
    assert unnamed.widths[-1].width == 120.0


def test_a_circle_measures_as_the_formulas_say():
    # Perimeter 2 pi r and area pi r^2; the cubics that stand for a circle are off by less than 1e-4 mm.
    measured = only(piece_of(ellipse_path(0.0, 0.0, 100.0, 100.0)), 100.0, 50.0)
    assert measured.perimeter == pytest.approx(200.0 * math.pi, abs=1e-3)
    assert measured.area == pytest.approx(1e4 * math.pi, abs=0.1)
    assert widths(measured)["widest"] == pytest.approx(200.0, abs=1e-3)
    assert measured.widths[-1].width == pytest.approx(100.0 * math.sqrt(3.0), abs=0.01)


def test_a_skirt_band_adds_up():
    # Body 24 in, ease 1 in, overlap 3/4 in: 25 3/4 in (common practice).
    band = Path.polygon([(0.0, 0.0), (25.75 * 25.4, 0.0), (25.75 * 25.4, 40.0), (0.0, 40.0)])
    assert widths(only(piece_of(band)))["widest"] == pytest.approx((24.0 + 1.0 + 0.75) * 25.4)


def test_a_dart_takes_its_intake_out_of_the_width_down_to_its_tip():
    skirt = Path.polygon([(0.0, 0.0), (200.0, 0.0), (200.0, 600.0), (0.0, 600.0)])
    dart = Dart(edge="waist", share=0.5, width=20.0, depth=100.0)
    measured = only(piece_of(skirt, NAMES, darts=(dart,)), 0.0, 50.0, 100.0, 300.0)
    assert [width.intake for width in measured.widths if width.kind == "given"] == pytest.approx(
        [20.0, 10.0, 0.0, 0.0], abs=1e-9
    )


def test_seams_are_edges_of_one_name_with_their_difference():
    back = LEG.mapped(Affine.scaling(1.0, 1.01))
    pattern = Pattern(pieces=(piece_of(LEG, NAMES, name="front"), piece_of(back, NAMES, id="q", name="back")))
    seams = {seam.name: seam for seam in measure(pattern).seams}
    assert list(seams) == list(NAMES)
    assert [label for label, _length in seams["side"].sides] == ["front", "back"]
    assert seams["side"].difference == pytest.approx(math.hypot(40.0, 1020.0 * 1.01) - math.hypot(40.0, 1020.0))
    assert seams["hem"].difference == 0.0
    assert measure(Pattern(pieces=pattern.pieces[:1])).seams == ()


def test_a_girth_counts_pieces_as_often_as_they_are_cut_less_their_darts():
    skirt = Path.polygon([(0.0, 0.0), (200.0, 0.0), (200.0, 600.0), (0.0, 600.0)])
    front = piece_of(skirt, NAMES, name="front", cut=CutInstruction(count=1, on_fold="inseam"))
    back = piece_of(
        skirt,
        NAMES,
        id="q",
        name="back",
        cut=CutInstruction(count=2, mirrored=True),
        darts=(Dart(edge="waist", share=0.5, width=20.0, depth=100.0),),
    )
    band = piece_of(Path.polygon([(0.0, 0.0), (800.0, 0.0), (800.0, 40.0), (0.0, 40.0)]), id="r", name="band")
    measured = measure(Pattern(pieces=(front, back, band)), [50.0])
    [girth] = measured.girths
    assert girth.parts == (("front", pytest.approx(400.0)), ("back", pytest.approx(380.0)))
    assert girth.girth == pytest.approx(780.0)
    [finding] = measured.findings
    assert finding.piece == "band"
    assert "50.0 mm" in finding.message


@pytest.mark.parametrize("level", [-1.0, math.nan, math.inf])
def test_a_level_above_the_piece_is_refused(level):
    with pytest.raises(ParameterError, match="above the piece"):
        measure(Pattern(pieces=(piece_of(LEG),)), [level])


def test_the_box_is_the_page_s():
    box = only(replace(piece_of(LEG), grain=(0.6, 0.8))).box
    assert (box.left, box.top, box.right, box.bottom) == (0.0, 0.0, 200.0, 1020.0)


@given(randoms, st.lists(st.floats(0.0, 900.0), min_size=1, max_size=4, unique=True))
@settings(max_examples=20)
def test_girths_alone_are_those_of_the_whole_measuring(rng, depths):
    cut = CutInstruction(count=2, mirrored=True)
    pattern = Pattern(pieces=(piece_of(outline(rng).line, id="a", cut=cut), piece_of(LEG, NAMES, id="b")))
    wanted = [one for one in measure(pattern, depths).girths if one.parts]
    assert list(girths(pattern, depths)) == wanted
