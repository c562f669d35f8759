"""The body the trousers are drafted for, the ease, and the levels: every figure with where it comes from.

Lengths in mm. *Published* is read in the source named, *derived* is arithmetic on published values, *common
practice* is what drafters do, with no source, and *style* is our own choice for these trousers.
"""

from __future__ import annotations

from dataclasses import dataclass

INCH = 25.4


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """The girths and heights the draft starts from."""

    waist: float
    hip: float
    thigh: float
    knee: float
    crotch_height: float


def hip_from_waist(waist: float) -> float:
    """Estimate the hip girth of a woman from her natural waist.

    Derived: least squares over the 260 women of the open data set ``bdims`` (openintro; Heinz, Peterson, Johnson
    and Kerk 2003), hip = 438.0 + 0.7428 waist, correlation 0.81, spread 41 mm. Its waist is the narrowest part
    of the torso, as on a size table. The soldiers of ANSUR II give 40 mm less (0.609 waist + 496.5), because
    their waist is taken at the navel; so they are not used for this one.
    """
    return 438.0 + 0.7428 * waist


def thigh_from_hip(hip: float) -> float:
    """Estimate the thigh girth from the hip: ANSUR II, 1986 women, 0.691 hip − 89.4 (derived)."""
    return 0.691 * hip - 89.4


def knee_from_hip(hip: float) -> float:
    """Estimate the knee girth from the hip: ``bdims`` as above, 81.8 + 0.2831 hip, spread 17 mm (derived)."""
    return 81.8 + 0.2831 * hip


WAIST = 29.0 * INCH
"""Published: ASTM D5585-11e1, misses, size 10, waist girth, curvy: 29 in."""

BODY = Body(
    waist=WAIST,
    hip=round(hip_from_waist(WAIST), 1),
    thigh=round(thigh_from_hip(hip_from_waist(WAIST)), 1),
    knee=round(knee_from_hip(hip_from_waist(WAIST)), 1),
    # Published: ANSUR II, 1986 women, mean crotch height.
    crotch_height=782.3,
)

WAIST_EASE = 10.0
"""Common practice: a stabilised band that does not stretch leaves a finger's room to breathe and sit."""

HIP_EASE = -20.0
"""Style: the cloth is stretched by 2 % over the hip, which moderately stretchy trouser cloth gives easily."""

KNEE_EASE = 40.0
"""Style: slim, yet a knee that bends and climbs on to a stage."""

HEM_GIRTH = 336.0
"""Style: slim, wide enough for a heel; common practice puts slim hems between 320 and 360 mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Levels:
    """Depths below the waist seam at which the girths are taken."""

    hip: float
    crotch: float
    knee: float
    hem: float


def levels(body: Body) -> Levels:
    """Set the levels of close-fitting trousers.

    Common practice: the hip 200 mm (8 in) below the waist, the crotch a quarter of the hip and 25 mm below it, the
    knee 50 mm above the middle of the inside leg. The hem hangs 20 mm clear of the floor (style).
    """
    crotch = round(body.hip / 4.0 + 25.0)
    inside_leg = round(body.crotch_height - 20.0)
    return Levels(hip=200.0, crotch=crotch, knee=crotch + inside_leg / 2.0 - 50.0, hem=crotch + inside_leg)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """What the two legs are drafted to: widths of a half front and a half back, stitch line to stitch line."""

    front_waist: float
    back_waist: float
    front_hip: float
    back_hip: float
    front_knee: float
    back_knee: float
    front_hem: float
    back_hem: float
    front_fork: float
    back_fork: float


def measures(body: Body) -> Measures:
    """Share the girths between front and back.

    Common practice: a quarter each, the back hip 10 mm more and the front 10 mm less, the waist 9 mm the other way
    so that the side seam hangs straight; at knee and hem the back 20 mm wider on each quarter. The fork, from the
    centre to the crotch point, is a twentieth of the hip in front less 3 mm, a tenth less 10 mm behind, as slim
    trousers have it.
    """
    waist = (body.waist + WAIST_EASE) / 4.0
    hip = (body.hip + HIP_EASE) / 4.0
    knee = (body.knee + KNEE_EASE) / 2.0
    hem = HEM_GIRTH / 2.0
    return Measures(
        front_waist=waist + 9.0,
        back_waist=waist - 9.0,
        front_hip=hip - 10.0,
        back_hip=hip + 10.0,
        front_knee=knee - 20.0,
        back_knee=knee + 20.0,
        front_hem=hem - 20.0,
        back_hem=hem + 20.0,
        front_fork=round(body.hip / 20.0) - 3.0,
        back_fork=round(body.hip / 10.0) - 10.0,
    )
