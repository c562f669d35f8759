"""Legs with hems to be turned up, and what it is to fold cloth: hems by facets, darts by turns, all isometries."""

import math

import numpy as np
from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import Edge, Piece
from crossgrain.model.marking.dart_lines import dart_points
from outline_widths import dense


def leg(lean_side=0.0, lean_inseam=0.0, sag=0.0, width=200.0, length=400.0, bend=0.0):
    """A leg: waist, side, hem, inseam, clockwise; its seams lean outwards downwards by angles, its hem sags by mm.

    A positive lean is a flare, a negative one a taper; ``bend`` bows the seams by mm.
    """
    left = -width / 2.0 + length * math.tan(-lean_inseam)
    right = width / 2.0 + length * math.tan(lean_side)
    top_left, top_right = (-width / 2.0, 0.0), (width / 2.0, 0.0)
    foot_right, foot_left = (right, length), (left, length)

    def bowed(p, q, out):
        third = [(p[0] + (q[0] - p[0]) * k / 3.0 + out, p[1] + (q[1] - p[1]) * k / 3.0) for k in (1, 2)]
        return Cubic(p, *third, q) if bend else Line(p, q)

    hem = Line(foot_right, foot_left)
    if sag:
        drop = 4.0 / 3.0 * sag
        hem = Cubic(
            foot_right,
            (right - (right - left) / 3.0, length + drop),
            (left + (right - left) / 3.0, length + drop),
            foot_left,
        )
    lines = {
        "waist": Line(top_left, top_right),
        "side": bowed(top_right, foot_right, bend),
        "hem": hem,
        "inseam": bowed(foot_left, top_left, -bend),
    }
    return Piece(id="leg", edges=tuple(Edge(name=name, line=Path((line,))) for name, line in lines.items()))


@st.composite
def legs(draw, sagging=True):
    """Draw flared and tapered legs, with straight hems or hems that sag or rise by up to 12 mm over 200 mm."""
    return leg(
        math.radians(draw(st.floats(-12.0, 12.0))),
        math.radians(draw(st.floats(-12.0, 12.0))),
        draw(st.one_of(st.just(0.0), st.floats(-12.0, 12.0))) if sagging else 0.0,
        # Leaning by 12° either way, both seams together take 170 mm off the hem.
        width=draw(st.floats(200.0, 260.0)),
        bend=draw(st.sampled_from([0.0, 4.0])),
    )


def folded_up(points, fold, facets=400):
    """Fold points over a fold line as cloth is folded: by facets of it, each an exact reflection; shape (m, 2).

    A point belongs to the facet on whose strip, square to it, it lies; the first and the last strip go on without end.
    """
    t = np.linspace(0.0, 1.0, facets + 1)
    nodes = np.array([segment.point(k) for segment in fold.segments for k in t])
    starts, ends = nodes[:-1], nodes[1:]
    whole = np.hypot(*(ends - starts).T) > 1e-9
    starts, ends = starts[whole], ends[whole]
    along = (ends - starts) / np.hypot(*(ends - starts).T)[:, None]
    out = []
    for point in np.asarray(points):
        across = point - starts
        place = (across * along).sum(axis=1)
        size = np.hypot(*(ends - starts).T)
        before = np.where(np.arange(len(starts)) == 0, -np.inf, 0.0)
        after = np.where(np.arange(len(starts)) == len(starts) - 1, np.inf, size)
        off = np.maximum(np.maximum(before - place, place - after), 0.0)
        k = int(np.lexsort((np.hypot(*across.T), off))[0])
        foot = starts[k] + place[k] * along[k]
        out.append(2.0 * foot - point)
    return np.array(out)


def turn(points, about, angle_rad):
    rotation = Affine.rotation(angle_rad, about)
    return np.array([rotation.of(tuple(point)) for point in points])


def mirror(points, p, q):
    t = (np.array(q) - p) / math.dist(p, q)
    across = np.asarray(points) - p
    return np.asarray(p) + 2.0 * (across @ t)[:, None] * t - across


def shut(cut, piece):
    """The cut edge of a dart's surroundings and of the dart itself, folded on its middle line and laid to its side.

    Three plain steps: the far side is turned about the tip until the legs meet; the half of the wedge beside it goes
    with it; the other half is turned over its own leg. Returns the edge of the cloth, and that of the two layers.
    """
    [dart] = piece.darts
    first, tip, last = (np.array(p) for p in dart_points(piece, dart))
    near, far = (first, last) if dart.pressed == "start" else (last, first)
    u, v = near - tip, far - tip
    opening = math.atan2(v[0] * u[1] - v[1] * u[0], v @ u)
    # Only the edge beside the mouth is of interest.
    points = dense(cut, 0.3)
    reach = 3.0 * math.dist(first, last) + 30.0
    points = points[np.hypot(*(points - (first + last) / 2.0).T) < reach]
    side = np.sign(v[0] * u[1] - v[1] * u[0])
    from_tip = points - tip
    by_near = side * np.arctan2(from_tip[:, 0] * u[1] - from_tip[:, 1] * u[0], from_tip @ u)
    cloth_near, wedge = points[by_near <= 0.0], points[(by_near > 0.0) & (by_near < abs(opening))]
    cloth_far = points[by_near >= abs(opening)]
    at = side * np.arctan2((wedge - tip)[:, 0] * u[1] - (wedge - tip)[:, 1] * u[0], (wedge - tip) @ u)
    under = mirror(wedge[at <= abs(opening) / 2.0], tip, near)
    over = turn(wedge[at > abs(opening) / 2.0], tip, opening)
    return np.concatenate([cloth_near, turn(cloth_far, tip, opening)]), np.concatenate([under, over])


def in_order(points, piece):
    """Points of an edge sorted along the chord of the mouth."""
    first, _tip, last = (np.array(p) for p in dart_points(piece, piece.darts[0]))
    return points[np.argsort(points @ (last - first))]
