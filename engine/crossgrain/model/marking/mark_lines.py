"""The lines by which a piece's marks are seen on it. They say nothing that the piece does not hold."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Final, Literal, TypeVar, get_args

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.area import centroid, winding
from crossgrain.kernel.length import path_length, place_at, point_at_share, run
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model.marking.closing_lines import button_lines, buttonhole_lines, drill_lines, loop_lines
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.marks import Hold
from crossgrain.model.marking.notch_lines import dart_notch_lines, notch_lines
from crossgrain.model.marking.pressing_lines import crease_line, fold_lines
from crossgrain.model.marking.sewing_marks import Topstitching
from crossgrain.model.marking.topstitching_line import topstitching_line
from crossgrain.model.piece import Piece
from crossgrain.tolerances import ACCURACY

M = TypeVar("M")

MarkKind = Literal[
    "grain", "notch", "dart", "drill", "hold", "fold", "crease", "loop", "button", "buttonhole", "topstitch"
]
MARK_KINDS: Final[tuple[MarkKind, ...]] = get_args(MarkKind)

_BESIDE_CREASE: Final = 15.0
"""How far the grain's arrow keeps from a crease, mm, so that the two are told apart."""

_ARROW: Final = 8.0
"""Length of the grain's arrowheads, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkLine:
    """One line of a mark, in mm of the drawing."""

    kind: MarkKind
    line: Path


@lru_cache(maxsize=64)
def mark_lines(piece: Piece, kinds: tuple[MarkKind, ...] = MARK_KINDS) -> tuple[MarkLine, ...]:
    """Draw the marks of a piece. Those drawn last are kept: a drawing and its report show the same.

    Args:
        piece: the piece.
        kinds: which marks are drawn.

    >>> from crossgrain.model import Edge
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 100), (0, 100)])
    >>> piece = Piece(id="band", edges=(Edge(name="", line=Path(square.segments)),))
    >>> [mark.kind for mark in mark_lines(piece)]
    ['grain', 'grain', 'grain']
    """
    drawn: dict[MarkKind, Callable[[], Iterable[Path]]] = {
        "grain": lambda: _grain(piece),
        "notch": lambda: (*notch_lines(piece, *piece.notches), *dart_notch_lines(piece, *piece.darts)),
        "dart": lambda: [_polyline(dart_points(piece, dart)) for dart in piece.darts],
        "drill": lambda: _all(piece, piece.darts, drill_lines),
        "hold": lambda: [_hold(piece, hold) for hold in piece.holds],
        "fold": lambda: fold_lines(piece),
        "crease": lambda: [line for one in piece.creases if (line := crease_line(piece, one)) is not None],
        "loop": lambda: _all(piece, piece.loops, loop_lines),
        "button": lambda: _all(piece, piece.buttons, button_lines),
        "buttonhole": lambda: _all(piece, piece.buttonholes, buttonhole_lines),
        "topstitch": lambda: _all(piece, piece.topstitching, _topstitching),
    }
    return tuple(MarkLine(kind=kind, line=line) for kind in drawn if kind in kinds for line in drawn[kind]())


def _all(piece: Piece, marks: Iterable[M], lines: Callable[[Piece, M], Iterable[Path]]) -> Iterator[Path]:
    return (line for mark in marks for line in lines(piece, mark))


def _topstitching(piece: Piece, stitching: Topstitching) -> Iterator[Path]:
    # An edge that was bent too much for it in the editor has none; a check says so.
    with suppress(GeometryError):
        yield topstitching_line(piece, stitching)


def _polyline(points: tuple[Point, ...]) -> Path:
    return Path(tuple(Line(p, q) for p, q in pairwise(points)))


def _grain(piece: Piece) -> list[Path]:
    """Draw an arrow with two heads through the middle of the piece, or beside a crease there; half as long as it is."""
    x, y = centroid(piece.line)
    gx, gy = piece.grain
    for crease in piece.creases:
        line = crease_line(piece, crease)
        # A crease lies along the grain, too.
        aside = gy * (x - line.start[0]) - gx * (y - line.start[1]) if line is not None else math.inf
        if line is not None and abs(aside) < _BESIDE_CREASE:
            way = aside if abs(aside) > ACCURACY else _way_to_an_edge(piece, line.start)
            more = math.copysign(_BESIDE_CREASE, way) - aside
            x, y = x + more * gy, y - more * gx
    heights = [node[0] * gx + node[1] * gy for node in piece.line.nodes]
    half = (max(heights) - min(heights)) / 4.0
    first, last = (x - half * gx, y - half * gy), (x + half * gx, y + half * gy)
    head = min(_ARROW, half / 2.0)
    out = [_polyline((first, last))]
    for (tx, ty), way in ((first, 1.0), (last, -1.0)):
        back = (tx + way * head * gx, ty + way * head * gy)
        wing = head / 3.0
        out.append(
            _polyline(
                ((back[0] - wing * gy, back[1] + wing * gx), (tx, ty), (back[0] + wing * gy, back[1] - wing * gx))
            )
        )
    return out


def _way_to_an_edge(piece: Piece, start: Point) -> float:
    """Return how far to the side of a line along the grain an edge lies: one that is chosen by its name alone.

    Of two like halves neither is the better, and rounding is not to choose: what does must be mirrored with the piece,
    and be the same whichever way round its edges are named.
    """
    gx, gy = piece.grain
    for edge in sorted(piece.edges, key=lambda edge: edge.name, reverse=True):
        x, y = point_at_share(edge.line, 0.5)
        aside = gy * (x - start[0]) - gx * (y - start[1])
        if abs(aside) > _BESIDE_CREASE:
            return aside
    return 1.0


def _hold(piece: Piece, hold: Hold) -> Path:
    """Move the held part of the edge inwards across the grain by the hold's width, and close its ends."""
    line = piece.edge(hold.edge).line
    total = path_length(line)
    part = run(line, place_at(line, hold.start * total), place_at(line, hold.end * total))
    gx, gy = piece.grain
    cx, cy = part.end[0] - part.start[0], part.end[1] - part.start[1]
    inwards = (-cy, cx) if winding(piece.line) > 0 else (cy, -cx)
    across = hold.width if inwards[0] * gy - inwards[1] * gx >= 0.0 else -hold.width
    moved = part.mapped(Affine.translation(across * gy, -across * gx))
    return Path((Line(part.start, moved.start), *moved.segments, Line(moved.end, part.end)))
