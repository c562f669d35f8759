"""How wide the cloth outside an edge is at its places: a width that changes goes on where a dart is folded out of it.

Pressed to a side, a dart's cloth lies on that beside it, and both its legs on each other: a width that grew across the
mouth would leave a step in the sewn seam. So it changes along the edge as it is when such darts are shut.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from crossgrain.kernel.length import path_length
from crossgrain.kernel.profile import Profile
from crossgrain.model.marking.marks import Dart
from crossgrain.model.piece import Edge, Piece
from crossgrain.tolerances import COINCIDENT


def pressed_darts(piece: Piece, edge: Edge) -> tuple[Dart, ...]:
    """Return the darts on an edge that are pressed to a side, in their order along it."""
    darts = (dart for dart in piece.darts if dart.edge == edge.name and dart.pressed)
    return tuple(sorted(darts, key=lambda dart: dart.share))


def mouth(dart: Dart, length: float) -> tuple[float, float]:
    """Return where the mouth of a dart begins and ends along an edge of this length, mm."""
    middle = dart.share * length
    return middle - dart.width / 2.0, middle + dart.width / 2.0


def shut_place(along: float, mouths: Sequence[tuple[float, float]]) -> float:
    """Return how far along an edge with its mouths shut a place is that lies so far along it open, mm.

    >>> [shut_place(along, [(40.0, 60.0)]) for along in (30.0, 50.0, 70.0)]
    [30.0, 40.0, 50.0]
    """
    return along - math.fsum(min(max(along - start, 0.0), end - start) for start, end in mouths)


def stations_along(piece: Piece, edge: Edge) -> tuple[tuple[float, float], ...]:
    """Return the widths of an edge at places along it, mm, its pressed darts shut; of two that fall together the first.

    Args:
        piece: the piece.
        edge: an edge of it; one that holds no width takes none.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model.cutting.width import Width
    >>> top, *rest = Path.polygon([(0, 0), (100, 0), (100, 300), (0, 300)]).segments
    >>> waist = Edge(name="waist", line=Path((top,)), allowance=Width(stations=((0.0, 10.0), (1.0, 25.0))))
    >>> dart = Dart(edge="waist", share=0.5, width=20.0, depth=90.0, pressed="start")
    >>> stations_along(Piece(id="p", edges=(waist, Edge(name="rest", line=Path(tuple(rest)))), darts=(dart,)), waist)
    ((0.0, 10.0), (80.0, 25.0))
    """
    if edge.allowance is None:
        return ((0.0, 0.0),)
    length = path_length(edge.line)
    mouths = [mouth(dart, length) for dart in pressed_darts(piece, edge)]
    found: list[tuple[float, float]] = []
    for share, width in edge.allowance.stations:
        along = shut_place(share * length, mouths)
        if not found or along - found[-1][0] > COINCIDENT:
            found.append((along, width))
    return tuple(found)


def width_at(piece: Piece, edge: Edge, share: float) -> float:
    """Return the width of an edge at a share of it, mm; in the mouth of a pressed dart, that at its legs."""
    length = path_length(edge.line)
    stations = stations_along(piece, edge)
    place = shut_place(share * length, [mouth(dart, length) for dart in pressed_darts(piece, edge)])
    profile = Profile([along for along, _mm in stations], [mm for _along, mm in stations])
    return float(profile(np.array([place]))[0][0])
