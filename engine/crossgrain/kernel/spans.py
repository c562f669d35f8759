"""Fit one cubic to each of many stretches of a known curve, all in one go.

This is the heart of every line that Crossgrain draws. A stretch is given by points and unit tangents of the curve
it must follow; its cubic starts and ends exactly on the curve, along its tangents, so that neighbouring cubics join
smoothly. Two handle lengths are left to find. Points of the plane are complex numbers here, which makes one array
operation of what would be two.

Method: for given parameters of the samples the normal residuals are linear in the two handle lengths, so these come
from a 2 × 2 system; then each parameter takes one Newton step along the tangent. This is Gauss–Newton with the
parameters eliminated, and converges in three rounds from a fair guess. Lawson's reweighting (C. L. Lawson,
1961) then turns the least-squares fit towards the one of least maximum error, which is what an accuracy is about:
about a tenth is gained.
"""

from __future__ import annotations

from typing import NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

from crossgrain.tolerances import FIT_DAMPING

Complexes = NDArray[np.complex128]
Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Bools = NDArray[np.bool_]

_SAMPLES = 12
"""Inside samples of a stretch. The error of a good fit has three lobes; twelve samples see each four times."""

_DAMPINGS = (1e-3, 0.0, 0.0)
_LATE_DAMPINGS = (1e-3, 0.0, 0.0, 0.0, 0.0)
_SETTLED = 0.03
"""An error that changed by less than this share of itself in a round will not come down any more."""

_REWEIGHTED_ROUNDS = 3
_WORTH_WORK = 2.0
"""Stretches above this many times the accuracy are not worked on longer: they will be divided."""

_NODES: Floats = np.concatenate([[0.0], (1.0 - np.cos(np.pi * (np.arange(_SAMPLES) + 0.5) / _SAMPLES)) / 2.0, [1.0]])
"""Where a stretch is sampled: its ends, and Chebyshev's points between, dense where the lobes are narrow."""


def _denser_at_ends(count: int) -> Floats:
    """Return shares from 0 to 1, half-way between even ones and Chebyshev's: the outer lobes of an error are narrow."""
    even = np.linspace(0.0, 1.0, count)
    out: Floats = (even + (1.0 - np.cos(np.pi * even)) / 2.0) / 2.0
    return out


_CHECKED: Floats = _denser_at_ends(28)
_CHECKED_WELL: Floats = _denser_at_ends(82)

_MANY: Floats = np.linspace(0.0, 1.0, 257)

_ROOM = 0.95
"""A cubic whose error is under this share of the accuracy passes on the coarser check; one above its inverse fails."""

_UNSEEN = 1.002
"""What the finer check may be low by."""

_ASTRAY = 3.0
"""Above so many times the accuracy it may be the projection that went astray, not the cubic: it is done anew."""

_UNFIT = 1e6
"""The error reported for a stretch that one cubic cannot follow at all, mm."""


class Curve(Protocol):
    """A curve that can be asked for points and unit tangents, in batches."""

    def __call__(self, run: Ints, u: Floats, /) -> tuple[Complexes, Complexes, Floats]:
        """Return points, unit tangents, and a parameter that a cubic along the curve would have there; each (n, m).

        The last may have any scale, but rises along each row. It only starts the search.

        Args:
            run: which of the curve's runs each row lies on, shape (n,).
            u: parameters on that run, shape (n, m), rising along each row.
        """


class Spans(NamedTuple):
    """Cubics fitted to stretches: control points of shape (n, 4) and the error of each in mm, shape (n,)."""

    controls: Complexes
    error: Floats


