"""The waistband: straight, stabilised, as long as the waist it is sewn to and an underlap."""

from __future__ import annotations

from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import CutInstruction, Edge, Notch, Piece
from crossgrain.model.dependents.follows import Follows, Term
from crossgrain.model.marking.sewing_marks import Button, Buttonhole, Loop
from drafting.curve import run
from drafting.fly import GUARD_WIDTH
from drafting.front import ZIP_EXTENSION

BAND_WIDTH = 40.0
"""Style: the finished depth of the band."""

UNDERLAP = ZIP_EXTENSION + GUARD_WIDTH
"""What the band reaches beyond the centre on the left, over the zip extension and the guard."""


LOOP_FROM_CENTRE = 0.4
"""Where the front loops are sewn, as a share of the front waist from the centre (common practice: over the crease)."""

BUTTON_WIDTH, BUTTON_THICKNESS = 15.0, 3.0
"""Style: a trouser button."""

BUTTON_INSET = 15.0
"""Common practice: a button lies as far inside the closing end as it is wide, so that the end hides it."""


def waistband(front: Piece, back: Piece) -> Piece:
    """Draw the band upright, the right end at the top of the page, its lower edge on the left.

    Its length runs along the lengthwise grain, which stretches least. The notches are the side seams, the centre
    back (double) and the left centre.
    """
    half_front = path_length(front.edge("waist").line)
    half_back = path_length(back.edge("waist").line) - sum(dart.width for dart in back.darts)
    seams = (half_front, half_front + half_back, half_front + 2.0 * half_back, 2.0 * (half_front + half_back))
    length = 2.0 * (half_front + half_back) + UNDERLAP
    corners = ((0.0, 0.0), (BAND_WIDTH, 0.0), (BAND_WIDTH, length), (0.0, length))
    lines = Path.polygon(corners).segments
    edges = tuple(
        Edge(name=name, line=run(Line(line.start, line.end)))
        for name, line in zip(("right", "top", "left", "waist"), lines, strict=True)
    )
    first, centre, last, front_edge = seams
    before_side = LOOP_FROM_CENTRE * half_front
    button = {"share": 0.5, "diameter": BUTTON_WIDTH, "thickness": BUTTON_THICKNESS}
    return Piece(
        id="waistband",
        name="waistband",
        edges=edges,
        cut=CutInstruction(count=2, stabilised=True),
        # The lower edge is named from the underlap upwards.
        notches=(
            Notch(edge="waist", share=1.0 - first / length),
            Notch(edge="waist", share=1.0 - centre / length, count=2),
            Notch(edge="waist", share=1.0 - last / length),
            Notch(edge="waist", share=1.0 - front_edge / length),
        ),
        # Over the creases, at the side seams and at the centre back.
        loops=tuple(
            Loop(edge="waist", share=1.0 - along / length)
            for along in (before_side, first, centre, last, front_edge - before_side)
        ),
        # The right end closes over the underlap: both lie on one another when the centres meet.
        buttonholes=(Buttonhole(edge="right", inset=BUTTON_INSET, **button),),
        buttons=(Button(edge="left", inset=UNDERLAP - BUTTON_INSET, **button),),
        follows=(
            Follows(
                edge="waist",
                terms=(
                    Term(length=GUARD_WIDTH),
                    Term(piece="left front"),
                    Term(piece="back"),
                    Term(piece="back"),
                    Term(piece="right front"),
                ),
                was=(GUARD_WIDTH, half_front + ZIP_EXTENSION, half_back, half_back, half_front),
            ),
        ),
    )
