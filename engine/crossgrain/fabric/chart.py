"""What ships with a pattern: for each gauge reading at one stated load, the take-in at each level.

A cloth of which one reading is known is taken to stiffen as the cloth the pattern was drafted for does: its curve is
that cloth's, stretched so that it passes through the reading.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from crossgrain.errors import ParameterError
from crossgrain.fabric.cloth import Cloth
from crossgrain.fabric.comparison import LEAST_PER_SEAM, SIDE_SEAMS, USED_AT_MOST, Level
from crossgrain.fabric.pressure import caution, pressure
from crossgrain.language import _

Fit = Literal["as it is", "take in", "let out", "too firm", "too soft"]

MOST_LET_OUT: Final = 10.0
"""More than this is not let out at a side seam, mm: the usual allowance is all used then (common practice)."""

MOST_TAKEN_IN: Final = 25.0
"""More than this taken in at a side seam, mm, no longer leaves the shape that was drafted (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """What to do at a level, and by how much at each side seam, mm inside the old line; below 0 is let out."""

    fit: Fit
    per_seam: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """Rows of gauge readings, columns of levels.

    Args:
        tension: of the stated load, N/cm.
        readings: strains under it, ratios, rising.
        levels: the columns.
        cells: a row for each reading, a cell for each level.
        pressures: kPa at each level, the same in every row; an estimate.
        cautions: what these call for.
    """

    tension: float
    readings: tuple[float, ...]
    levels: tuple[Level, ...]
    cells: tuple[tuple[Cell, ...], ...]
    pressures: tuple[float, ...]
    cautions: tuple[str, ...]


def chart(drafted_for: Cloth, levels: Sequence[Level], tension: float, readings: Sequence[float]) -> Chart:
    """Work the chart out.

    Args:
        drafted_for: the cloth the pattern was drafted for; its firmness is known.
        levels: the levels of the body with the girths of the pattern.
        tension: of the load at which the gauge is read, N/cm, above 0 and not beyond what the cloth was tested to.
        readings: strains read under it, ratios above 0.

    Raises:
        ParameterError: the cloth's firmness is unknown, or the load is beyond its test.
    """
    curve = drafted_for.cross.curve
    if curve is None:
        raise ParameterError(
            _("The firmness of {cloth} is unknown, so no chart can be made of it.").format(cloth=drafted_for.name),
            advice=_("Test it with two loads or more."),
        )
    if not 0.0 < tension <= curve.largest_tension:
        raise ParameterError(
            _("{cloth} was tested to {most:.2f} N/cm, and the chart is asked at {tension:.2f} N/cm.").format(
                cloth=drafted_for.name, most=curve.largest_tension, tension=tension
            ),
            advice=_("Name a load within the test."),
        )
    own = curve.strain_at(tension)
    tensions = [0.0 if level.is_stable else curve.tension_at(max(level.strain, 0.0)) for level in levels]
    cells = tuple(
        tuple(_cell(level, curve.strain_at(t) * read / own, read) for level, t in zip(levels, tensions, strict=True))
        for read in readings
    )
    pressures = tuple(pressure(t, level.body) for level, t in zip(levels, tensions, strict=True))
    said = (caution(p, level.name) for level, p in zip(levels, pressures, strict=True))
    return Chart(
        tension=tension,
        readings=tuple(readings),
        levels=tuple(levels),
        cells=cells,
        pressures=pressures,
        cautions=tuple(sentence for sentence in said if sentence),
    )


def _cell(level: Level, strain: float, read: float) -> Cell:
    if level.is_stable or level.strain <= 0.0:
        return Cell(fit="as it is", per_seam=0.0)
    per_seam = (level.piece - level.body / (1.0 + strain)) / (2.0 * SIDE_SEAMS / level.limbs)
    if strain > USED_AT_MOST * read or per_seam < -MOST_LET_OUT:
        return Cell(fit="too firm", per_seam=per_seam)
    if per_seam > MOST_TAKEN_IN:
        return Cell(fit="too soft", per_seam=per_seam)
    if abs(per_seam) < LEAST_PER_SEAM:
        return Cell(fit="as it is", per_seam=per_seam)
    return Cell(fit="take in" if per_seam > 0.0 else "let out", per_seam=per_seam)
