"""What the pieces of a pattern come to round a body at a level, stitch line to stitch line.

A depth is counted down the grain from where the side seam meets the waist; on a piece without these edges from its
highest point. Dart intakes, and extensions that lie under the other side of an opening, are no girth. Each piece counts
as often as it is cut, and twice where it is cut on a fold.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.length import path_length, places_at, point_at_share, run
from crossgrain.kernel.meetings.sections import width_at
from crossgrain.kernel.path import Path
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.marks import Hold
from crossgrain.model.piece import Piece
from crossgrain.tolerances import COINCIDENT

WAIST, SIDE, HEM = "waist", "side", "hem"
"""Names of edges by which levels are found."""

INSEAM: Final = "inseam"
"""Pieces with an edge of this name have legs."""

OPENING = "centre"
"""The edge of an opening: what is held along it is an extension, which lies under the other side."""

_ACROSS = (1.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelGirth:
    """A girth at a level.

    Args:
        girth: all pieces together, mm.
        held: how much of that no reduction may change, mm.
        missing: the labels of pieces that do not reach the level.
    """

    girth: float
    held: float = 0.0
    missing: tuple[str, ...] = ()


def girth_at(pieces: Sequence[Piece], depth: float, opening: str = OPENING) -> LevelGirth:
    """Return the girth at a depth, exact to rounding.

    Args:
        pieces: the pieces that make it up, and no others.
        depth: mm below the upper end of the side seam.
        opening: the edge along which extensions are held.
    """
    girth, held, missing = [], [], []
    for piece in pieces:
        upright = _upright(piece)
        if not upright.top - COINCIDENT <= depth <= upright.bottom + COINCIDENT:
            missing.append(piece.label)
            continue
        width = width_at(upright.outline, _ACROSS, depth)
        width -= math.fsum(width_at(dart, _ACROSS, depth) for dart in upright.darts)
        kept = 0.0
        for hold, top, bottom in upright.holds:
            if top <= depth <= bottom:
                if hold.edge == opening:
                    width -= hold.width
                else:
                    kept += hold.width
        girth.append(piece.cut.times * width)
        held.append(piece.cut.times * kept)
    return LevelGirth(girth=math.fsum(girth), held=math.fsum(held), missing=tuple(missing))


def girth_along(pieces: Sequence[Piece], edge: str, opening: str = OPENING) -> LevelGirth:
    """Return the girth along the edges of a name, as round a slanted waist, exact to rounding.

    Pieces that have no such edge are left out.
    """
    girth, held = [], []
    for piece in pieces:
        if edge not in piece.edge_names:
            continue
        length = path_length(piece.edge(edge).line)
        length -= math.fsum(dart.width for dart in piece.darts if dart.edge == edge)
        meeting = [hold for hold in piece.holds if _meets(piece, hold, edge)]
        length -= math.fsum(hold.width for hold in meeting if hold.edge == opening)
        girth.append(piece.cut.times * length)
        held.append(piece.cut.times * math.fsum(hold.width for hold in meeting if hold.edge != opening))
    return LevelGirth(girth=math.fsum(girth), held=math.fsum(held))


def depths_of(pieces: Sequence[Piece], edge: str) -> tuple[float, float] | None:
    """Return the depths between which the edges of a name lie, mm; None where no piece has one."""
    boxes = [bounds(piece.edge(edge).line.mapped(depth_frame(piece))) for piece in pieces if edge in piece.edge_names]
    return (min(box.top for box in boxes), max(box.bottom for box in boxes)) if boxes else None


def waist_depth(pieces: Sequence[Piece]) -> float:
    """Return how far below the side seam's upper end the waist of the body lies, mm.

    A waist seam rises over the hip bones and behind and falls in front: its middle depth is taken for the level.
    """
    depths = [
        depth_frame(piece).of(point_at_share(piece.edge(WAIST).line, share))[1]
        for piece in pieces
        if WAIST in piece.edge_names
        for share in _SHARES
        for _time in range(piece.cut.times)
    ]
    return math.fsum(depths) / len(depths) if depths else 0.0


_KEPT: Final = 64
"""Of so many pieces the frame is kept, for each is asked for it at every level."""

_SHARES = tuple((number + 0.5) / 16.0 for number in range(16))


@lru_cache(maxsize=_KEPT)
def depth_frame(piece: Piece) -> Affine:
    """Return the map that turns a piece upright, with ``y`` its depth below the waist at the side seam, mm."""
    gx, gy = piece.grain
    frame = Affine(gy, gx, -gx, gy)
    box = bounds(piece.line.mapped(frame))
    middle = (box.top + box.bottom) / 2.0
    for name, is_above in ((WAIST, True), (HEM, False)):
        if name in piece.edge_names:
            line = piece.edge(name).line.mapped(frame)
            if ((line.start[1] + line.end[1]) / 2.0 < middle) is not is_above:
                frame = frame.then(Affine(-1.0, 0.0, 0.0, -1.0))
            break
    top = bounds(piece.line.mapped(frame)).top
    if WAIST in piece.edge_names and SIDE in piece.edge_names:
        ends = [end for edge in (WAIST, SIDE) for line in (piece.edge(edge).line,) for end in (line.start, line.end)]
        shared = [p for p in ends[:2] for q in ends[2:] if math.dist(p, q) <= COINCIDENT]
        if shared:
            top = frame.of(shared[0])[1]
    return frame.then(Affine.translation(0.0, -top))


@dataclass(frozen=True, slots=True)
class _Upright:
    """A piece in its depth frame: its outline, its darts, and where its holds begin and end."""

    outline: Path
    top: float
    bottom: float
    darts: tuple[Path, ...]
    holds: tuple[tuple[Hold, float, float], ...]


@lru_cache(maxsize=_KEPT)
def _upright(piece: Piece) -> _Upright:
    frame = depth_frame(piece)
    outline = piece.line.mapped(frame)
    box = bounds(outline)
    holds = []
    for hold in piece.holds:
        line = piece.edge(hold.edge).line.mapped(frame)
        total = path_length(line)
        held = bounds(run(line, *places_at(line, (hold.start * total, hold.end * total))))
        holds.append((hold, held.top, held.bottom))
    darts = tuple(Path.polygon([frame.of(point) for point in dart_points(piece, dart)]) for dart in piece.darts)
    return _Upright(outline, box.top, box.bottom, darts, tuple(holds))


def _meets(piece: Piece, hold: Hold, edge: str) -> bool:
    """Tell whether a hold reaches the corner its own edge has with another."""
    names = piece.edge_names
    at = names.index(edge)
    before, after = names[at - 1], names[(at + 1) % len(names)]
    return (hold.edge == before and hold.end == 1.0) or (hold.edge == after and hold.start == 0.0)
