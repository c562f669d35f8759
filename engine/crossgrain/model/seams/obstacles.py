"""What lies in a seam's way when it is moved into a piece."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from crossgrain.kernel.affine import Point
from crossgrain.kernel.meetings.ways import reach_of_ways
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.model.marking.mark_lines import MarkKind, mark_lines
from crossgrain.model.piece import Piece

Floats = NDArray[np.float64]

OBSTACLES: Final[tuple[MarkKind, ...]] = ("grain", "dart", "hold")
"""The marks that a seam does not cross."""

HELD: Final[tuple[MarkKind, ...]] = ("hold",)
"""The strips that are held."""

_FLAT: Final = math.sin(math.radians(20.0))
"""Edges that run this nearly across the grain, as a waist does, have no strip beside them that is held across it."""

_CLEAR = 1e-3
"""A way shorter by less than this, mm, than to what stands there just reaches it."""


class Obstacle(NamedTuple):
    """The first thing in the way.

    Args:
        what: in words, with its article.
        point: where the way to it begins, mm.
        wanted: how far it was to go there, mm.
        possible: how far it can go, mm.
    """

    what: str
    point: Point
    wanted: float
    possible: float


def first_obstacle(
    piece: Piece, edge: str, starts: Floats, ends: Floats, kinds: tuple[MarkKind, ...] = OBSTACLES
) -> Obstacle | None:
    """Look along straight ways into a piece for its other side, its darts, its holds and its grain line.

    What belongs to the edge itself moves with it, and the edges beside it are what its ends slide along: both are no
    obstacles. A hold along one of these that reaches the corner is cut shorter there, and keeps its width.

    Args:
        piece: the piece.
        edge: the edge from which the ways start.
        starts: where each way starts, mm, shape (n, 2).
        ends: where it ends, shape (n, 2).
        kinds: which marks stand in the way.

    Returns:
        The obstacle that leaves least of a way, or None.
    """
    sizes = np.hypot(*(ends - starts).T)
    worst: Obstacle | None = None
    for what, line in _lines(piece, edge, kinds):
        reach = reach_of_ways(starts, ends, line)
        k = int(np.argmax(sizes - reach))
        if sizes[k] - reach[k] > _CLEAR and (worst is None or reach[k] - sizes[k] < worst.possible - worst.wanted):
            x, y = starts[k]
            worst = Obstacle(what, (float(x), float(y)), float(sizes[k]), float(reach[k]))
    return worst


def _lines(piece: Piece, edge: str, kinds: tuple[MarkKind, ...]) -> Iterator[tuple[str, Path]]:
    names = piece.edge_names
    at = names.index(edge)
    before, after = names[at - 1], names[(at + 1) % len(names)]
    for other in piece.edges:
        if other.name not in (edge, before, after):
            yield _("the edge {name}").format(name=other.name), other.line
    darts = tuple(dart for dart in piece.darts if dart.edge != edge)
    words = {"grain": _("the grain line"), "dart": _("a dart"), "hold": _("a hold")}
    for mark in mark_lines(replace(piece, darts=darts, holds=()), kinds):
        if mark.kind != "grain" or len(mark.line.segments) == 1:  # its arrowheads only show which line it is
            yield words[mark.kind], mark.line
    for hold in piece.holds:
        if hold.edge == edge or "hold" not in kinds:
            continue
        mark = mark_lines(replace(piece, holds=(hold,)), HELD)[0]
        if _lies_flat(mark.line):
            continue
        is_at_start = hold.edge == after and hold.start == 0.0
        is_at_end = hold.edge == before and hold.end == 1.0
        yield words["hold"], Path(mark.line.segments[1 if is_at_start else 0 : -1 if is_at_end else None])


def _lies_flat(strip: Path) -> bool:
    """Tell whether what is held lies along an edge that runs across the grain: it has no depth into the piece then."""
    first, last = strip.segments[0], strip.segments[-1]
    across, along = (complex(*point) - complex(*first.start) for point in (first.end, last.end))
    return abs((across.conjugate() * along).imag) < _FLAT * abs(across) * abs(along)
