"""The back, drafted against the front it is sewn to."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import path_length, segment_length
from crossgrain.kernel.segment import Cubic, Line, Segment, between
from crossgrain.model import CutInstruction, Dart, Edge, Piece
from drafting.body import Levels, Measures
from drafting.curve import bow, heading, run, solve, sweep, towards, turned
from drafting.front import FrontLines
from drafting.leg import CREASE, DOWN, TIP_OPENING_RAD, inseam_direction, leg_notches, shank, side_lean

SEAT_SLANT_RAD = math.radians(9.5)
"""How far the centre back leans, so that the seat can bend (common practice: 8° to 12° for slim trousers)."""

SEAT_RISE = 29.0
"""How far the centre back rises above the waist level (common practice: 25 to 40 mm)."""

HIP_BALANCE = 36.0
"""How far the side seam comes in from hip to knee."""

DART_INTAKE = 20.0
DART_DEPTH = 110.0
"""Common practice: a back dart takes 20 to 25 mm and ends 90 to 120 mm below the waist."""

DART_DRILL = 10.0
"""Common practice: the hole that marks a dart lies 10 mm short of its tip, where the sewn dart hides it."""

CREASE_REACH = 0.8
"""Common practice: the back is pressed no farther up than the seat, which is round; here to about the hip."""

DART_FROM_CENTRE = 0.53
"""Where the dart lies: the share of the sewn waist between it and the centre back."""

UNTRUED_DROP = 13.0
UNTRUED_RISE = 4.0
"""What a first draft takes for the drop of the crotch point and the rise at the side, before the seams are walked."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BackLines:
    """The seam lines of the right back, as drawn: the side on the left, the centre on the right.

    The crease is at x = 0, the waist level at y = 0. The lines run clockwise.
    """

    waist: tuple[Segment, Line, Segment]
    seat: Line
    crotch: Cubic
    inseam_thigh: Cubic
    inseam_shank: Cubic
    hem: Line
    side_shank: Cubic
    side_thigh: Cubic
    side_hip: Cubic


def back_lines(size: Measures, level: Levels, front: FrontLines, *, trued: bool = True) -> BackLines:
    """Draft the seam lines of the right back.

    Args:
        size: the widths to draft to.
        level: the levels to draft to.
        front: the front it is sewn to, whose seams it is walked against.
        trued: whether the seams are walked and corrected; if not, the lines are those of a first draft.
    """
    knee_out: Point = (-size.back_knee / 2.0, level.knee)
    knee_in: Point = (size.back_knee / 2.0, level.knee)
    hem_out: Point = (-size.back_hem / 2.0, level.hem)
    hem_in: Point = (size.back_hem / 2.0, level.hem)
    outer, inner = shank(knee_out, hem_out), shank(knee_in, hem_in)
    hip_x = knee_out[0] - HIP_BALANCE

    def thigh(hip_y: float) -> Cubic:
        return sweep((hip_x, hip_y), DOWN, knee_out, towards((0.0, 0.0), outer.at_knee))

    # Walked up from the knee, the side seam reaches the front's hip notch a little above the level.
    hip_y = matched(thigh, front.side_thigh, level.hip - 10.0, level.hip + 5.0) if trued else level.hip
    hip: Point = (hip_x, hip_y)

    # The centre back leans; the crotch point lies so far below that of the front that the inseams agree.
    down_seat: Point = (math.sin(SEAT_SLANT_RAD), math.cos(SEAT_SLANT_RAD))
    seat_hip: Point = (hip_x + size.back_hip, level.hip)

    def on_seat(y: float) -> Point:
        return (seat_hip[0] + (y - level.hip) * math.tan(SEAT_SLANT_RAD), y)

    def inseam(drop: float) -> Cubic:
        tip = (seat_hip[0] + size.back_fork, level.crotch + drop)
        return bow(tip, inseam_direction(tip, knee_in, inner.at_knee), knee_in, inner.at_knee, 0.55)

    drop = matched(inseam, front.inseam_thigh, -10.0, 30.0) if trued else UNTRUED_DROP
    inseam_thigh = inseam(drop)
    tip, top, bend = inseam_thigh.start, on_seat(-SEAT_RISE), on_seat(level.hip)
    leaving = towards(tip, inseam_thigh.control1)
    arriving = turned((leaving[1], -leaving[0]), -TIP_OPENING_RAD) if trued else (1.0, 0.0)
    waist, side_hip = (trued_waist if trued else plain_waist)(size, front, hip, top, down_seat)
    return BackLines(
        waist=waist,
        seat=Line(top, bend),
        crotch=bow(bend, down_seat, tip, arriving, 0.8, 0.56),
        inseam_thigh=inseam_thigh,
        inseam_shank=inner.line,
        hem=Line(hem_in, hem_out),
        side_shank=outer.line.reversed(),
        side_thigh=thigh(hip_y).reversed(),
        side_hip=side_hip.reversed(),
    )


