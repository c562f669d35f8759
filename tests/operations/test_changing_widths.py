"""A width that changes along its edge: the cut line lies at the width of each place, and meets its neighbours."""

import math
import os
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.errors import CollapseError, ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.length import parameter_at, path_length, segment_length
from crossgrain.kernel.meetings.crossing import self_crossings
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import Edge, Piece, Width
from crossgrain.operations.allowance import Allowance, allow, strip
from outline_widths import apart, dense, distances
from pieces import against, one, turned, upright_pieces
from strategies import angles, shares

amounts = st.floats(0.0, 25.0).map(lambda mm: round(mm, 3))


@st.composite
def changing(draw):
    """Draw widths at two to four stations, the first and the last at the ends of the edge or inside it."""
    count = draw(st.integers(2, 4))
    places = sorted(draw(st.lists(st.integers(0, 20), min_size=count, max_size=count, unique=True)))
    return Width(stations=tuple((place / 20.0, draw(amounts)) for place in places))


@st.composite
def changing_little(draw):
    """Draw widths as a maker gives them: changing by no more than 10 to 25 mm over a hand's breadth of 100 mm."""
    middle = draw(st.one_of(st.none(), st.floats(0.3, 0.7)))
    stations = [(0.0, draw(st.floats(5.0, 30.0)))]
    for share in (1.0,) if middle is None else (middle, 1.0):
        most = 0.15 * 220.0 * (share - stations[-1][0])
        stations.append((share, min(max(stations[-1][1] + most * draw(st.floats(-1.0, 1.0)), 5.0), 30.0)))
    return Width(stations=tuple(stations))


def allowed(piece, width, **edges):
    [new] = allow(one(piece), Allowance(width=width, edges=tuple(edges.items()))).value.pieces
    return new


def rectangle():
    lines = Path.polygon([(0, 0), (200, 0), (200, 100), (0, 100)]).segments
    return Piece(id="p", edges=tuple(Edge(name=n, line=Path((s,))) for n, s in zip("tabc", lines, strict=True)))


def beside(edge, width, outwards, places=60):
    """Points at the width from places on an edge, along its own normals; and how far along each lies, mm."""
    length = path_length(edge.line)
    profile = width.along(length)
    out, along = [], 0.0
    for segment in edge.line.segments:
        whole = segment_length(segment)
        for k in range(1, places):
            t = parameter_at(segment, whole * k / places)
            (x, y), (dx, dy) = segment.point(t), segment.derivative(t)
            size = math.hypot(dx, dy)
            s = along + whole * k / places
            mm = float(profile(np.array([s]))[0][0])
            out.append((x + outwards * mm * dy / size, y - outwards * mm * dx / size, s))
        along += whole
    return np.array(out)


@settings(max_examples=int(os.environ.get("CROSSGRAIN_OUTLINES", "25")))
@given(turned(upright_pieces()), changing(), st.sampled_from(["side", "centre", "inseam", "waist"]))
def test_away_from_corners_it_lies_at_the_width_of_each_place(piece, width, name):
    """Every true point C(s) + d(s) n(s) of the edge, off its ends by more than the widths, is on the cut line."""
    cut = allowed(piece, 10.0, **{name: width})
    edge = cut.edge(name)
    [outwards] = {1.0 if signed_area(piece.line) > 0.0 else -1.0}
    wanted = beside(edge, width, outwards)
    ends = (edge.line.start, edge.line.end)
    clear = min(2.0 * max(width.most, 10.0), path_length(edge.line) / 3.0)
    wanted = wanted[[min(math.dist(point[:2], end) for end in ends) > clear + width.most for point in wanted]]
    if len(wanted):
        assert distances(wanted[:, :2], cut.counterpart).max() <= 0.011
    assert not self_crossings(cut.counterpart)
    assert shapely.is_valid(shapely.Polygon(dense(cut.counterpart)[:-1]))


@settings(max_examples=15)
@given(turned(upright_pieces()), changing())
def test_the_other_way_round_it_is_the_same_line(piece, width):
    plain = allowed(piece, 10.0, side=width)
    other = allowed(against(piece), 10.0, side=width.reversed())
    assert apart(plain.counterpart, other.counterpart) <= 0.02


