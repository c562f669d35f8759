"""Families of random cubics, drawn by a seeded generator: for tests by the hundred and benchmarks by the thousand."""

import math
import random

from crossgrain.kernel.segment import Cubic

DISTANCES = (2.0, 6.0, 10.0, 15.0, 30.0, 80.0)
"""Allowances from a narrow seam to beyond most radii of curvature, mm; drawn with either sign."""


def _placed(rng, controls):
    """Turn and move control points to anywhere."""
    turn = rng.uniform(-math.pi, math.pi)
    cos, sin = math.cos(turn), math.sin(turn)
    x, y = rng.uniform(-300.0, 300.0), rng.uniform(-300.0, 300.0)
    return Cubic(*((cos * a - sin * b + x, sin * a + cos * b + y) for a, b in controls))


def _point(rng):
    return (rng.uniform(0.0, 300.0), rng.uniform(0.0, 300.0))


def uniform(rng):
    """Draw four control points evenly from a square of 300 mm."""
    return Cubic(_point(rng), _point(rng), _point(rng), _point(rng))


def _between_directions(rng, chord, leaving, arriving, handles):
    h, k = rng.uniform(*handles) * chord, rng.uniform(*handles) * chord
    return _placed(
        rng,
        [
            (0.0, 0.0),
            (h * math.cos(leaving), h * math.sin(leaving)),
            (chord - k * math.cos(arriving), -k * math.sin(arriving)),
            (chord, 0.0),
        ],
    )


def gentle(rng):
    """Draw an edge of a pattern: 50 to 600 mm long, within some 15° of its chord, handles of about a third."""
    return _between_directions(
        rng, rng.uniform(50.0, 600.0), rng.uniform(-0.25, 0.25), rng.uniform(-0.25, 0.25), (0.25, 0.42)
    )


def s_curve(rng):
    """Draw a curve with an inflection, leaving and arriving 20 to 80° off its chord on opposite sides."""
    leaving = rng.uniform(0.3, 1.4) * rng.choice([-1.0, 1.0])
    return _between_directions(rng, rng.uniform(30.0, 300.0), leaving, leaving * rng.uniform(0.5, 1.2), (0.3, 0.9))


def _crossed(rng, low, high):
    chord = rng.uniform(30.0, 300.0)
    rise, reach = rng.uniform(0.2, 1.0) * chord, rng.uniform(low, high)
    return _placed(rng, [(0.0, 0.0), (reach * chord, rise), ((1.0 - reach) * chord, rise), (chord, 0.0)])


def loop(rng):
    """Draw a cubic that crosses itself: its handles reach past each other."""
    return _crossed(rng, 1.05, 3.0)


def near_cusp(rng):
    """Draw a cubic that all but stops and turns back."""
    off = rng.choice([0.01, 0.00001])
    return _crossed(rng, 1.0 - off, 1.0 + off)


def handle_drawn_in(rng):
    """Draw a cubic with one control point on its end, where it stands still."""
    p, q, r = _point(rng), _point(rng), _point(rng)
    return Cubic(p, p, q, r) if rng.random() < 0.5 else Cubic(p, q, r, r)


def arc(rng):
    """Draw a circular arc of 10 to 100°, radius 5 to 200 mm, as one cubic."""
    radius, angle = rng.uniform(5.0, 200.0), rng.uniform(0.2, 1.7)
    k = 4.0 / 3.0 * math.tan(angle / 4.0) * radius
    cos, sin = math.cos(angle), math.sin(angle)
    return _placed(
        rng,
        [(radius, 0.0), (radius, k), (radius * cos + k * sin, radius * sin - k * cos), (radius * cos, radius * sin)],
    )


FAMILIES = {
    "uniform": uniform,
    "gentle": gentle,
    "s-curve": s_curve,
    "loop": loop,
    "near cusp": near_cusp,
    "handle drawn in": handle_drawn_in,
    "arc": arc,
}


def drawn(family, count, seed):
    """Return cubics of a family, each with a distance from ``DISTANCES`` of either sign."""
    rng = random.Random(seed)
    return [(FAMILIES[family](rng), rng.choice([-1.0, 1.0]) * rng.choice(DISTANCES)) for _ in range(count)]
