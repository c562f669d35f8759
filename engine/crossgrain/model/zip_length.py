"""How long the zips of a garment are, told by what is marked along the edges that open."""

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

    Where zips are marked, these are told. Where none is, an extension held along the opening's edge, or a notch on it,
    still tells that there is one. A piece that is stabilised, as a facing, tells nothing: it follows the others.

    Args:
        pieces: the garment's pieces.
        opening: the name of the edge that opens where no zip is marked.

    Returns:
        Of each opening the longest that is told: an extension's length before a notch's place, that before the edge's.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge, Hold
    >>> sides = Path.polygon([(0, 0), (200, 0), (200, 160), (0, 160)]).segments
    >>> names = ("waist", "side", "hem", "centre")
    >>> edges = tuple(Edge(name=name, line=Path((side,))) for name, side in zip(names, sides))
    >>> zip_lengths([Piece(id="front", edges=edges, holds=(Hold(edge="centre", width=5.0),))])
    (ZipLength(piece='front', edge='centre', length=160.0),)
    """
    own = [piece for piece in pieces if not piece.cut.stabilised]
    names = dict.fromkeys(zip.edge for piece in own for zip in piece.zips)
    out = []
    for name in names or (opening,):
        there = [piece for piece in own if name in piece.edge_names]
        for lengths in (
            [(_held(piece, name), piece) for piece in there],
            [(_to_notch(piece, name), piece) for piece in there],
            [(path_length(piece.edge(name).line), piece) for piece in there if names],
        ):
            told = [(length, piece) for length, piece in lengths if length > 0.0]
            if told:
                length, piece = max(told, key=lambda one: one[0])
                out.append(ZipLength(piece=piece.label, edge=name, length=length))
                break
    return tuple(out)


def _held(piece: Piece, edge: str) -> float:
    """Return how long the extension held along an edge is, mm; 0 without one."""
    shares = [hold.end - hold.start for hold in piece.holds if hold.edge == edge]
    return max(shares, default=0.0) * path_length(piece.edge(edge).line)


def _to_notch(piece: Piece, edge: str) -> float:
    """Return how far it is along an edge from its waist end to the notch farthest from there, mm; 0 without one."""
    shares = [notch.share for notch in piece.notches if notch.edge == edge]
    if not shares:
        return 0.0
    farthest = max(shares) if _starts_at_waist(piece, edge) else 1.0 - min(shares)
    return farthest * path_length(piece.edge(edge).line)


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
