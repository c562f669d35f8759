"""Laws of following by a band that bends: lengths, width and bends, on parts of rings and on shaped bands."""

import math
from dataclasses import replace

import mpmath
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point

from crossgrain.errors import CollapseError, GeometryError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.arc import arc_cubics
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.length import path_length, point_at_share
from crossgrain.kernel.parallels.line_beside import line_beside
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import CutInstruction, Dart, Edge, Notch, Pattern, Piece
from crossgrain.model.dependents.follows import Follows, Term
from crossgrain.model.marking.sewing_marks import Button, Loop
from crossgrain.operations.following import Following, follow
from pieces import against, moved, traced

SOME, FEW = settings(max_examples=25), settings(max_examples=10)
OVERLAP = 30.0


def block(id, width):
    lines = Path.polygon([(0, 0), (width, 0), (width, 900.0), (0, 900.0)]).segments
    names = ("waist", "side", "hem", "centre")
    edges = tuple(Edge(name=name, line=Path((line,))) for name, line in zip(names, lines, strict=True))
    return Piece(id=id, name=id, edges=edges)


def band(waist, top, **more):
    """A band of a waist line and its far side, both from left to right."""
    edges = (
        Edge(name="top", line=top),
        Edge(name="right", line=Path((Line(top.end, waist.end),))),
        Edge(name="waist", line=waist.reversed()),
        Edge(name="left", line=Path((Line(waist.start, top.start),))),
    )
    return Piece(id="band", name="band", edges=edges, cut=CutInstruction(stabilised=True), **more)


def arc(radius, angle):
    """A part of a circle about the origin, symmetrical about straight up, from left to right."""
    x, y = radius * math.sin(angle / 2.0), -radius * math.cos(angle / 2.0)
    return Path(arc_cubics((-x, y), radius, radius, 0.0, angle > math.pi, True, (x, y)))


def following(piece, stretches):
    """The piece as it follows: an overlap, and then a front and a back that are so wide."""
    terms = (Term(length=OVERLAP), *(Term(piece=name, edge="waist") for name, _width in stretches))
    was = (OVERLAP, *(width for _name, width in stretches))
    return replace(piece, follows=(Follows(edge="waist", terms=terms, was=was),))


def changed(piece, old, new, **more):
    """What becomes of a band when a front and a back so wide become narrower or wider."""
    names = ("front", "back")
    piece = replace(following(piece, list(zip(names, old, strict=True))), **more)
    return follow(Pattern(pieces=(*map(block, names, new), piece)), Following()).value


@st.composite
def halves(draw, total):
    """Draw how wide a front and a back are on a band so long, and how wide they become."""
    share = draw(st.floats(0.3, 0.7))
    old = (share * (total - OVERLAP), (1.0 - share) * (total - OVERLAP))
    return old, tuple(width * draw(st.floats(0.75, 1.25)) for width in old)


@st.composite
def rings(draw):
    """Draw the part of a ring: its radius at the waist, how much more at the top, its angle."""
    radius, width = draw(st.floats(200.0, 900.0)), draw(st.floats(20.0, 70.0)) * draw(st.sampled_from([1.0, -1.0]))
    return radius, width, draw(st.floats(300.0, 700.0)) / radius


def ring_band(ring):
    radius, width, angle = ring
    return band(arc(radius, angle), arc(radius + width, angle))


@st.composite
def shaped(draw):
    """Draw a shaped band: its waist of two cubics, smoothly joined, that bend one way or both; 40 mm wide."""
    dip, rise = draw(st.floats(-35.0, 35.0)), draw(st.floats(-35.0, 35.0))
    half, more = draw(st.floats(180.0, 300.0)), draw(st.floats(180.0, 300.0))
    waist = Path(
        (
            Cubic((0.0, 0.0), (half / 3.0, 0.0), (2.0 * half / 3.0, dip), (half, dip)),
            Cubic(
                (half, dip), (half + more / 3.0, dip), (half + 2.0 * more / 3.0, dip + rise), (half + more, dip + rise)
            ),
        )
    )
    length = path_length(waist)
    return band(waist, line_beside(waist, [0.0, length], [40.0, 40.0]))


@st.composite
def lying(draw, piece):
    """Draw how a band lies on the table: turned, mirrored, or drawn the other way round."""
    if draw(st.booleans()):
        piece = moved(piece, Affine.scaling(-1.0, 1.0))
    return moved(piece, Affine.rotation(draw(st.floats(-math.pi, math.pi))))