def matched(curve: Callable[[float], Cubic], model: Cubic, low: float, high: float) -> float:
    """Find the value at which a curve is as long as the one it is sewn to."""
    return solve(lambda value: segment_length(curve(value)) - segment_length(model), low, high)


WaistAndSide = tuple[tuple[Segment, Line, Segment], Cubic]


def trued_waist(size: Measures, front: FrontLines, hip: Point, top: Point, down_seat: Point) -> WaistAndSide:
    """Draw waist and upper side seam so that they agree with the front and with the dart sewn.

    The waist is square to the centre back, to the side seam and to both legs of the dart, so that it is one smooth
    line once the dart and the seams are closed.
    """
    half_dart = math.atan2(DART_INTAKE / 2.0, DART_DEPTH)

    def side(corner: Point) -> Cubic:
        return bow(corner, side_lean(corner, hip), hip, DOWN)

    def corner_at(x: float) -> Point:
        return (x, matched(lambda y: side((x, y)), front.side_hip, -60.0, 40.0))

    def waist(corner: Point) -> tuple[Cubic, Line, Cubic]:
        lean = side_lean(corner, hip)
        start, end = math.atan2(-lean[0], lean[1]), math.atan2(-down_seat[0], down_seat[1])

        def mouth(turn: float) -> Line:
            # The part next to the centre bends evenly, so its chord halves the turn between its ends.
            chord = heading((turn + half_dart + end) / 2.0)
            reach = DART_FROM_CENTRE * size.back_waist
            second = (top[0] - reach * chord[0], top[1] - reach * chord[1])
            along = heading(turn)
            return Line((second[0] - DART_INTAKE * along[0], second[1] - DART_INTAKE * along[1]), second)

        def uneven(turn: float) -> float:
            # The part next to the side bends more towards the side, where the hip bone lifts it.
            chord = towards(corner, mouth(turn).start)
            return math.atan2(chord[1], chord[0]) - (0.4 * start + 0.6 * (turn - half_dart))

        turn = solve(uneven, -0.5, 0.3)
        gap = mouth(turn)
        return (
            bow(corner, heading(start), gap.start, heading(turn - half_dart)),
            gap,
            bow(gap.end, heading(turn + half_dart), top, heading(end)),
        )

    def excess(x: float) -> float:
        first, _, last = waist(corner_at(x))
        return segment_length(first) + segment_length(last) - size.back_waist

    x = solve(excess, top[0] - 1.05 * (size.back_waist + DART_INTAKE), top[0] - 0.95 * (size.back_waist + DART_INTAKE))
    corner = corner_at(x)
    return waist(corner), side(corner)


def plain_waist(size: Measures, front: FrontLines, hip: Point, top: Point, down_seat: Point) -> WaistAndSide:
    """Draw the waist as a first draft does: a straight line, the side corner at a fixed rise."""
    width = size.back_waist + DART_INTAKE
    corner: Point = (top[0] - math.sqrt(width**2 - (top[1] + UNTRUED_RISE) ** 2), -UNTRUED_RISE)
    first = (1.0 - DART_FROM_CENTRE) * size.back_waist / width
    second = first + DART_INTAKE / width
    left, right = between(corner, top, first), between(corner, top, second)
    side = bow(corner, side_lean(corner, hip), hip, DOWN)
    return (Line(corner, left), Line(left, right), Line(right, top)), side


def right_back(lines: BackLines) -> Piece:
    """Make the back of its seam lines: cut twice, mirrored."""
    first, mouth, last = lines.waist
    waist = Edge(name="waist", line=run(first, mouth, last))
    edges = (
        waist,
        Edge(name="seat", line=run(lines.seat, lines.crotch)),
        Edge(name="inseam", line=run(lines.inseam_thigh, lines.inseam_shank)),
        Edge(name="hem", line=run(lines.hem)),
        Edge(name="side", line=run(lines.side_shank, lines.side_thigh, lines.side_hip)),
    )
    middle = segment_length(first) + DART_INTAKE / 2.0
    return Piece(
        id="back",
        name="back",
        edges=edges,
        cut=CutInstruction(count=2, mirrored=True),
        notches=leg_notches(edges),
        darts=(
            Dart(
                edge="waist",
                share=middle / path_length(waist.line),
                width=DART_INTAKE,
                depth=DART_DEPTH,
                drill=DART_DRILL,
            ),
        ),
        creases=(replace(CREASE, reach=CREASE_REACH),),
    )
