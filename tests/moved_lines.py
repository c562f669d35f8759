"""An independent judge of lines moved to one side by amounts that vary: numpy and shapely, none of our geometry.

Lengths are Gauss–Legendre on many panels, moved lines are dense polylines of ``C + d n``, and where a line turns at a
node the polylines on either side go on straight until they meet, or are cut where they cross.
"""

import math

import numpy as np
import shapely
from shapely.ops import substring

from beside import bezier, rows, unit_tangent, velocity

_PANELS = 4000
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(4)


class Walked:
    """Arc lengths along a line, from its start."""

    def __init__(self, line):
        self.controls = rows(line.segments)
        edges = np.linspace(0.0, 1.0, _PANELS + 1)
        middle, half = (edges[1:] + edges[:-1]) / 2.0, 0.5 / _PANELS
        t = middle[:, None] + half * _NODES
        steps = [half * (np.abs(velocity(row, t)) @ _WEIGHTS) for row in self.controls]
        self._own = [np.concatenate([[0.0], np.cumsum(step)]) for step in steps]
        self._starts = np.concatenate([[0.0], np.cumsum([own[-1] for own in self._own])])
        self._edges = edges

    @property
    def total(self):
        return float(self._starts[-1])

    def along(self, piece, t):
        """How far from the start parameters of segments lie, mm; shapes broadcast."""
        piece, t = np.broadcast_arrays(piece, t)
        out = np.empty(t.shape)
        for k, own in enumerate(self._own):
            mine = piece == k
            out[mine] = self._starts[k] + np.interp(t[mine], self._edges, own)
        return out

    def frames(self, distances):
        """Points and unit normals (to the left on the page) at distances from the start, complex."""
        distances = np.asarray(distances, dtype=float)
        piece = np.clip(np.searchsorted(self._starts, distances, side="right") - 1, 0, len(self._own) - 1)
        t = np.array(
            [np.interp(s - self._starts[k], self._own[k], self._edges) for s, k in zip(distances, piece, strict=True)]
        )
        controls = self.controls[piece]
        return bezier(controls, t), -1j * unit_tangent(controls, t)


def xy(complexes):
    return np.stack([complexes.real, complexes.imag], axis=-1)


def dense_line(line, step=0.5):
    """A shapely polyline of a path: points half a millimetre apart or nearer."""
    return shapely.linestrings(xy(np.concatenate([bezier(row, _parameters(row, step)) for row in rows(line.segments)])))


def _parameters(row, step):
    return np.linspace(0.0, 1.0, max(3, math.ceil(np.abs(np.diff(row)).sum() / step)))


def moved_by(old, new, distances, reach=80.0):
    """How far a new line lies from an old one, along the old one's normal at distances from its start, mm, signed."""
    points, normals = Walked(old).frames(distances)
    there = dense_line(new)
    out = []
    for point, normal in zip(points, normals, strict=True):
        ray = shapely.linestrings(xy(np.array([point - reach * normal, point + reach * normal])))
        hits = shapely.get_coordinates(shapely.intersection(ray, there))
        steps = ((hits[:, 0] + 1j * hits[:, 1] - point) * normal.conjugate()).real
        out.append(steps[np.argmin(np.abs(steps))] if len(steps) else math.nan)
    return np.array(out)


def mitred(line, law, kink=1e-7, step=0.5, ahead=3.0):
    """The dense polyline of a line moved by a law of amounts along it, its kinks mitred; shapely.

    Args:
        line: an open line.
        law: the amount at distances from the start, mm along the normal.
        kink: turns at nodes from here on, radians, are mitred.
        ahead: how far the parts go on straight to meet, mm.
    """
    walked = Walked(line)
    strands = []
    for k, row in enumerate(walked.controls):
        t = _parameters(row, step)
        s = walked.along(np.full(len(t), k), t)
        tangent = unit_tangent(row, t)
        points = bezier(row, t) - 1j * law(s) * tangent
        if strands and abs(np.angle(tangent[0] / strands[-1][1])) < kink:
            strands[-1] = (np.concatenate([strands[-1][0], points[1:]]), tangent[-1])
        else:
            strands.append((points, tangent[-1]))
    out = None
    for points, _tangent in strands:
        first, last = points[1] - points[0], points[-1] - points[-2]
        own = np.concatenate(
            [[points[0] - ahead * first / abs(first)], points, [points[-1] + ahead * last / abs(last)]]
        )
        strand = shapely.linestrings(xy(own))
        if out is None:
            out = shapely.linestrings(xy(own[1:]))
            continue
        node = shapely.points(*xy(points[:1])[0])
        meetings = [part for part in shapely.get_parts(shapely.intersection(out, strand)) if part.geom_type == "Point"]
        if not meetings:  # a turn so slight that the curves bend away from each other: their ends all but meet
            out = shapely.linestrings(np.concatenate([substring(out, 0.0, out.length - ahead).coords, xy(own[1:])]))
            continue
        meeting = min(meetings, key=node.distance)
        before = substring(out, 0.0, out.project(meeting))
        after = substring(strand, strand.project(meeting), strand.length)
        out = shapely.linestrings(np.concatenate([before.coords, np.array(after.coords)[1:]]))
    return substring(out, 0.0, out.length - ahead)


def apart(one, other):
    """How far two shapely lines are apart at most, from the points of each to the other."""
    return max(float(_distances(a, b).max()) for a, b in ((one, other), (other, one)))


def _distances(one, other):
    points = np.array(other.coords)
    tree = shapely.STRtree(shapely.linestrings(np.stack([points[:-1], points[1:]], axis=1)))
    return tree.query_nearest(shapely.points(np.array(one.coords)), return_distance=True, all_matches=False)[1]
