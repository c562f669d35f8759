"""A strip of cloth beside a line: places told by how far along the line they lie and how far beside it.

Where the line bends, a strip map carries what lies beside the line along with it, so that every distance from the line,
measured square to it, stays: ``C(s) + d n(s)`` goes to ``D(f(s)) + d n(f(s))``. Along the line the map stretches by
``f'``, at a distance ``d`` by ``f' (1 + κ_D d) / (1 + κ_C d)``; across it by nothing.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Literal, Self

import numpy as np

from crossgrain.kernel.affine import Point
from crossgrain.kernel.arrays import point_of
from crossgrain.kernel.curvature import node_turns, screened
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.length import path_length, places_at, point_at, segment_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.rescale import Rescale
from crossgrain.kernel.segment import unit
from crossgrain.kernel.spans import Complexes, Floats
from crossgrain.kernel.warp import Map
from crossgrain.tolerances import AGREEING_TURN, COINCIDENT, SMOOTH_TURN

Kept = Literal["start", "middle", "end"]
"""Which part of a line that becomes longer stays as it lies."""

_STEP = 1.0
"""Between places at which a line is taken, mm. Hermite's cubics between them follow a bend with a radius of 20 mm to
a millionth of a millimetre."""

_LEAST_STEPS, _MOST_STEPS = 64, 2048

_SMOOTHED = 20.0
"""Of a line that turns at its nodes, as one traced by hand, the direction is the mean over so far to either side, mm:
nodes are set about so far apart, and over that a jitter of 0.3 mm turns it by half a degree."""

_NEWTON_STEPS = 12

_CHAIN = 0.1
"""How near a polyline follows an outline to tell how far it lies across from a line, mm."""


class Guide:
    """A line by its length, and what lies beside it; straight on before its start and past its end.

    Of a line that turns at nodes a smooth one that goes through its ends stands in: what lies beside it does
    not jump then. Where it turns by no more than a smooth join may, only that turn is spread out.

    Args:
        places: points on it, complex, mm.
        headings: its direction at each, radians, without jumps by whole turns.
        along: how far from its start each lies, mm, rising from 0.
    """

    def __init__(self, places: Complexes, headings: Floats, along: Floats) -> None:
        self._z, self._heading, self._s = places, headings, along
        self._tangent: Complexes = np.exp(1j * headings)
        self._bend: Floats = np.gradient(headings, along)
        self.length = float(along[-1])

    @classmethod
    def of(cls, line: Path) -> Self:
        """Make the guide of an open line.

        >>> from crossgrain.kernel.segment import Line
        >>> Guide.of(Path((Line((0.0, 0.0), (60.0, 80.0)),))).length
        100.0
        """
        line = screened(line)
        length = path_length(line)
        steps = int(np.clip(math.ceil(length / _STEP), _LEAST_STEPS, _MOST_STEPS))
        along = np.linspace(0.0, length, steps + 1)
        found = places_at(line, along.tolist())
        places = np.array([complex(*point_at(line, place)) for place in found])
        turns = node_turns(line)
        if float(np.abs(turns).max(initial=0.0)) > SMOOTH_TURN:
            return cls(*_smoothed(places, along))
        segments = line.segments
        ends = segments[0].start_tangent, segments[-1].end_tangent
        inner = [segments[place.index].derivative(place.t) for place in found[1:-1]]
        # At a cusp, where a cubic stands still, the chord to the next place will do.
        chords = np.diff(places)[1:]
        between = [
            unit(*way) if any(way) else point_of(chord / abs(chord)) for way, chord in zip(inner, chords, strict=True)
        ]
        ways = np.array([complex(*way) for way in (ends[0], *between, ends[1]) if way is not None])
        headings = np.unwrap(np.angle(ways))
        kinks = np.flatnonzero(np.abs(turns) > AGREEING_TURN)
        if not kinks.size:
            return cls(places, headings, along)
        nodes = np.concatenate([[0.0], np.cumsum([segment_length(segment) for segment in segments])])
        return cls(*_led_round(places, headings, along, nodes[kinks], turns[kinks]))

    def lengthened(self, rescale: Rescale, kept: Kept) -> Guide:
        """Return the line with its bends where they were, each stretch of it longer or shorter: curvature is kept.

        Args:
            rescale: from lengths along this line to lengths along the new one.
            kept: where the line stays as it lies. In the middle it only keeps its direction, and starts where it did.
        """
        along = rescale(self._s)[0]
        stretch = np.diff(along) / np.diff(self._s)
        headings = self._heading[0] + np.concatenate([[0.0], np.cumsum(np.diff(self._heading) * stretch)])
        turn = headings - self._heading
        # Each short chord is turned and stretched with its place; where nothing changes they are the very ones.
        chords = np.diff(self._z) * stretch * np.exp(0.5j * (turn[1:] + turn[:-1]))
        places = self._z[0] + np.concatenate([[0.0 + 0j], np.cumsum(chords)])
        by = {"start": turn[0], "middle": float(np.interp(self.length / 2.0, self._s, turn)), "end": turn[-1]}[kept]
        hinge = -1 if kept == "end" else 0
        places = self._z[hinge] + (places - places[hinge]) * np.exp(-1j * by)
        return Guide(places, headings - by, along - along[0])

    def frame(self, s: Floats) -> tuple[Complexes, Complexes, Floats]:
        """Return points, unit tangents and curvatures at lengths along the line, each of their shape."""
        inside = np.clip(s, 0.0, self.length)
        k = np.clip(np.searchsorted(self._s, inside, side="right") - 1, 0, len(self._s) - 2)
        step = self._s[k + 1] - self._s[k]
        t = (inside - self._s[k]) / step
        p, q = self._z[k], self._z[k + 1]
        a, b = self._tangent[k] * step, self._tangent[k + 1] * step
        c2, c3 = 3.0 * (q - p) - 2.0 * a - b, a + b - 2.0 * (q - p)
        velocity = a + t * (2.0 * c2 + t * (3.0 * c3))
        tangent = velocity / np.abs(velocity)
        bend = np.where(inside == s, self._bend[k] + t * (self._bend[k + 1] - self._bend[k]), 0.0)
        return p + t * (a + t * (c2 + t * c3)) + (s - inside) * tangent, tangent, bend

    def located(self, points: Complexes) -> tuple[Floats, Floats]:
        """Return how far along the line the place nearest to each point lies, and how far beside it the point is, mm.

        What lies beyond an end is told by the straight line that goes on there. A positive distance is to the side of
        the normal.
        """
        flat = points.ravel()
        nearest = np.array([int(np.argmin(np.abs(self._z - point))) for point in flat], dtype=np.intp)
        low, high = self._s[np.maximum(nearest - 1, 0)], self._s[np.minimum(nearest + 1, len(self._s) - 1)]
        # At an end the place may also lie on the straight line beyond.
        low, high = np.where(nearest == 0, -np.inf, low), np.where(nearest == len(self._s) - 1, np.inf, high)
        s = self._s[nearest]
        for _step in range(_NEWTON_STEPS):
            point, tangent, bend = self.frame(s)
            away = (flat - point) * tangent.conj()
            speed = np.maximum(1.0 - bend * away.imag, 0.25)
            s = np.clip(s + away.real / speed, low, high)
        point, tangent, _bend = self.frame(s)
        distance = -((flat - point) * tangent.conj()).imag
        return s.reshape(points.shape), distance.reshape(points.shape)

    def tightest(self, outline: Path, side: int) -> tuple[float, float, Point]:
        """Find where a strip beside the line is widest against the line's radius on the inner side of a bend.

        Args:
            outline: the rest of the strip's outline, from the line's end back to its start.
            side: 1 where the strip lies to the side of the normal, -1 where it lies on the other.

        Returns:
            The radius there and the width of the strip there, mm, and the place on the line. The strip fits in the bend
            where the width is less. An infinite radius where it bends away everywhere.
        """
        vertices = flatten(outline, _CHAIN).points @ np.array([1.0, 1j])
        starts, chords = vertices[:-1], np.diff(vertices)
        inner = np.flatnonzero(side * self._bend < 0.0)
        if not inner.size:
            return math.inf, 0.0, point_of(complex(self._z[0]))
        ray = -1j * side * self._tangent[inner]
        away = starts[None, :] - self._z[inner][:, None]
        across = (ray[:, None].conj() * chords[None, :]).imag
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            reach = (away.conj() * chords[None, :]).imag / across
            share = (away.conj() * ray[:, None]).imag / across
        met = (share >= 0.0) & (share <= 1.0) & (reach > COINCIDENT)
        widths = np.where(met, reach, np.inf).min(axis=1)
        widths = np.where(np.isfinite(widths), widths, 0.0)
        worst = int(np.argmax(widths * np.abs(self._bend[inner])))
        at = inner[worst]
        return 1.0 / abs(float(self._bend[at])), float(widths[worst]), point_of(complex(self._z[at]))


def strip_map(old: Guide, new: Guide, rescale: Callable[[Floats], tuple[Floats, Floats]]) -> Map:
    """Return the map that carries what lies beside a line along to another line, at the same distance from it.

    Args:
        old: the line as it was.
        new: the line as it is.
        rescale: from lengths along the old line to lengths along the new one, and the stretch there.

    >>> from crossgrain.kernel.segment import Line
    >>> lines = [Guide.of(Path((Line((0.0, 0.0), (length, 0.0)),))) for length in (100.0, 110.0)]
    >>> move = strip_map(*lines, Rescale([0.0, 100.0], [0.0, 110.0]))
    >>> move(np.array([50.0 + 40.0j, 120.0 + 40.0j]), np.array([1j, 1j]))[0].round(9).tolist()
    [(55+40j), (130+40j)]
    """

    def move(point: Complexes, direction: Complexes) -> tuple[Complexes, Complexes]:
        s, d = old.located(point)
        _there, tangent, bend = old.frame(s)
        f, slope = rescale(s)
        place, new_tangent, new_bend = new.frame(f)
        turned = direction * tangent.conj()
        along = turned.real * slope * (1.0 + new_bend * d) / (1.0 + bend * d)
        return place - 1j * d * new_tangent, (along + 1j * turned.imag) * new_tangent

    return move


def _led_round(
    places: Complexes, headings: Floats, along: Floats, at: Floats, turns: Floats
) -> tuple[Complexes, Floats, Floats]:
    """Return a line with slight turns at nodes spread out to both sides, through its ends; 0.1 mm off it at most."""
    length, out = float(along[-1]), headings.copy()
    for here, turn in zip(at.tolist(), turns.tolist(), strict=True):
        reach = min(_SMOOTHED, here, length - here)
        u = np.clip((along - here) / reach, -1.0, 1.0)
        out += turn * (0.5 + 0.75 * u - 0.25 * u**3 - (along > here))
        # Right at the node a line has two directions.
        for k in np.flatnonzero(np.abs(along - here) <= COINCIDENT):
            out[k] = (out[k - 1] + out[k + 1]) / 2.0
    return _drawn(places, out, along)


def _drawn(places: Complexes, headings: Floats, along: Floats) -> tuple[Complexes, Floats, Floats]:
    """Draw a line by its directions, turned and scaled so that it ends where it did."""
    steps = np.diff(along) * np.exp(0.5j * (headings[1:] + headings[:-1]))
    drawn = np.concatenate([[0.0 + 0j], np.cumsum(steps)])
    fit = (places[-1] - places[0]) / drawn[-1]
    return places[0] + fit * drawn, headings + float(np.angle(fit)), along * abs(fit)


def _smoothed(places: Complexes, along: Floats) -> tuple[Complexes, Floats, Floats]:
    """Return a smooth line through the ends of a crooked one: of each place the mean direction around it."""
    length = along[-1]
    around = np.clip(np.minimum(along, length - along), _SMOOTHED / 4.0, _SMOOTHED)
    points = np.interp(along + around, along, places.real) + 1j * np.interp(along + around, along, places.imag)
    before = np.interp(along - around, along, places.real) + 1j * np.interp(along - around, along, places.imag)
    return _drawn(places, np.unwrap(np.angle(points - before)), along)
