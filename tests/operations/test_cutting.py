"""Pieces laid out for cutting: all of them, as they are drawn, clear of each other, with their words on them."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations
from pathlib import Path as FilePath

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.errors import ParameterError, SelfCrossingError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Edge, Hold, Pattern, Piece
from crossgrain.model.cutting.laid_out import MARGIN
from crossgrain.model.marking.sewing_marks import Topstitching
from crossgrain.operations.allowance import Allowance, allow
from crossgrain.operations.cutting import Cutting, cut
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from pieces import bare_pieces, one, turned, upright_pieces

SAMPLES = FilePath(__file__).parent.parent.parent / "samples"
SEEN = 0.02
"""How near shapely's polygons follow our lines, mm."""


def shape(line):
    return shapely.Polygon(flatten(line, SEEN / 2.0).points)


def box(found):
    return shapely.box(found.left, found.top, found.right, found.bottom)


def sample(width=10.0, name="trousers.svg"):
    pattern = pattern_of(read_drawing(SAMPLES / name))
    return pattern if width is None else allow(pattern, Allowance(width=width)).value


def rectangle(wide, high, id="p", **more):
    names = ("waist", "side", "hem", "centre")
    sides = Path.polygon([(0, 0), (wide, 0), (wide, high), (0, high)]).segments
    edges = tuple(Edge(name=name, line=Path((side,))) for name, side in zip(names, sides, strict=True))
    return Piece(id=id, name=id, edges=edges, **more)


@st.composite
def instructions(draw, names):
    return CutInstruction(
        count=draw(st.integers(1, 3)),
        mirrored=draw(st.booleans()),
        on_fold=draw(st.sampled_from(["", *names])),
        stabilised=draw(st.booleans()),
    )


@st.composite
def patterns(draw):
    """Draw up to four pieces lying anyhow, some with a cut line, cut in all ways there are."""
    out = []
    for number in range(draw(st.integers(1, 4))):
        if draw(st.booleans()):
            piece = draw(bare_pieces())
        else:
            piece = draw(turned(upright_pieces(notches=True)))
            if draw(st.booleans()):
                [piece] = allow(one(piece), Allowance(width=draw(st.floats(3.0, 12.0)))).value.pieces
        names = ["centre"] if "centre" in piece.edge_names else []
        out.append(replace(piece, id=f"p{number}", cut=draw(instructions(names))))
    return Pattern(pieces=tuple(out))


ways = st.builds(
    Cutting,
    width_of_cloth=st.floats(400.0, 1600.0),
    width_of_stabiliser=st.floats(300.0, 900.0),
    gap=st.floats(0.0, 40.0),
    all_copies=st.booleans(),
    open_folds=st.booleans(),
    garment=st.sampled_from(["", "Slim trousers of the second act"]),
)


def check_plan(pattern, cutting, plan):
    """What holds of every plan."""
    check_all_are_there(pattern, cutting, plan)
    for piece in plan.pieces:
        check_only_moved(piece)
        check_words(piece)
    for first, second in combinations(plan.pieces, 2):
        assert box(first.extent).distance(box(second.extent)) >= cutting.gap - 1e-6
        assert shape(first.outer).distance(shape(second.outer)) >= cutting.gap - SEEN
    sheet = shapely.box(0.0, 0.0, plan.width, plan.height)
    widths = {"cloth": cutting.width_of_cloth, "stabiliser": cutting.width_of_stabiliser}
    for piece in plan.pieces:
        assert sheet.contains(box(piece.extent))
        within = widths[piece.material]
        assert piece.extent.right <= MARGIN + max(within, piece.extent.width) + 1e-6


def check_all_are_there(pattern, cutting, plan):
    for piece in pattern.pieces:
        laid = [one for one in plan.pieces if one.piece.id == piece.id and not one.is_template]
        rows = [row for row in plan.rows if row.id == piece.id]
        materials = ["cloth", "stabiliser"] if piece.cut.stabilised else ["cloth"]
        assert [row.material for row in rows] == materials
        assert all(row.count == piece.cut.count for row in rows)
        if not cutting.all_copies:
            assert [(one.number, one.copies, one.mirrored, one.material) for one in laid] == [(1, 1, False, "cloth")]
            continue
        for material in materials:
            own = [one for one in laid if one.material == material]
            assert [one.number for one in own] == list(range(1, piece.cut.count + 1))
            assert [one.mirrored for one in own] == [piece.cut.mirrored and n % 2 == 1 for n in range(piece.cut.count)]
        assert len(laid) == piece.cut.count * len(materials)


