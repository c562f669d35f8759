"""How long an opening is that a zip closes, and which zip to buy for it."""

from __future__ import annotations

from crossgrain.kernel.length import path_length
from crossgrain.language import _
from crossgrain.model.dependents.zip_length import zip_length
from crossgrain.model.piece import Piece


def opening_length(piece: Piece, edge: str) -> float:
    """Return how long the opening along an edge is, mm: the extension held there, or down to the notch; else all of it.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge, Notch, Piece
    >>> sides = Path.polygon([(0, 0), (200, 0), (200, 160), (0, 160)]).segments
    >>> names = ("waist", "side", "hem", "centre")
    >>> edges = tuple(Edge(name=name, line=Path((side,))) for name, side in zip(names, sides))
    >>> opening_length(Piece(id="front", edges=edges, notches=(Notch(edge="centre", share=0.25),)), "centre")
    120.0
    """
    found = zip_length([piece], edge)
    return found.length if found is not None else path_length(piece.edge(edge).line)


def zip_to_buy(length: float) -> str:
    """Say which zip fits an opening of some length, mm: common practice, for zips come in steps of 2 cm or so.

    >>> zip_to_buy(154.6)
    'a zip of 155 mm, or the next longer one, shortened'
    """
    return _("a zip of {length:.0f} mm, or the next longer one, shortened").format(length=length)
