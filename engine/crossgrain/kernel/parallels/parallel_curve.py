"""The true parallel of a run of cubics, as a curve that can be sampled.

At arc length ``s`` along the cubics, with tangent ``T``, normal ``n``, curvature ``κ`` and distance ``d(s)``, the
parallel and its velocity are ``X = C + d n`` and ``dX/ds = (1 + κd) T + d' n`` (the Frenet formulas). Where the
distance is constant and ``1 + κd`` changes its sign, the parallel has a cusp and turns back.
"""

from __future__ import annotations

from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from crossgrain.kernel.spans import Complexes, Floats, Ints
from crossgrain.tolerances import BESIDE_STANDSTILL, COINCIDENT, LEAST_DIVISOR

_KNOTS = 17
_GRID: Floats = np.linspace(0.0, 1.0, _KNOTS)

_SHARP = 0.5
"""Between two knots the tangent may turn by this much, in radians; where it turns faster, knots are put between."""

_HALVINGS = 40
_NEARLY_STILL = 0.3
"""Where the parallel's speed is under this share of the line's at a knot, the least speed near it is looked for."""

_TAME = 0.2
"""A parallel that nowhere runs slower than this share of the line's speed is far from a cusp."""

_TURN_SHARE = 3.0
"""A turn of so many radians counts as much as the whole length of a row when its parameter is laid out: tight turns
need about as many cubics as long sweeps do."""

_GAUSS_NODES, _GAUSS_WEIGHTS = np.polynomial.legendre.leggauss(4)


class Distance(Protocol):
    """A distance that varies along a line."""

    def __call__(self, s: Floats) -> tuple[Floats, Floats]:
        """Return the distance in mm and its rate of change, at arc lengths ``s`` in mm."""


