"""Legs with hems to be turned up, and what it is to fold cloth: by facets, each an exact isometry."""

import math

import numpy as np
from hypothesis import strategies as st

from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import Edge, Piece


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
        width=draw(st.floats(160.0, 260.0)),
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
