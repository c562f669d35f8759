"""Check that each piece says how it lies on the cloth."""

from __future__ import annotations

from collections.abc import Collection

from crossgrain.checks.checked import Checked
from crossgrain.kernel.area import centroid
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import Piece


def check_grain(piece: Piece, without: Collection[str]) -> Checked:
    """Say where a piece has no grain.

    Args:
        piece: a piece whose outline does not cross itself.
        without: the ids of the pieces whose grain the drawing does not state.
    """
    if piece.id not in without:
        return Checked()
    return Checked(
        findings=(
            Finding(
                piece=piece.label,
                message=_("It has no grain, so no one can tell how to lay it on the cloth."),
                advice=_("Mark it: crossgrain mark IN.svg -o OUT.svg --piece {id} --grain vertical.").format(
                    id=piece.id
                ),
                position=centroid(piece.line),
            ),
        )
    )