class ParallelCurve:
    """The parallel of cubics that follow each other, at one distance per cubic or at one that varies along them.

    Its parameter is a measure of the cubics' length plus the turn times the distance, so that even steps of it are
    about even steps along the parallel, also where a cubic turns on the spot.

    Args:
        rows: control points, complex, shape (k, 4); no row without length, and no cusp inside a row.
        distance: mm to the side of the normal: an array of shape (k,), or a function of the arc length from the
            first row's start.
        outwards: where distances that vary have this sign, the cubics are the parallel of the new curve rather than
            the reverse: it is the envelope of circles about them, ``X = C + d (cos φ n - sin φ T)``, ``sin φ = d'``.
    """

    def __init__(self, rows: Complexes, distance: Floats | Distance, outwards: float = 0.0) -> None:
        p0, p1, p2, p3 = rows.T
        self._c0, self._c1, self._c2 = p0, 3.0 * (p1 - p0), 3.0 * (p2 - 2.0 * p1 + p0)
        self._c3 = p3 - p0 + 3.0 * (p1 - p2)
        self._distance, self._outwards = distance, outwards
        count = len(rows)
        u = (np.arange(count)[:, None] + _GRID).ravel()
        owner = np.repeat(np.arange(count), _KNOTS)
        u, owner, (tangent, speed, curvature), turn = self._with_turns_seen(u, owner)
        self._backs: Ints = np.zeros(0, dtype=np.intp)
        if callable(distance):
            u, owner, turn = self._with_turns_of_parallel_seen(u, owner)
            tangent, speed, curvature = self._frame(owner, u - owner)
        else:
            extra, rows_there = self._narrow_places(u, owner, 1.0 + curvature * distance[owner])
            if extra.size:
                places = np.searchsorted(u + owner, extra + rows_there)
                u, owner = np.insert(u, places, extra), np.insert(owner, places, rows_there)
                u, owner, (tangent, speed, curvature), turn = self._with_turns_seen(u, owner)
        same = owner[1:] == owner[:-1]
        self._u, self._owner, self._speed = u, owner, speed
        points = self._point(owner, u - owner)
        if callable(distance):
            self._s = self._walked(u, owner)
            points = points + self._beside(tangent, curvature, *distance(self._s))[0]
        else:
            self._stretch = 1.0 + curvature * distance[owner]
        walked = np.where(same, np.abs(np.diff(points)), 0.0)
        turn_weight = np.bincount(owner[1:], walked, count) / _TURN_SHARE
        measure = np.where(same, walked + turn_weight[owner[1:]] * turn + COINCIDENT * np.diff(u), 0.0)
        self._w = np.concatenate([[0.0], np.cumsum(measure)])
        nodes = np.append(np.searchsorted(owner, np.arange(count)), len(owner) - 1)
        self._row_start = self._w[nodes[:-1]]
        self._row_size = np.diff(self._w[nodes])
        self._first = np.zeros(0, dtype=np.intp)
        self._last = self._first
        self._sign: Floats = np.zeros(0)
        self._lo = self._hi = self._sign

    def lay_runs(self, first: Ints, last: Ints) -> tuple[Floats, Floats, Ints]:
        """Lay runs over the curve: from the start of one row to the end of another, divided at cusps.

        Args:
            first: the row each run starts with; runs may overlap.
            last: the row each run ends with.

        Returns:
            Start and end parameter of each run, and for each the index into ``first`` of the run it came from.
        """
        lo = self._w[np.searchsorted(self._owner, first)]
        hi = self._w[np.searchsorted(self._owner, last, side="right") - 1]
        home: Ints = np.arange(len(first))
        ends, starts, rows = self._turning_back() if callable(self._distance) else self._cusps()
        if rows.size:
            before, after = np.searchsorted(rows, first), np.searchsorted(rows, last, side="right")
            parts = after - before + 1
            home = np.repeat(home, parts)
            part = np.arange(len(home)) - np.repeat(np.cumsum(parts) - parts, parts)
            nothing = np.zeros(1)
            lo = np.where(part == 0, lo[home], np.concatenate([nothing, starts])[before[home] + part])
            hi = np.where(part == parts[home] - 1, hi[home], np.concatenate([ends, nothing])[before[home] + part])
            # A cusp just beside an end leaves a run that is no line at all, and that no cubic could follow.
            self._first, self._last, self._lo, self._hi = first[home], last[home], lo, hi
            self._sign = np.ones(len(home))
            places = np.stack([lo, (lo + hi) / 2.0, hi], axis=1)
            size = np.abs(np.diff(self._on_run(np.arange(len(home)), places)[0], axis=1)).max(axis=1)
            whole = size > COINCIDENT
            whole |= (np.bincount(home, whole, len(first)) == 0.0)[home] & (part == 0)
            lo, hi, home = lo[whole], hi[whole], home[whole]
            first, last = first[home], last[home]
        self._first, self._last = first, last
        self._lo, self._hi = lo.copy(), hi.copy()  # the caller may let its runs go on beyond them
        self._sign = np.ones(len(lo))
        if not callable(self._distance):
            middle = np.interp((lo + hi) / 2.0, self._w, self._u)
            row = np.minimum(np.maximum(middle.astype(np.intp), first), last)
            stretch = 1.0 + self._frame(row, middle - row)[2] * self._distance[row]
            self._sign = np.where(stretch < 0.0, -1.0, 1.0)
        return lo, hi, home

    @property
    def distances(self) -> Floats:
        """The distance of each row, shape (k,); only where it is constant along each."""
        assert not callable(self._distance)
        return self._distance

    def tame_rows(self) -> NDArray[np.bool_]:
        """Say for each row whether its parallel keeps well clear of a cusp, shape (k,)."""
        limits = np.searchsorted(self._owner, np.arange(len(self._c0)))
        out: NDArray[np.bool_] = np.minimum.reduceat(self._stretch, limits) > _TAME
        return out

    def __call__(self, run: Ints, w: Floats) -> tuple[Complexes, Complexes, Floats]:
        """Return points and unit tangents of the parallel and a fair parameter, each of the shape of ``w``.

        Before a run's start and after its end the parallel goes on straight, a millimetre for each unit of ``w``.
        """
        inside = np.clip(w, self._lo[run][:, None], self._hi[run][:, None])
        point, tangent, parameter = self._on_run(run, inside)
        straight = w - inside
        if straight.any():
            return point + straight * tangent, tangent, parameter + straight
        return point, tangent, parameter

    def _on_run(self, run: Ints, w: Floats) -> tuple[Complexes, Complexes, Floats]:
        u = np.interp(w, self._w, self._u)
        first, last = self._first[run][:, None], self._last[run][:, None]
        u = np.clip(u, first, last + 1.0)
        row = np.minimum(np.maximum(u.astype(np.intp), first), last)
        t = u - row
        parameter = self._row_start[row] + t * self._row_size[row]
        c1, c2, c3 = self._c1[row], self._c2[row], self._c3[row]
        point = self._c0[row] + t * (c1 + t * (c2 + t * c3))
        velocity = c1 + t * (2.0 * c2 + t * (3.0 * c3))
        speed = np.abs(velocity)
        if (speed < COINCIDENT).any():
            t, velocity, speed = self._past_standstill(row, t, velocity, speed)
        tangent = velocity / speed
        if not callable(self._distance):
            return point - 1j * self._distance[row] * tangent, self._sign[run][:, None] * tangent, parameter
        s = self._arc_length(row, u, t)
        distance, slope = self._distance(s)
        bend = 2.0 * c2 + 6.0 * t * c3
        curvature = (velocity.conj() * bend).imag / speed**3
        offset, direction = self._beside(tangent, curvature, distance, slope)
        return point + offset, direction / np.maximum(np.abs(direction), LEAST_DIVISOR), parameter

    def _beside(
        self, tangent: Complexes, curvature: Floats, distance: Floats, slope: Floats
    ) -> tuple[Complexes, Complexes]:
        """Return how far beside the cubics the curve lies, and its direction, not of length 1."""
        lean = tangent * (1.0 + curvature * distance - 1j * slope)
        if not self._outwards:
            return -1j * distance * tangent, lean
        is_out = distance * self._outwards > 0.0
        across = tangent * (np.sqrt(np.maximum(1.0 - slope**2, 0.0)) - 1j * slope)
        normal: Complexes = np.where(is_out, across, tangent)
        direction: Complexes = np.where(is_out, across, lean)
        return -1j * distance * normal, direction

    def _with_turns_seen(self, u: Floats, owner: Ints) -> tuple[Floats, Ints, tuple[Complexes, Floats, Floats], Floats]:
        """Put knots between knots until the tangent turns by less than ``_SHARP`` from each to the next."""
        for _halving in range(_HALVINGS):
            frame = self._frame(owner, u - owner)
            turn = np.abs(np.diff(frame[0]))  # 2 sin(turn / 2): the turn itself while it is small
            turn[owner[1:] != owner[:-1]] = 0.0
            sharp = np.flatnonzero(turn > _SHARP)
            if not sharp.size:
                break
            u = np.insert(u, sharp + 1, (u[sharp] + u[sharp + 1]) / 2.0)
            owner = np.insert(owner, sharp + 1, owner[sharp])
        return u, owner, frame, turn

    def _with_turns_of_parallel_seen(self, u: Floats, owner: Ints) -> tuple[Floats, Ints, Floats]:
        """Put knots between knots until the parallel at varying distance turns little from each to the next, too.

        Where the distance stands still at a cusp it turns back on the spot; those places are kept as ``_backs``.
        """
        assert callable(self._distance)
        for halving in range(_HALVINGS + 1):
            tangent, _speed, curvature = self._frame(owner, u - owner)
            distance, slope = self._distance(self._walked(u, owner))
            direction = self._beside(tangent, curvature, distance, slope)[1]
            direction = direction / np.maximum(np.abs(direction), LEAST_DIVISOR)
            turn = np.abs(np.diff(direction))
            turn[owner[1:] != owner[:-1]] = 0.0
            self._backs = np.flatnonzero(turn > _SHARP)
            if not self._backs.size or halving == _HALVINGS:
                break
            at = self._backs
            u = np.insert(u, at + 1, (u[at] + u[at + 1]) / 2.0)
            owner = np.insert(owner, at + 1, owner[at])
        return u, owner, turn

    def _narrow_places(self, u: Floats, owner: Ints, stretch: Floats) -> tuple[Floats, Ints]:
        """Find where the parallel comes to a stop, or nearly, between knots: a pair of cusps may hide there."""
        size = np.abs(stretch)
        first, last = np.diff(owner, prepend=-1) > 0, np.diff(owner, append=owner[-1] + 1) > 0
        before, after = np.where(first, np.inf, np.roll(size, 1)), np.where(last, np.inf, np.roll(size, -1))
        at = np.flatnonzero((size < _NEARLY_STILL) & (size <= before) & (size <= after))
        if not at.size:
            return u[:0], owner[:0]
        row, sign = owner[at], np.sign(stretch[at])
        lo, hi = u[at - ~first[at]], u[at + ~last[at]]
        for _step in range(_HALVINGS):
            third = (hi - lo) / 3.0
            left, right = lo + third, hi - third
            g_left = sign * (1.0 + self._frame(row, left - row)[2] * self._distance[row])  # type: ignore[index]
            g_right = sign * (1.0 + self._frame(row, right - row)[2] * self._distance[row])  # type: ignore[index]
            lo, hi = np.where(g_left > g_right, left, lo), np.where(g_left > g_right, hi, right)
        return (lo + hi) / 2.0, row

    def _point(self, row: Ints, t: Floats) -> Complexes:
        out: Complexes = self._c0[row] + t * (self._c1[row] + t * (self._c2[row] + t * self._c3[row]))
        return out

    def _frame(self, row: Ints, t: Floats) -> tuple[Complexes, Floats, Floats]:
        """Return unit tangent, speed and curvature at parameters of rows."""
        c2, c3 = self._c2[row], self._c3[row]
        velocity = self._c1[row] + t * (2.0 * c2 + t * (3.0 * c3))
        speed = np.abs(velocity)
        if (speed < COINCIDENT).any():
            t, velocity, speed = self._past_standstill(row, t, velocity, speed)
        bend = 2.0 * c2 + 6.0 * t * c3
        return velocity / speed, speed, (velocity.conj() * bend).imag / speed**3

    def _past_standstill(
        self, row: Ints, t: Floats, velocity: Complexes, speed: Floats
    ) -> tuple[Floats, Complexes, Floats]:
        """Step a little further in where a control point coincides with the end of its row.

        The curvature grows beyond all bounds there, and its sign decides whether there is a cusp: so the bend must be
        taken at the same place as the velocity.
        """
        inside = np.where(speed < COINCIDENT, np.where(t < 0.5, t + BESIDE_STANDSTILL, t - BESIDE_STANDSTILL), t)
        velocity = self._c1[row] + inside * (2.0 * self._c2[row] + inside * (3.0 * self._c3[row]))
        return inside, velocity, np.maximum(np.abs(velocity), LEAST_DIVISOR)

    def _walked(self, u: Floats, owner: Ints) -> Floats:
        """Return the arc length from the start to each knot (Gauss–Legendre)."""
        half, middle = np.diff(u) / 2.0, (u[1:] + u[:-1]) / 2.0
        row = owner[:-1, None]
        t = middle[:, None] + half[:, None] * _GAUSS_NODES - row
        speed = np.abs(self._c1[row] + t * (2.0 * self._c2[row] + t * (3.0 * self._c3[row])))
        steps = np.where(owner[1:] == owner[:-1], half * (speed @ _GAUSS_WEIGHTS), 0.0)
        out: Floats = np.concatenate([[0.0], np.cumsum(steps)])
        return out

    def _arc_length(self, row: Ints, u: Floats, t: Floats) -> Floats:
        """Return the arc length at parameters, by Hermite's cubic between knots; off by less than 1e-5 mm."""
        knot = np.clip(np.searchsorted(self._u, u, side="right") - 1, 0, len(self._u) - 2)
        # A node is two knots with one parameter: the one that belongs to the row counts.
        knot = np.where(self._owner[knot] > row, knot - 2, knot)
        knot = np.where(self._owner[knot + 1] != self._owner[knot], np.where(t > 0.5, knot - 1, knot + 1), knot)
        step = self._u[knot + 1] - self._u[knot]
        x = np.clip((u - self._u[knot]) / step, 0.0, 1.0)
        s0, s1 = self._s[knot], self._s[knot + 1]
        v0, v1 = self._speed[knot] * step, self._speed[knot + 1] * step
        out: Floats = s0 + x * (v0 + x * (3.0 * (s1 - s0) - 2.0 * v0 - v1 + x * (v0 + v1 - 2.0 * (s1 - s0))))
        return out

    def _turning_back(self) -> tuple[Floats, Floats, Ints]:
        """Return where the parallel at varying distance turns back: parameters just before and after, and the row."""
        return self._w[self._backs], self._w[self._backs + 1], self._owner[self._backs]

    def _cusps(self) -> tuple[Floats, Floats, Ints]:
        """Return parameter, twice, and row of every place where the parallel at constant distance turns back."""
        g = self._stretch
        at = np.flatnonzero((g[1:] * g[:-1] < 0.0) & (self._owner[1:] == self._owner[:-1]))
        if not at.size:
            return self._w[:0], self._w[:0], at
        row = self._owner[at]
        lo, hi, g_lo = self._u[at], self._u[at + 1], g[at]
        distance = self.distances[row]
        for _step in range(60):
            middle = (lo + hi) / 2.0
            value = 1.0 + self._frame(row, middle - row)[2] * distance
            left = value * g_lo > 0.0
            lo, hi = np.where(left, middle, lo), np.where(left, hi, middle)
        u = (lo + hi) / 2.0
        share = (u - self._u[at]) / (self._u[at + 1] - self._u[at])
        w = self._w[at] + share * (self._w[at + 1] - self._w[at])
        return w, w, row