class _Fit:
    """The samples of n stretches and the fit to them as it stands."""

    def __init__(self, points: Complexes, tangents: Complexes, parameter: Floats) -> None:
        self.all_points = points
        self.start, self.end = points[:, :1], points[:, -1:]
        self.start_tangent, self.end_tangent = tangents[:, :1], tangents[:, -1:]
        self.chord = self.end - self.start
        self.points = points[:, 1:-1]
        self.along = tangents[:, 1:-1].conj()
        self.normal = 1j * self.along
        self.begin(parameter)

    def begin(self, parameter: Floats) -> None:
        """Start from parameters of the samples, and from the handles that the speeds at both ends then have."""
        first = parameter[:, :1]
        t = (parameter - first) / np.maximum(parameter[:, -1:] - first, FIT_DAMPING)
        self.t = t[:, 1:-1]
        step = np.abs(self.all_points[:, [1, -1]] - self.all_points[:, [0, -2]])
        self.handle0 = step[:, :1] / np.maximum(3.0 * t[:, 1:2], FIT_DAMPING)
        self.handle1 = step[:, 1:] / np.maximum(3.0 * (1.0 - t[:, -2:-1]), FIT_DAMPING)

    def begin_from_chords(self) -> None:
        """Start again, from the lengths of the chords between samples."""
        walked = np.cumsum(np.abs(np.diff(self.all_points, axis=1)), axis=1)
        self.begin(np.concatenate([np.zeros((len(walked), 1)), walked], axis=1))

    def improve_handles(self, weight: Floats | float, damping: float) -> None:
        """Take the handles of least weighted normal residuals for the parameters as they are.

        Args:
            weight: of each sample, shape (n, m).
            damping: keeps the handles near where they are, as a share of the system's own size. On an arc both
                handles do nearly the same, and undamped ones run off while the parameters are still rough.
        """
        s = 1.0 - self.t
        st = s * self.t
        b1, b2 = 3.0 * s * st, 3.0 * self.t * st
        rest = self.start + (self.t * self.t * (3.0 - 2.0 * self.t)) * self.chord - self.points
        a = b1 * (self.start_tangent * self.normal).real
        b = -b2 * (self.end_tangent * self.normal).real
        residual = (rest * self.normal).real + self.handle0 * a + self.handle1 * b
        wa, wb = weight * a, weight * b
        aa = np.einsum("ij,ij->i", wa, a)
        bb = np.einsum("ij,ij->i", wb, b)
        ab = np.einsum("ij,ij->i", wa, b)
        ra = np.einsum("ij,ij->i", wa, residual)
        rb = np.einsum("ij,ij->i", wb, residual)
        more = damping * (aa + bb) + FIT_DAMPING
        aa, bb = aa + more, bb + more
        det = aa * bb - ab * ab
        self.handle0 = self.handle0 - ((ra * bb - rb * ab) / det)[:, None]
        self.handle1 = self.handle1 - ((rb * aa - ra * ab) / det)[:, None]

    def improve_parameters(self) -> None:
        """Take one Newton step of each parameter towards the point nearest to its sample."""
        t = self.t
        s = 1.0 - t
        st = s * t
        away = self._away()
        speed = (
            (6.0 * st) * self.chord
            + (self.handle0 * (3.0 * s * s - 6.0 * st)) * self.start_tangent
            - (self.handle1 * (6.0 * st - 3.0 * t * t)) * self.end_tangent
        )
        # A standstill sends a parameter to an end, or to nowhere: then the stretch counts as unfit.
        t = t - (away * self.along).real / (speed * self.along).real
        self.t = np.minimum(np.maximum(t, 0.0), 1.0)

    def distances(self) -> Floats:
        """Return how far each sample is from the cubic at its parameter: never less than from the cubic itself."""
        return np.abs(self._away())

    def _away(self) -> Complexes:
        t = self.t
        st = (1.0 - t) * t
        away = self.start + (t * t * (3.0 - 2.0 * t)) * self.chord - self.points
        away += ((3.0 * self.handle0) * ((1.0 - t) * st)) * self.start_tangent
        away -= ((3.0 * self.handle1) * (t * st)) * self.end_tangent
        return away

    def subset(self, keep: Ints) -> _Fit:
        """Return the fit of some of the stretches only."""
        part = object.__new__(_Fit)
        for name, value in vars(self).items():
            setattr(part, name, value[keep] if isinstance(value, np.ndarray) else value)
        return part

    def replace(self, places: Ints, other: _Fit) -> None:
        """Take over the state of other stretches' fits."""
        for name in ("handle0", "handle1", "t"):
            getattr(self, name)[places] = getattr(other, name)

    def controls(self) -> Complexes:
        return np.concatenate(
            [
                self.start,
                self.start + self.handle0 * self.start_tangent,
                self.end - self.handle1 * self.end_tangent,
                self.end,
            ],
            axis=1,
        )

    def error(self, distances: Floats) -> Floats:
        """Return the largest distance of each stretch, or ``_UNFIT`` where handles or parameters run backwards."""
        worst: Floats = distances.max(axis=1)
        wrong = (self.handle0[:, 0] < 0.0) | (self.handle1[:, 0] < 0.0) | ~np.isfinite(worst)
        wrong |= (self.t[:, 1:] < self.t[:, :-1]).any(axis=1)
        return np.where(wrong, _UNFIT, worst)


