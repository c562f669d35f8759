"""What an operation did to the lengths of a piece's edges."""

from __future__ import annotations

from crossgrain.kernel.length import path_length
from crossgrain.language import _
from crossgrain.model.outcome import Change
from crossgrain.model.piece import Piece
from crossgrain.tolerances import COINCIDENT


def edge_lengths(old: Piece, new: Piece) -> list[Change]:
    """Return the lengths of the edges that are longer or shorter now, before and after."""
    out = []
    for before, after in zip(old.edges, new.edges, strict=True):
        if before.line == after.line:
            continue
        was, now = path_length(before.line), path_length(after.line)
        if abs(now - was) > COINCIDENT:
            out.append(Change(piece=old.label, edge=before.name, what=_("length"), before=was, after=now))
    return out
