"""Check that an outline crosses itself nowhere. That it closes is seen when it is read."""

from __future__ import annotations

from crossgrain.checks.checked import Checked
from crossgrain.kernel.crossing import self_crossings
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import Piece


def check_outline(piece: Piece) -> Checked:
    """Look for places where an outline meets itself.

    Returns:
        One finding, at the first of them.
    """
    found = self_crossings(piece.line)
    if not found:
        return Checked()
    message = (
        _("The outline meets itself.")
        if len(found) == 1
        else _("The outline meets itself in {count} places, the first of them here.").format(count=len(found))
    )
    return Checked(
        findings=(
            Finding(
                piece=piece.label,
                message=message,
                advice=_(
                    "Move the nodes there apart, or remove the loop; the other checks of the piece wait for that."
                ),
                position=found[0].point,
            ),
        )
    )
