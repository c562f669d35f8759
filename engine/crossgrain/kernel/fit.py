"""Follow a curve by as few smooth cubics as an accuracy allows.

The error of a good fit falls with the sixth power of a stretch's length. So a stretch whose error is ``e`` costs
``(e / accuracy)^(1/6)`` of a segment, and the costs of a run of stretches add up to the number of segments the run
needs. From that the number is predicted, the breaks are moved until all stretches cost the same, and one segment
fewer is tried wherever the sum leaves room.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from crossgrain.errors import AccuracyError
from crossgrain.kernel.spans import Bools, Complexes, Curve, Floats, Ints, fit_spans, true_error
from crossgrain.language import _

_MOST = 64
"""More segments than this on one run mean that the curve is not what it seems; a whole trouser side takes four."""

_ROUNDS = 40
MARGIN = 0.97
"""Share of the accuracy aimed at, for what the samples of a fit overlook."""

_AIMS = (1.0, 0.8, 0.6, 0.4, 0.2)
"""Shares of the aim taken in turn by runs whose true error was larger than their samples showed."""

_HOPE = 1.02
"""One segment fewer is tried while the costs stay below this many times that number."""

_MOST_COST = 2.5
"""A stretch that one cubic cannot follow at all is divided in two or three, and then seen."""

_UNEVEN = 1.25
"""While the dearest stretch costs this many times the mean, moving the breaks promises more than adding one."""

_PATIENCE = 2
"""How often breaks are moved at one number of segments before the next is taken."""


class Fitted(NamedTuple):
    """Cubics along runs.

    Args:
        counts: how many cubics each run takes, shape (runs,); 0 where fewer than asked for did not do.
        controls: all control points, run after run, complex, shape (n, 4).
        needs: how many cubics each run takes as a fraction: what two neighbouring runs would take together is about
            the sum of theirs. Shape (runs,).
    """

    counts: Ints
    controls: Complexes
    needs: Floats


class _Round(NamedTuple):
    """What one round of fitting accepted."""

    runs: Ints
    counts: Ints
    needs: Floats
    owner: Ints
    start: Floats
    end: Floats
    controls: Complexes


def fit_curve(
    curve: Curve,
    start: Floats,
    end: Floats,
    accuracy: float,
    *,
    runs: Ints | None = None,
    fewer_than: Ints | None = None,
) -> Fitted:
    """Follow each run of a curve by few cubics, joined smoothly within a run.

    Args:
        curve: what to follow; smooth within each run.
        start: the parameter each run starts at, shape (runs,).
        end: the parameter each run ends at, above its start, shape (runs,).
        accuracy: the distance in mm that no cubic exceeds, above 0.
        runs: which runs to follow, all if none is given; the others get no cubics.
        fewer_than: for each run the number of cubics it must stay below to be of use, shape (runs,); none means that
            every run must be followed.

    Returns:
        The cubics. Their distance from the curve has been measured and is at most ``accuracy``.

    Raises:
        AccuracyError: a run that 64 cubics do not follow; its position is given.
    """
    kept: list[_Round] = []
    pending: Ints = np.arange(len(start)) if runs is None else runs
    floor: Ints = np.zeros(len(start), dtype=np.intp)
    limit = np.full(len(start), _MOST + 1, dtype=np.intp) if fewer_than is None else fewer_than
    if not pending.size:
        return _assembled(kept, len(start))
    for again, aim in enumerate(MARGIN * accuracy * np.array(_AIMS)):
        rounds = _search(curve, pending, start[pending], end[pending], aim, floor[pending], limit[pending])
        wrong: list[Ints] = []
        if fewer_than is None:
            wrong.append(pending[~np.isin(pending, np.concatenate([one.runs for one in rounds]) if rounds else [])])
        for one in _last_accepted(rounds):
            error = true_error(curve, one.owner, one.start, one.end, one.controls, accuracy)
            missed = np.unique(one.owner[error > accuracy])
            # Where much was overlooked between samples, or something again under a smaller aim, shorter stretches are
            # needed.
            far = np.unique(one.owner[error > (1.0 if again else 2.0) * accuracy])
            floor[one.runs] = np.where(np.isin(one.runs, far), one.counts, 0)
            wrong.append(missed)
            kept.append(_without(one, missed) if missed.size else one)
        pending = np.sort(np.concatenate(wrong)) if wrong else pending[:0]
        pending = pending[floor[pending] + 1 < limit[pending]]
        if not pending.size:
            return _assembled(kept, len(start))
    if fewer_than is not None:
        return _assembled(kept, len(start))
    raise _missed(curve, pending[0], float(start[pending[0]] + end[pending[0]]) / 2.0, accuracy)


def _search(
    curve: Curve, names: Ints, start: Floats, end: Floats, aim: float, floor: Ints, limit: Ints
) -> list[_Round]:
    """Fit runs with more segments than ``floor`` and fewer than ``limit``; return each round's good fits, best last."""
    rounds: list[_Round] = []
    runs: Ints = np.arange(len(start))  # positions in names of the runs still worked on
    n = floor + 1
    best, floor = limit.copy(), floor.copy()
    fails = np.zeros(len(start), dtype=np.intp)
    owner = np.repeat(runs, n)
    step = np.arange(len(owner)) - np.repeat(np.cumsum(n) - n, n)
    lo = start[owner] + (end - start)[owner] * (step / n[owner])
    hi = start[owner] + (end - start)[owner] * ((step + 1) / n[owner])
    for _round in range(_ROUNDS):
        counts = n[runs]
        owner = np.repeat(runs, counts)
        controls, error = fit_spans(curve, names[owner], lo, hi, aim)
        first = np.concatenate([[0], np.cumsum(counts)[:-1]])
        cost = np.clip((error / aim) ** (1.0 / 6.0), 0.05, _MOST_COST)
        total = np.add.reduceat(cost, first)
        good = np.maximum.reduceat(error, first) <= aim
        if good.any():
            mine = np.repeat(good, counts)
            rounds.append(
                _Round(
                    names[runs[good]], counts[good], total[good], names[owner[mine]], lo[mine], hi[mine], controls[mine]
                )
            )
            best[runs[good]] = counts[good]
        # A run that failed keeps its number while moving the breaks may do, and takes more when it may not.
        uneven = np.maximum.reduceat(cost, first) * counts > _UNEVEN * total
        stay = ~good & ((total <= 1.03 * counts) | uneven) & (fails[runs] < _PATIENCE)
        fails[runs] = np.where(stay, fails[runs] + 1, 0)
        floor[runs] = np.where(~good & ~stay & ~uneven, counts, floor[runs])
        fewer = np.maximum(np.ceil(total / _HOPE), floor[runs] + 1)
        wanted = np.where(good, fewer, np.where(stay, counts, np.maximum(counts + 1, np.ceil(total - 0.03))))
        wanted = wanted.astype(np.intp)
        go = wanted < best[runs]
        if not go.any():
            break
        if (wanted[go] > _MOST).any():
            one = runs[go][np.argmax(wanted[go])]
            raise _missed(curve, names[one], float(start[one] + end[one]) / 2.0, aim)
        lo, hi = _even(cost, lo, hi, counts, go, wanted[go])
        runs = runs[go]
        n[runs] = wanted[go]
    return rounds


