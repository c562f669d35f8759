"""What hypothesis draws: points, cubics nasty and nice, outlines that are simple by construction."""

import math

from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line

coordinates = st.floats(-600.0, 600.0).map(lambda value: round(value, 6))
points = st.tuples(coordinates, coordinates)
shares = st.floats(0.0, 1.0)
angles = st.floats(-math.pi, math.pi)


@st.composite
def lines(draw):
    """Draw straight segments, some without length."""
    return Line(draw(points), draw(points))


def _collinear(base, direction, places):
    return Cubic(*((base[0] + p * direction[0], base[1] + p * direction[1]) for p in places))


_places = st.lists(st.sampled_from([-1.0, 0.0, 0.25, 1.0, 1.0 + 1e-9, 2.0, 3.0]), min_size=4, max_size=4)


@st.composite
def nasty_cubics(draw):
    """Draw cubics whose control points coincide, lie on one line, fold back, make cusps or loops."""
    kind = draw(st.sampled_from(["coincident", "collinear", "cusp", "loop", "near cusp"]))
    p, q = draw(points), draw(points)
    if kind == "coincident":
        return Cubic(*(draw(st.sampled_from([p, q])) for _ in range(4)))
    if kind == "collinear":
        return _collinear(p, (q[0] - p[0], q[1] - p[1]), draw(_places))
    # Crossed handles: reach 1 is a cusp in the middle, above it a loop.
    reach = draw({"cusp": st.just(1.0), "loop": st.floats(1.05, 4.0), "near cusp": st.floats(1 - 1e-4, 1 + 1e-4)}[kind])
    dx, dy = q[0] - p[0], q[1] - p[1]
    up = (dy / 2, -dx / 2)
    return Cubic(
        p,
        (p[0] + reach * dx + up[0], p[1] + reach * dy + up[1]),
        (q[0] - reach * dx + up[0], q[1] - reach * dy + up[1]),
        q,
    )


def plain_cubics():
    """Draw cubics with four free control points."""
    return st.builds(Cubic, points, points, points, points)


def cubics():
    """Draw cubics, nice and nasty."""
    return st.one_of(plain_cubics(), nasty_cubics())


def segments():
    """Draw lines and cubics, nice and nasty."""
    return st.one_of(lines(), cubics())


@st.composite
def rigid_motions(draw):
    """Draw turns and moves of the drawing."""
    return Affine.rotation(draw(angles)).then(Affine.translation(*draw(points)))


@st.composite
def affines(draw):
    """Draw affine maps that neither flatten nor blow up the drawing; half of them mirror it."""
    sx = draw(st.floats(0.2, 3.0)) * draw(st.sampled_from([-1.0, 1.0]))
    stretch = Affine.scaling(sx, draw(st.floats(0.2, 3.0)))
    return Affine.rotation(draw(angles)).then(stretch).then(draw(rigid_motions()))


@st.composite
def simple_outlines(draw, kinds=("line", "cubic"), most=10):
    """Draw closed outlines of positive winding that cannot cross themselves.

    One vertex lies in each angular sector about a centre. The control points of a cubic lie at growing angles
    within the sector between its ends, less than half a turn wide; no ray from the centre crosses their polygon twice,
    so none crosses the cubic twice (a Bézier curve crosses no line oftener than its control polygon).
    """
    count = draw(st.integers(4, most))
    centre = draw(points)
    size = draw(st.floats(40.0, 400.0))

    def at(angle, radius):
        return (centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle))

    turns = [2 * math.pi / count * (i + draw(st.floats(-0.3, 0.3))) for i in range(count)]
    radii = [size * draw(st.floats(0.5, 1.0)) for _ in range(count)]
    segments = []
    for i in range(count):
        j = (i + 1) % count
        a, b = turns[i], turns[j] + (2 * math.pi if j == 0 else 0.0)
        start, end = at(turns[i], radii[i]), at(turns[j], radii[j])
        if draw(st.sampled_from(kinds)) == "line":
            segments.append(Line(start, end))
        else:
            u, v = draw(st.floats(0.1, 0.45)), draw(st.floats(0.55, 0.9))
            r, s = size * draw(st.floats(0.4, 1.1)), size * draw(st.floats(0.4, 1.1))
            segments.append(Cubic(start, at(a + u * (b - a), r), at(a + v * (b - a), s), end))
    return Path(tuple(segments), True)


@st.composite
def open_lines(draw, most=6):
    """Draw open paths of lines and cubics, nice and nasty, that may cross themselves."""
    first = draw(points)
    out = []
    for _ in range(draw(st.integers(1, most))):
        segment = draw(segments())
        start = out[-1].end if out else first
        out.append(
            Line(start, segment.end)
            if isinstance(segment, Line)
            else Cubic(start, segment.control1, segment.control2, segment.end)
        )
    return Path(tuple(out))


def paths():
    """Draw open and closed paths."""
    return st.one_of(open_lines(), simple_outlines())