def shape(path):
    return LineString([segment.point(t) for segment in path.segments for t in np.linspace(0.0, 1.0, 120)])


class TestRing:
    @SOME
    @given(rings(), st.data())
    def test_the_part_of_a_ring_becomes_a_part_of_the_same_ring(self, ring, data):
        """Closed form: with r at the waist and R at the top, an angle of L / r gives R L / r and (R² - r²) L / 2r."""
        radius, width, angle = ring
        far = radius + width
        old, new = data.draw(halves(radius * angle))
        piece = data.draw(lying(ring_band(ring)))
        # The waist is drawn from right to left, so the first stretch, the overlap, lies at the right.
        done = changed(piece, old, new).piece("band")
        length = OVERLAP + math.fsum(new)
        assert path_length(done.edge("waist").line) == pytest.approx(length, abs=1e-6)
        assert path_length(done.edge("top").line) == pytest.approx(far * length / radius, abs=5e-3)
        assert abs(signed_area(done.line)) == pytest.approx(abs(far**2 - radius**2) * length / radius / 2.0, abs=3.0)
        for end in ("left", "right"):
            [line] = done.edge(end).line.segments
            assert isinstance(line, Line)
            assert math.dist(line.start, line.end) == pytest.approx(abs(width), abs=1e-3)
        for before, after in zip(piece.edges, done.edges, strict=True):
            assert len(after.line.segments) <= len(before.line.segments) + 1

    def test_its_length_against_mpmath(self):
        piece = band(arc(420.0, 1.3), arc(380.0, 1.3))
        done = changed(piece, (250.0, 420.0 * 1.3 - 280.0), (231.25, 260.5)).piece("band")
        found = mpmath.mpf(0)
        for segment in done.edge("waist").line.segments:
            speed = lambda t, one=segment: mpmath.hypot(*map(mpmath.mpf, one.derivative(float(t))))  # noqa: E731
            found += mpmath.quad(speed, [0, 0.5, 1])
        assert float(found) == pytest.approx(OVERLAP + 231.25 + 260.5, abs=1e-6)


