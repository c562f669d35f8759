"""The fly: the facing of the right front and the guard behind the zip on the left."""

from __future__ import annotations

import math

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.length import parameter_at
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import CutInstruction, Edge, Notch, Piece
from crossgrain.model.dependents.traces import Reach, Traces
from drafting.curve import bow, run, towards
from drafting.front import ZIP_OPENING, FrontLines

FACING_WIDTH = 35.0
GUARD_WIDTH = 35.0
BEYOND_ZIP = 15.0
"""How far facing and guard reach below the end of the zip (common practice: 10 to 20 mm)."""

BELOW = Reach(more=-BEYOND_ZIP)
"""Where the part of the centre begins that they are drawn after: it runs upwards from the end of the zip."""


def fly_facing(front: FrontLines) -> Piece:
    """Trace the facing off the right front, mirrored, since it is turned to the inside."""
    top = front.waist.start
    down = towards(top, front.zip_end)
    inwards = (down[1], -down[0])
    waist = front.waist.split(parameter_at(front.waist, FACING_WIDTH))[0]

    def along(depth: float, width: float) -> tuple[float, float]:
        return (top[0] + depth * down[0] + width * inwards[0], top[1] + depth * down[1] + width * inwards[1])

    depth = ZIP_OPENING + BEYOND_ZIP
    foot = along(depth, 0.0)
    bend = along(depth - 1.3 * FACING_WIDTH, FACING_WIDTH)
    outer = Line(waist.end, bend)
    curve: Cubic = bow(bend, towards(*outer.controls[::3]), foot, (-inwards[0], -inwards[1]), 0.6)
    mirror = Affine.scaling(-1.0, 1.0)
    lines = {"waist": Path((waist,)), "outer": Path((outer, curve)), "centre": Path((Line(foot, top),))}
    edges = tuple(Edge(name=name, line=run(*line.mapped(mirror).segments)) for name, line in lines.items())
    return Piece(
        id="fly-facing",
        name="fly facing",
        edges=edges,
        cut=CutInstruction(count=1, stabilised=True),
        notches=(Notch(edge="centre", share=BEYOND_ZIP / math.dist(foot, top)),),
        traces=(
            Traces(edge="waist", piece="right front", traced="waist", end=Reach(more=FACING_WIDTH)),
            Traces(edge="centre", piece="right front", traced="centre", start=BELOW),
        ),
    )


def fly_guard() -> Piece:
    """Draw half the guard; it is cut on a fold along its free edge."""
    depth = ZIP_OPENING + BEYOND_ZIP
    corners = ((0.0, 0.0), (GUARD_WIDTH, 0.0), (GUARD_WIDTH, depth - 8.0), (0.0, depth))
    lines = Path.polygon(corners).segments
    edges = tuple(
        Edge(name=name, line=run(line)) for name, line in zip(("waist", "fold", "foot", "centre"), lines, strict=True)
    )
    return Piece(
        id="fly-guard",
        name="fly guard",
        edges=edges,
        cut=CutInstruction(count=1, on_fold="fold", stabilised=True),
        notches=(Notch(edge="centre", share=BEYOND_ZIP / depth),),
        traces=(Traces(edge="centre", piece="left front", traced="centre", start=BELOW),),
    )
