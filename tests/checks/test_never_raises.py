"""A check returns findings on whatever a drawing may hold, and mends nothing."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from crossgrain.checks.dressing import check_dressing
from crossgrain.checks.pattern import Looking, check_pattern
from crossgrain.fabric.body import Body, BodyLevel
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import CutInstruction, Dart, Edge, Hold, Notch, Pattern, Piece, Width
from crossgrain.model.seams.ease import Ease
from strategies import nasty_cubics, points, simple_outlines

NAMES = ["waist", "side", "hem", "inseam", "crotch", "centre", "seat", "neck", "x"]
shares = st.floats(0.0, 1.0)
widths = st.floats(0.1, 500.0)
kinds = st.sampled_from([1, 2, 3])


@st.composite
def rough_pieces(draw, id):
    """Draw what a hurried hand may mark: any names, any marks, lines that cross, fold back or have no length."""
    if draw(st.booleans()):
        outline = draw(simple_outlines(most=8))
        lines = [(segment,) for segment in outline.segments]
    else:
        corners = draw(st.lists(points, min_size=2, max_size=6))
        lines = []
        for number, corner in enumerate(corners):
            after = corners[(number + 1) % len(corners)]
            curve = draw(st.one_of(st.none(), nasty_cubics()))
            lines.append(
                (Line(corner, after),) if curve is None else (Line(corner, curve.start), curve, Line(curve.end, after))
            )
    names = draw(st.permutations(NAMES))[: len(lines)]
    edge = st.sampled_from(names)
    return Piece(
        id=id,
        name=draw(st.sampled_from(["", "front", "back", "left front"])),
        edges=tuple(
            Edge(name=name, line=Path(line), allowance=draw(st.one_of(st.none(), st.floats(0.0, 100.0).map(Width.of))))
            for name, line in zip(names, lines, strict=True)
        ),
        cut=CutInstruction(
            count=draw(st.integers(1, 4)),
            mirrored=draw(st.booleans()),
            on_fold=draw(st.one_of(st.just(""), edge)),
            stabilised=draw(st.booleans()),
        ),
        outline=draw(st.sampled_from(["stitch", "cut"])),
        notches=tuple(draw(st.lists(st.builds(Notch, edge=edge, share=shares, count=kinds), max_size=3))),
        darts=tuple(
            draw(st.lists(st.builds(Dart, edge=edge, share=shares, width=widths, depth=widths), max_size=2))
        ),
        holds=tuple(draw(st.lists(st.builds(Hold, edge=edge, width=widths), max_size=2))),
        counterpart=draw(st.one_of(st.none(), st.just(Path.polygon([(0, 0), (50, 60), (50, 0), (0, 60)])))),
    )  # fmt: skip


@st.composite
def rough_patterns(draw):
    count = draw(st.integers(0, 4))
    return Pattern(pieces=tuple(draw(rough_pieces(f"p{number}")) for number in range(count)))


@given(rough_patterns())
def test_whatever_was_marked(pattern):
    before = replace(pattern)
    looking = Looking(
        going_on=("x",), eases=(("side", Ease(piece="front", amount=4.0)),), without_grain=frozenset({"p0", "p1"})
    )
    checked = check_pattern(pattern, looking)
    assert pattern == before
    for finding in checked.findings:
        assert finding.message
        assert finding.advice
        assert finding.position is not None


@given(rough_patterns())
def test_whatever_is_put_on(pattern):
    levels = (BodyLevel(name="waist", girth=740.0, depth=0.0), BodyLevel(name="hip", girth=1000.0, depth=200.0))
    checked = check_dressing(pattern, Body(name="b", levels=levels, heel_girth=300.0), None)
    assert checked.findings == ()