class TestShaped:
    @SOME
    @given(shaped(), st.data())
    def test_stretches_width_and_ends(self, piece, data):
        total = path_length(piece.edge("waist").line)
        old, new = data.draw(halves(total))
        joint = (OVERLAP + old[0]) / total
        piece = data.draw(lying(replace(piece, notches=(Notch(edge="waist", share=joint, count=2),))))
        pattern = changed(piece, old, new)
        done = pattern.piece("band")
        waist, top = done.edge("waist").line, done.edge("top").line
        assert path_length(waist) == pytest.approx(OVERLAP + math.fsum(new), abs=1e-6)
        [notch] = done.notches
        assert notch.share * path_length(waist) == pytest.approx(OVERLAP + new[0], abs=1e-6)
        line = shape(waist)
        for k in range(1, 40):
            assert line.distance(Point(point_at_share(top, k / 40.0))) == pytest.approx(40.0, abs=0.02)
        for end in ("left", "right"):
            assert path_length(done.edge(end).line) == pytest.approx(40.0, abs=1e-3)
        before, after = angles(piece), angles(done)
        assert after == pytest.approx(before, abs=1e-4)
        assert follow(pattern, Following()).value == pattern

    @SOME
    @given(shaped(), st.floats(0.1, 0.9), st.floats(0.1, 0.9), st.data())
    def test_loops_and_buttons_keep_their_share_of_their_stretch(self, piece, one, other, data):
        total = path_length(piece.edge("waist").line)
        old, new = data.draw(halves(total))
        places = (OVERLAP + one * old[0], OVERLAP + old[0] + other * old[1])
        loops = tuple(Loop(edge="waist", share=place / total) for place in places)
        button = Button(edge="waist", share=0.5 * OVERLAP / total, diameter=15.0, thickness=3.0, inset=12.0)
        done = changed(piece, old, new, loops=loops, buttons=(button,)).piece("band")
        length = path_length(done.edge("waist").line)
        wanted = (OVERLAP + one * new[0], OVERLAP + new[0] + other * new[1])
        assert [loop.share * length for loop in done.loops] == pytest.approx(wanted, abs=1e-3)
        assert done.buttons[0].share * length == pytest.approx(0.5 * OVERLAP, abs=1e-3)

    @SOME
    @given(shaped(), st.data())
    def test_one_drawn_the_other_way_round_becomes_the_same(self, piece, data):
        total = path_length(piece.edge("waist").line)
        old, new = data.draw(halves(total))
        one = changed(piece, old, new).piece("band")
        other = against(piece)
        terms = (Term(piece="back", edge="waist"), Term(piece="front", edge="waist"), Term(length=OVERLAP))
        follows = (Follows(edge="waist", terms=terms, was=(old[1], old[0], OVERLAP)),)
        pieces = (block("front", new[0]), block("back", new[1]), replace(other, follows=follows))
        turned = follow(Pattern(pieces=pieces), Following()).value.piece("band")
        for edge in one.edges:
            assert path_length(turned.edge(edge.name).line) == pytest.approx(path_length(edge.line), abs=1e-3)
        assert abs(signed_area(turned.line)) == pytest.approx(abs(signed_area(one.line)), abs=1.0)

    def test_it_turns_about_its_fold(self):
        piece = band(arc(400.0, 1.2), arc(360.0, 1.2), follows=())
        total = path_length(piece.edge("waist").line)
        for fold in ("left", "right"):
            cut = CutInstruction(on_fold=fold)
            done = changed(piece, (200.0, total - 230.0), (220.0, total - 250.0 - 30.0), cut=cut).piece("band")
            [old], [new] = piece.edge(fold).line.segments, done.edge(fold).line.segments
            assert math.dist(old.start, new.start) < 1e-6
            assert math.dist(old.end, new.end) < 1e-6

    def test_without_a_fold_its_middle_keeps_its_direction_on_the_grain(self):
        piece = band(arc(400.0, 1.2), arc(360.0, 1.2))
        total = path_length(piece.edge("waist").line)
        done = changed(piece, (200.0, total - 230.0), (180.0, (total - 230.0) * 0.9)).piece("band")
        (x, y), (u, v) = done.edge("waist").line.start, done.edge("waist").line.end
        # The part of a ring was symmetrical about upright, and is again but for what its stretches differ by.
        assert abs(math.degrees(math.atan2(v - y, x - u))) < 1.0

    @FEW
    @given(st.one_of(shaped(), rings().map(ring_band)), st.randoms(use_true_random=False), st.data())
    def test_traced_by_hand_it_follows_too(self, piece, shakes, data):
        width = path_length(piece.edge("left").line)
        crooked = data.draw(lying(traced(piece, lambda: shakes.uniform(-0.2, 0.2))))
        old, new = data.draw(halves(path_length(crooked.edge("waist").line)))
        pattern = changed(crooked, old, new)
        done = pattern.piece("band")
        assert path_length(done.edge("waist").line) == pytest.approx(OVERLAP + math.fsum(new), abs=1e-6)
        line = shape(done.edge("waist").line)
        for k in range(1, 20):
            # Nodes of either line are off by up to 0.28 mm.
            away = line.distance(Point(point_at_share(done.edge("top").line, k / 20.0)))
            assert away == pytest.approx(width, abs=0.8)
        assert follow(pattern, Following()).value == pattern


def angles(piece):
    """The angles at the corners of a band, radians."""
    lines = [edge.line for edge in piece.edges]
    out = []
    for before, after in zip([lines[-1], *lines], lines, strict=False):
        (x, y), (u, v) = before.segments[-1].end_tangent, after.segments[0].start_tangent
        out.append(math.atan2(x * v - y * u, x * u + y * v))
    return out


class TestRefusals:
    def test_a_band_as_wide_as_its_bend_has_room_for(self):
        piece = band(arc(38.0, 2.5), Path((Line((-10.0, 5.0), (10.0, 5.0)),)))
        total = path_length(piece.edge("waist").line)
        with pytest.raises(
            CollapseError, match=r"bends with a radius of 38\.0 mm there, and the piece is 50\.3 mm wide"
        ):
            changed(piece, (30.0, total - 60.0), (35.0, total - 60.0))

    def test_a_stretch_that_would_have_no_length(self):
        piece = following(band(arc(400.0, 1.2), arc(360.0, 1.2)), [("front", 200.0), ("back", 250.0)])
        closed = Dart(edge="waist", share=0.5, width=200.0, depth=90.0)
        pieces = (replace(block("front", 200.0), darts=(closed,)), block("back", 250.0), piece)
        with pytest.raises(GeometryError, match="has no length, or would have none"):
            follow(Pattern(pieces=pieces), Following())
