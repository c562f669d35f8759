"""A dart taken in or let out at its mouth: its legs turn about the tip."""

from __future__ import annotations

import math
from dataclasses import replace

from crossgrain.errors import CollapseError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import path_length
from crossgrain.kernel.segment import unit
from crossgrain.language import _
from crossgrain.model.marking.dart_lines import aimed, dart_points
from crossgrain.model.marking.marks import Dart
from crossgrain.model.piece import Piece
from crossgrain.tolerances import COINCIDENT


def widened(piece: Piece, dart: Dart, amount: float) -> Dart:
    """Return a dart whose legs are stitched farther out in the cloth at its mouth, and where they were at its tip.

    Args:
        piece: its piece.
        dart: the dart.
        amount: how far from either old leg the new one lies at the mouth, mm; negative lets out. It is measured square
            to the outer of both, so that letting out undoes taking in.

    Returns:
        The dart; its tip stays.

    Raises:
        CollapseError: nothing would be left of its mouth, or it would reach beyond the edge or into another dart; the
            error says how much is possible.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge
    >>> square = Path.polygon([(0, 0), (200, 0), (200, 300), (0, 300)]).segments
    >>> edges = tuple(Edge(name=n, line=Path((line,))) for n, line in zip(("waist", "side", "foot", "seat"), square))
    >>> dart = Dart(edge="waist", share=0.5, width=24.0, depth=90.0)
    >>> wider = widened(Piece(id="back", edges=edges), dart, 3.0)
    >>> round(wider.width, 3), round(wider.depth, 3)
    (30.053, 90.0)
    """
    first, tip, _last = dart_points(piece, dart)
    room, sines = _room(piece, dart), _sines(piece, dart)
    if amount > (possible := min(room[0] * sines[0], room[1] * sines[1])) + COINCIDENT:
        raise CollapseError(
            _("Taken in by {wanted:.1f} mm, its mouth would reach the end of the edge or another dart.").format(
                wanted=amount
            ),
            position=first,
            advice=_("Take in less than {possible:.1f} mm there.").format(possible=possible),
        )
    new = _moved(piece, dart, amount, sines if amount > 0.0 else (1.0, 1.0))
    for _step in range(_STEPS if amount < 0.0 else 0):
        # What is let out is measured square to the new leg, which is the outer one: so it undoes what was taken in.
        new = new and _moved(piece, dart, amount, _sines(piece, aimed(piece, new, tip)))
    if new is None:
        raise CollapseError(
            _("Let out by {wanted:.1f} mm, nothing would be left of the dart.").format(wanted=-amount),
            position=first,
            advice=_("Let out less than {possible:.1f} mm there.").format(
                possible=dart.width / 2.0 * math.cos(dart.lean_rad)
            ),
        )
    return aimed(piece, new, tip)


_STEPS = 20


def _moved(piece: Piece, dart: Dart, amount: float, sines: tuple[float, float]) -> Dart | None:
    """Return the dart with its mouth's ends moved so far along the edge; None where they would meet."""
    total = path_length(piece.edge(dart.edge).line)
    start = dart.share * total - dart.width / 2.0 - amount / sines[0]
    end = dart.share * total + dart.width / 2.0 + amount / sines[1]
    return replace(dart, share=(start + end) / 2.0 / total, width=end - start) if end - start > COINCIDENT else None


def _room(piece: Piece, dart: Dart) -> tuple[float, float]:
    """Return how much of the edge is free before and after the mouth, mm."""
    total = path_length(piece.edge(dart.edge).line)
    middle, half = dart.share * total, dart.width / 2.0
    others = [one for one in piece.darts if one.edge == dart.edge and one != dart]
    before = max([0.0, *(one.share * total + one.width / 2.0 for one in others if one.share < dart.share)])
    after = min([total, *(one.share * total - one.width / 2.0 for one in others if one.share >= dart.share)])
    return middle - half - before, after - middle - half


def _sines(piece: Piece, dart: Dart) -> tuple[float, float]:
    """Return the sines of the angles between the legs and the chord across the mouth."""
    first, tip, last = dart_points(piece, dart)
    chord = unit(last[0] - first[0], last[1] - first[1])
    return _sine(first, tip, chord), _sine(last, tip, chord)


def _sine(mouth: Point, tip: Point, chord: Point) -> float:
    """Return the sine of the angle between a leg and the chord across the mouth."""
    x, y = unit(tip[0] - mouth[0], tip[1] - mouth[1])
    return abs(x * chord[1] - y * chord[0])


def leg_difference(piece: Piece, dart: Dart) -> float:
    """Return by how much the legs of a dart differ, mm."""
    first, tip, last = dart_points(piece, dart)
    return abs(math.dist(first, tip) - math.dist(last, tip))
