"""The map that narrows a piece along the cross grain and leaves its holds as wide as they are.

In the frame of the grain, ``y`` runs along it and ``x`` across. At each level ``y`` the piece is ``W`` wide, of which
``H`` is held; to make it ``W₂`` wide, the free part scales by ``k = (W₂ − H) / (W − H)``. A point goes to
``x₀ + ∫ s dx`` from the anchor ``x₀``, with ``s = k`` in the free part and 1 in the holds. Beyond its ends a hold
fades smoothly, so that nothing is stepped, and the width is right at every level all the same; but where the outline
itself steps back at the end of a hold, as under a zip extension, the width misses what was asked by up to the hold's
width times the share taken away (0.4 mm for 5 mm and 8 %), fading over 80 mm.

A slanted top or hem is crossed by levels at which only a corner of the piece is left. There ``k`` goes on from the
nearest level that has an edge along the grain on either side, so that the waist and the hem stay smooth: the corner of
a piece with holds misses the width asked by up to as much again.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import CollapseError, ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.area import winding
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.course import Course
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.length import Place, path_length, places_at, point_at, point_at_share, run
from crossgrain.kernel.path import Path
from crossgrain.kernel.profile import Profile
from crossgrain.kernel.segment import Line
from crossgrain.language import _
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.marks import Dart, Hold
from crossgrain.model.piece import Piece
from crossgrain.tolerances import ON_CREASE, WIDTH_CHAIN

Complexes = NDArray[np.complex128]
Floats = NDArray[np.float64]

_LEVEL_STEP = 2.0
"""Widths are taken every so many mm along the grain; between, they are blended by cubics."""

_FADE = 80.0
"""A hold fades over this length beyond its ends, mm: a hand's breadth, over which the eye sees no bend in a seam."""

_MOST_EASED = 0.1
"""Past the levels at which widths are known, the factor changes by no more than half of this share of itself."""

_LEAST_FALL = 0.1
"""Where the outline falls by less than this share of what it runs across, as at a waist or under a zip extension, a
hold does not follow it."""

_MARGIN = 2.0
"""A hold along an edge is taken to reach this far outside it, mm, so that the edge itself surely lies in it."""


@dataclass(frozen=True, slots=True)
class _Zone:
    """A strip along a course, from ``left`` to ``right`` of it at each level, held by ``weight`` (0 to 1).

    Inside the piece it is ``width`` wide where it is whole.
    """

    course: Course
    left: float
    right: float
    width: float
    top: float
    bottom: float
    fade_up: float
    fade_down: float

    def sides(self, y: Floats) -> tuple[Floats, Floats]:
        """Return where the strip begins and ends at each level."""
        x = self.course(y)[0]
        return x + self.left, x + self.right

    def weight(self, y: Floats) -> tuple[Floats, Floats]:
        """Return how much of the strip is held at each level, and the slope of that."""
        above = np.clip((self.top - y) / self.fade_up, 0.0, 1.0) if self.fade_up else np.zeros_like(y)
        below = np.clip((y - self.bottom) / self.fade_down, 0.0, 1.0) if self.fade_down else np.zeros_like(y)
        t = np.maximum(above, below)
        slope = 6.0 * t * (1.0 - t)
        rate = np.where(above > below, slope / (self.fade_up or 1.0), -slope / (self.fade_down or 1.0))
        return 1.0 - t * t * (3.0 - 2.0 * t), rate


