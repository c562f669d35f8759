"""Two ways of doing one thing, in turns within one run.

A busy or a cold machine makes everything slower, but both ways alike: so what counts is the ratio within each pair of
turns. Its median is told, with the quartiles as its spread.
"""

from __future__ import annotations

import gc
import statistics
import time
from collections.abc import Callable, Sequence
from typing import NamedTuple

TURNS = 15
LEAST_TIME = 0.004
"""Seconds that one turn must last, so that the clock's grain and a call's chance do not matter."""

Job = Callable[[], object]


class Row(NamedTuple):
    """One line of the table.

    Args:
        what: what was compared.
        ratio: ours to theirs.
        low: the lower quartile of the ratio; the ratio itself where it is a count.
        high: the upper quartile.
        target: the greatest ratio allowed; None where none was set.
        ours: our figure, with its unit.
        theirs: theirs, with its unit and what it is.
    """

    what: str
    ratio: float
    low: float
    high: float
    target: float | None
    ours: str
    theirs: str


def counted(what: str, ours: float, theirs: float, target: float | None, unit: str, them: str) -> Row:
    """Compare two numbers that do not depend on time."""
    ratio = ours / theirs
    return Row(what, ratio, ratio, ratio, target, f"{ours:.4g} {unit}", f"{theirs:.4g} {unit}, {them}")


def timed(what: str, ours: Job, theirs: Job, target: float | None, them: str, *, share: float = 1.0) -> Row:
    """Compare two jobs in turns.

    Args:
        what: what is compared.
        ours: our job.
        theirs: their job.
        target: the greatest ratio allowed.
        them: what theirs is.
        share: how many of their job's tasks our job does, where theirs would take too long for all.
    """
    ours_in, theirs_in = alternating(ours, theirs)
    return from_times(what, [t / share for t in ours_in], theirs_in, target, them)


def from_times(what: str, ours: Sequence[float], theirs: Sequence[float], target: float | None, them: str) -> Row:
    """Compare turns of the same number, in seconds."""
    ratios = [mine / other for mine, other in zip(ours, theirs, strict=True)]
    low, ratio, high = statistics.quantiles(ratios, n=4)
    mine, other = seconds(statistics.median(ours)), seconds(statistics.median(theirs))
    return Row(what, ratio, low, high, target, mine, f"{other}, {them}")


def alternating(one: Job, other: Job, turns: int = TURNS) -> tuple[list[float], list[float]]:
    """Return the seconds that each of two jobs takes, in turns; each is repeated until a turn lasts long enough."""
    repeats = [_repeats(job) for job in (one, other)]
    taken: tuple[list[float], list[float]] = ([], [])
    enabled = gc.isenabled()
    gc.disable()
    try:
        for turn in range(turns):
            # Every other pair runs the other way round, so that neither always comes second.
            for k in (0, 1) if turn % 2 == 0 else (1, 0):
                taken[k].append(_turn((one, other)[k], repeats[k]))
            gc.collect()
    finally:
        if enabled:
            gc.enable()
    return taken


def seconds(value: float) -> str:
    """Write a time with a unit that suits it."""
    for unit, size in (("s", 1.0), ("ms", 1e-3), ("µs", 1e-6)):
        if value >= size or unit == "µs":
            return f"{value / size:.3g} {unit}"
    raise AssertionError


def _repeats(job: Job) -> int:
    job()
    return max(1, round(LEAST_TIME / max(_turn(job, 1), 1e-9)))


def _turn(job: Job, repeats: int) -> float:
    begin = time.perf_counter()
    for _repeat in range(repeats):
        job()
    return (time.perf_counter() - begin) / repeats