def fit_spans(curve: Curve, run: Ints, start: Floats, end: Floats, accuracy: float) -> Spans:
    """Fit one cubic to each stretch of a curve.

    Args:
        curve: what to follow.
        run: the run of the curve each stretch lies on, shape (n,).
        start: the parameter each stretch starts at, shape (n,).
        end: the parameter each stretch ends at, above its start, shape (n,).
        accuracy: the error aimed at, mm; stretches just above it are worked on longer.

    Returns:
        The cubics, and their errors as seen by twelve samples: low by up to 5 %. See :func:`true_error`.
    """
    with np.errstate(all="ignore"):
        fit = _Fit(*curve(run, start[:, None] + (end - start)[:, None] * _NODES))
        for damping in _DAMPINGS:
            fit.improve_handles(1.0, damping)
            fit.improve_parameters()
        distances = fit.distances()
        controls, error = fit.controls(), fit.error(distances)
        late = np.flatnonzero(error > accuracy)
        if late.size:
            again = fit.subset(late)
            lost = np.flatnonzero(error[late] >= _UNFIT)
            if lost.size:
                fresh = again.subset(lost)
                fresh.begin_from_chords()
                again.replace(lost, fresh)
            before = error[late]
            for damping in _LATE_DAMPINGS:
                again.improve_handles(1.0, damping)
                again.improve_parameters()
                again.improve_parameters()
                distances = again.distances()
                after = again.error(distances)
                if ((after <= accuracy) | (np.abs(after - before) < _SETTLED * after)).all():
                    break
                before = after
            _take_better(controls, error, late, again, distances)
            close = np.flatnonzero((error[late] > accuracy) & (error[late] < _WORTH_WORK * accuracy))
            if close.size:
                near = again.subset(close)
                size = near.distances()
                weight = np.ones_like(size)
                for _round in range(_REWEIGHTED_ROUNDS):
                    weight = weight * (size / size.max(axis=1, keepdims=True) + 0.05)
                    near.improve_handles(weight, 0.0)
                    near.improve_parameters()
                    size = near.distances()
                _take_better(controls, error, late[close], near, size)
    return Spans(controls, error)


def _take_better(controls: Complexes, error: Floats, places: Ints, fit: _Fit, distances: Floats) -> None:
    """Put in the fits that are better than what stands there."""
    better = fit.error(distances)
    won = better < error[places]
    controls[places[won]] = fit.controls()[won]
    error[places[won]] = better[won]


