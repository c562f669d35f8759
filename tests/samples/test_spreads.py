"""The starters for spreads: their shares make wholes, and pieces of their kind grow as the table says."""

from pathlib import Path as File

import pytest

from crossgrain.checks.sizes import check_sizes
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import CutInstruction, Edge, Pattern, Piece
from crossgrain.model.girths import girth_along
from crossgrain.model.sizes.body_sizes import BodySizes
from crossgrain.notation.body_sizes import read_body_sizes
from crossgrain.notation.spread import read_spread
from crossgrain.operations.grading import grade_sizes
from crossgrain.operations.spreading import Spreading, spread
from pieces import moved

SAMPLES = File(__file__).parent.parent.parent / "samples"
FOLD, PAIR = CutInstruction(on_fold="centre"), CutInstruction(count=2, mirrored=True)


def piece(name, cut, **lines):
    edges = tuple(Edge(name=edge.replace("_", "-"), line=Path((line,))) for edge, line in lines.items())
    return Piece(id=name, name=name, edges=edges, cut=cut)


def beside(one, name):
    return moved(Piece(id=name, name=name, edges=one.edges, cut=one.cut), Affine.translation(500.0, 0.0))


def skirt():
    front = piece(
        "front",
        FOLD,
        waist=Cubic((0.0, 8.0), (60.0, 8.0), (120.0, 4.0), (165.0, 0.0)),
        side=Cubic((165.0, 0.0), (200.0, 90.0), (225.0, 150.0), (230.0, 600.0)),
        hem=Line((230.0, 600.0), (0.0, 600.0)),
        centre=Line((0.0, 600.0), (0.0, 8.0)),
    )
    return Pattern(pieces=(front, beside(front, "back")))


def bodice():
    front = piece(
        "front",
        FOLD,
        neck=Cubic((0.0, 60.0), (40.0, 60.0), (70.0, 30.0), (75.0, 0.0)),
        shoulder=Line((75.0, 0.0), (190.0, 40.0)),
        armhole=Cubic((190.0, 40.0), (175.0, 120.0), (180.0, 190.0), (235.0, 200.0)),
        side=Line((235.0, 200.0), (185.0, 400.0)),
        waist=Cubic((185.0, 400.0), (120.0, 408.0), (60.0, 410.0), (0.0, 410.0)),
        centre=Line((0.0, 410.0), (0.0, 60.0)),
    )
    return Pattern(pieces=(front, beside(front, "back")))


def sleeve():
    return Pattern(
        pieces=(
            piece(
                "sleeve",
                PAIR,
                armhole=Cubic((0.0, 130.0), (90.0, -50.0), (210.0, -50.0), (300.0, 130.0)),
                front_seam=Line((300.0, 130.0), (250.0, 560.0)),
                wrist=Line((250.0, 560.0), (50.0, 560.0)),
                back_seam=Line((50.0, 560.0), (0.0, 130.0)),
            ),
        )
    )


@pytest.fixture(scope="module")
def women():
    return read_body_sizes((SAMPLES / "bodies-en-13402-3.csv").read_text("utf-8"), "bodies")


def read(name):
    return read_spread((SAMPLES / f"spread-{name}.toml").read_text("utf-8"), name)


def graded(pattern, name, table, base):
    made = spread(pattern, Spreading(spread=read(name), bodies=table, base=base)).value
    return made, {size: outcome.value for size, outcome in grade_sizes(pattern, made, made.sizes).items()}


def test_the_table_of_women_s_sizes_has_the_steps_of_its_standard(women):
    """EN 13402-3: bust 74 to 102 by 4 cm (seen); waist 60 to 88 and hip 84 to 112 by 4 cm (from memory)."""
    assert women.measure("bust_girth") == pytest.approx([10.0 * size for size in range(74, 103, 4)])
    assert women.measure("waist_girth") == pytest.approx([10.0 * size for size in range(60, 89, 4)])
    assert women.measure("hip_girth") == pytest.approx([10.0 * size for size in range(84, 113, 4)])


@pytest.mark.parametrize(("name", "pattern"), [("skirt", skirt()), ("bodice", bodice())])
def test_the_waist_grows_by_the_steps_of_the_table_and_seams_match(name, pattern, women):
    _made, sizes = graded(pattern, name, women, "86")
    base = girth_along(pattern.pieces, "waist").girth
    for step, now in zip(women.steps("waist_girth", "86"), sizes.values(), strict=True):
        assert girth_along(now.pieces, "waist").girth - base == pytest.approx(step, abs=0.05)
    assert check_sizes(sizes)[1].findings == ()


def test_of_a_bodice_the_bust_grows_at_the_underarm_and_the_shoulder_goes_along(women):
    made, sizes = graded(bodice(), "bodice", women, "86")
    for step, now in zip(women.steps("bust_girth", "86"), sizes.values(), strict=True):
        halves = [
            now.pieces[k].edge("side").line.start[0] - bodice().pieces[k].edge("side").line.start[0] for k in (0, 1)
        ]
        assert 2.0 * sum(halves) == pytest.approx(step)
    assert {rule.point.words for rule in made.rules} >= {"shoulder/armhole", "neck/shoulder"}


@pytest.mark.parametrize("mirrored", [False, True])
def test_of_a_bodice_neck_shoulder_and_armhole_grow_with_the_bust(women, mirrored):
    """Graders' practice, from memory: an inch of bust is 1/16 in of neck and 1/8 in of shoulder and armhole depth."""
    whole = bodice()
    if mirrored:
        flip = Affine.scaling(-1.0, 1.0)
        whole = Pattern(pieces=tuple(moved(one, flip) for one in whole.pieces))
    made, sizes = graded(whole, "bodice", women, "86")
    assert made.sizes[4:] == ("90", "94", "98", "102")
    for number, size in enumerate(("90", "94", "98", "102"), start=1):
        bust = 40.0 * number
        for old, new in zip(whole.pieces, sizes[size].pieces, strict=True):
            neck, tip, under = (
                complex(*new.edge(edge).line.end) - complex(*old.edge(edge).line.end)
                for edge in ("neck", "shoulder", "armhole")
            )
            side = -1.0 if mirrored else 1.0
            assert neck == pytest.approx(complex(side * bust / 16.0, -bust / 8.0))
            assert tip == pytest.approx(complex(side * bust / 8.0, -bust / 8.0))
            assert under == pytest.approx(complex(side * bust / 4.0, 0.0))
            for edge in ("neck", "shoulder", "armhole"):
                assert path_length(new.edge(edge).line) > path_length(old.edge(edge).line) + bust / 40.0


def test_of_a_sleeve_both_arms_grow_by_what_one_does_each():
    table = BodySizes(sizes=("S", "M"), measures=(("upper_arm_girth", (280.0, 295.0)), ("wrist_girth", (160.0, 166.0))))
    _made, sizes = graded(sleeve(), "sleeve", table, "S")
    (old,), (new,) = sleeve().pieces, sizes["M"].pieces
    widths = [one.edge("armhole").line.end[0] - one.edge("armhole").line.start[0] for one in (old, new)]
    assert widths[1] - widths[0] == pytest.approx(15.0)
    assert girth_along([new], "wrist").girth - girth_along([old], "wrist").girth == pytest.approx(2 * 6.0)
    tops = [bounds(one.edge("armhole").line).top for one in (old, new)]
    assert tops[0] - tops[1] == pytest.approx(15.0 / 4.0, abs=0.1)