@given(changing())
def test_turned_twice_it_is_itself(width):
    there = width.reversed().reversed()
    assert np.allclose(there.stations, width.stations)


@given(changing(), shares)
def test_between_stations_it_overshoots_nothing(width, share):
    mm = [amount for _share, amount in width.stations]
    assert min(mm) - 1e-9 <= width.at(share) <= max(mm) + 1e-9
    assert (width.at(0.0), width.at(1.0)) == pytest.approx((width.start, width.end))


def test_one_width_all_along_is_even_however_it_is_said():
    assert Width(stations=((0.2, 10.0), (0.9, 10.0))) == Width.of(10.0)
    assert not Width(stations=((0.0, 10.0), (1.0, 25.0))).is_even


def test_a_straight_edge_that_grows_from_10_to_25():
    """Its area is the mean width times the length, for the blend is even about the middle: 17.5 × 200. Derived."""
    cut = allowed(rectangle(), 0.0, t=Width(stations=((0.0, 10.0), (1.0, 25.0)))).counterpart
    assert signed_area(cut) == pytest.approx(200 * 100 + 17.5 * 200, abs=0.01 * 200)
    assert len(cut.segments) <= 3 + 2 + 4


def test_few_nodes_are_needed():
    """A fifth of those of shapely’s buffer at 0.01 mm at most, though that has one width only and its ends are bare."""
    curve = Cubic((0.0, 0.0), (100.0, -60.0), (250.0, -60.0), (400.0, 0.0))
    rest = [Line((400.0, 0.0), (400.0, 300.0)), Line((400.0, 300.0), (0.0, 300.0)), Line((0.0, 300.0), (0.0, 0.0))]
    piece = Piece(
        id="p", edges=tuple(Edge(name=n, line=Path((s,))) for n, s in zip("tabc", [curve, *rest], strict=True))
    )
    cut = allowed(piece, 10.0, t=Width(stations=((0.0, 10.0), (0.6, 10.0), (1.0, 25.0)))).counterpart
    chords = shapely.Polygon(dense(piece.line)[:-1]).simplify(0.01).buffer(10.0, join_style="mitre", quad_segs=18)
    assert len(cut.segments) <= len(chords.exterior.coords) / 5


def as_cut(piece, widths):
    """A piece whose outline is the cut line of another, its edges parted where the corners are: nearest to the point of
    each corner's mitre."""
    allowed_ = allow(one(piece), Allowance(edges=tuple(widths.items()))).value.pieces[0]
    segments = allowed_.counterpart.segments
    nodes = np.array([segment.start for segment in segments])
    begins = []
    for k, edge in enumerate(piece.edges):
        (x, y), u, v = (
            edge.line.start,
            piece.edges[k - 1].line.segments[-1].end_tangent,
            edge.line.segments[0].start_tangent,
        )
        da, db = widths[piece.edges[k - 1].name].end, widths[edge.name].start
        # Where the two lines beside the corner meet: da from the one that arrives, db from the one that leaves.
        rows = np.array([[u[1], -u[0]], [v[1], -v[0]]])
        point = np.array([x, y]) + np.linalg.solve(rows, [da, db])
        off = np.hypot(*(nodes - point).T)
        assert off.min() < 0.05
        begins.append(int(off.argmin()))
    order = [(k - begins[0]) % len(segments) for k in begins] + [len(segments)]
    segments = segments[begins[0] :] + segments[: begins[0]]
    edges = tuple(
        Edge(name=edge.name, line=Path(segments[i:j]))
        for edge, i, j in zip(piece.edges, order, order[1:], strict=False)
    )
    return Piece(id="cut", edges=edges, outline="cut")


def four_sided(slant, bow, rise):
    """A seat as on trousers: the waist and the seat bowed, corners that are no right angles."""
    a, b, c, d = (0.0, 0.0), (220.0, -rise), (220.0 + slant, 240.0), (-slant, 250.0)

    def bowed(p, q, by):
        dx, dy = q[0] - p[0], q[1] - p[1]
        nx, ny = dy / math.hypot(dx, dy) * by, -dx / math.hypot(dx, dy) * by
        return Cubic(p, (p[0] + dx / 3 + nx, p[1] + dy / 3 + ny), (p[0] + 2 * dx / 3 + nx, p[1] + 2 * dy / 3 + ny), q)

    lines = {"waist": bowed(a, b, bow), "side": Line(b, c), "hem": Line(c, d), "seat": bowed(d, a, -bow)}
    return Piece(id="p", edges=tuple(Edge(name=name, line=Path((line,))) for name, line in lines.items()))


