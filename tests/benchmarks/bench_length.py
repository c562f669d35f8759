"""Length and inverse length of cubics, side by side with svgpathtools.

Run as ``python tests/benchmarks/bench_length.py``. The two measure the same curves in turns within one run, and of
each the quickest turn counts. Both are asked for 1e-9 mm; what they reach is judged by mpmath at 30 digits.
"""

from __future__ import annotations

import math
import pathlib
import random
import sys
import time
from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from svgpathtools import CubicBezier
from svgpathtools.path import inv_arclength

sys.path.insert(0, str(pathlib.Path(__file__).parents[1]))

from crossgrain.kernel.length import lengths, parameter_at, parameters_at, segment_length
from crossgrain.kernel.segment import Cubic
from kernel.test_length import KNOWN, length_by_mpmath

ERROR = 1e-9
PLAIN, MANY, TURNS, BATCH_TURNS = 30, 2000, 5, 15


class Row(NamedTuple):
    """One line of the table: seconds per curve, and the greatest error of each, mm."""

    what: str
    ours: float
    theirs: float
    our_error: float
    their_error: float


def curves(count: int) -> list[Cubic]:
    """Return random cubics of a size that pieces of trousers have."""
    draw = random.Random(7).uniform
    return [Cubic(*((draw(0.0, 300.0), draw(0.0, 300.0)) for _ in range(4))) for _ in range(count)]


def their(cubic: Cubic) -> CubicBezier:
    """Return the same cubic as theirs; new each time, since theirs remembers its length."""
    return CubicBezier(*(complex(*control) for control in cubic.controls))


def best(job: Callable[[], object], turns: int = TURNS) -> float:
    """Return the quickest of some turns, in seconds."""
    took = []
    for _ in range(turns):
        begin = time.perf_counter()
        job()
        took.append(time.perf_counter() - begin)
    return min(took)


def length_row(what: str, cubics: list[Cubic]) -> Row:
    """Compare lengths, one by one."""
    copies = iter([[their(cubic) for cubic in cubics] for _ in range(TURNS + 1)])
    ours = best(lambda: [segment_length(cubic) for cubic in cubics]) / len(cubics)
    theirs = best(lambda: [cubic.length(error=ERROR) for cubic in next(copies)]) / len(cubics)
    truth = [length_by_mpmath(cubic) for cubic in cubics]
    found = zip(truth, map(segment_length, cubics), (c.length(error=ERROR) for c in next(copies)), strict=True)
    errors = [(abs(our - true), abs(other - true)) for true, our, other in found]
    return Row(what, ours, theirs, *(max(column) for column in zip(*errors, strict=True)))


def inverse_row(what: str, cubics: list[Cubic], share: float = 0.37) -> Row:
    """Compare the parameters found at a share of the length, one by one; theirs knows the length beforehand."""
    asked = [share * segment_length(cubic) for cubic in cubics]
    copies = [their(cubic) for cubic in cubics]
    ours = best(lambda: list(map(parameter_at, cubics, asked))) / len(cubics)

    def run_theirs() -> list[float]:
        return [inv_arclength(c, s, s_tol=ERROR, error=ERROR) for c, s in zip(copies, asked, strict=True)]

    theirs = best(run_theirs, turns=2) / len(cubics)

    def error(parameters: list[float]) -> float:
        met = zip(cubics, parameters, asked, strict=True)
        return max(abs(length_by_mpmath(cubic, t) - s) for cubic, t, s in met)

    return Row(what, ours, theirs, error(list(map(parameter_at, cubics, asked))), error(run_theirs()))


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


def batch_rows() -> tuple[Row, Row]:
    """Compare many cubics at once with theirs one by one, of which the first few stand for all."""
    cubics = edge_curves(MANY)
    length, inverse = length_row("", cubics[:PLAIN]), inverse_row("", cubics[:PLAIN])
    controls = np.array([cubic.controls for cubic in cubics])
    whole = lengths(controls)
    asked = 0.37 * whole
    off = max(abs(length_by_mpmath(cubic) - found) for cubic, found in zip(cubics[:PLAIN], whole, strict=False))
    parameters = parameters_at(controls, asked).tolist()
    reached = zip(cubics[:PLAIN], parameters, asked, strict=False)
    off_inverse = max(abs(length_by_mpmath(cubic, t) - distance) for cubic, t, distance in reached)
    took = best(lambda: lengths(controls), BATCH_TURNS) / MANY
    took_inverse = best(lambda: parameters_at(controls, asked), BATCH_TURNS) / MANY
    return (
        Row("length, 2000 edge curves at once", took, length.theirs, off, length.their_error),
        Row("inverse length, 2000 at once", took_inverse, inverse.theirs, off_inverse, inverse.their_error),
    )


def rows() -> list[Row]:
    """Measure everything."""
    plain = curves(PLAIN)
    nasty = [cubic for name, cubic in KNOWN.items() if name != "plain"]
    return [
        length_row("length", plain),
        length_row("length, cusps, loops, fold-backs", nasty),
        inverse_row("inverse length", plain),
        inverse_row("inverse length, cusps, loops, fold-backs", nasty),
        *batch_rows(),
    ]


def main() -> None:
    """Print the table."""
    print(f"{'':42}{'ours':>10}{'theirs':>12}{'ratio':>9}{'our error':>13}{'their error':>13}")
    for row in rows():
        print(
            f"{row.what:42}{row.ours * 1e6:8.2f} µs{row.theirs * 1e6:9.0f} µs{row.theirs / row.ours:7.0f} ×"
            f"{row.our_error:10.0e} mm{row.their_error:10.0e} mm"
        )


if __name__ == "__main__":
    main()
