"""What a garment needs beside its pieces: zip, tape, belt loops, buttons, told by the marks on the pieces."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from typing import Final

from crossgrain.kernel.length import path_length
from crossgrain.language import _
from crossgrain.model.cutting.cut_plan import Notion
from crossgrain.model.dependents.follows import sewn_length
from crossgrain.model.dependents.zip_length import zip_lengths
from crossgrain.model.girths import OPENING
from crossgrain.model.marking.closing_lines import loop_strip
from crossgrain.model.piece import Piece
from crossgrain.units import format_length

_TOLD: Final = 3
"""Digits of a millimetre to which strips are told apart."""


def notions(pieces: Sequence[Piece], taped: Collection[str] = (), opening: str = OPENING) -> tuple[Notion, ...]:
    """Return what is needed beside the pieces.

    * A **zip** is as long as its opening (:func:`~crossgrain.model.dependents.zip_length.zip_lengths`).
    * **Tape** goes along what is held on an edge that does not open: a hold is a strip whose width nothing may change,
      and on any edge but the opening's it is tape that sees to that. It goes along the edges named besides, whole and
      with their darts sewn, on pieces that are not stabilised: those stretch no more.
    * **Belt loops** are told by their marks, with the length of strip each is cut from; **buttons** too, by diameter.

    What is marked is there once for each hand: twice on a piece that is cut mirrored. Further copies the same way round
    lie behind it, as the inner half of a band behind the outer one, and need none of their own. On a piece that is cut
    on a fold it is there twice, but for what lies on the fold.

    Args:
        pieces: the garment's pieces.
        taped: names of edges that are taped besides.
        opening: the name of the edge that opens.
    """
    out: list[Notion] = []
    out += [
        Notion(kind="zip", what=_("zip"), count=1, each=zip.length, piece=zip.piece, edge=zip.edge)
        for zip in zip_lengths(pieces, opening)
    ]
    out += [one for piece in pieces for one in _tapes(piece, taped, opening)]
    loops: dict[tuple[str, float, float], int] = {}
    buttons: dict[tuple[str, float], int] = {}
    for piece in pieces:
        for loop in piece.loops:
            strip = (piece.label, loop.width, round(loop_strip(piece, loop), _TOLD))
            loops[strip] = loops.get(strip, 0) + _times(piece, loop.edge)
        for button in piece.buttons:
            size = (piece.label, button.diameter)
            buttons[size] = buttons.get(size, 0) + _times(piece, button.edge)
    for (label, width, each), count in loops.items():
        what = _("belt loop, {width} wide: strip").format(width=format_length(width))
        out.append(Notion(kind="loop", what=what, count=count, each=each, piece=label))
    for (label, diameter), count in buttons.items():
        out.append(Notion(kind="button", what=_("button"), count=count, each=diameter, piece=label))
    return tuple(out)


def _tapes(piece: Piece, taped: Collection[str], opening: str) -> Iterator[Notion]:
    if not piece.cut.stabilised:
        for name in piece.edge_names:
            if name in taped:
                yield _tape(piece, name, sewn_length(piece, name))
    for hold in piece.holds:
        if hold.edge != opening and hold.edge not in taped:
            yield _tape(piece, hold.edge, (hold.end - hold.start) * path_length(piece.edge(hold.edge).line))


def _tape(piece: Piece, edge: str, length: float) -> Notion:
    return Notion(kind="tape", what=_("tape"), count=_times(piece, edge), each=length, piece=piece.label, edge=edge)


def _times(piece: Piece, edge: str) -> int:
    """Return how often what is marked on an edge is there."""
    hands = 2 if piece.cut.mirrored and piece.cut.count > 1 else 1
    return hands * (2 if piece.cut.on_fold and piece.cut.on_fold != edge else 1)
