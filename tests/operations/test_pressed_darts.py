"""The cut edge across a dart's mouth: folded shut and pressed to its side, it is straight."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.errors import CollapseError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.length import parameter_at, segment_length
from crossgrain.kernel.meetings.crossing import self_crossings
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import Dart, Edge, Piece, Width
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.operations.allowance import Allowance, allow
from outline_widths import apart, dense, distances
from pieces import against, moved, one
from sewn_corners import in_order, shut
from strategies import angles


def back(width=20.0, depth=110.0, share=0.5, curve=0.0, pressed="start"):
    """A waist that is one smooth line when its dart is shut: its two halves turned apart about the dart's tip."""
    half = math.atan2(width / 2.0, depth)
    tip = (0.0, depth)
    # Shut, the waist is a line through (0, 0) that bends by ``curve``; opened, each half is turned by half the dart.
    leg = math.hypot(depth, width / 2.0)
    shut_left = Cubic((-250.0, -curve), (-166.0, -curve / 3.0), (-83.0, 0.0), (0.0, 0.0))
    shut_right = Cubic((0.0, 0.0), (83.0, 0.0), (166.0, -curve / 3.0), (250.0, -curve))
    down = Affine.translation(0.0, depth - leg)
    left = shut_left.mapped(down.then(Affine.rotation(-half, tip)))
    right = shut_right.mapped(down.then(Affine.rotation(half, tip)))
    waist = Path((left, Line(left.end, right.start), right))
    foot = 400.0
    lines = {
        "waist": waist,
        "side": Path((Line(right.end, (right.end[0], foot)),)),
        "hem": Path((Line((right.end[0], foot), (left.start[0], foot)),)),
        "seat": Path((Line((left.start[0], foot), left.start),)),
    }
    dart = Dart(edge="waist", share=share, width=width, depth=depth, pressed=pressed)
    return Piece(id="back", edges=tuple(Edge(name=n, line=line) for n, line in lines.items()), darts=(dart,))


def allowed(piece, width=10.0, **edges):
    named = tuple((name, mm if isinstance(mm, Width) else Width.of(mm)) for name, mm in edges.items())
    [new] = allow(one(piece), Allowance(width=width, edges=named)).value.pieces
    return new


@settings(max_examples=20)
@given(st.floats(8.0, 40.0), st.floats(70.0, 140.0), st.floats(-15.0, 15.0), st.sampled_from(["start", "end"]),
       st.floats(6.0, 20.0), st.booleans(), st.booleans(), angles)  # fmt: skip
def test_folded_shut_and_pressed_the_cut_edge_is_straight(width, depth, curve, pressed, wide, is_against, mirrored, a):
    """Within 0.2 mm: all layers end where the cloth ends, and that is the parallel of the waist with the dart shut."""
    piece = back(width, depth, curve=curve, pressed=pressed)
    if is_against:
        piece = against(piece)
        piece = replace(piece, darts=(replace(piece.darts[0], pressed=pressed),))
    piece = moved(piece, Affine.scaling(-1.0 if mirrored else 1.0, 1.0).then(Affine.rotation(a)))
    cut = allowed(piece, wide).counterpart
    cloth, layers = shut(cut, piece)
    assert len(layers) > 15
    line = shapely.linestrings(in_order(cloth, piece))
    assert shapely.distance(shapely.points(layers), line).max() <= 0.2
    whole = np.concatenate([cloth, layers])
    gaps = distances(whole, shut_waist(piece))
    assert np.abs(gaps - wide).max() <= 0.2
    assert not self_crossings(cut)


def shut_waist(piece):
    """The waist's stitch line with the dart shut: the far half turned about the tip."""
    [dart] = piece.darts
    first, tip, last = dart_points(piece, dart)
    near, far = (first, last) if dart.pressed == "start" else (last, first)
    (ux, uy), (vx, vy) = (near[0] - tip[0], near[1] - tip[1]), (far[0] - tip[0], far[1] - tip[1])
    opening = Affine.rotation(math.atan2(vx * uy - vy * ux, vx * ux + vy * uy), tip)
    one_half, _mouth, other = piece.edge(dart.edge).line.segments
    halves = (one_half, other.mapped(opening)) if dart.pressed == "start" else (one_half.mapped(opening), other)
    return Path.joined(halves)


def test_a_dart_of_which_nothing_is_said_is_cut_straight_across():
    plain = back(pressed=None)
    cut = allowed(plain).counterpart
    first, _tip, last = dart_points(plain, plain.darts[0])
    middle = ((first[0] + last[0]) / 2.0, (first[1] + last[1]) / 2.0)
    assert distances(np.array([middle]), cut)[0] == pytest.approx(10.0, abs=0.02)