def check_only_moved(piece):
    """Turned, shifted and mirrored, and nothing else: lengths and areas stay, and the grain stands upright."""
    move, source = piece.move, piece.piece
    assert abs(move.determinant) == pytest.approx(1.0, abs=1e-12)
    assert move.a**2 + move.b**2 == pytest.approx(1.0, abs=1e-12)
    gx, gy = move.of_vector(source.grain)
    assert abs(gx) <= 1e-12
    assert abs(gy) == pytest.approx(1.0, abs=1e-12)
    if piece.opened or piece.is_template:
        return
    drawn, other = (piece.stitch, piece.cut) if source.outline == "stitch" else (piece.cut, piece.stitch)
    assert drawn == source.line.mapped(move)
    assert path_length(drawn) == pytest.approx(path_length(source.line), abs=1e-9)
    assert abs(signed_area(drawn)) == pytest.approx(abs(signed_area(source.line)), abs=1e-6)
    assert (other is None) is (source.counterpart is None)
    if other is not None:
        assert other == source.counterpart.mapped(move)


def check_words(piece):
    """Within the line that is cut, or beside the piece with a leader that touches it."""
    words, cloth = box(piece.label.box), shape(piece.outer)
    if piece.label.leader is None:
        assert cloth.buffer(0.0).contains(words)
    else:
        assert cloth.disjoint(words)
        assert shapely.Point(piece.label.leader.end).distance(cloth.exterior) <= SEEN
        assert shapely.Point(piece.label.leader.start).distance(words) <= 2.0


@settings(max_examples=25, deadline=None)
@given(patterns(), ways)
def test_every_piece_is_there_as_drawn_clear_of_the_others_with_its_words_on_it(pattern, cutting):
    """Distances and containment by shapely."""
    check_plan(pattern, cutting, cut(pattern, cutting).value)


@settings(max_examples=15, deadline=None)
@given(patterns())
def test_areas_are_those_inside_the_line_that_is_cut(pattern):
    """By shapely; of a half on the fold, twice."""
    for row in cut(pattern, Cutting()).value.rows:
        piece = pattern.piece(row.id)
        line = piece.counterpart or piece.line
        wanted = shape(line).area * (2.0 if piece.cut.on_fold else 1.0)
        assert row.area == pytest.approx(wanted, abs=SEEN * path_length(line) * 2.0)
        assert row.total == pytest.approx(piece.cut.count * row.area)
        assert row.has_allowance is (piece.counterpart is not None)


@pytest.mark.parametrize("width", [None, 10.0], ids=["stitch lines", "cut lines"])
@pytest.mark.parametrize("all_copies", [False, True])
@pytest.mark.parametrize("open_folds", [False, True])
def test_the_sample_trousers(width, all_copies, open_folds):
    pattern = sample(width)
    cutting = Cutting(all_copies=all_copies, open_folds=open_folds, garment="Slim trousers", size="10")
    outcome = cut(pattern, cutting)
    check_plan(pattern, cutting, outcome.value)
    for piece in outcome.value.pieces:
        assert piece.label.leader is None
        for line in (*(mark.line for mark in piece.marks), *([] if piece.stitch is None else [piece.stitch])):
            assert shapely.LineString(flatten(line, SEEN).points).disjoint(box(piece.label.box)), piece.piece.name
    assert len(outcome.findings) == (0 if width else len(pattern.pieces))
    # left and right front, two backs, two bands, facing, guard; bands, facing and guard in stabiliser again; a card
    assert len(outcome.value.pieces) == (8 + 4 if all_copies else 6) + 1