class Narrowing:
    """How one piece is narrowed.

    Args:
        piece: the piece, with its holds and darts.
        ratio: what is left of its width, at every level; above 0.
        anchor: the edge about whose middle it is narrowed; none for the fold, or else the middle of the piece.
        free: by how much the free part scales at each level, mm along the grain in the frame of the grain; instead of
            ``ratio``, where that varies.

    Raises:
        CollapseError: the holds leave nothing to narrow.
        ParameterError: a hold along an edge that runs across the grain.
    """

    def __init__(self, piece: Piece, ratio: float, anchor: str = "", *, free: Profile | None = None) -> None:
        gx, gy = piece.grain
        # Turning the grain (gx, gy) onto (0, 1) is a product with its conjugate times i.
        self._turn = complex(gy, gx) if (gx, gy) != (0.0, 1.0) else 1.0 + 0.0j
        frame = Affine(self._turn.real, self._turn.imag, -self._turn.imag, self._turn.real)
        outline = piece.line.mapped(frame)
        points = flatten(outline, WIDTH_CHAIN).points
        darts = {dart: zone for dart in piece.darts if (zone := _dart_zone(piece, dart, frame)) is not None}
        self._darts = frozenset(darts)
        self._zones = [*darts.values(), *(_edge_zone(piece, hold, frame) for hold in piece.holds)]
        edge = anchor or piece.cut.on_fold
        if edge:
            self._x0, level = frame.of(point_at_share(piece.edge(edge).line, 0.5))
        else:
            box = bounds(outline)
            self._x0, level = (box.left + box.right) / 2.0, (box.top + box.bottom) / 2.0
        # Where along each strip the anchor counts as lying. It is the same at every level: a slanted strip that
        # crosses the anchor would bend the whole piece there.
        at = np.array([level])
        self._from = [min(max(self._x0 - float(zone.course(at)[0][0]), zone.left), zone.right) for zone in self._zones]
        self._ratio = ratio
        self._varies = free is not None
        if free is None:
            free = self._free_part(piece, outline, points) if self._zones else Profile([0.0], [ratio])
        self._free = free

    @property
    def anchor(self) -> float:
        """Where the piece stays in place, mm across the grain, in the frame of the grain."""
        return self._x0

    def holds(self, dart: Dart) -> bool:
        """Say whether a dart's intake is a width that is held, as it is unless the dart opens along the grain."""
        return dart in self._darts

    @property
    def is_even(self) -> bool:
        """Whether nothing is held and nothing varies, so that the whole piece narrows alike."""
        return not self._zones and not self._varies

    def creases(self, points: Complexes) -> list[tuple[Floats, Floats]]:
        """Return how points lie to the lines along which the map is creased, the sides of the holds.

        Args:
            points: places along a line, complex, shape (n,).

        Returns:
            For each crease how far beside it the points lie, mm, and by how much a line across it is bent there, as
            a share of how fast it moves away from the crease; each of shape (n,).
        """
        here = points * self._turn
        bend = 1.0 - self._free(here.imag)[0]
        out = []
        for zone in self._zones:
            weight = zone.weight(here.imag)[0] * bend
            out += [(here.real - side, weight) for side in zone.sides(here.imag)]
        return out

    def __call__(self, point: Complexes, direction: Complexes) -> tuple[Complexes, Complexes]:
        """Return where points go, and directions at them."""
        here, heading = point * self._turn, direction * self._turn
        x, y, dx, dy = here.real, here.imag, heading.real, heading.imag
        k, k_slope = self._free(y)
        new = self._x0 + k * (x - self._x0)
        new_dx = k * dx + k_slope * (x - self._x0) * dy
        for zone, origin in zip(self._zones, self._from, strict=True):
            weight, weight_slope = zone.weight(y)
            axis, slant = zone.course(y, dy)
            beside, beside_rate = x - axis, dx - slant * dy
            held = np.clip(beside, zone.left, zone.right) - origin
            inside = (beside > zone.left) & (beside < zone.right)
            inside = np.where(np.abs(beside - zone.left) < ON_CREASE, beside_rate > 0.0, inside)
            inside = np.where(np.abs(beside - zone.right) < ON_CREASE, beside_rate < 0.0, inside)
            held_rate = np.where(inside, beside_rate, 0.0)
            new = new + weight * (1.0 - k) * held
            new_dx = new_dx + weight * (1.0 - k) * held_rate
            new_dx = new_dx + (weight_slope * (1.0 - k) - weight * k_slope) * dy * held
        return (new + 1j * y) / self._turn, (new_dx + 1j * dy) / self._turn

    def _free_part(self, piece: Piece, outline: Path, points: Floats) -> Profile:
        """Return by how much the free part scales, along the grain."""
        top, bottom = _full_levels(piece, self._turn, points)
        levels = np.linspace(top, bottom, max(3, int((bottom - top) / _LEVEL_STEP) + 1))
        left, right = _sides(points, levels)
        width = right - left
        held = np.zeros_like(levels)
        for zone in self._zones:
            low, high = zone.sides(levels)
            # Past a step in the outline a fading strip lies outside. There the width is taken as if it did not, as far
            # as it still holds, for the factor must not step where the outline does.
            weight = zone.weight(levels)[0]
            width = width + weight * (zone.width - np.maximum(np.minimum(high, right) - np.maximum(low, left), 0.0))
            held = held + weight * zone.width
        free = (self._ratio * width - held) / np.where(width > held, width - held, np.nan)
        if not (free > 0.0).all():
            worst = int(np.nanargmin(np.where(np.isfinite(free), free, -np.inf)))
            here = complex(left[worst], levels[worst]) / self._turn
            raise CollapseError(
                _("Of {width:.1f} mm, {held:.1f} mm are held: too little is left to narrow.").format(
                    width=width[worst], held=held[worst]
                ),
                position=(here.real, here.imag),
                advice=_("Reduce by less, or make the hold narrower."),
            )
        return Profile(*_eased(levels, free))


