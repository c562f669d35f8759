"""Fitting known curves: the fewest cubics, their order of convergence, and what is said of their error."""

import math

import numpy as np
import pytest

from beside import Drawn, distances, sampled
from crossgrain.errors import AccuracyError
from crossgrain.kernel.fit import fit_curve
from crossgrain.kernel.parallels.parallel_curve import ParallelCurve
from crossgrain.kernel.spans import fit_spans, true_error
from random_cubics import FAMILIES, drawn


class Arc:
    """Arcs about the origin, one for each radius; the parameter is the angle."""

    def __init__(self, *radii):
        self.radii = np.array(radii)

    def __call__(self, run, u):
        turn = np.exp(1j * u)
        return self.radii[run][:, None] * turn, 1j * turn, u


class Wave:
    """A sine of 40 mm height and 300 mm length."""

    def __call__(self, run, u):
        k = 2.0 * math.pi / 300.0
        slope = 1.0 + 40.0j * k * np.cos(k * u)
        return u + 40.0j * np.sin(k * u), slope / np.abs(slope), u


def off(curve, controls, start, end):
    """Return how far cubics lie from a curve, from samples 0.4 mm apart: the engine's check is not asked."""
    line = Drawn(controls)
    points = curve(np.array([0]), np.linspace(start, end, 1500)[None])[0][0]
    return distances(points, line, sampled(line, 0.2)).max()


@pytest.mark.parametrize("accuracy", [0.05, 0.01, 0.002, 0.0004])
def test_a_wave_is_followed_within_every_accuracy(accuracy):
    fitted = fit_curve(Wave(), np.array([0.0]), np.array([600.0]), accuracy)
    assert off(Wave(), fitted.controls, 0.0, 600.0) <= accuracy
    np.testing.assert_allclose(fitted.controls[1:, 0], fitted.controls[:-1, 3], atol=1e-9)
    leaving = np.angle(fitted.controls[1:, 1] - fitted.controls[1:, 0])
    arriving = np.angle(fitted.controls[:-1, 3] - fitted.controls[:-1, 2])
    np.testing.assert_allclose(leaving, arriving, atol=1e-6)


def test_a_quarter_circle_takes_one_cubic_up_to_the_known_error():
    """The best cubic with exact ends and tangents strays by 1.96e-4 of the radius, in and out (from memory)."""
    for accuracy, count in ((0.022, 1), (0.0195, 2)):
        fitted = fit_curve(Arc(100.0), np.array([0.0]), np.array([math.pi / 2.0]), accuracy)
        assert fitted.counts.tolist() == [count]


def test_the_error_falls_with_the_sixth_power():
    """Segments grow as the accuracy to the power -1/6 (R. Levien, 2022): 64 times as true takes twice as many."""
    curve, whole = Arc(1000.0), np.array([6.0])
    counts = [int(fit_curve(curve, np.zeros(1), whole, 0.2 / 64.0**k).counts[0]) for k in range(4)]
    for few, many in zip(counts[1:], counts[2:], strict=False):  # noqa: RUF007
        assert many == pytest.approx(2 * few, abs=1)


def test_needs_are_fractions_of_what_is_taken():
    fitted = fit_curve(Arc(10.0, 100.0), np.zeros(2), np.array([1.0, 6.0]), 0.01)
    assert (fitted.needs <= fitted.counts * 1.02).all()
    assert (fitted.needs >= 0.0).all()


def test_runs_that_are_not_asked_for_get_nothing():
    fitted = fit_curve(Arc(10.0, 20.0, 30.0), np.zeros(3), np.ones(3), 0.01, runs=np.array([1]))
    assert fitted.counts.tolist() == [0, 1, 0]
    np.testing.assert_allclose(np.abs(fitted.controls[:, [0, 3]]), 20.0)


def test_none_to_ask_for_is_none():
    assert len(fit_curve(Arc(10.0), np.zeros(1), np.ones(1), 0.01, runs=np.array([], dtype=int)).controls) == 0


def test_a_run_that_cannot_do_with_fewer_is_left_out():
    start, end = np.zeros(2), np.array([0.3, 6.0])
    fitted = fit_curve(Arc(100.0, 100.0), start, end, 0.001, fewer_than=np.array([2, 3]))
    assert fitted.counts.tolist() == [1, 0]


def test_what_no_cubics_follow_is_refused_with_its_place():
    with pytest.raises(AccuracyError) as caught:
        fit_curve(Wave(), np.array([0.0]), np.array([60_000.0]), 1e-6)
    assert caught.value.position is not None


@pytest.mark.parametrize("family", FAMILIES)
def test_the_error_told_is_the_error(family):
    """Against samples nine times as dense: seen too low by 9 % once, in the narrow lobes at the ends."""
    cases = drawn(family, 12, f"error {family}")
    rows = np.array([[complex(*control) for control in cubic.controls] for cubic, _d in cases])
    curve = ParallelCurve(rows, np.array([distance for _cubic, distance in cases]))
    every = np.arange(len(rows))
    start, end, home = curve.lay_runs(every, every)
    parts = 4
    step = (end - start) / parts
    run = np.repeat(np.arange(len(home)), parts)
    lo = start[run] + step[run] * np.tile(np.arange(parts), len(home))
    hi = lo + step[run]
    controls, _seen = fit_spans(curve, run, lo, hi, 0.01)
    told = true_error(curve, run, lo, hi, controls, 0.01)
    good = np.flatnonzero(told <= 0.01)
    assert good.size > 10
    shares = (1.0 - np.cos(np.linspace(0.0, math.pi, 250))) / 2.0
    points = curve(run[good], lo[good, None] + (hi - lo)[good, None] * shares)[0]
    for told_here, line, way in zip(told[good], controls[good], points, strict=True):
        cubic = Drawn(line[None])
        true = distances(way, cubic, sampled(cubic, 1.0)).max()
        assert true <= max(1.05 * told_here, told_here + 5e-5)
        assert true <= 0.01
