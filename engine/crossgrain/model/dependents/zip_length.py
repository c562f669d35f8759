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
        edge: the name of the edge that opens.
        length: along the stitch line, mm.
    """

    piece: str
    edge: str
    length: float


def zip_lengths(pieces: Sequence[Piece], opening: str = OPENING) -> tuple[ZipLength, ...]:
    """Return how long the zips of a garment are, one for each name of an edge that opens.

    Where zips are marked, these are told, along the whole of their edge if neither extension nor notch says less. Where
    none is marked, an extension or a notch on the opening's edge still tells that there is one.

    Args:
        pieces: the garment's pieces.
        opening: the name of the edge that opens where no zip is marked.
    """
    own = [piece for piece in pieces if not piece.cut.stabilised]
    marked = dict.fromkeys(zip.edge for piece in own for zip in piece.zips)
    found = [
        zip_length(own, name) or (_longest([(_whole(piece, name), piece) for piece in own], name) if marked else None)
        for name in marked or (opening,)
    ]
    return tuple(one for one in found if one is not None)


def zip_length(pieces: Sequence[Piece], opening: str = OPENING) -> ZipLength | None:
    """Return how long the zip along an opening is, by what is marked on its edge.

    What is held along the edge is the extension on which the zip lies; it tells the length. Where nothing is held, a
    notch on the edge marks the zip's lower end: the one farthest from the waist, and the length is counted from there
    to the waist end. A piece that is stabilised, as a facing, tells nothing: it follows the others.

    Args:
        pieces: the garment's pieces.
        opening: the name of the edge that opens.

    Returns:
        The longest there is, or None where nothing marks one.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge, Hold
    >>> sides = Path.polygon([(0, 0), (200, 0), (200, 160), (0, 160)]).segments
    >>> names = ("waist", "side", "hem", "centre")
    >>> edges = tuple(Edge(name=name, line=Path((side,))) for name, side in zip(names, sides))
    >>> zip_length([Piece(id="front", edges=edges, holds=(Hold(edge="centre", width=5.0),))])
    ZipLength(piece='front', edge='centre', length=160.0)
    """
    own = [piece for piece in pieces if not piece.cut.stabilised]
    return _longest([(_held(piece, opening), piece) for piece in own], opening) or _longest(
        [(_to_notch(piece, opening), piece) for piece in own], opening
    )


def _longest(told: Sequence[tuple[float, Piece]], edge: str) -> ZipLength | None:
    length, piece = max(told, key=lambda one: one[0], default=(0.0, None))
    return ZipLength(piece=piece.label, edge=edge, length=length) if piece is not None and length > 0.0 else None


def _whole(piece: Piece, edge: str) -> float:
    return path_length(piece.edge(edge).line) if edge in piece.edge_names else 0.0


def _held(piece: Piece, edge: str) -> float:
    """Return how long the extension held along an edge is, mm; 0 without one."""
    return max((hold.end - hold.start for hold in piece.holds if hold.edge == edge), default=0.0) * _whole(piece, edge)


def _to_notch(piece: Piece, edge: str) -> float:
    """Return how far it is along an edge from its waist end to the notch farthest from there, mm; 0 without one."""
    shares = [notch.share for notch in piece.notches if notch.edge == edge]
    if not shares:
        return 0.0
    return (max(shares) if _starts_at_waist(piece, edge) else 1.0 - min(shares)) * _whole(piece, edge)


def _starts_at_waist(piece: Piece, edge: str) -> bool:
    """Tell whether an edge starts at the waist, or without one at its upper end on the page."""
    line = piece.edge(edge).line
    if WAIST in piece.edge_names:
        waist = piece.edge(WAIST).line
        first, last = (
            min(math.dist(end, other) for other in (waist.start, waist.end)) for end in (line.start, line.end)
        )
        return first <= last
    gx, gy = piece.grain
    return (line.start[0] - line.end[0]) * gx + (line.start[1] - line.end[1]) * gy <= 0.0
