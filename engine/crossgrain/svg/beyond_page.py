"""Pieces that have come to reach beyond the page."""

from __future__ import annotations

import math

from crossgrain.kernel.bounds import bounds
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece
from crossgrain.svg.scale import Page
from crossgrain.tolerances import ACCURACY


def beyond_page(page: Page, before: Pattern, after: Pattern) -> tuple[Finding, ...]:
    """Return what to say of pieces that lay on the page and no longer do.

    Args:
        page: the page of their drawing; what reaches over its right and lower side is not told where its size is not
            known.
        before: the pieces as they were.
        after: the same pieces as they are.

    Returns:
        A finding for each. What lies beside the page is seen in the editor, and left out where the page is printed.
    """
    was = {piece.id: piece for piece in before.pieces}
    return tuple(
        Finding(
            piece=piece.label,
            message=_("It reaches beyond the page now."),
            advice=_("Move it, or fit the page to the drawing in the editor: what lies beside a page is not printed."),
        )
        for piece in after.pieces
        if max(_over(page, was.get(piece.id, piece))) <= ACCURACY < max(_over(page, piece))
    )


def _over(page: Page, piece: Piece) -> tuple[float, ...]:
    """Return by how much a piece reaches over each side of the page, mm; below 0 where it does not."""
    box = bounds(piece.line)
    right, bottom = (0.0 if math.isnan(size) else far - size for far, size in
                     ((box.right, page.width), (box.bottom, page.height)))  # fmt: skip
    return (-box.left, -box.top, right, bottom)
