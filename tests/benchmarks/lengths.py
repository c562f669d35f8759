"""Length and inverse length of cubics beside svgpathtools; errors judged by mpmath at 30 digits."""

from __future__ import annotations

import math
import random

import numpy as np
from side_by_side import Row, alternating, counted, from_times
from svgpathtools import CubicBezier
from svgpathtools.path import inv_arclength

from crossgrain.kernel.length import lengths, parameter_at, parameters_at, segment_length
from crossgrain.kernel.segment import Cubic
from kernel.test_length import KNOWN, length_by_mpmath
from random_cubics import uniform

SVGPATHTOOLS = "svgpathtools"
ERROR = 1e-9
PLAIN, MANY = 30, 2000
TURNS = 7
SHARE = 0.37


def edge_curves(count: int) -> list[Cubic]:
    """Return cubics as the edges of pieces have them: handles a third of the chord long, up to 50° beside it."""
    draw = random.Random(11).uniform
    out = []
    for _ in range(count):
        length, turn0, turn1 = draw(20.0, 400.0), draw(-0.87, 0.87), draw(-0.87, 0.87)
        reach0, reach1 = length * draw(0.2, 0.45), length * draw(0.2, 0.45)
        p1 = (reach0 * math.cos(turn0), reach0 * math.sin(turn0))
        p2 = (length - reach1 * math.cos(turn1), reach1 * math.sin(turn1))
        out.append(Cubic((0.0, 0.0), p1, p2, (length, 0.0)))
    return out


def their(cubic: Cubic) -> CubicBezier:
    """Return the same cubic as theirs; new each time, since theirs remembers its length."""
    return CubicBezier(*(complex(*control) for control in cubic.controls))


def length_rows(what: str, cubics: list[Cubic]) -> list[Row]:
    """Compare lengths, one by one."""
    times = alternating(
        lambda: [segment_length(cubic) for cubic in cubics],
        lambda: [their(cubic).length(error=ERROR) for cubic in cubics],
        TURNS,
    )
    each = [[t / len(cubics) for t in turn] for turn in times]
    truth = [length_by_mpmath(cubic) for cubic in cubics]
    ours = max(abs(segment_length(cubic) - true) for cubic, true in zip(cubics, truth, strict=True))
    theirs = max(abs(their(cubic).length(error=ERROR) - true) for cubic, true in zip(cubics, truth, strict=True))
    return [
        from_times(f"length, {what}", *each, 1.0 / 40.0, SVGPATHTOOLS),
        _error(f"largest error of it, {what}", ours, theirs),
    ]


def inverse_rows(what: str, cubics: list[Cubic]) -> list[Row]:
    """Compare the parameters found at a share of the length, one by one; theirs knows the length beforehand."""
    asked = [SHARE * segment_length(cubic) for cubic in cubics]
    copies = [their(cubic) for cubic in cubics]

    def ours() -> list[float]:
        return list(map(parameter_at, cubics, asked))

    def theirs() -> list[float]:
        return [inv_arclength(c, s, s_tol=ERROR, error=ERROR) for c, s in zip(copies, asked, strict=True)]

    times = alternating(ours, theirs, 3)
    each = [[t / len(cubics) for t in turn] for turn in times]

    def error(parameters: list[float]) -> float:
        return max(abs(length_by_mpmath(cubic, t) - s) for cubic, t, s in zip(cubics, parameters, asked, strict=True))

    return [
        from_times(f"inverse length, {what}", *each, 1.0 / 500.0, SVGPATHTOOLS),
        _error(f"largest error of it, {what}", error(ours()), error(theirs())),
    ]


def batch_rows() -> list[Row]:
    """Compare many cubics at once with theirs one by one, of which the first few stand for all."""
    cubics = edge_curves(MANY)
    few = cubics[:PLAIN]
    controls = np.array([cubic.controls for cubic in cubics])
    asked = SHARE * lengths(controls)
    copies = [their(cubic) for cubic in few]
    at_once = alternating(lambda: lengths(controls), lambda: [their(cubic).length(error=ERROR) for cubic in few], TURNS)
    inverse = alternating(
        lambda: parameters_at(controls, asked),
        lambda: [inv_arclength(c, s, s_tol=ERROR, error=ERROR) for c, s in zip(copies, asked, strict=False)],
        3,
    )
    out = []
    for what, (ours, theirs), target in (
        ("length", at_once, 1.0 / 40.0),
        ("inverse length", inverse, 1.0 / 500.0),
    ):
        out.append(
            from_times(
                f"{what}, {MANY} edge curves at once", [t / MANY for t in ours], [t / PLAIN for t in theirs], target,
                SVGPATHTOOLS,
            )
        )  # fmt: skip
    return out


def _error(what: str, ours: float, theirs: float) -> Row:
    row = counted(what, ours, ERROR, 1.0, "mm", "what is allowed")
    return row._replace(theirs=f"{theirs:.1e} mm, {SVGPATHTOOLS}; the ratio is to 1e-9 mm", ours=f"{ours:.1e} mm")


def all_rows() -> list[Row]:
    """Measure everything about lengths."""
    rng = random.Random(7)
    plain = [uniform(rng) for _ in range(PLAIN)]
    nasty = [cubic for name, cubic in KNOWN.items() if name != "plain"]
    return [
        *length_rows("uniform cubics", plain),
        *length_rows("cusps, loops, fold-backs", nasty),
        *inverse_rows("uniform cubics", plain),
        *inverse_rows("cusps, loops, fold-backs", nasty),
        *batch_rows(),
    ]
