"""Cloths for the tests: generated strips, and curves of published shapes to hold the engine's against.

A family is given by one number *r*, the tension at half of the largest strain as a share of the largest tension: 0.5 is
a straight line, less is stiffer towards the end. Each returns the share of the strain for a share of the tension. The
engine knows none of them; :data:`HELD_BACK` were not looked at until its way of drawing was settled.
"""

from __future__ import annotations

import math

from hypothesis import strategies as st

from crossgrain.fabric.bench import Reading, Strip
from crossgrain.fabric.cloth import Cloth, Direction


def _solved(tension):
    """Invert a law of rising tension on strains 0 to 1 by halving."""

    def strain(share):
        low, high = 0.0, 1.0
        for _ in range(60):
            middle = (low + high) / 2.0
            low, high = (middle, high) if tension(middle) < share else (low, middle)
        return (low + high) / 2.0

    return strain


def _shaped(tension, r, low, high):
    """Find the parameter of a law for which the tension at half strain is r; the law stiffens as it rises."""
    for _ in range(60):
        middle = (low + high) / 2.0
        low, high = (middle, high) if tension(0.5, middle) / tension(1.0, middle) > r else (low, middle)
    return _solved(lambda e, k=(low + high) / 2.0: tension(e, k) / tension(1.0, k))


def power_law(r):
    """T ~ ε^n."""
    n = -math.log2(r)
    return lambda t: t ** (1.0 / n)


def exponential(r):
    """T ~ e^(bε) − 1: Fung's law for soft tissue, much used for knits."""
    b = 2.0 * math.log(1.0 / r - 1.0)
    return lambda t: math.log1p(t * math.expm1(b)) / b


def locking(r):
    """T ~ ε/(1 − ε/L): hyperbolic, without end at the lock L."""
    q = (1.0 - 2.0 * r) / (1.0 - r)
    return lambda t: t / ((1.0 - q) + t * q)


def hard_locking(r):
    """T ~ ε/(1 − ε/L)²."""
    return _shaped(lambda e, q: e / (1.0 - q * e) ** 2, r, 0.0, 1.0 - 1e-9)


def tangent(r):
    return _shaped(lambda e, k: math.tan(k * e), r, 1e-6, math.pi / 2.0 - 1e-9)


def cubic(r):
    """T ~ aε + bε³; cannot be stiffer than r = 1/8."""
    return _shaped(lambda e, k: (1.0 - k) * e + k * e**3, max(r, 0.13), 0.0, 1.0)


def exponential_times(r):
    """T ~ ε e^(bε)."""
    b = 2.0 * math.log(0.5 / r)
    return _solved(lambda e: e * math.exp(b * (e - 1.0)))


def chain(r):
    """T ~ the inverse Langevin function, by Cohen's approximation (1991): a chain that can only be so long."""
    return _shaped(lambda e, k: k * e * (3.0 - (k * e) ** 2) / (1.0 - (k * e) ** 2), r, 1e-6, 1.0 - 1e-12)


LOOKED_AT = (tangent, cubic, exponential_times, chain)
"""Families that were looked at while the way of drawing was chosen."""
HELD_BACK = (power_law, exponential, locking, hard_locking)
"""Families on which it is judged."""
SHAPES = (0.1, 0.48)
"""From cloth that pulls a tenth as hard at half its stretch to cloth that is nearly straight."""
STRETCHES = (0.08, 0.40)
"""Strains under the largest load."""
THREE_LOADS = (0.2, 0.5, 1.0)


def strip(strains, tensions, *, width=50.0, gauge=100.0, **facts):
    """Make a strip with these strains, as ratios, read under these tensions in N/cm."""
    readings = tuple(
        Reading(load=t * width / 10.0, length=gauge * (1.0 + e)) for e, t in zip(strains, tensions, strict=True)
    )
    return Strip(width=width, gauge=gauge, readings=readings, **facts)


def cloth(strains, tensions, *, name="cloth", **facts):
    return Cloth(name=name, cross=Direction(test=strip(strains, tensions, **facts)))


def straight(firmness, at=0.2, name="straight"):
    """Make a cloth that pulls in proportion: ``firmness`` N/cm at the strain ``at``."""
    return cloth((at / 2.0, at, 2.0 * at), (firmness / 2.0, firmness, 2.0 * firmness), name=name)


@st.composite
def points(draw, least=2, most=7):
    """Draw tensions and strains of a valid test: both rise from reading to reading, as unevenly as they like."""
    count = draw(st.integers(least, most))
    t, e, out = 0.0, 0.0, []
    for _ in range(count):
        t += draw(st.floats(0.05, 3.0))
        e += draw(st.floats(0.01, 0.08))
        out.append((t, e))
    return tuple(out)


@st.composite
def stiffening_points(draw, least=2, most=6):
    """Draw tests of cloth that stiffens: each step of strain needs more tension than the one before."""
    count = draw(st.integers(least, most))
    t, e, slope, out = 0.0, 0.0, draw(st.floats(2.0, 20.0)), []
    for _ in range(count):
        step = draw(st.floats(0.01, 0.06))
        t, e = t + slope * step, e + step
        out.append((t, e))
        slope *= draw(st.floats(1.05, 3.0))
    return tuple(out)