class TestByHand:
    def test_counts_areas_and_cloth(self):
        """Arithmetic: 2 × 200 × 400 and a half of 50 × 300 on the fold, twice; 1000 mm at 80 %."""
        pattern = Pattern(
            pieces=(
                rectangle(200, 400, "leg", cut=CutInstruction(count=2, mirrored=True)),
                rectangle(50, 300, "yoke", cut=CutInstruction(count=2, on_fold="side", stabilised=True)),
            )
        )
        plan = cut(pattern, Cutting(width_of_cloth=1000.0, width_of_stabiliser=500.0, efficiency=0.8)).value
        assert [(row.piece, row.material, row.count, row.mirrored, row.on_fold, row.area) for row in plan.rows] == [
            ("leg", "cloth", 2, True, "", 80_000.0),
            ("yoke", "cloth", 2, False, "side", 30_000.0),
            ("yoke", "stabiliser", 2, False, "side", 30_000.0),
        ]
        assert [(row.across, row.along) for row in plan.rows] == [(200.0, 400.0), (100.0, 300.0), (100.0, 300.0)]
        cloth, stabiliser = plan.needs
        assert (cloth.area, cloth.length) == (220_000.0, 400.0), "by area 275 mm, but a leg is 400 mm long"
        assert (stabiliser.area, stabiliser.length) == (60_000.0, 300.0)
        long = cut(pattern, Cutting(width_of_cloth=400.0, efficiency=0.5)).value.needs[0]
        assert long.length == pytest.approx(220_000.0 / 200.0)

    def test_a_copy_the_other_way_round_is_the_mirror_image(self):
        pattern = Pattern(pieces=(rectangle(200, 400, "leg", cut=CutInstruction(count=3, mirrored=True)),))
        first, second, third = cut(pattern, Cutting(all_copies=True)).value.pieces
        assert [one.mirrored for one in (first, second, third)] == [False, True, False]
        side = pattern.pieces[0].edge("side").line
        xs = [[x - one.extent.left for x, _y in side.mapped(one.move).nodes] for one in (first, second)]
        assert xs == [[200.0, 200.0], [0.0, 0.0]]

    def test_a_zip_extension_stays_on_its_one_front(self):
        plan = cut(sample(), Cutting(all_copies=True)).value
        left, right = (
            next(one for one in plan.pieces if one.piece.name == f"{hand} front") for hand in ("left", "right")
        )
        assert (left.copies, right.copies) == (1, 1)
        assert (left.mirrored, right.mirrored) == (False, False)
        extension = shape(left.piece.line).area - shape(right.piece.line).area
        assert extension == pytest.approx(5.0 * 155.0, abs=10.0)
        assert {mark.kind for mark in left.marks} - {mark.kind for mark in right.marks} == {"hold"}

    def test_the_waist_is_up_and_the_hem_down_however_a_piece_lies(self):
        pattern = sample(None)
        for piece in cut(pattern, Cutting()).value.pieces:
            if "hem" in piece.piece.edge_names:
                waist, hem = (piece.piece.edge(name).line.mapped(piece.move).start[1] for name in ("waist", "hem"))
                assert waist < hem

    def test_an_opened_fold_shows_its_marks_on_both_halves_and_no_bracket(self):
        guard = sample().piece("fly guard")
        for open_folds, kinds in ((False, {"grain": 3, "notch": 1, "fold": 1}), (True, {"grain": 3, "notch": 2})):
            [piece] = cut(one(guard), Cutting(open_folds=open_folds)).value.pieces
            assert piece.opened is open_folds
            found = [mark.kind for mark in piece.marks]
            assert {kind: found.count(kind) for kind in kinds if kind != "fold"} == {
                kind: count for kind, count in kinds.items() if kind != "fold"
            }
            assert ("fold" in found) is ("fold" in kinds)
            fold = guard.edge("fold").line.mapped(piece.move)
            if open_folds:
                middle = fold.start[0]
                assert piece.extent.right - middle == pytest.approx(middle - piece.extent.left)
                assert abs(signed_area(piece.cut)) == pytest.approx(2.0 * abs(signed_area(guard.counterpart)))

    def test_what_is_stitched_beside_an_opening_gets_a_card_to_trace_along(self):
        piece = rectangle(
            200, 400, "front", topstitching=(Topstitching(edge="centre", width=35.0, start=1.0, end=0.6),)
        )
        front, card = cut(one(piece), Cutting(all_copies=True)).value.pieces
        assert (front.is_template, card.is_template) == (False, True)
        assert card.stitch is None
        assert card.label.lines[0][0] == "template for front"
        assert [row.piece for row in cut(one(piece), Cutting()).value.rows] == ["front"]

    def test_the_words(self):
        pieces = sample().pieces
        plan = cut(Pattern(pieces=pieces), Cutting(garment="Slim trousers", size="10", cloth="twill")).value
        said = {piece.piece.name: " · ".join(text for text, _size in piece.label.lines) for piece in plan.pieces}
        assert said["back"] == (
            "back · Slim trousers, size 10 · cut 2, mirrored, from twill · allowance included: 10 mm · "
            "grain along the arrow"
        )
        assert "cut 2, from twill · 2 more from stabiliser" in said["waistband"]
        assert "cut 1, on the fold, from twill" in said["fly guard"]
        every = cut(Pattern(pieces=pieces), Cutting(all_copies=True)).value
        backs = [piece.label.lines[1][0] for piece in every.pieces if piece.piece.name == "back"]
        assert backs == ["1 of 2, from cloth", "2 of 2, mirrored, from cloth"]


