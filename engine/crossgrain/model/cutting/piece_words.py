"""What is written on a piece that is cut, line by line."""

from __future__ import annotations

from collections.abc import Iterable

from crossgrain.kernel.length import path_length
from crossgrain.language import _
from crossgrain.model.cutting.width import Width
from crossgrain.model.piece import CutInstruction, Piece
from crossgrain.units import format_length


def cut_words(cut: CutInstruction) -> str:
    """Say how a piece is cut.

    >>> cut_words(CutInstruction(count=2, mirrored=True)), cut_words(CutInstruction(on_fold="centre"))
    ('cut 2, mirrored', 'cut 1, on the fold')
    """
    parts = [_("cut {count}").format(count=cut.count)]
    if cut.mirrored and cut.count > 1:
        parts.append(_("mirrored"))
    if cut.on_fold:
        parts.append(_("on the fold"))
    return ", ".join(parts)


def allowance_words(piece: Piece) -> str:
    """Say what allowance is included in the line that is cut: the usual width first, then the edges that differ.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge
    >>> lines = Path.polygon([(0, 0), (100, 0), (100, 160), (0, 160)]).segments
    >>> widths = zip(("waist", "side", "hem", "centre"), lines, (10.0, 10.0, 30.0, 10.0))
    >>> edges = tuple(Edge(name=n, line=Path((line,)), allowance=Width.of(mm)) for n, line, mm in widths)
    >>> piece = Piece(id="p", edges=edges, counterpart=Path.polygon([(-10, -10), (110, -10), (110, 190), (-10, 190)]))
    >>> allowance_words(piece)
    'allowance included: 10 mm, hem 30 mm'
    """
    if piece.outline == "stitch" and piece.counterpart is None:
        return _("no allowance")
    edges = [edge for edge in piece.edges if edge.name != piece.cut.on_fold or not edge.name]
    told = [(edge, edge.allowance) for edge in edges if edge.allowance is not None]
    if not told:
        return _("allowance included")
    usual = _commonest((width, path_length(edge.line)) for edge, width in told)
    words = [_span(usual), *(f"{edge.name} {_span(width)}" for edge, width in told if width != usual)]
    return _("allowance included: {widths}").format(widths=", ".join(words))


def _commonest(widths: Iterable[tuple[Width, float]]) -> Width:
    """Return the width along the greatest length."""
    lengths: dict[Width, float] = {}
    for width, length in widths:
        lengths[width] = lengths.get(width, 0.0) + length
    return max(lengths, key=lengths.__getitem__)


def _span(width: Width) -> str:
    if width.is_even:
        return _short(width.start)
    return _("{least} to {most}").format(least=_short(width.least), most=_short(width.most))


def _short(mm: float) -> str:
    """Print a length on a piece, where room is scarce: whole millimetres without their zero."""
    return format_length(mm, digits=0 if f"{mm:.1f}".endswith("0") else 1)
