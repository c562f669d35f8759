"""How long the zip of an opening is, told by what is marked along the edge that opens."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from crossgrain.kernel.length import path_length
from crossgrain.model.girths import OPENING, WAIST
from crossgrain.model.piece import Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class ZipLength:
    """The length of an opening that a zip closes.

    Args:
        piece: the label of the piece that tells it.
        length: along the stitch line, mm: from the waist to the end of the extension, or to the notch.
    """

    piece: str
    length: float


def zip_length(pieces: Sequence[Piece], opening: str = OPENING) -> ZipLength | None:
    """Return how long the zip of a garment is.

    What is held along the opening's edge is the extension on which the zip lies; it tells the length. Where nothing is
    held, a notch on the edge marks the zip's lower end: the one farthest from the waist, and the length is counted from
    there to the waist end.

    Args:
        pieces: the garment's pieces. One that is stabilised, as a facing, tells nothing: it follows the others.
        opening: the name of the edge that opens.

    Returns:
        The longest opening there is, or None where nothing marks one.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge, Hold
    >>> sides = Path.polygon([(0, 0), (200, 0), (200, 160), (0, 160)]).segments
    >>> names = ("waist", "side", "hem", "centre")
    >>> edges = tuple(Edge(name=name, line=Path((side,))) for name, side in zip(names, sides))
    >>> zip_length([Piece(id="front", edges=edges, holds=(Hold(edge="centre", width=5.0),))])
    ZipLength(piece='front', length=160.0)
    """
    own = [piece for piece in pieces if not piece.cut.stabilised and opening in piece.edge_names]
    held = [
        ZipLength(piece=piece.label, length=(hold.end - hold.start) * path_length(piece.edge(opening).line))
        for piece in own
        for hold in piece.holds
        if hold.edge == opening
    ]
    found = held or [one for one in (_to_notch(piece, opening) for piece in own) if one is not None]
    return max(found, key=lambda one: one.length, default=None)


def _to_notch(piece: Piece, opening: str) -> ZipLength | None:
    shares = [notch.share for notch in piece.notches if notch.edge == opening]
    if not shares:
        return None
    farthest = max(shares) if _starts_at_waist(piece, opening) else 1.0 - min(shares)
    return ZipLength(piece=piece.label, length=farthest * path_length(piece.edge(opening).line))


def _starts_at_waist(piece: Piece, opening: str) -> bool:
    """Tell whether the edge of an opening starts at the waist, or without one at its upper end on the page."""
    line = piece.edge(opening).line
    if WAIST in piece.edge_names:
        waist = piece.edge(WAIST).line
        first, last = (
            min(math.dist(end, other) for other in (waist.start, waist.end)) for end in (line.start, line.end)
        )
        return first <= last
    gx, gy = piece.grain
    return (line.start[0] - line.end[0]) * gx + (line.start[1] - line.end[1]) * gy <= 0.0
