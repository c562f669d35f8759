"""What hypothesis draws: points, cubics nasty and nice, outlines that are simple by construction."""

import itertools
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


@st.composite
def traced_outlines(draw, jitter=0.3):
    """Draw outlines as a person traces them from paper, and where their true corners lie.

    A leg piece: waist, side, hem, inseam and a crotch curve of radius 45 to 70 mm that runs into the centre line.
    Every node lies up to ``jitter`` off the paper's line, and every handle points up to 2.5° beside it. Each corner is
    drawn as one node, as two some 1 mm apart, with a tiny extra node beside it, or rounded by 1 to 2 mm. Some pieces
    have a 5 mm step below the waist.

    Returns:
        The path, and the points of its true corners in order.
    """
    size = draw(st.floats(0.8, 1.2))
    radius = draw(st.floats(45.0, 70.0))
    waist, hem, long = 220.0 * size, 200.0 * size, 950.0 * size
    step = draw(st.booleans())
    # From the waist at the side, clockwise on the page: waist, centre, crotch, inseam, hem, side.
    rise = 250.0 * size
    top = (waist, draw(st.floats(-12.0, 5.0)))
    bend = (waist + 4.0, rise - radius)
    fork = (bend[0] + radius, rise)
    edges = [[(0.0, 0.0), top]]
    start = top
    if step:
        start = (waist, draw(st.floats(30.0, 120.0)))
        outer, low = (waist + 5.0, top[1]), (waist + 5.0, start[1])
        edges = [[(0.0, 0.0), outer], [outer, low], [low, start]]
    pieces = draw(st.integers(10, 15))
    arc = [
        (fork[0] - radius * math.cos(a), bend[1] + radius * math.sin(a))
        for a in (math.pi / 2 * i / pieces for i in range(pieces + 1))
    ]
    edges += [[start, *arc]]
    edges += [[fork, (hem + 20.0, long)], [(hem + 20.0, long), (20.0, long)]]
    side = Cubic((20.0, long), (-10.0, 0.6 * long), (-40.0, 0.25 * long), (0.0, 0.0))
    edges += [[side.point(i / 20) for i in range(21)]]

    def shaken(point):
        reach, angle = jitter * draw(st.floats(0.0, 1.0)), draw(angles)
        return (point[0] + reach * math.cos(angle), point[1] + reach * math.sin(angle))

    def toward(p, q, by):
        far = math.dist(p, q)
        return (p[0] + (q[0] - p[0]) * by / far, p[1] + (q[1] - p[1]) * by / far)

    nodes = []
    for edge, after in zip(edges, edges[1:] + edges[:1], strict=True):
        for p, q in itertools.pairwise(edge):
            count = max(1, round(math.dist(p, q) / draw(st.floats(25.0, 60.0))))
            nodes += [shaken(toward(p, q, math.dist(p, q) * i / count)) for i in range(1, count)]
            if q is not edge[-1]:
                nodes.append(shaken(q))
        before, corner, next_ = edge[-2], edge[-1], after[1]
        room = min(math.dist(before, corner), math.dist(corner, next_))
        kind = draw(st.sampled_from(["node", "two nodes", "extra node", "rounded"] if room > 10.0 else ["node"]))
        spot = shaken(corner)
        if kind == "node":
            nodes.append(spot)
        elif kind == "two nodes":
            nodes += [toward(spot, before, 0.5), toward(spot, next_, 0.5)]
        elif kind == "extra node":
            beside = toward(spot, draw(st.sampled_from([before, next_])), draw(st.floats(0.05, 1.0)))
            nodes += [spot, beside] if math.dist(beside, next_) < math.dist(spot, next_) else [beside, spot]
        else:
            by = draw(st.floats(1.0, 2.0))
            nodes += [toward(spot, before, by), (spot, "round"), toward(spot, next_, by)]
    segments = []
    for i, node in enumerate(nodes):
        if isinstance(node[1], str):
            continue
        ahead = nodes[(i + 1) % len(nodes)]
        if isinstance(ahead[1], str):
            segments.append(Cubic.from_quadratic(node, ahead[0], nodes[(i + 2) % len(nodes)]))
        elif math.dist(node, ahead) > 5.0 and draw(st.booleans()):
            aside = [math.tan(draw(st.floats(-1.0, 1.0)) * math.radians(2.5)) / 3.0 for _ in range(2)]
            dx, dy = ahead[0] - node[0], ahead[1] - node[1]
            handles = [
                (share * dx - a * dy, share * dy + a * dx) for share, a in zip((1 / 3, -1 / 3), aside, strict=True)
            ]
            (ux, uy), (vx, vy) = handles
            segments.append(Cubic(node, (node[0] + ux, node[1] + uy), (ahead[0] + vx, ahead[1] + vy), ahead))
        else:
            segments.append(Line(node, ahead))
    return Path(tuple(segments), True), [edge[-1] for edge in edges]
