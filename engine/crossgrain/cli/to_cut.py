"""What is cut of a drawing: its pieces with their cut lines, and what it is called."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

from crossgrain.language import _

if TYPE_CHECKING:
    from crossgrain.model import Finding, Pattern, Piece
    from crossgrain.svg.drawing import Drawing


def with_cut_lines(pattern: Pattern) -> tuple[Pattern, tuple[Finding, ...]]:
    """Draw the cut lines that went, where the drawing still holds the widths, and say where that cannot be done."""
    from crossgrain.errors import CrossgrainError
    from crossgrain.model import Finding, Pattern
    from crossgrain.operations.allowance import Allowance, allow

    pieces, findings = [], []
    for piece in pattern.pieces:
        if _holds_widths(piece):
            try:
                [piece] = allow(Pattern(pieces=(piece,)), Allowance()).value.pieces
            except CrossgrainError as error:
                findings.append(
                    Finding(
                        piece=piece.label,
                        message=_("Its cut line cannot be drawn again. {reason}").format(reason=error.message),
                        advice=error.advice,
                        edge=error.edge or "",
                        position=error.position,
                    )
                )
        pieces.append(piece)
    return Pattern(pieces=tuple(pieces)), tuple(findings)


def _holds_widths(piece: Piece) -> bool:
    """Tell whether a piece has no cut line, and the drawing holds its width at every edge."""
    return (
        piece.outline == "stitch"
        and piece.counterpart is None
        and all(edge.allowance is not None for edge in piece.edges if not edge.name or edge.name != piece.cut.on_fold)
    )


def title_of(drawing: Drawing) -> str:
    """Return what the drawing is called: its title, or its file's name."""
    from crossgrain.svg.names import svg

    title = " ".join((drawing.root.findtext(svg("title")) or "").split())
    return title or Path(drawing.name).stem


def size_of(drawing: Drawing) -> str:
    """Return the size that the drawing was graded to, by its journal; empty where it was not, or its title says it."""
    from crossgrain.errors import CrossgrainError
    from crossgrain.svg.journal import entries

    try:
        graded = [dict(entry.parameters).get("size", "") for entry in entries(drawing) if entry.operation == "grade"]
    except CrossgrainError:
        return ""
    size = graded[-1] if graded else ""
    said = size and re.search(rf"(?<![\w.,]){re.escape(size)}(?!\w|[.,]\d)", title_of(drawing))
    return "" if said else size