def true_error(curve: Curve, run: Ints, start: Floats, end: Floats, controls: Complexes, accuracy: float) -> Floats:
    """Measure how far cubics lie from the stretches they follow.

    Samples of the curve, eight to each lobe of the error, are projected on the cubic, and the peak of the largest is
    taken from a parabola through it and its neighbours. That the projections rise along the cubic rules out spurs, so
    the distance holds in both directions. A cubic that does not pass with room to spare is looked at again, with some
    twenty-five samples to each lobe.

    Args:
        curve: what was followed.
        run: as for :func:`fit_spans`, like ``start`` and ``end``.
        start: the parameter each stretch starts at.
        end: the parameter each stretch ends at.
        controls: the cubics, shape (n, 4).
        accuracy: the error that matters, mm: where the projection seems to miss it, it is done more carefully.

    Returns:
        The error of each cubic in mm, shape (n,). Of ten thousand cubics beside wild and gentle curves, none that was
        said to keep the accuracy exceeded it. ``inf`` where the cubic runs backwards.
    """
    with np.errstate(all="ignore"):
        error = _projected(curve, run, start, end, controls, _CHECKED, 3)
        doubtful = np.flatnonzero(
            (error > _ROOM * accuracy) & ((error < accuracy / _ROOM) | (error > _ASTRAY * accuracy))
        )
        if doubtful.size:
            run, start, end, controls = run[doubtful], start[doubtful], end[doubtful], controls[doubtful]
            error[doubtful] = _UNSEEN * _projected(curve, run, start, end, controls, _CHECKED_WELL, 4)
            lost = np.flatnonzero(error[doubtful] > _ASTRAY * accuracy)
            if lost.size:
                error[doubtful[lost]] = _UNSEEN * _projected(
                    curve, run[lost], start[lost], end[lost], controls[lost], _CHECKED_WELL, 4, anew=True
                )
    return error


def _at(controls: Complexes, t: Floats) -> tuple[Complexes, Complexes]:
    p0, p1, p2, p3 = (controls[:, k, None] for k in range(4))
    c1, c2, c3 = 3.0 * (p1 - p0), 3.0 * (p2 - 2.0 * p1 + p0), p3 - p0 + 3.0 * (p1 - p2)
    return p0 + t * (c1 + t * (c2 + t * c3)), c1 + t * (2.0 * c2 + t * (3.0 * c3))


def _projected(
    curve: Curve,
    run: Ints,
    start: Floats,
    end: Floats,
    controls: Complexes,
    nodes: Floats,
    rounds: int,
    *,
    anew: bool = False,
) -> Floats:
    """Return the largest distance of a curve's samples to cubics; ``anew`` looks for each sample on all the cubic."""
    points, tangents, parameter = curve(run, start[:, None] + (end - start)[:, None] * nodes)
    first = parameter[:, :1]
    t = (parameter[:, 1:-1] - first) / np.maximum(parameter[:, -1:] - first, FIT_DAMPING)
    points, along = points[:, 1:-1], tangents[:, 1:-1].conj()
    if anew:
        everywhere, _velocity = _at(controls, np.broadcast_to(_MANY, (len(controls), len(_MANY))))
        t = _MANY[np.abs(points[:, :, None] - everywhere[:, None, :]).argmin(axis=2)]
    for _round in range(rounds):
        on, velocity = _at(controls, t)
        forward = (velocity * along).real
        step = ((on - points) * along).real / np.where(np.abs(forward) > FIT_DAMPING, forward, np.inf)
        t = np.clip(t - step, 0.0, 1.0)
    worst = _peak(np.abs(_at(controls, t)[0] - points))
    backwards = (t[:, 1:] < t[:, :-1]).any(axis=1) | ~np.isfinite(worst)
    return np.where(backwards, np.inf, worst)


def _peak(distance: Floats) -> Floats:
    """Return the largest distance of each row, from the parabola through the largest sample and its neighbours."""
    padded = np.pad(distance, ((0, 0), (1, 1)))
    row = np.arange(len(distance))
    k = distance.argmax(axis=1)
    before, at, after = padded[row, k], padded[row, k + 1], padded[row, k + 2]
    bend = before + after - 2.0 * at
    out: Floats = np.where(bend < 0.0, at - (before - after) ** 2 / (8.0 * bend), at)
    return out
