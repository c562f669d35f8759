"""Look a drawing over: everything that ``crossgrain check`` finds on it, whether called for one or by a recipe."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from crossgrain.checks.checked import Checked, together
from crossgrain.checks.dressing import check_dressing
from crossgrain.checks.ease import PlacedLevel, check_ease
from crossgrain.checks.outlines import check_outline
from crossgrain.checks.pattern import Looking, check_pattern
from crossgrain.cli.meant_eases import meant_eases
from crossgrain.errors import CrossgrainError
from crossgrain.fabric.body import Body
from crossgrain.fabric.cloth import Cloth
from crossgrain.language import _
from crossgrain.model import Finding, Pattern
from crossgrain.model.girths import OPENING
from crossgrain.model.level_place import level_place
from crossgrain.operations.cloth_reduction import stations
from crossgrain.svg.drawing import Drawing
from crossgrain.svg.markup import states_grain
from crossgrain.svg.pattern import readable_pattern


@dataclass(frozen=True, slots=True, kw_only=True)
class Wearing:
    """Who is to wear the garment, and in which cloth.

    Args:
        body: the body; without one nothing is checked that depends on it.
        cloth: the cloth it is to be cut from.
        opening: the edge whose holds lie under the other side.
    """

    body: Body | None = None
    cloth: Cloth | None = None
    opening: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LookedOver:
    """What was found on a drawing.

    Args:
        pattern: the pieces that could be read.
        checked: the findings, and what could not be checked.
        levels: the girths at the levels of the body.
    """

    pattern: Pattern
    checked: Checked
    levels: tuple[PlacedLevel, ...]


def look_over(drawing: Drawing, pieces: Sequence[str], worn: Wearing, going_on: Sequence[str]) -> LookedOver:
    """Check the pieces of a drawing.

    Args:
        drawing: the drawing; it stays as it is.
        pieces: ids or names of the pieces that are looked at; all that are marked where none is named.
        worn: who wears them.
        going_on: names of edges that are not sewn to each other.

    Raises:
        DocumentError: no such piece, or no piece at all.
    """
    pattern, unread = readable_pattern(drawing, pieces)
    without_grain = frozenset(
        piece.id for piece in pattern.pieces if piece.name and not states_grain(drawing.shape(piece.id).element)
    )
    eases, lost = meant_eases(drawing)
    looked = check_pattern(pattern, Looking(going_on=tuple(going_on), eases=eases, without_grain=without_grain))
    dressed, levels = _worn(pattern, worn)
    unreadable = [] if pieces else _unreadable(drawing, unread)
    return LookedOver(
        pattern=pattern,
        checked=together([Checked(findings=(*unread, *unreadable), unchecked=lost), looked, dressed]),
        levels=levels,
    )


def _unreadable(drawing: Drawing, said: Sequence[Finding]) -> list[Finding]:
    """Return what else in the drawing cannot be read."""
    known = {finding.piece for finding in said}
    return [Finding(piece=id, message=message) for id, message in drawing.unreadable if id not in known]


def _worn(pattern: Pattern, worn: Wearing) -> tuple[Checked, tuple[PlacedLevel, ...]]:
    """Check what depends on who wears it."""
    body, cloth, opening = worn.body, worn.cloth, worn.opening or OPENING
    if body is None:
        return Checked(), ()
    pattern = Pattern(pieces=tuple(piece for piece in pattern.pieces if not check_outline(piece).findings))
    try:
        found, missing = stations(pattern, body, opening)
    except CrossgrainError as error:
        return Checked(unchecked=(_("Girths and ease: {reason}").format(reason=error),)), ()
    levels = []
    for station in found:
        piece, at = level_place(pattern, station.depth, station.edge)
        levels.append(PlacedLevel(level=station.level, piece=piece, at=at))
    left_out = tuple(" ".join((one.piece, one.message, one.advice)).strip() for one in missing)
    return together(
        [check_ease(levels, cloth), check_dressing(pattern, body, cloth, opening), Checked(unchecked=left_out)]
    ), tuple(levels)
