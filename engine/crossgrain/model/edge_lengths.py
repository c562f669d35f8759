"""What an operation did to the lengths of a piece's edges."""

from __future__ import annotations

from crossgrain.kernel.length import path_length
from crossgrain.language import _
from crossgrain.model.outcome import Change
from crossgrain.model.piece import Piece


def edge_lengths(old: Piece, new: Piece) -> list[Change]:
    """Return the lengths of the edges that are other lines now, before and after."""
    return [
        Change(
            piece=old.label,
            edge=before.name,
            what=_("length"),
            before=path_length(before.line),
            after=path_length(after.line),
        )
        for before, after in zip(old.edges, new.edges, strict=True)
        if before.line != after.line
    ]
