"""Lengths of many cubics at once by quadrature, where quadrature can be trusted.

What :func:`crossgrain.kernel.length.lengths` and :func:`~crossgrain.kernel.length.parameters_at` do first; the cubics
that are left over they measure one by one.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from crossgrain.tolerances import LENGTH_ACCURACY

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

NO_RULE = -1
"""In the place of a rule's number: none was found to be good enough."""


class _Rule(NamedTuple):
    """A Gauss-Legendre rule of 16 points on each of several panels: powers 0, 1, 2 of its nodes, and weights."""

    powers: Floats
    weights: Floats


def _rule(panels: int) -> _Rule:
    nodes, weights = np.polynomial.legendre.leggauss(16)
    t = ((nodes + 1.0) / 2.0 + np.arange(panels)[:, None]).ravel() / panels
    return _Rule(np.stack([np.ones_like(t), t, t * t]), np.tile(weights / 2.0, panels) / panels)


_RULES = tuple(map(_rule, (1, 2, 4)))

_CHECK = _rule(3)
"""A rule whose panels end elsewhere than those of the others."""

_TAME = 0.05
"""Quadrature is trusted where every handle goes forward along the chord by this share of the longest step. Rules that
agree prove nothing where the line nearly stands still beside a panel's end: they all miss it alike."""

_BLOCK = 1024
"""How many cubics are integrated at a time, so that the work stays in the processor's cache."""


def measured(controls: Floats) -> tuple[Floats, Ints]:
    """Return the lengths of cubics, found on ever more panels until two rules agree.

    Args:
        controls: control points, shape (n, 4, 2), mm.

    Returns:
        Lengths in mm, shape (n,), and the number of the rule that found each, ``NO_RULE`` where none did.

    >>> lengths, rules = measured(np.array([[(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (3.0, 0.0)]]))
    >>> lengths.round(9).tolist(), rules.tolist()
    ([3.0], [1])
    """
    steps = np.diff(controls, axis=1)
    chord = controls[:, 3:] - controls[:, :1]
    longest = np.sqrt((steps**2).sum(axis=2).max(axis=1) * (chord**2).sum(axis=2)[:, 0])
    todo = np.flatnonzero((steps * chord).sum(axis=2).min(axis=1) > _TAME * longest)
    rules = np.full(len(controls), NO_RULE)
    hodograph = _hodograph(controls)
    out = np.zeros(len(controls))
    out[todo] = _integrals(hodograph[todo], _RULES[0])
    for number, rule in enumerate(_RULES[1:], 1):
        if not todo.size:
            break
        finer = _integrals(hodograph[todo], rule)
        agree = np.abs(finer - out[todo]) <= LENGTH_ACCURACY
        out[todo] = finer
        rules[todo[agree]] = number
        todo = todo[~agree]
    return out, rules


def inverted(controls: Floats, wanted: Floats, start: Floats, rules: Ints) -> tuple[Floats, NDArray[np.bool_]]:
    """Return the parameters at which cubics have run the lengths wanted.

    Args:
        controls: control points, shape (n, 4, 2), mm.
        wanted: lengths from the starts, shape (n,), mm, strictly between 0 and the whole.
        start: parameters to start from, shape (n,).
        rules: which rule measures each, as :func:`measured` found.

    Returns:
        Parameters, shape (n,), and which of them were found.

    >>> cubic = np.array([[(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (3.0, 0.0)]])
    >>> t, found = inverted(cubic, np.array([0.75]), np.array([0.3]), np.array([1]))
    >>> t.round(9).tolist(), found.tolist()
    ([0.25], [True])
    """
    t, found = start.copy(), rules != NO_RULE
    for number in np.unique(rules[found]).tolist():
        found[_newton(controls, wanted, t, np.flatnonzero(rules == number), _RULES[number])] = False
    return t, found


def _newton(controls: Floats, wanted: Floats, t: Floats, todo: Ints, rule: _Rule) -> Ints:
    """Bring the parameters of some cubics to the distances wanted, in place; return those where that failed.

    Halley's step, which is Newton's with the change of speed, triples the digits; halving steps in where it leaves the
    bracket. The rule was good for the whole cubic, but the panels of a part end elsewhere: another rule checks it.
    """
    failed = []
    hodograph, asked, now = _hodograph(controls[todo]), wanted[todo], t[todo]
    low, high = np.zeros_like(now), np.ones_like(now)
    for _round in range(20):
        if not todo.size:
            break
        # The part up to the parameter is a cubic too: its velocity's powers of t are scaled.
        part = hodograph * np.stack([np.ones_like(now), now, now * now], axis=1)[:, None]
        excess = _integrals(part, rule) * now - asked
        low, high = np.where(excess < 0.0, now, low), np.where(excess > 0.0, now, high)
        velocity = part.sum(axis=2)
        square = (velocity * velocity).sum(axis=1)
        rate = np.sqrt(square)
        acceleration = hodograph[:, :, 1] + 2.0 * now[:, None] * hodograph[:, :, 2]
        bend = 0.5 * excess * (velocity * acceleration).sum(axis=1) / rate
        # No cubic that a rule was found for stands still, so neither divisor is zero but where the step is refused.
        step = now - excess * rate / np.where(square > bend, square - bend, square)
        on = np.abs(excess) > LENGTH_ACCURACY
        checked = np.abs(_integrals(part[~on], _CHECK) * now[~on] - asked[~on]) <= 3.0 * LENGTH_ACCURACY
        failed.append(todo[~on][~checked])
        t[todo] = np.where(on, np.where((step > low) & (step < high), step, (low + high) / 2.0), now)
        todo, hodograph, asked, low, high = todo[on], hodograph[on], asked[on], low[on], high[on]
        now = t[todo]
    return np.concatenate([todo, *failed])


def _hodograph(controls: Floats) -> Floats:
    """Return the velocity's coefficients of 1, t and t², shape (n, 2, 3)."""
    p, q, r, w = controls[:, 0], controls[:, 1], controls[:, 2], controls[:, 3]
    return np.stack([3.0 * (q - p), 6.0 * (p - 2.0 * q + r), 3.0 * (w - p + 3.0 * (q - r))], axis=2)


def _integrals(hodograph: Floats, rule: _Rule) -> Floats:
    """Return the integrals of the speed over the parameter from 0 to 1."""
    out = np.empty(len(hodograph))
    for start in range(0, len(hodograph), _BLOCK):
        block = slice(start, start + _BLOCK)
        x, y = hodograph[block, 0] @ rule.powers, hodograph[block, 1] @ rule.powers
        out[block] = np.sqrt(x * x + y * y) @ rule.weights
    return out
