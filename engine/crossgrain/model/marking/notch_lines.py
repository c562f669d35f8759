"""The strokes of a notch: from the cut line inwards, clear of the stitch line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

import numpy as np

from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import distance_of, path_length, place_at, point_at
from crossgrain.kernel.meetings.nearest import nearest, nearest_points
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, unit
from crossgrain.model.edge_foot import Foot, ahead, foot
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.marks import Dart, Notch, NotchKind
from crossgrain.model.piece import Piece

NOTCH_DEPTH: Final = 5.0
"""How far a notch reaches inwards, mm: half of the usual 10 mm allowance, so that it shows on no finished seam."""

NOTCH_CLEAR: Final = 3.0
"""A notch ends so far outside the stitch line, mm, so that the seam does not tear into it."""

NOTCH_LEAST: Final = 2.0
"""No notch shallower than this is cut, mm: it frays away. It is drawn as a T inside the stitch line, to be chalked."""

NOTCH_GAP: Final = 5.0
"""Between the strokes of a double or triple notch, mm along the edge."""

BROAD_GAP: Final = 8.0
"""The same where a stroke is broad, a V or a T."""

_BROAD: Final = 2.0
"""Half of what a V is wide at its mouth, and a T at its bar, mm."""

_BESIDE_ANOTHER: Final = 0.5
"""In a corner that turns into the cloth the way from the seam may lead along the allowance of the next one: where its
end lies nearer to a stitch line than this share of the way, it has left its own allowance."""


def notch_lines(piece: Piece, *notches: Notch) -> tuple[Path, ...]:
    """Return the strokes of notches, one line each, a T two.

    Where the piece has both its lines, each stroke starts on the cut line, on the normal through its place on the edge,
    so that it stands at the same distance along both sides of a seam, whatever their allowances. It ends at least 3 mm
    outside the stitch line; in a narrow allowance it is shorter. Where that leaves less than 2 mm, a T inside the
    stitch line stands for it, which is chalked and never cut. A piece with one line has its strokes inside that.

    >>> from crossgrain.model import Edge
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> cut = Path.polygon([(-7, -7), (107, -7), (107, 67), (-7, 67)])
    >>> piece = Piece(id="band", edges=(Edge(name="", line=Path(square.segments)),), counterpart=cut)
    >>> [stroke.nodes for stroke in notch_lines(piece, Notch(edge="", share=0.125))]
    [((40.0, -7.0), (40.0, -3.0))]
    """
    strokes = [
        (foot(piece, notch.edge, notch.share, (number - (notch.count - 1) / 2.0) * notch_gap(notch.kind)), notch.kind)
        for notch in notches
        for number in range(notch.count)
    ]
    cuts = _cuts(piece, [at for at, _kind in strokes])
    return tuple(line for (at, kind), cut in zip(strokes, cuts, strict=True) for line in _stroke(piece, at, kind, cut))


def dart_notch_lines(piece: Piece, *darts: Dart) -> tuple[Path, ...]:
    """Return the slits at the mouths of darts: in line with their legs, where these lead on to the cut line.

    They are clear of the stitch line as notches are. Without a cut line, or without room, there are none: the legs
    themselves show where the dart begins.

    >>> from crossgrain.model import Edge
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> cut = Path.polygon([(-10, -10), (110, -10), (110, 70), (-10, 70)])
    >>> piece = Piece(id="back", edges=(Edge(name="", line=Path(square.segments)),), counterpart=cut)
    >>> slits = dart_notch_lines(piece, Dart(edge="", share=0.15625, width=20.0, depth=40.0))
    >>> [tuple(round(value, 6) for value in slit.start) for slit in slits]
    [(37.5, -10.0), (62.5, -10.0)]
    """
    if piece.counterpart is None or piece.outline == "cut":
        return ()
    legs = [
        Foot(mouth, (0.0, 0.0), unit(tip[0] - mouth[0], tip[1] - mouth[1]))
        for first, tip, last in (dart_points(piece, dart) for dart in darts)
        for mouth in (first, last)
    ]
    return tuple(
        line
        for at, cut in zip(legs, _cuts(piece, legs), strict=True)
        if cut.depth >= NOTCH_LEAST
        for line in _stroke(piece, at, "slit", cut)
    )


def notch_gap(kind: NotchKind) -> float:
    """Return how far apart the strokes of a double or triple notch stand, mm along the edge."""
    return NOTCH_GAP if kind == "slit" else BROAD_GAP


class _Cut(NamedTuple):
    """Where a stroke starts on the line that is cut, and how deep it may be there, mm."""

    line: Path
    start: Point
    depth: float


def _stroke(piece: Piece, at: Foot, kind: NotchKind, cut: _Cut) -> list[Path]:
    if cut.depth < NOTCH_LEAST:
        return _drawn(Foot(_stitched(piece, at), at.along, at.inwards), "T", NOTCH_DEPTH, None)
    return _drawn(Foot(cut.start, at.along, at.inwards), kind, cut.depth, cut.line)


def _cuts(piece: Piece, feet: Sequence[Foot]) -> list[_Cut]:
    """Return where strokes start; taken together, for most of the time goes into asking what lies nearest."""
    if not feet:
        return []
    line = piece.line
    if piece.counterpart is None:
        return [_Cut(line, at.point, NOTCH_DEPTH) for at in feet]
    stitch = piece.counterpart
    ways = [0.0] * len(feet)
    if piece.outline == "stitch":
        line, stitch = stitch, line
        ways = [ahead(line, at.point, (-at.inwards[0], -at.inwards[1])) for at in feet]
    starts = [at.at(0.0, -way) for at, way in zip(feet, ways, strict=True)]
    # What lies nearest may be another edge, at a corner: clear of that, too.
    distances = nearest_points(stitch, np.array(starts)).distances.tolist()
    return [
        _Cut(line, start, min(NOTCH_DEPTH, distance - NOTCH_CLEAR) if distance >= _BESIDE_ANOTHER * way else 0.0)
        for start, way, distance in zip(starts, ways, distances, strict=True)
    ]


def _stitched(piece: Piece, at: Foot) -> Point:
    """Return where the normal through a place meets the stitch line."""
    if piece.outline == "stitch" or piece.counterpart is None:
        return at.point
    return nearest(piece.counterpart, at.point).point


def _drawn(at: Foot, kind: NotchKind, depth: float, line: Path | None) -> list[Path]:
    tip = at.at(0.0, depth)
    if kind == "V" and line is not None:
        before, after = _beside(line, at)
        return [Path((Line(before, tip), Line(tip, after)))]
    stem = Path((Line(at.point, tip),))
    if kind == "T":
        return [stem, Path((Line(at.at(-_BROAD, depth), at.at(_BROAD, depth)),))]
    return [stem]


def _beside(line: Path, at: Foot) -> tuple[Point, Point]:
    """Return the two points of a line that lie half a mouth to either side of a point on it."""
    here, total = distance_of(line, nearest(line, at.point).place), path_length(line)
    first, last = (point_at(line, place_at(line, (here + step) % total)) for step in (-_BROAD, _BROAD))
    return first, last
