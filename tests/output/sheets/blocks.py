"""Blocks and pieces for the tests of sheets."""

from __future__ import annotations

from hypothesis import strategies as st

from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Edge, Pattern, Piece
from crossgrain.model.cutting.line_looks import LOOKS
from crossgrain.operations.cutting import Cutting, cut
from crossgrain.output.sheets.ink import Block, Stroke
from strategies import simple_outlines


def block(outline, *, is_head=False):
    stroke = Stroke(line=outline, look=LOOKS["scissors"], purpose="cut-lines")
    return Block(ink=(stroke,), regions=(outline,), is_head=is_head)


def box(width, height, left=0.0, top=0.0):
    corners = [(left, top), (left + width, top), (left + width, top + height), (left, top + height)]
    return Path.polygon(corners)


def boxes(width, height, **more):
    return block(box(width, height, **more))


def blocks():
    return simple_outlines().map(block)


def some_blocks():
    sizes = st.tuples(st.floats(5.0, 700.0), st.floats(5.0, 700.0))
    return st.lists(sizes, min_size=1, max_size=5).map(lambda some: [boxes(*size) for size in some])


def piece(outline, name="panel", *, stitch=True, **more):
    edges = (Edge(name="", line=Path(outline.segments)),)
    return Piece(id=name, name=name, edges=edges, outline="stitch" if stitch else "cut", **more)


def plan_of(*pieces, **how):
    return cut(Pattern(pieces=pieces), Cutting(**how)).value


def a_metre(**more):
    """A panel 1,000 mm high and 400 wide with its cut line 10 mm outside."""
    return piece(
        box(400.0, 1000.0), counterpart=box(420.0, 1020.0, left=-10.0, top=-10.0), cut=CutInstruction(count=2), **more
    )