class TestWhatToLookAt:
    def test_without_a_cut_line_it_says_so_on_the_piece_too(self):
        outcome = cut(one(rectangle(200, 400)), Cutting())
        [finding] = outcome.findings
        assert "no cut line" in finding.message
        assert "no allowance" in [text for text, _size in outcome.value.pieces[0].label.lines]

    @pytest.mark.parametrize(
        ("wide", "on_fold", "found"), [(900, "", 0), (901, "", 1), (450, "side", 0), (451, "side", 1)]
    )
    def test_a_piece_wider_than_its_cloth(self, wide, on_fold, found):
        piece = rectangle(wide, 100, cut=CutInstruction(on_fold=on_fold), outline="cut")
        outcome = cut(one(piece), Cutting(width_of_cloth=900.0))
        assert len(outcome.findings) == found
        assert all(finding.severity == "caution" for finding in outcome.findings)
        assert len(outcome.value.pieces) == 1, "it is laid out all the same"
        assert outcome.value.pieces[0].stitch is None

    def test_a_cut_line_left_behind_when_the_outline_was_edited(self):
        pattern = sample()
        assert cut(pattern, Cutting()).findings == ()
        band = pattern.piece("waistband")
        longer = tuple(replace(edge, line=edge.line.mapped(Affine.scaling(1.0, 1.01))) for edge in band.edges)
        findings = cut(one(replace(band, edges=longer)), Cutting()).findings
        assert {(finding.edge, finding.severity) for finding in findings} == {("right", "caution"), ("left", "caution")}

    def test_a_fold_that_is_not_straight_stays_half_and_says_why(self):
        piece = rectangle(200, 400)
        sides = Path.polygon([(0, 0), (200, 0), (210, 200), (200, 400), (0, 400)]).segments
        runs = (sides[:1], sides[1:3], sides[3:4], sides[4:])
        edges = tuple(replace(edge, line=Path(run)) for edge, run in zip(piece.edges, runs, strict=True))
        folded = replace(piece, edges=edges, cut=CutInstruction(on_fold="side"), outline="cut")
        outcome = cut(one(folded), Cutting(open_folds=True))
        assert [finding.edge for finding in outcome.findings] == ["side"]
        assert outcome.value.pieces[0].opened is False
        assert cut(one(folded), Cutting()).findings == ()

    def test_a_piece_too_small_for_its_words(self):
        [piece] = cut(one(rectangle(9, 9, "tab")), Cutting()).value.pieces
        assert piece.label.leader is not None
        check_words(piece)

    def test_an_outline_that_crosses_itself_is_refused_with_its_name(self):
        eight = Path.polygon([(0, 0), (60, 90), (60, 0), (0, 80)])
        piece = Piece(id="p", name="eight", edges=(Edge(name="", line=Path(eight.segments)),))
        with pytest.raises(SelfCrossingError) as caught:
            cut(one(piece), Cutting())
        assert caught.value.piece == "eight"

    def test_no_piece_is_an_empty_sheet(self):
        plan = cut(Pattern(), Cutting()).value
        assert (plan.pieces, plan.rows, plan.needs, plan.notions) == ((), (), (), ())


class TestParameters:
    @pytest.mark.parametrize(
        ("name", "value"),
        [
            ("width_of_cloth", 0.0),
            ("width_of_cloth", math.inf),
            ("width_of_stabiliser", -1.0),
            ("gap", -0.1),
            ("gap", math.nan),
            ("efficiency", 0.0),
            ("efficiency", 1.01),
        ],
    )
    def test_what_cannot_be_is_refused(self, name, value):
        with pytest.raises(ParameterError):
            Cutting(**{name: value})

    def test_an_edge_to_tape_that_is_not_there_is_refused_with_those_that_are(self):
        with pytest.raises(ParameterError, match=r"named brim.*centre, hem, side, waist"):
            cut(one(rectangle(200, 400, holds=(Hold(edge="centre", width=5.0),))), Cutting(tape=("brim",)))
