"""Two cloths side by side: the girth at which the new one does at a level what the old one did.

Body girth G, piece girth P: strain ε = G/P − 1. A piece drafted in cloth 1 at ε₁ has the tension T₁(ε₁); cloth 2 pulls
as hard at ε₂ with T₂(ε₂) = T₁(ε₁), so its girth is P₂ = G/(1 + ε₂). Two cloths that stretch alike but differ in
firmness give different girths: to foresee that is what all this is for.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from crossgrain.errors import ParameterError
from crossgrain.fabric.cloth import Cloth, Direction
from crossgrain.fabric.estimate import Estimate
from crossgrain.fabric.pressure import ACCEPTED, caution, pressure, tension_for
from crossgrain.language import _

Match = Literal["tension", "pressure", "strain"]
Verdict = Literal["fits as it is", "take in", "let out", "not suitable", "cannot be told"]
MATCHES: Final[tuple[Match, ...]] = ("tension", "pressure", "strain")

USED_AT_MOST: Final = 0.8
"""More of a cloth's stretch than this is not used: the rest is for sitting and climbing (common practice)."""

GROWTH_AT_MOST: Final = 0.05
"""Cloth that stays longer than this after a test bags at the knee (common practice)."""

LEAST_PER_SEAM: Final = 0.5
"""Less than this on each layer of a seam, mm, no one sews on purpose."""

