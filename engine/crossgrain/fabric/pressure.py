"""How hard cloth under tension presses on a body: an estimate, with bands and cautions.

The law of Laplace for a thin shell round a section that is round: p = T/r = 2πT/G. Bodies are not round, cloth rubs,
and published sensors read up to some 40 % away from the law.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from crossgrain.errors import ParameterError
from crossgrain.language import _

SPREAD: Final = 0.4
"""By so much of itself a pressure may be off, besides what the curve leaves open."""

DAILY: Final = 1.3
"""kPa. More than this is not for daily wear over the thigh or the waist."""
VISIBLE: Final = 2.0
"""kPa. More than this anywhere calls for a caution."""
ACCEPTED: Final = 3.3
"""kPa. More than this is critical even in shapewear and medical garments; it must be accepted in so many words."""

TENDER: Final = ("thigh", "waist")
"""Levels at which nerves and vessels lie near the surface."""

BANDS_SOURCE: Final = "Anthropometry, Apparel Sizing and Design, table 13.5"
"""Where the comfort bands are published."""
HARM_SOURCE: Final = "JAMA 1984;251:1553"
"""A report of a nerve compressed at the thigh by tight trousers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A band of pressure, kPa, from ``low`` up to ``high``."""

    low: float
    high: float
    words: str


BANDS: Final = (
    Band(low=0.0, high=0.4, words=_("negligible")),
    Band(low=0.4, high=DAILY, words=_("comfortable in daily wear")),
    Band(low=DAILY, high=VISIBLE, words=_("critical, for casual wear only")),
    Band(low=VISIBLE, high=ACCEPTED, words=_("as in shapewear and medical garments")),
    Band(low=ACCEPTED, high=math.inf, words=_("critical even in shapewear and medical garments")),
)

ESTIMATE: Final = _(
    "Tension and pressure are estimates by a simple law, not measurements; published sensors read up to about 40 % "
    "away. This is no substitute for a fitted medical garment, which is for licensed practice. Stop wearing what "
    "causes numbness, marks or pain."
)
"""What must stand wherever a tension or a pressure is shown."""


def pressure(tension: float, girth: float) -> float:
    """Return the pressure of cloth under tension round a body: p = 2πT/G.

    Args:
        tension: N/cm.
        girth: of the body, mm, above 0.

    Returns:
        kPa, by the law of Laplace for a round section.

    >>> round(pressure(1.0, 1000.0), 3)
    0.628
    """
    return 2.0 * math.pi * tension * 100.0 / girth


def tension_for(pressure_kpa: float, girth: float) -> float:
    """Return the tension that gives a pressure: the inverse of :func:`pressure`, N/cm.

    >>> round(tension_for(0.62831853, 1000.0), 6)
    1.0
    """
    return pressure_kpa * girth / (2.0 * math.pi * 100.0)


def band_of(pressure_kpa: float) -> Band:
    """Return the band in which a pressure lies."""
    return next(band for band in BANDS if pressure_kpa < band.high or band.high == math.inf)


def caution(pressure_kpa: float, level: str) -> str:
    """Return the caution that a pressure at a level calls for, or nothing.

    >>> caution(1.2, "thigh"), caution(1.5, "hip")
    ('', '')
    """
    if pressure_kpa > ACCEPTED:
        return _(
            "About {pressure:.1f} kPa at the {level}: more than 3.3 kPa is critical even in shapewear and medical "
            "garments ({source})."
        ).format(pressure=pressure_kpa, level=level, source=BANDS_SOURCE)
    if pressure_kpa > VISIBLE:
        return _(
            "About {pressure:.1f} kPa at the {level}: more than 2.0 kPa is for shapewear and medical garments only "
            "({source})."
        ).format(pressure=pressure_kpa, level=level, source=BANDS_SOURCE)
    if pressure_kpa > DAILY and level in TENDER:
        return _(
            "About {pressure:.1f} kPa at the {level}: more than 1.3 kPa is too much there for daily wear ({bands}); "
            "tight trousers have compressed nerves at the thigh ({harm})."
        ).format(pressure=pressure_kpa, level=level, bands=BANDS_SOURCE, harm=HARM_SOURCE)
    return ""


def check_accepted(pressures: dict[str, float], *, is_accepted: bool) -> None:
    """Refuse pressures that nobody has accepted.

    Args:
        pressures: kPa by level.
        is_accepted: whether the maker has said so in so many words.

    Raises:
        ParameterError: a pressure above 3.3 kPa.
    """
    worst = max(pressures, key=lambda level: pressures[level], default=None)
    if worst is not None and pressures[worst] > ACCEPTED and not is_accepted:
        raise ParameterError(
            caution(pressures[worst], worst),
            advice=_("Choose a softer cloth or reduce by less; if you answer for it, give --accept-pressure."),
        )
