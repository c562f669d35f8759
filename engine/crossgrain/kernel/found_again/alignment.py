"""Align corners that are remembered with corners that are found, in cyclic order and at least cost."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from crossgrain.tolerances import CORNER_TURN

Floats = NDArray[np.float64]

_SHARE_SLACK = 0.02
_SHARE_SLACK_PER_SHARE = 0.2
_TURN_SLACK_RAD = math.radians(30.0)
"""What a change counts as one unit of cost: an edge longer or shorter by a fiftieth of the outline and a fifth of
itself, a corner opened or closed by 30°. These are what moving one corner by some 50 mm does to a trouser front."""

_MOST_COST = 4.0
"""The most that one edge or one corner adds to the cost, so that a single node dragged far away cannot outweigh all the
corners that stayed."""

_PLAIN: Final = 2.0
"""A corner of so many times the turn that makes one is plain: it does not go unseen where it is only moved a little."""

MISSING_COST: Final = 9.0
"""What it costs to give a corner up: more than two edges and a corner that all changed by twice their slack."""


def align(shares: Floats, turns: Floats, here: Floats, bends: Floats) -> list[tuple[tuple[int | None, ...], float]]:
    """Align remembered corners with found ones in cyclic order, at least cost.

    Dynamic programming over the remembered corners. The first matched pair is tried in every way, because the order is
    cyclic; each way gives one alignment.

    Args:
        shares: places of the remembered corners as shares of the length, in cyclic order, shape (k,).
        turns: their turns, radians, shape (k,).
        here: places of the found corners, rising, shape (m,).
        bends: their turns, shape (m,).

    Returns:
        For each alignment the found corner of each remembered one, or none where it is given up, and the cost.
    """
    known, seen = len(shares), len(here)
    if known == 0 or seen == 0:
        return [((None,) * known, known * MISSING_COST)]
    turning = _robust((bends[None, :] - turns[:, None]) / _TURN_SLACK_RAD)
    # What is hardly a bend now may be a corner that was slight before, but not one that was plain.
    turning[(np.abs(turns)[:, None] >= _PLAIN * CORNER_TURN) & (np.abs(bends)[None, :] < CORNER_TURN)] += MISSING_COST
    gaps = (here[None, :] - here[:, None]) % 1.0
    np.fill_diagonal(gaps, 1.0)
    out: list[tuple[tuple[int | None, ...], float]] = []
    for first in range(known):
        if out and min(cost for _matched, cost in out) <= first * MISSING_COST:
            break  # giving up the corners before this one costs more by itself
        for start in range(seen):
            order = [(first + step) % known for step in range(known - first)]
            turned = (np.arange(seen) + start) % seen
            cost, matched = _align(shares, turning, gaps, order, turned)
            out.append(((None,) * first + matched, cost + first * MISSING_COST))
    return out


def _align(
    shares: Floats, turning: Floats, gaps: Floats, order: list[int], turned: NDArray[np.int_]
) -> tuple[float, tuple[int | None, ...]]:
    """Align the corners in ``order`` with the found ones in the order ``turned``, the first with the first."""
    count, seen = len(order), len(turned)
    best = np.full((count, seen), np.inf)
    came = np.full((count, seen, 2), -1, dtype=int)
    best[0, 0] = turning[order[0], turned[0]]
    later = np.triu(np.ones((seen, seen), dtype=bool), 1)
    between = gaps[np.ix_(turned, turned)]
    for row in range(1, count):
        for before in range(row):
            share = (shares[order[row]] - shares[order[before]]) % 1.0
            step = np.where(later, best[before][:, None] + _edge_cost(between, share), np.inf)
            step += (row - before - 1) * MISSING_COST
            came_from = step.argmin(axis=0)
            cost = step[came_from, np.arange(seen)] + turning[order[row], turned]
            better = cost < best[row]
            best[row, better] = cost[better]
            came[row, better, 0] = before
            came[row, better, 1] = came_from[better]
    # Close the round: from the last matched corner back to the first.
    ends = np.empty((count, seen))
    for row in range(count):
        share = (shares[order[0]] - shares[order[row]]) % 1.0 or 1.0
        ends[row] = best[row] + _edge_cost(between[:, 0], share) + (count - row - 1) * MISSING_COST
    row, column = (int(number) for number in np.unravel_index(ends.argmin(), ends.shape))
    total = float(ends[row, column])
    matched: list[int | None] = [None] * count
    while row >= 0:
        matched[row] = int(turned[column])
        row, column = (int(number) for number in came[row, column])
    return total, tuple(matched)


def _robust(change: Floats) -> Floats:
    square = change * change
    return np.asarray(square / (1.0 + square / _MOST_COST))


def _edge_cost(found: Floats, share: float) -> Floats:
    return _robust((found - share) / (_SHARE_SLACK + _SHARE_SLACK_PER_SHARE * share))
