"""The map by which a set of points was moved, though some of them were moved on their own as well."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations, islice
from typing import Final

import numpy as np

from crossgrain.kernel.affine import Affine, Point
from crossgrain.tolerances import UNMOVED_CORNER

_MOST_TRIALS: Final = 400
"""Triples tried at most: all of them up to 14 points, more than any piece has corners."""


def carried(before: Sequence[Point], now: Sequence[Point]) -> Affine | None:
    """Find the map that carried most points from where they were to where they are.

    Moves, turns, mirrors and even scalings are tried on every pair of points, then any affine map on every triple; the
    one that most other points agree with is taken. Every point that agrees beyond those it was made from is evidence.

    Args:
        before: where the points were, mm.
        now: where they are, mm, in the same order.

    Returns:
        The map, or None where no map has a point beside those it was made from that agrees with it, or more points
        disagree than agree.

    >>> moved = carried([(0, 0), (50, 0), (50, 80), (0, 90)], [(10, 0), (60, 0), (60, 80), (25, 99)])
    >>> moved.of((1.0, 1.0))
    (11.0, 1.0)
    """
    best: Affine | None = None
    best_score = 0.0
    for made_from, affine in _trials(before, now):
        agreeing = sum(math.dist(affine.of(old), new) <= UNMOVED_CORNER for old, new in zip(before, now, strict=True))
        # Of two maps in agreement with as many points that is the likelier which needed fewer.
        score = agreeing + 1.0 / made_from
        if agreeing > made_from and 2 * agreeing > len(before) and score > best_score:
            best, best_score = affine, score
    return best


def _trials(before: Sequence[Point], now: Sequence[Point]) -> Iterator[tuple[int, Affine]]:
    numbers = range(len(before))
    for i, j in islice(combinations(numbers, 2), _MOST_TRIALS):
        for mirrored in (False, True):
            even = _even(before[i], before[j], now[i], now[j], mirrored)
            if even is not None:
                yield 2, even
    for triple in islice(combinations(numbers, 3), _MOST_TRIALS):
        free = _free([before[i] for i in triple], [now[i] for i in triple])
        if free is not None:
            yield 3, free


def _even(p: Point, q: Point, to_p: Point, to_q: Point, mirrored: bool) -> Affine | None:
    """Return the turn and even scaling, mirrored or not, that takes two points to two others."""
    old, new = complex(q[0] - p[0], q[1] - p[1]), complex(to_q[0] - to_p[0], to_q[1] - to_p[1])
    if abs(old) <= UNMOVED_CORNER or abs(new) <= UNMOVED_CORNER:
        return None
    factor = new / (old.conjugate() if mirrored else old)
    sign = -1.0 if mirrored else 1.0
    a, b, c, d = factor.real, factor.imag, -sign * factor.imag, sign * factor.real
    return Affine(a, b, c, d, to_p[0] - a * p[0] - c * p[1], to_p[1] - b * p[0] - d * p[1])


def _free(before: Sequence[Point], now: Sequence[Point]) -> Affine | None:
    """Return the affine map that takes three points to three others; None where they lie nearly on one line."""
    matrix = np.array([[x, y, 1.0] for x, y in before])
    sides = [math.dist(before[i], before[i - 1]) for i in range(3)]
    if abs(np.linalg.det(matrix)) <= 0.05 * max(sides) ** 2:
        return None
    (a, b), (c, d), (e, f) = np.linalg.solve(matrix, np.array(now, dtype=float)).tolist()
    return Affine(a, b, c, d, e, f)
