"""A line moved by amounts at stations lies beside the old one as far as was asked, everywhere, seen from both."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from beside import stray_of_parallel
from crossgrain.errors import CollapseError, GeometryError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.arc import arc_cubics
from crossgrain.kernel.length import path_length
from crossgrain.kernel.parallels.line_beside import line_beside
from crossgrain.kernel.path import Path
from crossgrain.kernel.profile import Profile
from crossgrain.kernel.segment import Cubic, Line
from moved_lines import Walked, apart, dense_line, mitred, moved_by
from outline_widths import node_turns
from pieces import smooth_run, traced_pieces, upright_pieces
from strategies import rigid_motions

FEW = settings(max_examples=25)
ACCURACY = 0.01

amounts = st.one_of(st.just(0.0), st.floats(-12.0, 12.0).map(lambda value: round(value, 2)))


@st.composite
def seams(draw):
    """Draw the smooth edges of garments, run through either way."""
    piece = draw(upright_pieces())
    line = piece.edge(draw(st.sampled_from(["side", "inseam", "waist", "hem", "centre"]))).line
    return line.reversed() if draw(st.booleans()) else line


@st.composite
def bastings(draw, total, apart=30.0):
    """Draw stations from one end to the other, at least ``apart`` from each other, with amounts."""
    gaps = draw(st.lists(st.floats(1.0, 4.0), min_size=1, max_size=max(1, min(4, int(total / (4.0 * apart))))))
    ends = np.cumsum(gaps) / sum(gaps) * total
    stations = [0.0, *(float(s) for s in ends[:-1]), total]
    return stations, [draw(amounts) for _ in stations]


@st.composite
def moved_seams(draw, lines=seams):
    line = draw(lines())
    return line, *draw(bastings(path_length(line)))


def law_of(line, stations, distances):
    """The amount as a function of piece and parameter, its lengths measured by the judge."""
    walked, blend = Walked(line), Profile(stations, distances)
    return lambda piece, t: blend(walked.along(piece, t))[0]


# --- the law ------------------------------------------------------------------------------------------------------


@FEW
@given(moved_seams())
def test_the_new_line_is_the_true_parallel_at_varying_distance(case):
    line, stations, distances = case
    new = line_beside(line, stations, distances)
    assert stray_of_parallel(line.segments, law_of(*case), new.segments) <= ACCURACY


@FEW
@given(moved_seams(), st.sampled_from([0.1, 0.002]))
def test_it_is_as_near_as_was_asked(case, accuracy):
    line, stations, distances = case
    new = line_beside(line, stations, distances, accuracy)
    assert stray_of_parallel(line.segments, law_of(*case), new.segments) <= accuracy


@FEW
@given(moved_seams())
def test_at_every_station_it_lies_at_the_very_amount(case):
    line, stations, distances = case
    inside = slice(1, -1)  # at an end of the line there may be no new line on either side of the normal
    found = moved_by(line, line_beside(line, stations, distances), stations[inside])
    assert found == pytest.approx(distances[inside], abs=2e-3)


@given(moved_seams())
def test_its_ends_lie_square_to_the_old_ones(case):
    line, stations, distances = case
    new = line_beside(line, stations, distances)
    points, normals = Walked(line).frames([0.0, path_length(line)])
    for end, point, normal, d in zip((new.start, new.end), points, normals, (distances[0], distances[-1]), strict=True):
        assert complex(*end) == pytest.approx(point + d * normal, abs=1e-6)


@FEW
@given(moved_seams())
def test_between_stations_it_never_lies_outside_their_amounts(case):
    line, stations, distances = case
    new = line_beside(line, stations, distances)
    for k, (s, t) in enumerate(pairwise(stations)):
        found = moved_by(line, new, np.linspace(s, t, 9)[1:-1])
        assert min(distances[k : k + 2]) - ACCURACY <= found.min()
        assert found.max() <= max(distances[k : k + 2]) + ACCURACY


@given(moved_seams())
def test_nodes_lie_at_the_stations(case):
    line, stations, distances = case
    nodes = np.array([complex(*node) for node in line_beside(line, stations, distances).nodes])
    points, normals = Walked(line).frames(stations)
    for k, (point, normal, d) in enumerate(zip(points, normals, distances, strict=True)):
        if not any(distances[max(k - 1, 0) : k + 2]):
            continue  # nothing moves beside this station, so nothing is cut there
        if np.abs(np.array([complex(*node) for node in line.nodes]) - point).min() <= 0.5:
            continue  # the old node does for it
        assert np.abs(nodes - (point + d * normal)).min() <= 1e-5


@given(moved_seams())
def test_nodes_are_few(case):
    """Never more than one for each node, one for each station, and one for each of the stretches between them."""
    line, stations, distances = case
    new = line_beside(line, stations, distances)
    assert len(new.segments) <= 2 * (len(line.segments) + len(stations) - 2) + 1


# --- zero ---------------------------------------------------------------------------------------------------------


@given(seams())
def test_nothing_taken_is_the_line_itself(line):
    assert line_beside(line, [0.0, 50.0, path_length(line)], [0.0, 0.0, 0.0]) is line


@given(seams(), st.floats(-12.0, 12.0))
def test_outside_the_stations_nothing_moves(line, amount):
    total = path_length(line)
    new = line_beside(line, [0.3 * total, 0.5 * total, 0.6 * total], [0.0, amount, 0.0])
    assert (new.start, new.end) == (line.start, line.end)
    if len(line.segments) == 1:
        assert apart(dense_line(new), dense_line(line)) <= abs(amount) + ACCURACY
    found = moved_by(line, new, np.array([0.1, 0.2, 0.29, 0.61, 0.8, 0.9]) * total)
    assert np.abs(found).max() <= 1e-3  # as near as the polylines of the judge go


@given(seams(), st.floats(2.0, 12.0))
def test_a_station_beside_which_nothing_moves_cuts_nothing(line, amount):
    total = path_length(line)
    zeros = [share * total for share in (0.0, 0.1, 0.3, 0.5)]
    one = line_beside(line, [*zeros, total], [0.0, 0.0, 0.0, 0.0, amount])
    assert one == line_beside(line, [zeros[-1], total], [0.0, amount])


@given(upright_pieces(), st.floats(2.0, 12.0))
def test_between_two_zeros_segments_are_those_of_the_old_line(piece, amount):
    side = piece.edge("side").line
    ends = np.cumsum([path_length(Path((segment,))) for segment in side.segments])
    new = line_beside(side, [float(ends[0]), float(ends[1]), float(ends[2])], [0.0, 0.0, amount])
    assert new.segments[:2] == side.segments[:2]
    new = line_beside(side, [0.0, float(ends[0]), float(ends[1]), float(ends[2])], [amount, 0.0, 0.0, 0.0])
    assert new.segments[-2:] == side.segments[-2:]


def test_a_straight_line_moved_alike_stays_one_straight_line():
    line = Path((Line((0.0, 0.0), (300.0, 40.0)),))
    new = line_beside(line, [0.0, path_length(line)], [6.0, 6.0])
    [segment] = new.segments
    assert isinstance(segment, Line)
    assert moved_by(line, new, [100.0]) == pytest.approx([6.0])


# --- seen otherwise -----------------------------------------------------------------------------------------------


@FEW
@given(moved_seams())
def test_the_line_run_the_other_way_is_moved_alike(case):
    line, stations, distances = case
    total = path_length(line)
    back = line_beside(line.reversed(), [total - s for s in reversed(stations)], [-d for d in reversed(distances)])
    assert apart(dense_line(line_beside(line, stations, distances)), dense_line(back)) <= 2.0 * ACCURACY


@FEW
@given(moved_seams(), rigid_motions())
def test_the_line_turned_is_moved_alike(case, motion):
    line, stations, distances = case
    one = line_beside(line, stations, distances).mapped(motion)
    other = line_beside(line.mapped(motion), stations, distances)
    assert apart(dense_line(one), dense_line(other)) <= 2.0 * ACCURACY


@FEW
@given(moved_seams())
def test_the_line_mirrored_is_moved_alike(case):
    line, stations, distances = case
    mirror = Affine.scaling(-1.0, 1.0)
    one = line_beside(line, stations, distances).mapped(mirror)
    other = line_beside(line.mapped(mirror), stations, [-d for d in distances])
    assert apart(dense_line(one), dense_line(other)) <= 2.0 * ACCURACY


# --- known lines --------------------------------------------------------------------------------------------------


def arc(radius, angle=math.pi / 2.0):
    """A part of a circle about the origin, turning clockwise as seen on the page."""
    return Path(
        arc_cubics(
            (radius, 0.0), radius, radius, 0.0, False, True, (radius * math.cos(angle), radius * math.sin(angle))
        )
    )


@pytest.mark.parametrize("d", [-25.0, -12.0, 8.0, 30.0])
def test_a_circle_s_parallel_is_a_circle(d):
    """Outwards by d the radius is r + d: κ(d) = κ / (1 + d κ)."""
    line = arc(40.0)
    new = line_beside(line, [0.0, path_length(line)], [d, d])
    radii = np.hypot(*np.array(dense_line(new).coords).T)
    assert radii == pytest.approx(40.0 + d, abs=ACCURACY)


@pytest.mark.parametrize(
    ("radius", "d"), [(40.0, -40.5), (40.0, -39.0), (40.0, -80.0), (10.0, -12.0)], ids=["past", "at", "far", "tight"]
)
def test_a_bend_tighter_than_the_amount_is_refused_with_its_radius_and_place(radius, d):
    line = arc(radius)
    with pytest.raises(CollapseError, match=f"radius of {radius:.1f} mm") as caught:
        line_beside(line, [0.0, path_length(line)], [d, d])
    assert math.hypot(*caught.value.position) == pytest.approx(radius, abs=0.01)
    assert caught.value.advice


def test_the_same_bend_moved_the_other_way_widens():
    line = arc(10.0)
    new = line_beside(line, [0.0, path_length(line)], [12.0, 12.0])
    assert np.hypot(*np.array(dense_line(new).coords).T) == pytest.approx(22.0, abs=ACCURACY)


def test_a_tight_bend_where_nothing_is_taken_is_no_obstacle():
    line = Path.joined([*arc(10.0).segments, Line((0.0, 10.0), (-200.0, 10.0))])
    start = path_length(arc(10.0))
    new = line_beside(line, [start, start + 100.0, start + 200.0], [0.0, -12.0, 0.0])
    assert new.segments[: len(line.segments) - 1] == line.segments[:-1]


@pytest.mark.parametrize("stations", [[0.0, 0.0], [100.0, 50.0]])
def test_stations_that_do_not_rise_are_refused(stations):
    with pytest.raises(GeometryError, match="same place"):
        line_beside(Path((Line((0.0, 0.0), (300.0, 0.0)),)), stations, [1.0, 2.0])


# --- kinks --------------------------------------------------------------------------------------------------------


@st.composite
def kinked_seams(draw):
    """Draw edges as they were traced: a node every 15 mm, turning by a degree or two at each."""
    line = draw(traced_pieces()).edge(draw(st.sampled_from(["side", "inseam"]))).line
    return line.reversed() if draw(st.booleans()) else line


@FEW
@given(moved_seams(kinked_seams))
def test_a_traced_line_is_moved_as_a_line_with_mitred_kinks(case):
    line, stations, distances = case
    new = line_beside(line, stations, distances)
    blend = Profile(stations, distances)
    assert apart(mitred(line, lambda s: blend(s)[0]), dense_line(new)) <= 2.0 * ACCURACY


@FEW
@given(moved_seams(kinked_seams))
def test_nodes_of_a_traced_line_do_not_multiply(case):
    line, stations, distances = case
    new = line_beside(line, stations, distances)
    assert len(new.segments) <= len(line.segments) + 2 * len(stations)


@pytest.mark.parametrize("turn", [2.0, 10.0, 20.0, -2.0, -10.0, -20.0])
@pytest.mark.parametrize("d", [-8.0, 8.0])
def test_at_one_kink_moved_alike_the_corner_is_a_mitre(turn, d):
    """Both lines lie at d; so does their corner from each of them: on the bisector at d / cos(turn / 2)."""
    angle = math.radians(turn)
    line = Path(
        (Line((0.0, 0.0), (100.0, 0.0)), Line((100.0, 0.0), (100.0 + 100.0 * math.cos(angle), 100.0 * math.sin(angle))))
    )
    new = line_beside(line, [0.0, 200.0], [d, d])
    assert len(new.segments) == 2
    corner = complex(*new.nodes[1]) - 100.0
    assert abs(corner) == pytest.approx(abs(d) / math.cos(angle / 2.0), abs=1e-9)
    assert new.segments[0].end == new.segments[1].start


def test_a_cubic_with_drawn_in_handles_is_moved_too():
    line = Path(
        (
            Cubic((0.0, 0.0), (0.0, 0.0), (200.0, 30.0), (200.0, 30.0)),
            *smooth_run([((200.0, 30.0), (1.0, 0.15)), ((400.0, 20.0), (1.0, 0.0))]),
        )
    )
    total = path_length(line)
    new = line_beside(line, [0.0, 150.0, total], [0.0, 7.0, 0.0])
    assert moved_by(line, new, [150.0]) == pytest.approx([7.0], abs=1e-3)


@FEW
@given(moved_seams(kinked_seams))
def test_a_moved_traced_line_never_turns_back(case):
    """Where the amounts rise, kinked parallels lean: one goes on and the other is cut, and no spur is left."""
    line, stations, distances = case
    assert np.abs(node_turns(line_beside(line, stations, distances))).max() < 20.0


@st.composite
def clicked_curves(draw):
    """Draw bends as they are traced: cubics of some 20 mm whose handles point up to 2.5° beside the line."""
    radius, turn = draw(st.floats(55.0, 90.0)), draw(st.floats(0.8, 1.6))
    count = draw(st.integers(4, 8))
    off = st.floats(-0.043, 0.043)
    nodes, handles = [], []
    for k in range(count + 1):
        angle = turn * k / count
        nodes.append((radius * math.cos(angle), radius * math.sin(angle)))
        handles.append((angle + math.pi / 2.0 + draw(off), angle + math.pi / 2.0 + draw(off)))
    reach = radius * turn / count / 3.0
    return Path(
        tuple(
            Cubic(
                p,
                (p[0] + reach * math.cos(u), p[1] + reach * math.sin(u)),
                (q[0] - reach * math.cos(v), q[1] - reach * math.sin(v)),
                q,
            )
            for (p, q), ((_before, u), (v, _after)) in zip(pairwise(nodes), pairwise(handles), strict=True)
        )
    )


@FEW
@given(clicked_curves(), st.floats(0.35, 0.65), st.sampled_from([-6.0, -4.0, -2.0, 2.0, 4.0, 6.0]))
def test_a_traced_crotch_curve_is_moved_with_mitred_kinks_and_no_spur(line, share, amount):
    stations = [0.0, share * path_length(line), path_length(line)]
    new = line_beside(line, stations, [0.0, amount, 0.0])
    blend = Profile(stations, [0.0, amount, 0.0])
    # Blended over 20 to 60 mm, lines as bent as this may part before they meet: their ends are then made one.
    assert apart(mitred(line, lambda s: blend(s)[0]), dense_line(new, 0.1)) <= 0.15
    assert np.abs(node_turns(new)).max() < 20.0
    assert len(new.segments) <= 2 * len(line.segments) + 4


@pytest.mark.parametrize("turn", [-5.0, 5.0])
@pytest.mark.parametrize("d", [-18.0, 18.0])
def test_where_amounts_rise_across_a_kink_one_line_goes_on_and_the_other_is_cut(turn, d):
    """Both lean against the bisector there; ends simply brought together would lie 0.07 mm off."""
    angle = math.radians(turn)
    end = (100.0 + 100.0 * math.cos(angle), 100.0 * math.sin(angle))
    line = Path((Line((0.0, 0.0), (100.0, 0.0)), Line((100.0, 0.0), end)))
    new = line_beside(line, [0.0, 200.0], [0.0, d])
    blend = Profile([0.0, 200.0], [0.0, d])
    assert apart(mitred(line, lambda s: blend(s)[0], step=0.05), dense_line(new, 0.05)) <= ACCURACY
    assert np.abs(node_turns(new)).max() < 6.0
