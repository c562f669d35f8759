"""Drill holes, belt loops, buttons and buttonholes as they are drawn."""

from __future__ import annotations

from typing import Final

from crossgrain.kernel.affine import Point
from crossgrain.kernel.arc import ellipse_path
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, between
from crossgrain.model.edge_foot import ahead, foot
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.marks import Dart
from crossgrain.model.marking.sewing_marks import Button, Buttonhole, Loop
from crossgrain.model.piece import Piece

DRILL_RADIUS: Final = 1.5
"""Of the ring that shows a drill hole, mm: what an awl leaves."""

SHANK: Final = 3.0
"""A buttonhole square to an edge begins so much nearer to it than the button's middle, mm, for the shank pulls it
outwards (common practice: 3 mm, 1/8 in)."""

TURNED_IN: Final = 15.0
"""What a belt loop takes at either end, mm, to be turned in and sewn down (common practice: 12 to 20 mm)."""

_BAR: Final = 2.0
"""Half of the bars at the ends of a buttonhole, and of the cross in the middle of a button, mm."""


def drill_point(piece: Piece, dart: Dart) -> Point:
    """Return where a dart's drill hole lies: on its axis, short of the tip.

    >>> from crossgrain.model import Edge
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 100), (0, 100)])
    >>> piece = Piece(id="back", edges=(Edge(name="", line=Path(square.segments)),))
    >>> drill_point(piece, Dart(edge="", share=0.125, width=20.0, depth=80.0, drill=10.0))
    (50.0, 70.0)
    """
    first, tip, last = dart_points(piece, dart)
    return between(tip, between(first, last, 0.5), dart.drill / dart.depth)


def drill_lines(piece: Piece, dart: Dart) -> tuple[Path, ...]:
    """Return the ring round a dart's drill hole; nothing where it has none."""
    return (_ring(drill_point(piece, dart), DRILL_RADIUS),) if dart.drill > 0.0 else ()


def loop_length(piece: Piece, loop: Loop) -> float:
    """Return how long a belt loop is as it is sewn on, mm: what is said, or the depth of the piece there."""
    if loop.length is not None:
        return loop.length
    at = foot(piece, loop.edge, loop.share)
    return ahead(piece.line, at.point, at.inwards)


def loop_strip(piece: Piece, loop: Loop) -> float:
    """Return how long a strip a belt loop is cut from, mm: its length, and 15 mm turned in at either end.

    >>> from crossgrain.model import Edge
    >>> square = Path.polygon([(0, 0), (400, 0), (400, 40), (0, 40)])
    >>> piece = Piece(id="band", edges=(Edge(name="", line=Path(square.segments)),))
    >>> loop_strip(piece, Loop(edge="", share=0.2))
    70.0
    """
    return loop_length(piece, loop) + 2.0 * TURNED_IN


def loop_lines(piece: Piece, loop: Loop) -> tuple[Path, ...]:
    """Return the outline of a belt loop where it is sewn on."""
    at, length, half = foot(piece, loop.edge, loop.share), loop_length(piece, loop), loop.width / 2.0
    return (Path.polygon([at.at(-half, 0.0), at.at(half, 0.0), at.at(half, length), at.at(-half, length)]),)


def button_lines(piece: Piece, button: Button) -> tuple[Path, ...]:
    """Return a button: a ring of its own size with a cross where it is sewn on."""
    at = foot(piece, button.edge, button.share)
    middle = at.at(0.0, button.inset)
    cross = (
        Path((Line(at.at(-_BAR, button.inset), at.at(_BAR, button.inset)),)),
        Path((Line(at.at(0.0, button.inset - _BAR), at.at(0.0, button.inset + _BAR)),)),
    )
    return (_ring(middle, button.diameter / 2.0), *cross)


def buttonhole_ends(piece: Piece, hole: Buttonhole) -> tuple[Point, Point]:
    """Return where the slit of a buttonhole begins and ends.

    Square to the edge it begins 3 mm nearer to the edge than the button's middle; along it, it lies evenly about that.

    >>> from crossgrain.model import Edge
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> piece = Piece(id="band", edges=(Edge(name="", line=Path(square.segments)),))
    >>> buttonhole_ends(piece, Buttonhole(edge="", share=0.125, diameter=15.0, thickness=3.0, inset=12.0))
    ((40.0, 9.0), (40.0, 27.0))
    """
    at = foot(piece, hole.edge, hole.share)
    if hole.lie == "along":
        return at.at(-hole.length / 2.0, hole.inset), at.at(hole.length / 2.0, hole.inset)
    start = hole.inset - min(SHANK, hole.inset)
    return at.at(0.0, start), at.at(0.0, start + hole.length)


def buttonhole_lines(piece: Piece, hole: Buttonhole) -> tuple[Path, ...]:
    """Return a buttonhole: its slit with a bar across each end."""
    start, end = buttonhole_ends(piece, hole)
    dx, dy = (_BAR * (end[0] - start[0]) / hole.length, _BAR * (end[1] - start[1]) / hole.length)
    bars = tuple(Path((Line((x - dy, y + dx), (x + dy, y - dx)),)) for x, y in (start, end))
    return (Path((Line(start, end),)), *bars)


def _ring(middle: Point, radius: float) -> Path:
    return ellipse_path(*middle, radius, radius)
