"""Check the girths of the pieces against the body, and the cloth against what that asks of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from crossgrain.checks.checked import Checked
from crossgrain.fabric.cloth import Cloth
from crossgrain.fabric.comparison import Level, Row, compare
from crossgrain.fabric.pressure import caution
from crossgrain.kernel.affine import Point
from crossgrain.language import _
from crossgrain.model.outcome import Finding

_BEARABLE: Final = _(
    "Let it out there, or choose a cloth that gives more easily, and fit it on the person. What a body bears is for "
    "trained people to judge."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedLevel:
    """A level with a place on the drawing where it may be shown.

    Args:
        level: the girths there.
        piece: the label of a piece that reaches it.
        at: a place on that piece, mm.
    """

    level: Level
    piece: str = ""
    at: Point | None = None

    @property
    def ease(self) -> float:
        """How much larger than the body the pieces are there, mm; of one leg, where it is a leg's level."""
        return self.level.piece - self.level.body


def worn_at(levels: Iterable[PlacedLevel], cloth: Cloth) -> tuple[Row, ...]:
    """Return how a cloth is worn at levels, by the same law as :func:`crossgrain.fabric.comparison.compare`."""
    return compare(cloth, cloth, [one.level for one in levels])


def check_ease(levels: Iterable[PlacedLevel], cloth: Cloth | None) -> Checked:
    """Look over girths and ease, level by level.

    Args:
        levels: the levels found on the pattern.
        cloth: the cloth it is to be cut from; None where that is not told.

    Returns:
        A caution for each level that presses with more than the published bands call comfortable, that asks the cloth
        for more than 80 % of its stretch (common practice), or where what does not stretch is smaller than the body.
        Without a cloth, levels smaller than the body are said to be unchecked. Pressures are estimates.
    """
    kept = tuple(levels)
    if cloth is None:
        return _without_cloth(kept)
    findings = []
    for placed, row in zip(kept, worn_at(kept, cloth), strict=True):
        pressed = caution(row.as_it_stands.pressure.worst, placed.level.name)
        reasons = list(row.reasons) if row.verdict == "not suitable" else []
        if pressed and pressed not in reasons:
            reasons.append(pressed)
        if reasons:
            findings.append(_finding(placed, " ".join(reasons)))
    return Checked(findings=tuple(findings))


def _finding(placed: PlacedLevel, reasons: str) -> Finding:
    return Finding(
        piece=placed.piece,
        message=_("Ease {ease:+.0f} mm at the {level}: {reasons}").format(
            ease=placed.ease, level=placed.level.name, reasons=reasons
        ),
        advice=_("Let out the edges there, and with them what is sewn on.") if placed.level.is_stable else _BEARABLE,
        position=placed.at,
        severity="caution",
    )


def _without_cloth(levels: Iterable[PlacedLevel]) -> Checked:
    findings, small = [], []
    for placed in levels:
        if placed.ease >= 0.0:
            continue
        if placed.level.is_stable:
            reason = _("What is sewn on there does not stretch, and is {short:.0f} mm smaller than the body.")
            findings.append(_finding(placed, reason.format(short=-placed.ease)))
        else:
            small.append(
                _("{level} {ease:+.0f} mm ({share:.1f} %)").format(
                    level=placed.level.name, ease=placed.ease, share=placed.level.strain * 100.0
                )
            )
    unchecked = [
        _("Whether a cloth stretches so far, and how hard it presses, is known with --fabric F.toml: {levels}.").format(
            levels="; ".join(small)
        )
    ]
    return Checked(findings=tuple(findings), unchecked=tuple(unchecked if small else ()))
