"""Which ease is meant on the seams of a drawing, by its journal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from crossgrain.language import _

if TYPE_CHECKING:
    from crossgrain.checks.eased import SeamEase
    from crossgrain.svg.drawing import Drawing


def meant_eases(drawing: Drawing) -> tuple[tuple[SeamEase, ...], tuple[str, ...]]:
    """Return the ease that seams were trued to, by the drawing's journal: of each seam, what was said last.

    Args:
        drawing: the drawing.

    Returns:
        The ease, and sentences on what in the journal could not be read.
    """
    from crossgrain.errors import CrossgrainError
    from crossgrain.notation.stations import read_ease
    from crossgrain.svg.journal import entries

    try:
        said = {}
        for entry in entries(drawing):
            given = dict(entry.parameters)
            if entry.operation == "true" and "seam" in given:
                said[given["seam"]] = [text for text in given.get("ease", "").split(";") if text.strip()]
        return tuple((seam, read_ease(text.strip())) for seam, texts in said.items() for text in texts), ()
    except CrossgrainError as error:
        return (), (_("Whether ease is meant, by the drawing's journal: {reason}").format(reason=error),)