@settings(max_examples=12)
@given(st.floats(-30.0, 30.0), st.floats(-12.0, 12.0), st.floats(-15.0, 15.0), changing_little(), changing_little(),
       st.booleans(), angles)  # fmt: skip
def test_stripping_a_changing_allowance_gives_the_stitch_line_back(slant, bow, rise, waist, seat, turned_over, turn):
    """Within the accuracy that the cut line was drawn with and its own, 0.01 mm each: also next to another."""
    plain = Width.of(10.0)
    widths = {"waist": waist, "side": plain, "hem": Width.of(30.0), "seat": seat}
    piece = four_sided(slant, bow, rise)
    cut = as_cut(piece, widths)
    motion = Affine.scaling(-1.0 if turned_over else 1.0, 1.0).then(Affine.rotation(turn))
    cut = replace(cut, edges=tuple(replace(edge, line=edge.line.mapped(motion)) for edge in cut.edges))
    [back] = strip(one(cut), Allowance(edges=tuple(widths.items()))).value.pieces
    assert apart(back.counterpart, piece.line.mapped(motion)) <= 0.021


def test_a_width_that_changes_too_fast_to_be_stripped_is_refused_with_its_edge():
    """From 30 mm to 5 mm within 20 mm: no stitch line has that beside it."""
    lines = Path.polygon([(0, 0), (200, 0), (200, 100), (0, 100)]).segments
    edges = tuple(Edge(name=n, line=Path((s,))) for n, s in zip("tabc", lines, strict=True))
    width = Width(stations=((0.0, 30.0), (0.4, 30.0), (0.5, 5.0), (1.0, 5.0)))
    with pytest.raises(CollapseError, match=r"changes so fast.*edge t.*longer stretch"):
        strip(one(Piece(id="cut", edges=edges, outline="cut")), Allowance(width=0.0, edges=(("t", width),)))


def test_a_bend_tighter_than_the_width_names_the_edge_and_the_radius():
    hollow = Cubic((0.0, 0.0), (0.0, 8.0), (20.0, 8.0), (20.0, 0.0))
    line = [Line((-100.0, 0.0), (0.0, 0.0)), hollow, Line((20.0, 0.0), (120.0, 0.0))]
    edges = (
        Edge(name="top", line=Path(tuple(line))),
        Edge(name="rest", line=Path((Line((120.0, 0.0), (120.0, 90.0)), Line((120.0, 90.0), (-100.0, 90.0)),
                                     Line((-100.0, 90.0), (-100.0, 0.0))))),
    )  # fmt: skip
    piece = Piece(id="p", edges=edges)
    width = Width(stations=((0.0, 10.0), (1.0, 30.0)))
    with pytest.raises(CollapseError, match=r"radius of [0-9.]+ mm") as caught:
        allowed(piece, 10.0, top=width)
    assert caught.value.edge == "top"
    # One width all along is trimmed there instead: the allowances of both sides fill the hollow.
    even = allowed(piece, 10.0, top=Width.of(30.0)).counterpart
    assert distances(dense(even), piece.line).min() >= 10.0 - 0.011


@pytest.mark.parametrize(
    ("stations", "said"),
    [
        ((), "no amount"),
        (((0.0, -1.0),), "cannot be drawn"),
        (((0.0, math.inf),), "cannot be drawn"),
        (((1.2, 5.0),), "off the edge"),
        (((0.5, 5.0), (0.5, 6.0)), "same place"),
        (((0.6, 5.0), (0.5, 6.0)), "out of order"),
    ],
)
def test_a_width_that_is_none_is_refused(stations, said):
    with pytest.raises(ParameterError, match=said):
        Width(stations=stations)


def test_a_held_width_changes_with_its_edge():
    width = Width(stations=((0.0, 10.0), (1.0, 25.0)))
    kept = allowed(rectangle(), 10.0, t=width)
    assert kept.edge("t").allowance == width
    [again] = allow(one(kept), Allowance()).value.pieces
    assert again == kept
