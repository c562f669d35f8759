"""An independent judge of parallels: dense samples, no code of the engine.

The judge knows the definition ``C + d n`` with the normal ``(ty, -tx)``, samples it so densely that no two neighbours
are farther apart than it was told, and looks for the nearest points by golden section between samples. It looks both
ways: from the true line to the drawn one and back.
"""

import math

import numpy as np

GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0
_CANDIDATES = 4
_SHARP = 0.5
_BETWEEN = np.linspace(0.0, 1.0, 9)


def rows(segments):
    """Return the control points of segments, complex, shape (n, 4)."""
    flat = np.array([segment.controls for segment in segments], dtype=float)
    return flat[..., 0] + 1j * flat[..., 1]


def bezier(controls, t):
    """Return points of cubics at parameters by Bernstein's polynomials; shapes broadcast."""
    p, q, r, w = (controls[..., k] for k in range(4))
    s = 1.0 - t
    return s**3 * p + 3 * s * s * t * q + 3 * s * t * t * r + t**3 * w


def velocity(controls, t):
    p, q, r, w = (controls[..., k] for k in range(4))
    s = 1.0 - t
    return 3 * (s * s * (q - p) + 2 * s * t * (r - q) + t * t * (w - r))


def unit_tangent(controls, t):
    """Return unit tangents; where a cubic stands still at its end, that towards its next control point."""
    v = velocity(controls, t)
    still = np.abs(v) < 1e-9
    if np.any(still):
        p, q, r, w = (np.broadcast_to(controls[..., k], v.shape) for k in range(4))
        ahead = np.where(np.abs(q - p) > 1e-9, q - p, np.where(np.abs(r - p) > 1e-9, r - p, w - p))
        behind = np.where(np.abs(w - r) > 1e-9, w - r, np.where(np.abs(w - q) > 1e-9, w - q, w - p))
        v = np.where(still, np.where(np.broadcast_to(t, v.shape) < 0.5, ahead, behind), v)
    return v / np.abs(v)


class Drawn:
    """Cubics as they stand."""

    def __init__(self, controls):
        self.controls = controls

    def __call__(self, piece, t):
        return bezier(self.controls[piece], t)

    def __len__(self):
        return len(self.controls)


class Beside:
    """The true parallel of each cubic of a run; ``distance`` is a number, or a function of piece and parameter."""

    def __init__(self, controls, distance):
        self.controls, self.distance = controls, distance

    def __call__(self, piece, t):
        own = self.controls[piece]
        d = self.distance(piece, t) if callable(self.distance) else self.distance
        return bezier(own, t) - 1j * d * unit_tangent(own, t)

    def __len__(self):
        return len(self.controls)


def sampled(curve, step, fine=0.002, first=33, most=200_000):
    """Return piece numbers, parameters and points along a curve.

    Neighbours on a piece lie at most ``step`` apart, and at most ``fine`` where the line turns sharply, so that no cusp
    goes out and back between two of them.
    """
    piece = np.repeat(np.arange(len(curve)), first)
    t = np.tile(np.linspace(0.0, 1.0, first), len(curve))
    at = curve(piece, t)
    for _ in range(60):
        same = piece[1:] == piece[:-1]
        chord = np.diff(at)
        gap = np.where(same, np.abs(chord), 0.0)
        sharp = np.abs(np.angle(chord[1:] * chord[:-1].conj())) > _SHARP
        sharp &= same[1:] & same[:-1]
        wanted = np.where(np.append(sharp, False) | np.append(False, sharp), np.maximum(gap / 4.0, fine), step)
        wide = np.flatnonzero((gap > wanted) & (np.diff(t) > 1e-13))
        if not wide.size or len(t) > most:
            break
        parts = np.minimum(np.ceil(gap[wide] / wanted[wide]), 64).astype(int)
        where = np.repeat(wide, parts - 1)
        k = np.arange(len(where)) - np.repeat(np.cumsum(parts - 1) - (parts - 1), parts - 1) + 1
        new_t = t[where] + (t[where + 1] - t[where]) * k / np.repeat(parts, parts - 1)
        new_at = curve(piece[where], new_t)
        t, at = np.insert(t, where + 1, new_t), np.insert(at, where + 1, new_at)
        piece = np.insert(piece, where + 1, piece[where])
    return piece, t, at


def distances(points, curve, samples):
    """Return the distance of points from a curve given with its samples.

    The four chords nearest to each point are looked at exactly: where the line comes near itself, the nearest sample
    may lie on the wrong branch.
    """
    piece, t, at = samples
    first = np.flatnonzero(piece[1:] == piece[:-1])
    start, along = at[first], at[first + 1] - at[first]
    size = np.maximum(np.abs(along) ** 2, 1e-300)
    out = []
    for part in np.array_split(points, len(points) * len(first) // 1_000_000 + 1):
        away = part[:, None] - start
        share = np.clip((away * along.conj()).real / size, 0.0, 1.0)
        chord = np.abs(away - share * along)
        few = min(_CANDIDATES, len(first))
        best = np.argpartition(chord, few - 1, axis=1)[:, :few]
        own, lo, hi = piece[first[best]], t[first[best]], t[first[best] + 1]
        target = part[:, None]
        many = lo[..., None] + (hi - lo)[..., None] * _BETWEEN
        seen = np.abs(target[..., None] - curve(own[..., None], many))
        near, k = seen.min(axis=(1, 2)), seen.argmin(axis=2)
        lo, hi = (
            np.take_along_axis(many, np.clip(k + by, 0, len(_BETWEEN) - 1)[..., None], 2)[..., 0] for by in (-1, 1)
        )
        for _ in range(26):
            a, b = hi - GOLDEN * (hi - lo), lo + GOLDEN * (hi - lo)
            left = np.abs(target - curve(own, a)) < np.abs(target - curve(own, b))
            lo, hi = np.where(left, lo, a), np.where(left, b, hi)
        out.append(np.minimum(near, np.abs(target - curve(own, (lo + hi) / 2.0)).min(axis=1)))
    return np.concatenate(out)


def stray(true, drawn, step):
    """Return the largest distance from the true line to the drawn one, and back."""
    on_true, on_drawn = sampled(true, step), sampled(drawn, step)
    return (
        float(distances(on_true[2], drawn, on_drawn).max()),
        float(distances(on_drawn[2], true, on_true).max()),
    )


def stray_of_parallel(source, distance, drawn, step=1.0):
    """Return how far drawn segments lie from the parallel of others, the larger of both directions, mm.

    Args:
        source: segments, each with length.
        distance: mm, or a function of piece number and parameter.
        drawn: segments.
        step: how far samples may lie apart, mm.
    """
    return max(stray(Beside(rows(source), distance), Drawn(rows(drawn)), step))


def ring_points(path, step):
    """Return points round a path, at most ``step`` apart, with the unit tangents there."""
    controls = rows(path.segments)
    piece, t, at = sampled(Drawn(controls), step)
    return at, unit_tangent(controls[piece], t)


def how_far(line, outline, step=2.0):
    """Return the distance of points all along a line from an outline."""
    at, _tangents = ring_points(line, step)
    curve = Drawn(rows(outline.segments))
    return distances(at, curve, sampled(curve, step))