def _eased(levels: Floats, values: Floats) -> tuple[Floats, Floats]:
    """Let values go on past both ends as they rise there, ever less, until they stay as they are."""
    ends = []
    for end, beside, way in ((0, 1, -1.0), (-1, -2, 1.0)):
        rate = way * float((values[end] - values[beside]) / (levels[end] - levels[beside]))
        reach = min(_FADE, _MOST_EASED * float(values[end]) / abs(rate)) if rate else _FADE
        past = np.linspace(0.0, 1.0, max(3, int(reach / _LEVEL_STEP) + 1))[1:]
        ends.append((levels[end] + way * reach * past, values[end] + rate * reach * (past - past * past / 2.0)))
    (up, above), (down, below) = ends
    return np.concatenate([up[::-1], levels, down]), np.concatenate([above[::-1], values, below])


def widest(piece: Piece) -> float:
    """Return the greatest width of a piece across its grain at one level, mm, within 0.01 mm."""
    gx, gy = piece.grain
    points = flatten(piece.line.mapped(Affine(gy, gx, -gx, gy)), WIDTH_CHAIN).points
    levels = np.linspace(float(points[:, 1].min()), float(points[:, 1].max()), _WIDTH_LEVELS + 1)[1:-1]
    left, right = _sides(points, np.sort(np.concatenate([levels, points[:, 1]])))
    return float((right - left).max())


_WIDTH_LEVELS = 400


def _full_levels(piece: Piece, turn: complex, points: Floats) -> tuple[float, float]:
    """Return the range of levels at which the piece has a long edge on either side, past slanted tops and hems."""
    winds = winding(piece.line)
    spans: dict[bool, list[tuple[float, float]]] = {True: [], False: []}
    for edge in piece.edges:
        start, end = complex(*edge.line.start) * turn, complex(*edge.line.end) * turn
        if abs((end - start).imag) > abs((end - start).real):
            spans[(end.imag > start.imag) == (winds > 0)].append((min(start.imag, end.imag), max(start.imag, end.imag)))
    low, high = float(points[:, 1].min()), float(points[:, 1].max())
    tops = [min(span[0] for span in side) for side in spans.values() if side]
    bottoms = [max(span[1] for span in side) for side in spans.values() if side]
    top, bottom = max(tops, default=low), min(bottoms, default=high)
    return (top, bottom) if bottom - top > _LEVEL_STEP else (low + _LEVEL_STEP, high - _LEVEL_STEP)


def _sides(points: Floats, levels: Floats) -> tuple[Floats, Floats]:
    """Return the leftmost and rightmost point of a closed polyline at each level; the levels rise."""
    (x0, y0), (x1, y1) = points[:-1].T, points[1:].T
    # Only the levels that a stretch of the line spans are asked of it.
    first = np.searchsorted(levels, np.minimum(y0, y1), side="left")
    count = np.searchsorted(levels, np.maximum(y0, y1), side="right") - first
    k = np.repeat(np.arange(len(x0)), count)
    at = np.arange(len(k)) - np.repeat(np.cumsum(count) - count, count) + first[k]
    fall = y1[k] - y0[k]
    share = np.divide(levels[at] - y0[k], fall, out=np.zeros_like(fall), where=fall != 0.0)
    x = x0[k] + share * (x1[k] - x0[k])
    left, right = np.full_like(levels, np.inf), np.full_like(levels, -np.inf)
    np.minimum.at(left, at, x)
    np.maximum.at(right, at, x)
    return left, right


