"""Check that what is held lies in the piece."""

from __future__ import annotations

from crossgrain.checks.checked import Checked
from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import point_at_share
from crossgrain.kernel.meetings.sections import chords
from crossgrain.language import _
from crossgrain.model.marking.marks import Hold
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import Piece
from crossgrain.tolerances import COINCIDENT, ON_CREASE

_PLACES = 16
"""At how many places along it a hold is measured."""


def check_holds(piece: Piece) -> Checked:
    """Measure the piece across the grain along each of its holds.

    Args:
        piece: a piece whose outline does not cross itself.

    Returns:
        A finding for each hold that is wider than the piece somewhere, at the narrowest of sixteen places along it.
    """
    out = []
    for hold in piece.holds:
        width, place = min(_widths(piece, hold))
        if width < hold.width - COINCIDENT:
            out.append(
                Finding(
                    piece=piece.label,
                    edge=hold.edge,
                    message=_(
                        "A hold of {held:.1f} mm reaches out of the piece, which is {width:.1f} mm wide there."
                    ).format(held=hold.width, width=width),
                    advice=_("Make the hold narrower, or end it above that place."),
                    position=place,
                )
            )
    return Checked(findings=tuple(out))


def _widths(piece: Piece, hold: Hold) -> list[tuple[float, Point]]:
    """Return how wide the cloth is across the grain at places along a hold, each with its place."""
    line, outline = piece.edge(hold.edge).line, piece.line
    across = (piece.grain[1], -piece.grain[0])
    out = []
    for number in range(_PLACES):
        share = hold.start + (hold.end - hold.start) * (number + 0.5) / _PLACES
        place = point_at_share(line, share)
        at = place[0] * across[0] + place[1] * across[1]
        level = place[1] * across[0] - place[0] * across[1]
        widths = [
            end - start for start, end in chords(outline, across, level) if start - ON_CREASE <= at <= end + ON_CREASE
        ]
        out.append((max(widths, default=0.0), place))
    return out
