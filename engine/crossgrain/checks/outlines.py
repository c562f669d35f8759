"""Check that an outline is sound: it meets itself nowhere, encloses cloth, and each of its edges has some length.

That it closes is seen when it is read.
"""

from __future__ import annotations

from crossgrain.checks.checked import Checked
from crossgrain.errors import GeometryError
from crossgrain.kernel.area import centroid
from crossgrain.kernel.length import path_length
from crossgrain.kernel.meetings.crossing import self_crossings
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import Piece
from crossgrain.tolerances import COINCIDENT


def check_outline(piece: Piece) -> Checked:
    """Look for what makes an outline unfit to be worked with.

    Returns:
        One finding where the outline meets itself, at the first such place; else one for each edge without length; else
        one where it encloses nothing.
    """
    return Checked(findings=tuple(_crossings(piece) or _points(piece) or _nothing(piece)))


def _crossings(piece: Piece) -> list[Finding]:
    found = self_crossings(piece.line)
    if not found:
        return []
    message = (
        _("The outline meets itself.")
        if len(found) == 1
        else _("The outline meets itself in {count} places, the first of them here.").format(count=len(found))
    )
    return [
        Finding(
            piece=piece.label,
            message=message,
            advice=_("Move the nodes there apart, or remove the loop; the other checks of the piece wait for that."),
            position=found[0].point,
        )
    ]


def _points(piece: Piece) -> list[Finding]:
    return [
        Finding(
            piece=piece.label,
            edge=edge.name,
            message=_("The edge has no length: its corners lie in one place."),
            advice=_("Move one of its corners, or name the edges again without it."),
            position=edge.line.start,
        )
        for edge in piece.edges
        if path_length(edge.line) <= COINCIDENT
    ]


def _nothing(piece: Piece) -> list[Finding]:
    try:
        centroid(piece.line)
    except GeometryError as error:
        return [
            Finding(piece=piece.label, message=error.message, advice=error.advice, position=piece.line.start),
        ]
    return []
