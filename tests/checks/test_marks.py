"""Marks that have their place are left alone; what has none is said, once, with its place and the next step."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.checks.marks import check_marks
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic
from crossgrain.model import CutInstruction, Dart, Edge, Notch, Piece
from crossgrain.model.marking.mark_lines import mark_lines
from crossgrain.model.marking.marks import NOTCH_KINDS
from crossgrain.model.marking.sewing_marks import Button, Buttonhole, Crease, Loop, Topstitching
from pieces import turned, upright_pieces
from strategies import simple_outlines

LINES = Path.polygon([(0.0, 0.0), (200.0, 0.0), (200.0, 500.0), (0.0, 500.0)]).segments
LEG = Piece(
    id="leg",
    name="front",
    edges=tuple(
        Edge(name=name, line=Path((line,)))
        for name, line in zip(("waist", "side", "hem", "centre"), LINES, strict=True)
    ),
)
SIZE = {"diameter": 15.0, "thickness": 3.0}
shares = st.floats(0.0, 1.0)
sizes = st.floats(0.1, 600.0)


@given(turned(upright_pieces()), st.floats(0.3, 0.7), st.sampled_from(NOTCH_KINDS))
@settings(max_examples=20)
def test_marks_in_their_place_are_left_alone(piece, share, kind):
    piece = replace(
        piece,
        notches=(Notch(edge="side", share=share, count=3, kind=kind), Notch(edge="side", share=0.0)),
        darts=(Dart(edge="waist", share=0.5, width=10.0, depth=80.0, drill=10.0),),
        creases=(Crease(edge="hem", share=share),),
        loops=(Loop(edge="waist", share=share),),
        buttons=(Button(edge="hem", share=share, **SIZE, inset=8.0),),
        buttonholes=(
            Buttonhole(edge="hem", share=share, **SIZE, inset=8.0, lie="along"),
            Buttonhole(edge="hem", share=share, **SIZE, inset=8.0),
        ),
        topstitching=(Topstitching(edge="centre", width=25.0, start=1.0, end=0.2),),
    )
    assert check_marks(piece).findings == ()


@st.composite
def rough(draw):
    """Draw what a hurried hand may mark on any sound outline."""
    outline = draw(simple_outlines(most=6))
    names = [f"e{number}" for number in range(len(outline.segments))]
    on = st.fixed_dictionaries({"edge": st.sampled_from(names), "share": shares})
    button = {**draw(on), "diameter": draw(sizes), "thickness": draw(sizes), "inset": draw(sizes)}
    start = draw(shares)
    return Piece(
        id="p",
        edges=tuple(
            Edge(name=name, line=Path((one,))) for name, one in zip(names, outline.segments, strict=True)
        ),
        cut=CutInstruction(on_fold=draw(st.sampled_from(names))),
        notches=(Notch(**draw(on), count=draw(st.sampled_from([1, 2, 3])), kind=draw(st.sampled_from(NOTCH_KINDS))),),
        darts=(Dart(**draw(on), width=draw(sizes), depth=draw(sizes), drill=draw(sizes)),),
        creases=(Crease(**draw(on), reach=draw(st.floats(0.01, 1.0))),),
        loops=(Loop(**draw(on), width=draw(sizes), length=draw(st.one_of(st.none(), sizes))),),
        buttons=(Button(**button),),
        buttonholes=(Buttonhole(**button, lie=draw(st.sampled_from(["across", "along"]))),),
        topstitching=(
            Topstitching(
                edge=draw(st.sampled_from(names)), width=draw(sizes), start=start, end=draw(shares.filter(start.__ne__))
            ),
        ),
        counterpart=draw(st.one_of(st.none(), st.just(Path.polygon([(0, 0), (50, 60), (50, 0), (0, 60)])))),
    )  # fmt: skip


@given(rough())
@settings(max_examples=60)
def test_whatever_was_marked_is_drawn_and_checked(piece):
    assert mark_lines(piece)
    for finding in check_marks(piece).findings:
        assert finding.message
        assert finding.advice
        assert finding.edge in piece.edge_names


BOWED = replace(
    LEG, edges=(*LEG.edges[:3], Edge(name="centre", line=Path((Cubic((0, 500), (-150, 60), (-150, 30), (0, 0)),))))
)


@pytest.mark.parametrize(
    ("piece", "edge", "said"),
    [
        (replace(LEG, notches=(Notch(edge="side", share=0.002, count=2),)), "side", "run together"),
        (replace(LEG, notches=(Notch(edge="side", share=0.012, count=2, kind="V"),)), "side", None),
        (replace(LEG, notches=(Notch(edge="side", share=0.012, count=3, kind="V"),)), "side", "run together"),
        (
            replace(LEG, darts=(Dart(edge="waist", share=0.5, width=9.0, depth=30.0, drill=30.0),)),
            "waist",
            "outside its dart",
        ),
        (replace(LEG, creases=(Crease(edge="hem", share=0.0),), grain=(-0.6, 0.8)), "hem", "no way into the piece"),
        (replace(LEG, buttons=(Button(edge="waist", share=0.5, **SIZE, inset=7.0),)), "waist", "A button of 15.0 mm"),
        (replace(LEG, buttons=(Button(edge="waist", share=0.5, **SIZE, inset=7.5),)), "waist", None),
        (replace(LEG, buttons=(Button(edge="waist", share=0.03, **SIZE, inset=12.0),)), "waist", "A button of 15.0 mm"),
        (replace(LEG, buttons=(Button(edge="side", share=0.5, **SIZE, inset=220.0),)), "side", "A button of 15.0 mm"),
        (
            replace(LEG, buttonholes=(Buttonhole(edge="side", share=0.5, **SIZE, inset=190.0),)),
            "side",
            "A buttonhole of 18.0 mm",
        ),
        (
            replace(LEG, buttonholes=(Buttonhole(edge="side", share=0.5, **SIZE, inset=230.0),)),
            "side",
            "A buttonhole of 18.0 mm",
        ),
        (
            replace(LEG, buttonholes=(Buttonhole(edge="waist", share=0.03, **SIZE, inset=12.0, lie="along"),)),
            "waist",
            "A buttonhole of 18.0 mm",
        ),
        (replace(LEG, topstitching=(Topstitching(edge="centre", width=220.0),)), "centre", "leaves the piece"),
        (
            replace(
                LEG,
                topstitching=(Topstitching(edge="centre", width=60.0, start=1.0, end=0.4),),
                darts=(Dart(edge="waist", share=0.3, width=20.0, depth=90.0),),
            ),
            "centre",
            "over a dart",
        ),
        (
            replace(BOWED, topstitching=(Topstitching(edge="centre", width=150.0, start=1.0, end=0.0),)),
            "centre",
            "radius",
        ),
    ],
)
def test_what_has_no_place_is_said(piece, edge, said):
    findings = check_marks(piece).findings
    if said is None:
        assert findings == ()
        return
    [finding] = findings
    assert said in finding.message
    assert (finding.piece, finding.edge) == ("front", edge)
    assert finding.advice
    assert finding.position is not None
