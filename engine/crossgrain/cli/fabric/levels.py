"""The levels at which cloths are compared: girths of a body, and of a pattern or as typed."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from crossgrain.errors import ParameterError
from crossgrain.fabric.body import Body
from crossgrain.fabric.comparison import Level
from crossgrain.language import _

if TYPE_CHECKING:
    from crossgrain.model.outcome import Finding


def levels_of(
    body: Body,
    girths: Sequence[tuple[str, float]],
    pattern: Path | None,
    unit_mm: float | None,
    pieces: Sequence[str] = (),
) -> tuple[tuple[Level, ...], tuple[Finding, ...]]:
    """Return the levels of a body with the girths of the pieces there.

    Args:
        body: the body.
        girths: level and girth as typed, mm; they count before those of the pattern.
        pattern: the drawing with the pieces, or None.
        unit_mm: the length of the drawing's user unit, mm, where the drawing does not say it.
        pieces: names or ids of the pieces that go round the body; none means all that are marked.

    Returns:
        The levels from the top, and what to say of those that are not found.

    Raises:
        ParameterError: none is found, or a girth is given for a level that the body does not have.
    """
    typed = dict(girths)
    found: dict[str, Level] = {}
    findings: tuple[Finding, ...] = ()
    if pattern is not None:
        from crossgrain.operations.cloth_reduction import stations
        from crossgrain.svg.pattern import pattern_of
        from crossgrain.svg.reader import read_drawing

        on_pattern, findings = stations(pattern_of(read_drawing(pattern, unit_mm=unit_mm), pieces), body)
        found = {station.level.name: station.level for station in on_pattern}
    for name, piece in typed.items():
        level = body.level(name)
        if level.girth is None:
            raise ParameterError(
                _("{body} has no girth at the {level}.").format(body=body.name, level=name),
                advice=_("Add it to the body file."),
            )
        found[name] = Level(name=name, body=level.girth, piece=piece, limbs=level.limbs)
    if not found:
        raise ParameterError(
            _("No girth of the pieces is known."),
            advice=_("Give the pattern with --pattern, or a girth, as --girth hip=96cm."),
        )
    return tuple(found[level.name] for level in body.levels if level.name in found), findings