SIDE_SEAMS: Final = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """One level of a garment on a body.

    Args:
        name: of the level.
        body: girth of the body, or of one leg, mm.
        piece: girth of the pieces sewn together there, round the same, mm.
        limbs: 2 where that is one of two legs.
        is_stable: whether what is sewn on there does not stretch, so that the cloth cannot either.
    """

    name: str
    body: float
    piece: float
    limbs: int = 1
    is_stable: bool = False

    def __post_init__(self) -> None:
        for value in (self.body, self.piece):
            if not (math.isfinite(value) and value > 0.0):
                raise ParameterError(_("A girth at the {name} is not above zero.").format(name=self.name))

    @property
    def strain(self) -> float:
        """How far the cloth is stretched there, a ratio; below 0 where the piece is larger than the body."""
        return self.body / self.piece - 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Worn:
    """A cloth in wear at one level.

    Args:
        girth: of the pieces, mm.
        strain: a ratio; 0 where they hang loose.
        tension: N/cm.
        pressure: kPa.
        used: the share of the cloth's stretch that the strain uses.
    """

    girth: float
    strain: float
    tension: Estimate
    pressure: Estimate
    used: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What the comparison says of one level.

    Args:
        level: the level.
        drafted: the cloth it was drafted for, at the piece's girth.
        as_it_stands: the new cloth at the same girth.
        matched: the new cloth at the girth found, or in the middle of its range.
        girth: the girth found, mm.
        change: in girth, mm; below 0 is narrower.
        per_seam: how far inside the old line each side seam is stitched, mm; below 0 is let out.
        verdict: in words a maker uses.
        reasons: why.
    """

    level: Level
    drafted: Worn
    as_it_stands: Worn
    matched: Worn
    girth: Estimate
    change: Estimate
    per_seam: Estimate
    verdict: Verdict
    reasons: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Matching:
    """What is to be the same in the new cloth.

    Args:
        match: ``tension``, ``strain`` or ``pressure``. Round one body the same tension is the same pressure, so a match
            of pressure matters with ``target``.
        target: a pressure asked for at every level that is close to the body, kPa, above 0; with ``pressure`` only.
    """

    match: Match = "tension"
    target: float | None = None

    def __post_init__(self) -> None:
        if self.match not in MATCHES:
            raise ParameterError(
                _("{match} is nothing that cloths are matched by.").format(match=self.match),
                advice=_("Match tension, pressure or strain."),
            )
        if self.target is not None and (self.match != "pressure" or not self.target > 0.0):
            raise ParameterError(
                _("A target is a pressure above zero, and goes with matching pressure."),
                advice=_("Say --match pressure --pressure 1.0kPa."),
            )


def compare(
    drafted_for: Cloth, new: Cloth, levels: Sequence[Level], matching: Matching | None = None
) -> tuple[Row, ...]:
    """Find at each level the girth at which the new cloth does what the old one did.

    Where the pieces hang loose, or what is sewn on does not stretch, the girth stays as it is.

    Args:
        drafted_for: the cloth the pattern was drafted for.
        new: the cloth it is to be cut from.
        levels: the levels.
        matching: what is to be the same; the tension where not said.

    Returns:
        A row for each level. Where the firmness of either cloth is unknown, girths are ranges.

    >>> from crossgrain.fabric.bench import Reading, Strip
    >>> def cloth(name, *mm):
    ...     readings = tuple(Reading(load=n, length=100.0 + x) for n, x in zip((5.0, 15.0), mm, strict=True))
    ...     return Cloth(name=name, cross=Direction(test=Strip(width=50.0, gauge=100.0, readings=readings)))
    >>> hip = Level(name="hip", body=1050.0, piece=1000.0)
    >>> [row] = compare(cloth("firm", 5.0, 15.0), cloth("soft", 10.0, 30.0), [hip])
    >>> row.verdict, round(row.girth.value, 1)
    ('take in', 954.5)
    """
    return tuple(_row(drafted_for, new, level, matching or Matching()) for level in levels)


def worn(direction: Direction, body: float, strain: float, *, is_stable: bool = False) -> Worn:
    """Return how a cloth is worn round a body at a strain; it hangs loose at a strain below 0.

    Args:
        direction: the cloth across the grain.
        body: girth, mm.
        strain: a ratio, above -1.
        is_stable: whether what is sewn on keeps it from stretching.
    """
    stretched = 0.0 if is_stable else max(strain, 0.0)
    tension = direction.tension(stretched)
    return Worn(
        girth=body / (1.0 + strain),
        strain=stretched,
        tension=tension,
        pressure=tension.mapped(lambda t: pressure(t, body)),
        used=stretched / direction.stretch,
    )


def _row(old: Cloth, new: Cloth, level: Level, matching: Matching) -> Row:
    strain = _wanted(old.cross, new.cross, level, matching)
    girth = strain.mapped(lambda e: level.body / (1.0 + e))
    change = girth.mapped(lambda p: p - level.piece)
    seams = SIDE_SEAMS / level.limbs
    per_seam = change.mapped(lambda c: 0.0 - c / (2.0 * seams))
    drafted = worn(old.cross, level.body, level.strain, is_stable=level.is_stable)
    matched = worn(new.cross, level.body, strain.middle, is_stable=level.is_stable)
    verdict, reasons = _verdict(old, new, level, drafted, matched, per_seam)
    return Row(
        level=level,
        drafted=drafted,
        as_it_stands=worn(new.cross, level.body, level.strain, is_stable=level.is_stable),
        matched=matched,
        girth=girth,
        change=change,
        per_seam=per_seam,
        verdict=verdict,
        reasons=reasons,
    )


def _wanted(old: Direction, new: Direction, level: Level, matching: Matching) -> Estimate:
    """Return the strain of the new cloth that is looked for."""
    if level.strain <= 0.0 or level.is_stable or matching.match == "strain":
        return Estimate(value=level.strain, low=level.strain, high=level.strain, is_beyond=level.strain > new.stretch)
    if matching.target is not None:
        return new.strain(tension_for(matching.target, level.body))
    return new.matching(old, level.strain)


def _verdict(
    old: Cloth, new: Cloth, level: Level, drafted: Worn, matched: Worn, per_seam: Estimate
) -> tuple[Verdict, tuple[str, ...]]:
    if level.is_stable:
        if level.strain <= 0.0:
            return "fits as it is", (_("What is sewn on there does not stretch."),)
        short = level.body - level.piece
        reason = _("What is sewn on there does not stretch, and is {short:.0f} mm smaller than the body.")
        return "not suitable", (reason.format(short=short),)
    if level.strain <= 0.0 and matched.strain <= 0.0:
        return "fits as it is", (_("It hangs loose there."),)
    reasons = [*_unsuitable(new, level, matched)]
    if reasons:
        return "not suitable", tuple(reasons)
    if drafted.tension.is_beyond:
        reasons.append(
            _("{cloth} was not tested so far: its tension there is a guess beyond its largest load.").format(
                cloth=old.name
            )
        )
    if per_seam.low != per_seam.high:
        reasons += [unknown_firmness(cloth) for cloth in (old, new) if cloth.cross.curve is None]
    if per_seam.value is None and per_seam.low < 0.0 < per_seam.high:
        return "cannot be told", tuple(reasons)
    if abs(per_seam.middle) < LEAST_PER_SEAM:
        return "fits as it is", tuple(reasons)
    return ("take in" if per_seam.middle > 0.0 else "let out"), tuple(reasons)


def _unsuitable(new: Cloth, level: Level, matched: Worn) -> list[str]:
    reasons = []
    stretch, strain = new.cross.stretch * 100.0, matched.strain * 100.0
    if matched.used > 1.0:
        reasons.append(
            _(
                "It would be stretched by {strain:.1f} %, past the {stretch:.1f} % it was tested to and towards its "
                "lock: what lies there is a guess."
            ).format(strain=strain, stretch=stretch)
        )
    elif matched.used > USED_AT_MOST:
        reasons.append(
            _("It would use {used:.0f} % of its stretch; 80 % at most leaves enough to sit and climb.").format(
                used=matched.used * 100.0
            )
        )
    if new.cross.growth is not None and new.cross.growth > GROWTH_AT_MOST:
        reasons.append(
            _("It stays {growth:.1f} % longer after the test; more than 5 % bags.").format(
                growth=new.cross.growth * 100.0
            )
        )
    if matched.pressure.worst > ACCEPTED:
        reasons.append(caution(matched.pressure.worst, level.name))
    return reasons


def unknown_firmness(cloth: Cloth) -> str:
    """Say that a cloth's firmness is unknown, and which test settles it."""
    return _(
        "The firmness of {cloth} is unknown, so this is a range. A test settles it: hang 0.5 kg and then 1.5 kg "
        "(bottles of water) on a strip 5 cm wide with marks 10 cm apart, and read both lengths."
    ).format(cloth=cloth.name)


def verdict_words(verdict: Verdict) -> str:
    """Return a verdict in the reader's language.

    >>> verdict_words("take in")
    'take in'
    """
    return {
        "fits as it is": _("fits as it is"),
        "take in": _("take in"),
        "let out": _("let out"),
        "not suitable": _("not suitable"),
        "cannot be told": _("cannot be told"),
    }[verdict]