def _even(cost: Floats, lo: Floats, hi: Floats, counts: Ints, go: Bools, wanted: Ints) -> tuple[Floats, Floats]:
    """Move the breaks of the runs that go on so that each of ``wanted`` stretches costs the same."""
    mine = np.repeat(go, counts)
    cost, lo, hi, counts = cost[mine], lo[mine], hi[mine], counts[go]
    first = np.concatenate([[0], np.cumsum(counts)[:-1]])
    total = np.repeat(np.add.reduceat(cost, first), counts)
    # One rising scale for all runs together: run k reaches from k to k + 1.
    within = np.cumsum(cost / total)
    before = np.concatenate([[0.0], within[:-1]])
    run = np.repeat(np.arange(len(counts)), wanted)
    first_new = np.concatenate([[0], np.cumsum(wanted)[:-1]])
    step = np.arange(len(run)) - np.repeat(first_new, wanted)
    size = np.repeat(wanted, wanted)
    place = run + step / size
    k = np.clip(np.searchsorted(before, place, side="right") - 1, 0, len(cost) - 1)
    k = np.clip(k, first[run], first[run] + counts[run] - 1)
    new_lo = lo[k] + (hi[k] - lo[k]) * (place - before[k]) / (within[k] - before[k])
    new_lo = np.where(step == 0, lo[first[run]], new_lo)
    last = step == size - 1
    new_hi = np.where(last, hi[first[run] + counts[run] - 1], np.roll(new_lo, -1))
    return new_lo, new_hi


def _last_accepted(rounds: list[_Round]) -> list[_Round]:
    """Keep of each run only its last accepted fit: the one of fewest segments."""
    out: list[_Round] = []
    taken: Ints = np.array([], dtype=np.intp)
    for one in reversed(rounds):
        fresh = _without(one, taken) if taken.size else one
        taken = np.concatenate([taken, one.runs])
        out.append(fresh)
    return out


def _without(one: _Round, runs: Ints) -> _Round:
    keep, mine = ~np.isin(one.runs, runs), ~np.isin(one.owner, runs)
    return _Round(
        one.runs[keep],
        one.counts[keep],
        one.needs[keep],
        one.owner[mine],
        one.start[mine],
        one.end[mine],
        one.controls[mine],
    )


def _assembled(rounds: list[_Round], runs: int) -> Fitted:
    counts, needs = np.zeros(runs, dtype=np.intp), np.zeros(runs)
    rounds = [one for one in rounds if one.runs.size]
    if not rounds:
        return Fitted(counts, np.empty((0, 4), dtype=np.complex128), needs)
    for one in rounds:
        counts[one.runs], needs[one.runs] = one.counts, one.needs
    order = np.argsort(np.concatenate([one.owner for one in rounds]), kind="stable")
    return Fitted(counts, np.concatenate([one.controls for one in rounds])[order], needs)


def _missed(curve: Curve, run: np.intp, place: float, accuracy: float) -> AccuracyError:
    point = complex(curve(np.array([run]), np.array([[place]]))[0][0, 0])
    return AccuracyError(
        _("A curve cannot be drawn to {accuracy:.3g} mm.").format(accuracy=accuracy),
        position=(point.real, point.imag),
        advice=_("Redraw the line there with fewer, smoother nodes, or ask for a coarser accuracy."),
    )