def _edge_zone(piece: Piece, hold: Hold, frame: Affine) -> _Zone:
    line = piece.edge(hold.edge).line.mapped(frame)
    total = path_length(line)
    first, last = places_at(line, (hold.start * total, hold.end * total))
    held = run(line, first, last)
    across, along = abs(held.end[0] - held.start[0]), abs(held.end[1] - held.start[1])
    falls = held.end[1] > held.start[1]
    if not falls:
        held = held.reversed()
    if across > along or (np.diff(flatten(held, WIDTH_CHAIN).points[:, 1]) <= 0.0).any():
        raise ParameterError(
            _("The hold runs across the grain, so it would hold the whole width of the piece."),
            edge=hold.edge,
            advice=_("Put the hold on an edge that runs along the grain, or do not reduce this piece."),
        )
    names = piece.edge_names
    at = names.index(hold.edge)
    others = [edge.line.mapped(frame).segments for edge in (*piece.edges[at + 1 :], *piece.edges[:at])]
    around = [segment for segments in others for segment in segments]
    place = Place(first.index + len(around), first.t), Place(last.index + len(around), last.t)
    whole = _going_on(Path((*around, *line.segments, *around)), *place)
    whole = whole if falls else whole.reversed()
    inwards = 1.0 if falls != (winding(piece.line) > 0) else -1.0
    left, right = sorted((-_MARGIN * inwards, hold.width * inwards))
    return _Zone(Course(whole), left, right, hold.width, held.start[1], held.end[1], _FADE, _FADE)


def _going_on(line: Path, first: Place, last: Place) -> Path:
    """Return the part of a line between two places, and what goes on from it at either end in the same direction.

    So a strip that fades follows the outline round a slight corner, and does not run into the piece there.
    """
    points, indices, t = flatten(line, WIDTH_CHAIN)
    along = indices + t
    across, down = np.diff(points, axis=0).T
    goes_on = (np.abs(down) >= _LEAST_FALL * np.abs(across)) & (
        (down > 0.0) == (point_at(line, last)[1] > point_at(line, first)[1])
    )
    # What is held goes on, however it lies.
    goes_on |= (along[1:] > first.index + first.t) & (along[:-1] < last.index + last.t)
    before = np.flatnonzero(~goes_on & (along[1:] <= first.index + first.t))
    after = np.flatnonzero(~goes_on & (along[:-1] >= last.index + last.t))
    start = int(before[-1]) + 1 if len(before) else 0
    end = int(after[0]) if len(after) else len(points) - 1
    return run(
        line,
        min(Place(int(indices[start]), float(t[start])), first),
        max(Place(int(indices[end]), float(t[end])), last),
    )


def _dart_zone(piece: Piece, dart: Dart, frame: Affine) -> _Zone | None:
    """Return the strip that holds a dart's intake: whole at its mouth, gone at its tip."""
    (ax, ay), (tx, ty), (bx, by) = (frame.of(point) for point in dart_points(piece, dart))
    half, mouth_x = abs(bx - ax) / 2.0, (ax + bx) / 2.0
    mouths = (min(ay, by), max(ay, by))
    if mouths[0] < ty < mouths[1] or half < abs(by - ay) / 2.0:
        return None  # it opens on an edge along the grain: its intake is no width
    # Between the levels of its mouth points it goes straight up, for its sides to meet both.
    axis = [(mouth_x, level) for level in dict.fromkeys(mouths)]
    downwards = ty > mouths[1]
    axis = [*axis, (tx, ty)] if downwards else [(tx, ty), *axis]
    fades = (0.0, ty - mouths[1]) if downwards else (mouths[0] - ty, 0.0)
    course = Course(Path(tuple(Line(p, q) for p, q in pairwise(axis))))
    return _Zone(course, -half, half, 2.0 * half, *mouths, *fades)
