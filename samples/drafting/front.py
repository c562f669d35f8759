"""The front: drafted once for the right leg, the left one its mirror image with the zip extension."""

from __future__ import annotations

import math
from dataclasses import dataclass

from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import CutInstruction, Edge, Hold, Piece
from crossgrain.model.dependents.zips import Zip
from crossgrain.model.marking.sewing_marks import Topstitching
from drafting.body import Levels, Measures
from drafting.curve import bow, run, solve, square_to, sweep, towards, turned
from drafting.leg import CREASE, DOWN, TIP_OPENING_RAD, inseam_direction, leg_notches, shank, side_lean

CENTRE_DROP = 6.0
"""The waist dips this much at the centre front (common practice: 5 to 10 mm)."""

CENTRE_SLANT = 10.0
"""The centre leans in this much from the hip to the waist (common practice: up to 10 mm)."""

SIDE_RISE = 8.0
"""The waist rises this much at the side seam, over the hip bone."""

ZIP_OPENING = 155.0
"""Common practice: a trouser zip of 15 to 16 cm."""

ZIP_EXTENSION = 5.0
"""Common practice: what the left front reaches beyond the centre under the zip."""

STITCHING_WIDTH = 30.0
"""Style: how far from the centre the fly is stitched down; the facing under it is 5 mm wider."""

HIP_BALANCE = 49.0
"""How far the side seam comes in from hip to knee: centres the knee on the crease of the front."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontLines:
    """The seam lines of the right front, as drawn: the centre on the left, the side on the right.

    The hip level of the centre is at x = 0, the waist level at y = 0. The lines run clockwise.
    """

    waist: Cubic
    side_hip: Cubic
    side_thigh: Cubic
    side_shank: Cubic
    hem: Line
    inseam_shank: Cubic
    inseam_thigh: Cubic
    crotch: Cubic
    fly: Line
    zip_end: Point


def front_lines(size: Measures, level: Levels) -> FrontLines:
    """Draft the seam lines of the right front."""
    crease = size.front_hip - HIP_BALANCE - size.front_knee / 2.0
    hip: Point = (size.front_hip, level.hip)
    knee_out: Point = (crease + size.front_knee / 2.0, level.knee)
    knee_in: Point = (crease - size.front_knee / 2.0, level.knee)
    hem_out: Point = (crease + size.front_hem / 2.0, level.hem)
    hem_in: Point = (crease - size.front_hem / 2.0, level.hem)
    tip: Point = (-size.front_fork, level.crotch)
    top: Point = (CENTRE_SLANT, CENTRE_DROP)
    bend: Point = (0.0, level.hip)

    down_centre = towards(top, bend)
    outer, inner = shank(knee_out, hem_out), shank(knee_in, hem_in)

    # The waist leaves the centre squarely and meets the side seam squarely; the corner is moved sideways until the
    # line has the length asked for.
    def waist_and_side(corner_x: float) -> tuple[Cubic, Cubic]:
        corner: Point = (corner_x, -SIDE_RISE)
        lean = side_lean(corner, hip)
        waist = bow(top, (down_centre[1], -down_centre[0]), corner, (lean[1], -lean[0]))
        return waist, bow(corner, lean, hip, DOWN)

    corner_x = solve(
        lambda x: path_length(Path((waist_and_side(x)[0],))) - size.front_waist,
        top[0] + 0.9 * size.front_waist,
        top[0] + size.front_waist,
    )
    waist, side_hip = waist_and_side(corner_x)

    # The crotch is drawn from the centre down to the tip and is shallow: it lies on the flat of the body.
    inseam = inseam_direction(tip, knee_in, inner.at_knee)
    crotch = bow(bend, down_centre, tip, turned(square_to(inseam), -TIP_OPENING_RAD), 0.58)
    share = ZIP_OPENING / math.dist(top, bend)
    zip_end = (top[0] + share * (bend[0] - top[0]), top[1] + share * (bend[1] - top[1]))
    return FrontLines(
        waist=waist,
        side_hip=side_hip,
        side_thigh=sweep(hip, DOWN, knee_out, towards((0.0, 0.0), outer.at_knee)),
        side_shank=outer.line,
        hem=Line(hem_out, hem_in),
        inseam_shank=inner.line.reversed(),
        inseam_thigh=bow(tip, inseam, knee_in, inner.at_knee, 0.55).reversed(),
        crotch=crotch.reversed(),
        fly=Line(bend, zip_end),
        zip_end=zip_end,
    )


def right_front(lines: FrontLines) -> Piece:
    """Make the right front of its seam lines."""
    top = lines.waist.start
    edges = (
        Edge(name="waist", line=run(lines.waist)),
        Edge(name="side", line=run(lines.side_hip, lines.side_thigh, lines.side_shank)),
        Edge(name="hem", line=run(lines.hem)),
        Edge(name="inseam", line=run(lines.inseam_shank, lines.inseam_thigh)),
        Edge(name="crotch", line=run(lines.crotch, lines.fly)),
        Edge(name="centre", line=run(Line(lines.zip_end, top))),
    )
    return Piece(
        id="front-right",
        name="right front",
        edges=edges,
        cut=CutInstruction(count=1),
        notches=leg_notches(edges),
        creases=(CREASE,),
        # From the waist down to the end of the zip: the edge is named upwards.
        topstitching=(Topstitching(edge="centre", width=STITCHING_WIDTH, start=1.0, end=0.0),),
    )


def left_front(right: Piece) -> Piece:
    """Mirror the right front and add the zip extension to its centre, from the waist to the end of the zip."""
    mirror = Affine.scaling(-1.0, 1.0)
    lines = {edge.name: edge.line.mapped(mirror) for edge in right.edges}
    zip_end, top = lines["centre"].start, lines["centre"].end
    up = towards(zip_end, top)
    # Outwards: at right angles to the centre, away from the piece, which lies on the left of the page here.
    out = (-up[1] * ZIP_EXTENSION, up[0] * ZIP_EXTENSION)
    foot, head = (zip_end[0] + out[0], zip_end[1] + out[1]), (top[0] + out[0], top[1] + out[1])
    edges = (
        Edge(name="waist", line=run(Line(head, top), *lines["waist"].segments)),
        Edge(name="side", line=lines["side"]),
        Edge(name="hem", line=lines["hem"]),
        Edge(name="inseam", line=lines["inseam"]),
        Edge(name="crotch", line=lines["crotch"]),
        Edge(name="step", line=run(Line(zip_end, foot))),
        Edge(name="centre", line=run(Line(foot, head))),
    )
    return Piece(
        id="front-left",
        name="left front",
        edges=edges,
        cut=CutInstruction(count=1),
        notches=leg_notches(edges),
        holds=(Hold(edge="centre", width=ZIP_EXTENSION),),
        creases=(CREASE,),
        zips=(Zip(edge="centre", was=ZIP_OPENING),),
    )
