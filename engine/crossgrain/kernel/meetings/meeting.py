"""Where cubics meet: the search behind :mod:`crossgrain.kernel.meetings.crossing`.

All pairs of segments are searched at once, level by level. A pair of pieces is dropped when a straight line separates
their control points. Where the directions in which two pieces can run have none in common they meet once at most, and
Newton's method finds out. All others are halved, until both are as good as straight: those run along each other or
nearly, and are looked at one by one.

Points of the plane are complex numbers here.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from crossgrain.kernel.arrays import point_of
from crossgrain.kernel.meetings.contact import Stretch, overlaps_of, touches_of
from crossgrain.kernel.segment import Cubic
from crossgrain.tolerances import COINCIDENT, ROUND_OFF, STANDSTILL, TOUCH_REACH

Complexes = NDArray[np.complex128]
Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Bools = NDArray[np.bool_]

_CROWD = 64
"""So many pieces of one pair side by side, and it is asked whether the two run along each other."""

_MOST = 20_000
"""So many, and the two are as good as one line: nearer than ``COINCIDENT`` over most of their length."""

_NARROW = 0.5
"""Half the spread of a piece's directions, rad, below which Newton's method is worth a try."""


@dataclass(frozen=True, slots=True)
class Meeting:
    """A meeting of segment ``a`` at parameter ``s`` with segment ``b`` at ``t``.

    ``crossing`` says whether their directions differ there; ``s_end`` and ``t_end`` are where an overlap ends.
    """

    a: int
    b: int
    s: float
    t: float
    crossing: bool = False
    s_end: float | None = None
    t_end: float | None = None


class Shared(NamedTuple):
    """Neighbours that share a node: the end of ``before`` is the start of ``after``."""

    before: int
    after: int


class _Pieces(NamedTuple):
    """Pairs of pieces: of which pair of segments, between which parameters, and their control points."""

    pair: Ints
    s0: Floats
    s1: Floats
    t0: Floats
    t1: Floats
    a: Complexes
    b: Complexes

    def where(self, mask: Bools) -> _Pieces:
        pair, s0, s1, t0, t1, a, b = self
        return _Pieces(pair[mask], s0[mask], s1[mask], t0[mask], t1[mask], a[mask], b[mask])


def meetings(first: Complexes, second: Complexes, pairs: Ints, shared: Iterable[Shared] = ()) -> list[Meeting]:
    """Find where pairs of cubics meet.

    Args:
        first: control points of the cubics on the one side, shape (n, 4), complex, mm.
        second: those on the other side, shape (m, 4); the same array for meetings within one path.
        pairs: which to compare, shape (k, 2), as numbers into the two.
        shared: neighbours on one path, whose common node is no meeting.

    Returns:
        The meetings, none twice, in no order.
    """
    if not len(pairs):
        return []
    a, b = first[pairs[:, 0]], second[pairs[:, 1]]
    zero, one = np.zeros(len(pairs)), np.ones(len(pairs))
    work = _Pieces(np.arange(len(pairs)), zero, one, zero, one, a, b)
    joints = set(shared)
    forward = np.array([(i, j) in joints for i, j in pairs.tolist()])
    backward = np.array([(j, i) in joints for i, j in pairs.tolist()])
    found: list[Meeting] = []
    close: dict[int, list[Stretch]] = defaultdict(list)
    overlaps: dict[int, list[Stretch]] = {}
    while len(work.pair):
        work = work.where(~_separate(work))
        heading_a, spread_a = _heading(work.a)
        heading_b, spread_b = _heading(work.b)
        turn = np.abs(np.angle(heading_b * np.conj(heading_a)))
        # Two pieces that leave a shared node meet again only if one can turn back onto the other.
        at_node = (forward[work.pair] & (work.s1 == 1.0) & (work.t0 == 0.0)) | (
            backward[work.pair] & (work.s0 == 0.0) & (work.t1 == 1.0)
        )
        apart = at_node & (turn + spread_a + spread_b < math.pi)
        slant = np.minimum(turn, math.pi - turn)
        size_a, size_b = _extent(work.a), _extent(work.b)
        # Directions that leave the two within COINCIDENT from end to end do not differ.
        least = 2.0 * COINCIDENT / np.maximum(np.minimum(size_a, size_b), COINCIDENT)
        narrow = np.maximum(spread_a, spread_b) < _NARROW
        differ = narrow & ~apart & (slant > spread_a + spread_b + least)
        solved = np.zeros(len(work.pair), dtype=bool)
        if differ.any():
            at_s, at_t, ok = _newton(a, b, work.where(differ))
            solved[differ] = ok
            for k, u, v in zip(work.pair[solved].tolist(), at_s[ok].tolist(), at_t[ok].tolist(), strict=True):
                found.append(Meeting(int(pairs[k, 0]), int(pairs[k, 1]), u, v, crossing=True))
        tiny = (size_a <= COINCIDENT) & (size_b <= COINCIDENT)
        straight = (_rise(work.a) <= COINCIDENT / 4.0) & (_rise(work.b) <= COINCIDENT / 4.0) & narrow
        alike = ((straight & ~differ) | tiny) & ~apart & ~solved
        for k, s0, s1, t0, t1 in zip(*(column[alike].tolist() for column in work[:5]), strict=True):
            close[k].append((s0, s1, t0, t1))
        work = work.where(~(apart | solved | alike))
        for k in np.flatnonzero(np.bincount(work.pair, minlength=1) > _CROWD).tolist():
            if k not in overlaps:
                overlaps[k] = overlaps_of(_cubic(a[k]), _cubic(b[k]))
            inside = np.zeros(len(work.pair), dtype=bool)
            for over in overlaps[k]:
                inside |= (work.s0 >= over[0] - ROUND_OFF) & (work.s1 <= over[1] + ROUND_OFF)
            mine = work.pair == k
            if (mine & ~inside).sum() > _MOST:
                overlaps[k].append(_stretch(work.where(mine)))
                inside = mine
            work = work.where(~(mine & inside))
        work = _halved(work)
    for k, stretches in close.items():
        if k not in overlaps:
            overlaps[k] = overlaps_of(_cubic(a[k]), _cubic(b[k]))
        for s, t in touches_of(_cubic(a[k]), _cubic(b[k]), sorted(stretches), overlaps[k]):
            found.append(Meeting(int(pairs[k, 0]), int(pairs[k, 1]), s, t))
    for k, runs in overlaps.items():
        for s0, s1, t0, t1 in runs:
            found.append(Meeting(int(pairs[k, 0]), int(pairs[k, 1]), s0, t0, s_end=s1, t_end=t1))
    return _once(found, first, second, joints)


# --- One level of the search -----------------------------------------------------------------------------------


def _separate(work: _Pieces) -> Bools:
    """Say which pairs a straight line keeps apart, tried in the directions of the axes and of the two chords."""
    chords = np.stack([work.a[:, 3] - work.a[:, 0], work.b[:, 3] - work.b[:, 0]], axis=1)
    size = np.abs(chords)
    units = np.divide(chords, size, out=np.ones_like(chords), where=size > 0.0)
    axes = np.concatenate([np.tile([1.0, 1j], (len(units), 1)), units, 1j * units], axis=1)
    from_a = (np.conj(axes)[:, :, None] * (work.a - work.a[:, :1])[:, None, :]).real
    from_b = (np.conj(axes)[:, :, None] * (work.b - work.a[:, :1])[:, None, :]).real
    gap = np.maximum(from_b.min(axis=2) - from_a.max(axis=2), from_a.min(axis=2) - from_b.max(axis=2))
    apart: Bools = (gap > COINCIDENT).any(axis=1)
    return apart


def _heading(controls: Complexes) -> tuple[Complexes, Floats]:
    """Return the direction of each chord, and how far the directions of the piece can spread to either side of it."""
    chord = controls[:, 3] - controls[:, 0]
    steps = np.diff(controls, axis=1)
    length = np.abs(steps)
    moving = length > STANDSTILL * length.max(axis=1, keepdims=True)
    spread = np.where(moving, np.abs(np.angle(steps * np.conj(chord)[:, None])), 0.0).max(axis=1)
    size = np.abs(chord)
    unit = np.divide(chord, size, out=np.ones_like(chord), where=size > 0.0)
    return unit, np.where(size > 0.0, spread, math.pi)


def _extent(controls: Complexes) -> Floats:
    extent: Floats = np.hypot(np.ptp(controls.real, axis=1), np.ptp(controls.imag, axis=1))
    return extent


def _rise(controls: Complexes) -> Floats:
    """Return how far the control points lie from the chord."""
    chord = controls[:, 3] - controls[:, 0]
    size = np.abs(chord)
    away = controls[:, 1:3] - controls[:, :1]
    unit = np.divide(chord, size, out=np.ones_like(chord), where=size > 0.0)
    rise: Floats = np.abs((away * np.conj(unit)[:, None]).imag).max(axis=1)
    return np.where(size > 0.0, rise, np.abs(away).max(axis=1))


def _halved(work: _Pieces) -> _Pieces:
    """Cut both pieces of each pair in half, but no piece that is as good as a point: up to four pairs from one."""
    pair, s0, s1, t0, t1, a, b = work
    long = _extent(a) > COINCIDENT
    middle, (before, after) = (s0 + s1) / 2.0, _halves(a)
    work = _joined(
        _Pieces(pair, s0, np.where(long, middle, s1), t0, t1, np.where(long[:, None], before, a), b),
        _Pieces(pair, middle, s1, t0, t1, after, b).where(long),
    )
    pair, s0, s1, t0, t1, a, b = work
    long = _extent(b) > COINCIDENT
    middle, (before, after) = (t0 + t1) / 2.0, _halves(b)
    return _joined(
        _Pieces(pair, s0, s1, t0, np.where(long, middle, t1), a, np.where(long[:, None], before, b)),
        _Pieces(pair, s0, s1, middle, t1, a, after).where(long),
    )


def _joined(one: _Pieces, other: _Pieces) -> _Pieces:
    return _Pieces(*(np.concatenate(columns) for columns in zip(one, other, strict=True)))


def _halves(c: Complexes) -> tuple[Complexes, Complexes]:
    p, q, r, w = c.T
    pq, qr, rw = (p + q) / 2.0, (q + r) / 2.0, (r + w) / 2.0
    pqr, qrw = (pq + qr) / 2.0, (qr + rw) / 2.0
    middle = (pqr + qrw) / 2.0
    return np.stack([p, pq, pqr, middle], axis=1), np.stack([middle, qrw, rw, w], axis=1)


def _newton(a: Complexes, b: Complexes, work: _Pieces) -> tuple[Floats, Floats, Bools]:
    """Return the parameters where the whole cubics cross, by Newton's method from where the chords do.

    Returns:
        Parameters on either, and whether they lie on the two pieces and the points there agree to rounding.
    """
    a, b = a[work.pair], b[work.pair]
    wide_s, wide_t = work.s1 - work.s0, work.t1 - work.t0
    u, v = _solved(work.a[:, 3] - work.a[:, 0], work.b[:, 3] - work.b[:, 0], work.b[:, 0] - work.a[:, 0])
    s, t = work.s0 + np.clip(u, 0.0, 1.0) * wide_s, work.t0 + np.clip(v, 0.0, 1.0) * wide_t
    for _round in range(10):
        ds, dt = _solved(_speed(a, s), _speed(b, t), _at(b, t) - _at(a, s))
        s, t = s + np.clip(ds, -wide_s, wide_s), t + np.clip(dt, -wide_t, wide_t)
    gap = np.abs(_at(b, t) - _at(a, s))
    slack_s, slack_t = (COINCIDENT / np.maximum(np.abs(v), COINCIDENT) for v in (_speed(a, s), _speed(b, t)))
    on = (s >= work.s0 - slack_s) & (s <= work.s1 + slack_s) & (t >= work.t0 - slack_t) & (t <= work.t1 + slack_t)
    return np.clip(s, 0.0, 1.0), np.clip(t, 0.0, 1.0), on & (gap <= ROUND_OFF)


def _solved(u: Complexes, v: Complexes, w: Complexes) -> tuple[Floats, Floats]:
    """Solve s u - t v = w for each row; nothing where u and v are parallel."""
    below = (np.conj(u) * v).imag
    parallel = below == 0.0
    below = np.where(parallel, 1.0, below)
    s, t = (np.conj(w) * v).imag / below, (np.conj(w) * u).imag / below
    return np.where(parallel, 0.0, s), np.where(parallel, 0.0, t)


def _at(c: Complexes, t: Floats) -> Complexes:
    s = 1.0 - t
    return c[:, 0] * s**3 + 3.0 * c[:, 1] * (s * s * t) + 3.0 * c[:, 2] * (s * t * t) + c[:, 3] * t**3


def _speed(c: Complexes, t: Floats) -> Complexes:
    s = 1.0 - t
    first = np.diff(c, axis=1)
    return 3.0 * (first[:, 0] * (s * s) + 2.0 * first[:, 1] * (s * t) + first[:, 2] * (t * t))


def _stretch(work: _Pieces) -> Stretch:
    """Return the whole stretch over which pieces of one pair lie side by side."""
    s0, s1, t0, t1 = (float(v) for v in (work.s0.min(), work.s1.max(), work.t0.min(), work.t1.max()))
    rising = np.argmin(work.t0[np.argsort(work.s0)]) < len(work.pair) / 2
    return (s0, s1, t0, t1) if rising else (s0, s1, t1, t0)


# --- What is reported ------------------------------------------------------------------------------------------


def _once(found: list[Meeting], first: Complexes, second: Complexes, joints: set[Shared]) -> list[Meeting]:
    """Return each meeting once, without the nodes that neighbours share and without touches beside overlaps."""
    by_pair: dict[tuple[int, int], list[Meeting]] = defaultdict(list)
    for meeting in found:
        by_pair[meeting.a, meeting.b].append(meeting)
    out: list[Meeting] = []
    for (i, j), some in by_pair.items():
        a, b = _cubic(first[i]), _cubic(second[j])
        nodes = [(1.0, 0.0)] * (Shared(i, j) in joints) + [(0.0, 1.0)] * (Shared(j, i) in joints)
        kept: list[Meeting] = []
        snapped = [m if m.s_end is not None else replace(m, s=_snapped(a, m.s), t=_snapped(b, m.t)) for m in some]
        # Overlaps first, then true crossings, then ends: what is doubtful beside one of them is left out.
        snapped.sort(key=lambda m: (m.s_end is None, not m.crossing, not {m.s, m.t} & {0.0, 1.0}, m.s, m.t))
        for meeting in snapped:
            reach = COINCIDENT if meeting.crossing else TOUCH_REACH
            at_node = (_near(a, meeting.s, s, reach) and _near(b, meeting.t, t, reach) for s, t in nodes)
            if meeting.s_end is None and any(at_node):
                continue
            if not any(_same(a, b, other, meeting) for other in kept):
                kept.append(meeting)
        out += kept
    return out


def _same(a: Cubic, b: Cubic, kept: Meeting, new: Meeting) -> bool:
    """Say whether a meeting has been kept already; a touch beside another meeting counts as that one."""
    if kept.s_end is not None and kept.t_end is not None:
        if new.s_end is not None:  # an overlap from one tip to the next starts where another ends
            return kept.s <= new.s and new.s_end <= kept.s_end
        t0, t1 = sorted((kept.t, kept.t_end))
        return _beside(a, new.s, kept.s, kept.s_end) and _beside(b, new.t, t0, t1)
    reach = 4.0 * COINCIDENT if kept.crossing and new.crossing else TOUCH_REACH
    return _near(a, kept.s, new.s, reach) and _near(b, kept.t, new.t, reach)


def _beside(segment: Cubic, t: float, t0: float, t1: float) -> bool:
    return t0 <= t <= t1 or _near(segment, t, t0, TOUCH_REACH) or _near(segment, t, t1, TOUCH_REACH)


def _near(segment: Cubic, s: float, t: float, reach: float) -> bool:
    """Say whether two parameters lie no farther apart than ``reach`` along the line."""
    s, t = min(s, t), max(s, t)
    if math.dist(segment.point(s), segment.point(t)) > reach:
        return False
    middle = [segment.point(s + (t - s) * share) for share in (0.25, 0.5, 0.75)]
    return all(math.dist(point, segment.point(s)) <= reach for point in middle)


def _snapped(segment: Cubic, t: float) -> float:
    for end in (0.0, 1.0):
        if _near(segment, t, end, COINCIDENT):
            return end
    return t


def _cubic(c: Complexes) -> Cubic:
    return Cubic(*(point_of(control) for control in c.tolist()))
