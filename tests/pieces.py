"""Garment pieces that hypothesis draws: outlines with named edges, holds and darts; turned, mirrored, reversed, traced.

The ``upright`` ones stand with their grain down the page and their edges clockwise. The rest are made of them.
"""

import math
from dataclasses import replace
from itertools import pairwise

from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import Dart, Edge, Hold, Notch, Pattern, Piece
from strategies import angles, points, simple_outlines


def one(piece):
    return Pattern(pieces=(piece,))


def moved(piece, affine):
    """The piece under a map that keeps angles, its grain with it."""
    gx, gy = affine.of_vector(piece.grain)
    size = math.hypot(gx, gy)
    return replace(
        piece,
        grain=(gx / size, gy / size),
        edges=tuple(replace(edge, line=edge.line.mapped(affine)) for edge in piece.edges),
        counterpart=piece.counterpart and piece.counterpart.mapped(affine),
    )


def against(piece):
    """The same piece drawn the other way round: edges from last to first, each from its end."""
    placed = {
        kind: tuple(replace(mark, share=1.0 - mark.share) for mark in getattr(piece, kind))
        for kind in ("notches", "creases", "loops", "buttons", "buttonholes")
    }
    stitched = tuple(replace(one, start=1.0 - one.start, end=1.0 - one.end) for one in piece.topstitching)
    return replace(
        piece,
        **placed,
        topstitching=stitched,
        edges=tuple(replace(edge, line=edge.line.reversed()) for edge in reversed(piece.edges)),
        darts=tuple(replace(dart, share=1.0 - dart.share, lean_rad=-dart.lean_rad) for dart in piece.darts),
        holds=tuple(replace(hold, start=1.0 - hold.end, end=1.0 - hold.start) for hold in piece.holds),
    )


def traced(piece, shake):
    """The piece as clicked from paper: a node every 15 mm or so, each off the line by what ``shake`` says."""
    edges = []
    for edge in piece.edges:
        nodes = []
        for segment in edge.line.segments:
            count = max(1, math.ceil(math.dist(segment.start, segment.end) / 15.0))
            nodes += [segment.point(k / count) for k in range(count)]
        nodes = [nodes[0], *((x + shake(), y + shake()) for x, y in nodes[1:]), edge.line.end]
        edges.append(replace(edge, line=Path(tuple(Line(p, q) for p, q in pairwise(nodes)))))
    return replace(piece, edges=tuple(edges))


def smooth_run(points_down):
    """A smooth line through points, each with its direction and the share of the chord its handles reach."""
    return [
        Cubic(
            p,
            (p[0] + u[0] * math.dist(p, q) * 0.35, p[1] + u[1] * math.dist(p, q) * 0.35),
            (q[0] - v[0] * math.dist(p, q) * 0.35, q[1] - v[1] * math.dist(p, q) * 0.35),
            q,
        )
        for (p, u), (q, v) in pairwise(points_down)
    ]


def direction(dx, dy):
    size = math.hypot(dx, dy)
    return (dx / size, dy / size)


@st.composite
def upright_pieces(draw, holds=False, darts=False, notches=False):
    """Draw a leg: waist, side, hem, inseam, centre, clockwise. Wider at the hip than at waist and hem.

    It is at least 80 mm wide everywhere, and every line stays within its own half, so it never crosses itself.
    """

    def size(low, high):
        return round(draw(st.floats(low, high)), 3)

    waist, hip, hem = size(70, 110), size(110, 150), size(45, 90)
    length, rise, slope = size(600, 1000), size(150, 230), size(-15, 15)
    hip_centre = size(80, 110)
    top_left, top_right = (-size(60, 80), 0.0), (waist, slope)
    seat = (-hip_centre, rise)
    side = smooth_run(
        [
            (top_right, direction(hip - waist, rise)),
            ((hip, rise), (0.0, 1.0)),
            ((hem + 10.0, 0.65 * length), direction(hem - hip, length - rise)),
            ((hem, length), (0.0, 1.0)),
        ]
    )
    inseam = smooth_run(
        [
            ((-hem, length), (0.0, -1.0)),
            ((-hem - 6.0, 0.6 * length), direction(hem - hip_centre, rise - length)),
            (seat, direction(0.2 * (hem - hip_centre), rise - length)),
        ]
    )
    lines = {
        "waist": smooth_run([(top_left, direction(1.0, 0.06)), (top_right, direction(1.0, slope / 100.0 - 0.03))]),
        "side": side,
        "hem": [Line((hem, length), (-hem, length))],
        "inseam": inseam,
        "centre": [Line(seat, top_left)],
    }
    held = []
    if holds:
        width = size(3, 20)
        kind = draw(st.sampled_from(["centre", "side", "part of the side"]))
        if kind == "part of the side":
            start = draw(st.floats(0.1, 0.5))
            held.append(Hold(edge="side", width=width, start=start, end=start + draw(st.floats(0.1, 0.4))))
        else:
            held.append(Hold(edge=kind, width=width))
    folded = []
    if darts:
        folded.append(
            Dart(
                edge="waist",
                share=draw(st.floats(0.4, 0.6)),
                width=size(8, 30),
                depth=size(60, 120),
                lean_rad=draw(st.floats(-0.1, 0.1)),
            )
        )
    marks = []
    if notches:
        marks = [
            Notch(edge=draw(st.sampled_from(["side", "inseam", "waist"])), share=draw(st.floats(0.02, 0.98)))
            for _ in range(3)
        ]
    return Piece(
        id="leg",
        name="leg",
        edges=tuple(Edge(name=name, line=Path(tuple(line))) for name, line in lines.items()),
        holds=tuple(held),
        darts=tuple(folded),
        notches=tuple(marks),
    )


@st.composite
def turned(draw, pieces):
    """Draw a piece as it may lie in a drawing: turned, mirrored or drawn the other way round."""
    piece = draw(pieces)
    if draw(st.booleans()):
        piece = against(piece)
    if draw(st.booleans()):
        piece = moved(piece, Affine.scaling(-1.0, 1.0))
    if draw(st.booleans()):
        piece = moved(piece, Affine.rotation(draw(angles)).then(Affine.translation(*draw(points))))
    return piece


@st.composite
def bare_pieces(draw, outlines=None):
    """Draw one nameless edge, wound either way, with a grain in any direction, often straight down."""
    outline = draw(outlines or simple_outlines())
    if draw(st.booleans()):
        outline = outline.reversed()
    angle = draw(st.one_of(st.just(None), angles))
    grain = (0.0, 1.0) if angle is None else (math.cos(angle), math.sin(angle))
    return Piece(id="path1", edges=(Edge(name="", line=Path(outline.segments)),), grain=grain)


@st.composite
def traced_pieces(draw):
    """Draw legs as they are traced from paper, off the line by up to 0.3 mm."""
    shakes = draw(st.randoms(use_true_random=False))
    return traced(draw(upright_pieces(notches=True)), lambda: shakes.uniform(-0.2, 0.2))


def pieces():
    """Draw pieces without holds or darts: bare, named, traced; turned, mirrored, reversed."""
    return st.one_of(bare_pieces(), turned(upright_pieces(notches=True)), turned(traced_pieces()))


def held_pieces():
    """Draw pieces with a hold, a dart or both, upright."""
    return st.one_of(
        upright_pieces(holds=True), upright_pieces(darts=True), upright_pieces(holds=True, darts=True, notches=True)
    )