def test_peaks_to_either_side_are_mirror_images_on_an_even_waist():
    to_start, to_end = (allowed(back(pressed=end)).counterpart for end in ("start", "end"))
    assert apart(to_end, to_start.mapped(Affine.scaling(-1.0, 1.0))) <= 0.02


@pytest.mark.parametrize("degrees", [-20.0, -12.0, 12.0, 20.0])
def test_on_a_slanting_waist_the_side_it_is_pressed_to_matters(degrees):
    """A waist with a slant across the shut dart: the two peaks differ by what the slant rises."""
    slant = leaning(degrees)
    start, end = (allowed(replace(slant, darts=(replace(slant.darts[0], pressed=p),))) for p in ("start", "end"))
    assert apart(start.counterpart, end.counterpart) > 1.0
    for piece in (start, end):
        cloth, layers = shut(piece.counterpart, piece)
        line = shapely.linestrings(in_order(cloth, piece))
        assert shapely.distance(shapely.points(layers), line).max() <= 0.2


def leaning(degrees):
    """The straight back whose waist, shut, slants against the dart's middle line."""
    piece = back(width=24.0, depth=90.0, pressed="start")
    tilt = math.radians(degrees)
    waist = piece.edge("waist").line
    left, mouth, right = waist.segments
    turned_left = left.mapped(Affine.rotation(tilt, left.end))
    turned_right = right.mapped(Affine.rotation(tilt, right.start))
    new = Path.joined((turned_left, mouth, turned_right))
    foot = 400.0
    return replace(
        piece,
        edges=(
            Edge(name="waist", line=new),
            Edge(name="side", line=Path((Line(new.end, (new.end[0], foot)),))),
            Edge(name="hem", line=Path((Line((new.end[0], foot), (new.start[0], foot)),))),
            Edge(name="seat", line=Path((Line((new.start[0], foot), new.start),))),
        ),
    )


def test_a_dart_wider_than_it_is_deep_cannot_be_pressed_flat():
    with pytest.raises(CollapseError, match=r"wider than 90°.*edge waist") as caught:
        allowed(back(width=60.0, depth=25.0))
    assert caught.value.position is not None


@pytest.mark.parametrize(("share", "width"), [(0.05, 10.0), (0.95, 10.0)])
def test_a_dart_at_the_very_end_of_its_edge_cannot_be_pressed(share, width):
    dart = Dart(edge="top", share=share, width=width, depth=60.0, pressed="start" if share < 0.5 else "end")
    lines = Path.polygon([(0, 0), (100, 0), (100, 200), (0, 200)]).segments
    edges = tuple(Edge(name=n, line=Path((s,))) for n, s in zip(["top", "a", "b", "c"], lines, strict=True))
    with pytest.raises(CollapseError, match=r"end of its edge.*edge top"):
        allowed(Piece(id="p", edges=edges, darts=(dart,)))
    near = replace(dart, share=0.08 if share < 0.5 else 0.92)
    with pytest.raises(CollapseError, match=r"too little of the edge.*edge top"):
        allowed(Piece(id="p", edges=edges, darts=(near,)))
    other_side = replace(near, pressed="end" if share < 0.5 else "start")
    assert not self_crossings(allowed(Piece(id="p", edges=edges, darts=(other_side,))).counterpart)


@settings(max_examples=20)
@given(st.floats(8.0, 40.0), st.floats(70.0, 140.0), st.floats(-15.0, 15.0), st.sampled_from(["start", "end"]),
       st.floats(5.0, 15.0), st.floats(5.0, 30.0), st.floats(-15.0, 15.0), st.booleans(), angles)  # fmt: skip
def test_a_width_that_grows_goes_on_where_the_dart_is_shut(
    width, depth, curve, pressed, here, there, tilt, mirrored, a
):
    """As a waist's does towards centre back: folded shut, the cut edge lies at the width of each place of the waist."""
    piece = back(width, depth, curve=curve, pressed=pressed) if abs(tilt) < 1.0 else leaning(tilt)
    piece = replace(piece, darts=(replace(piece.darts[0], pressed=pressed),))
    piece = moved(piece, Affine.scaling(-1.0 if mirrored else 1.0, 1.0).then(Affine.rotation(a)))
    cut = allowed(piece, waist=Width(stations=((0.0, here), (1.0, there)))).counterpart
    cloth, layers = shut(cut, piece)
    assert len(layers) > 15
    line = shapely.linestrings(in_order(cloth, piece))
    assert shapely.distance(shapely.points(layers), line).max() <= 0.2
    assert not self_crossings(cut)
    sewn = shut_waist(piece)
    lengths = [segment_length(segment) for segment in sewn.segments]
    profile = Width(stations=((0.0, here), (1.0, there))).along(math.fsum(lengths))
    outwards = math.copysign(1.0, signed_area(piece.line))
    wanted = []
    # Near the mouth, where the cut edge was folded; where a slant makes the two halves meet in a corner, not there.
    clear = 2.0 * max(here, there) if abs(tilt) >= 1.0 else 0.0
    for segment, begins in zip(sewn.segments, (0.0, lengths[0]), strict=True):
        for along in np.linspace(0.0, segment_length(segment), 400):
            s = begins + float(along)
            if clear <= abs(s - lengths[0]) < 1.2 * width:
                t = parameter_at(segment, float(along))
                (x, y), (dx, dy) = segment.point(t), segment.derivative(t)
                mm = outwards * float(profile(np.array([s]))[0][0]) / math.hypot(dx, dy)
                wanted.append((x + mm * dy, y - mm * dx))
    if wanted:
        assert shapely.distance(shapely.points(np.array(wanted)), line).max() <= 0.2


def test_the_width_is_the_same_at_both_legs_and_as_said_at_the_ends():
    piece = back()
    cut = allowed(piece, waist=Width(stations=((0.0, 10.0), (1.0, 25.0)))).counterpart
    first, _tip, last = dart_points(piece, piece.darts[0])
    waist = piece.edge("waist").line
    ends = distances(np.array([waist.segments[0].point(0.5), waist.segments[-1].point(0.5)]), cut)
    at_legs = distances(np.array([first, last]), cut)
    # A quarter of the way a blend of 10 to 25 mm has risen by 5/32 of it, on the middle by half: derived.
    assert ends == pytest.approx([10.0 + 15.0 * 5.0 / 32.0, 25.0 - 15.0 * 5.0 / 32.0], abs=0.1)
    assert at_legs == pytest.approx([17.5, 17.5], abs=0.1)


def test_two_darts_on_an_edge_whose_width_changes_in_the_middle():
    lines = Path.polygon([(0, 0), (400, 0), (400, 500), (0, 500)]).segments
    edges = tuple(Edge(name=n, line=Path((s,))) for n, s in zip(["waist", "side", "hem", "seat"], lines, strict=True))
    darts = tuple(
        Dart(edge="waist", share=share, width=20.0, depth=100.0, pressed=end)
        for share, end in ((0.3, "start"), (0.7, "end"))
    )
    piece = Piece(id="back", edges=edges, darts=darts)
    growing = Width(stations=((0.0, 10.0), (0.5, 10.0), (1.0, 30.0)))
    cut = allowed(piece, 12.0, waist=growing).counterpart
    assert not self_crossings(cut)
    out = [nearest_up((x, 0.0), cut) for x in (100.0, 140.0, 260.0, 300.0)]
    # Shut, the waist is 360 mm long and its middle is at 180: the other mouth is 70 mm behind it, of 180 mm.
    beside = [10.0 + 20.0 * (3.0 - 2.0 * t) * t * t for t in (60.0 / 180.0, 80.0 / 180.0)]
    assert out == pytest.approx([10.0, 10.0, *beside], abs=0.011)
    [again] = allow(one(allowed(piece, 12.0, waist=growing)), Allowance()).value.pieces
    assert again.counterpart == cut


def nearest_up(point, line):
    """How far straight up from a point a line is first met, mm."""
    x, y = point
    met = shapely.intersection(shapely.LineString([(x, y), (x, y - 100.0)]), shapely.LineString(dense(line)))
    return y - max(p.y for p in shapely.get_parts(met))


def test_an_edge_without_allowance_has_no_peak():
    piece = back()
    assert apart(allowed(piece, waist=0.0).counterpart, allowed(back(pressed=None), waist=0.0).counterpart) < 1e-9


def test_darts_are_pressed_by_an_option_and_opened_again():
    plain = back(pressed=None)
    pressed = allow(one(plain), Allowance(width=10.0, pressed=(("waist", "end"),))).value.pieces[0]
    assert pressed.darts[0].pressed == "end"
    assert apart(pressed.counterpart, allowed(back(pressed="end")).counterpart) < 1e-9
    opened = allow(one(pressed), Allowance(pressed=(("waist", None),))).value.pieces[0]
    assert apart(opened.counterpart, allowed(plain).counterpart) < 1e-9
