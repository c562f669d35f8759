"""Laws of tracing: after any change an edge is congruent to the part it traces, and its piece keeps its depth."""

import math
from dataclasses import replace
from pathlib import Path as File

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point

from crossgrain.checks.dependents import check_dependents
from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.length import path_length, place_at, places_at, point_at, point_at_share, run
from crossgrain.kernel.parallels.line_beside import line_beside
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import CutInstruction, Dart, Edge, Notch, Pattern, Piece
from crossgrain.model.dependents.dependences import with_dependences
from crossgrain.model.dependents.traces import Reach, Traces
from crossgrain.notation.follows import read_dependence, read_follows
from crossgrain.operations.following import Following, follow
from crossgrain.operations.lengthening import Lengthening, lengthen
from crossgrain.operations.reduction import Reduction, reduce
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from pieces import against, moved, upright_pieces
from pieces import traced as by_hand

SAMPLES = File(__file__).parent.parent.parent / "samples"
SOME = settings(max_examples=25)
DEPTH = 30.0
PLACES = 40


def points(line, start=0.0, end=1.0):
    """Points along a line from one share of it to another, evenly."""
    length = path_length(line)
    places = places_at(line, np.linspace(start * length, end * length, PLACES).tolist())
    return np.array([complex(*point_at(line, place)) for place in places])


def distances(*lines):
    """The distances of all points from each other: alike for congruent lines, turned, moved or mirrored, only."""
    every = np.concatenate(lines)
    return np.abs(every[:, None] - every[None, :])


def part(line, start, end):
    return run(line, place_at(line, start), place_at(line, end))


def facing_of(front, edge, start, end):
    """A strip 30 mm deep inside a stretch of an edge of a front, from one share of it to another.

    The centre is straight: which of its ends is which, only names tell. Of the side the shape does.
    """
    line = front.edge(edge).line
    traced = part(line, start * path_length(line), end * path_length(line))
    far = line_beside(traced, [0.0, path_length(traced)], [-DEPTH, -DEPTH]).reversed()
    after, before = ("waist", "inseam") if edge == "centre" else ("foot", "head")
    lines = {
        edge: traced,
        after: Path((Line(traced.end, far.start),)),
        "outer": far,
        before: Path((Line(far.end, traced.start),)),
    }
    traces = Traces(edge=edge, piece="leg", traced=edge, start=Reach(share=start), end=Reach(share=end))
    return Piece(
        id="facing",
        name="facing",
        edges=tuple(Edge(name=name, line=one) for name, one in lines.items()),
        cut=CutInstruction(stabilised=True),
        traces=(traces,),
        notches=(Notch(edge=edge, share=0.3),),
    )


@st.composite
def lying(draw, piece):
    """Draw how a piece lies on the table: turned, moved, mirrored, drawn the other way round."""
    if draw(st.booleans()):
        piece = against(piece)
    if draw(st.booleans()):
        piece = moved(piece, Affine.scaling(-1.0, 1.0))
    turn = Affine.rotation(draw(st.floats(-math.pi, math.pi)))
    return moved(piece, turn.then(Affine.translation(draw(st.floats(-500.0, 500.0)), draw(st.floats(-500.0, 500.0)))))


@st.composite
def faced(draw):
    """Draw a front, and a facing of a stretch of its side or centre as it lies somewhere."""
    front = draw(upright_pieces())
    edge = draw(st.sampled_from(["side", "centre"]))
    start = draw(st.floats(0.0, 0.4))
    end = start + draw(st.floats(0.3, 0.6))
    facing = draw(lying(facing_of(front, edge, start, end)))
    marked, findings = with_dependences(Pattern(pieces=(front,)), facing, facing.traces)
    assert findings == ()
    return front, marked


def shape(path):
    return LineString([segment.point(t) for segment in path.segments for t in np.linspace(0.0, 1.0, 100)])


class TestLaws:
    @SOME
    @given(faced(), st.floats(0.02, 0.2), st.floats(-0.05, 0.1))
    def test_after_a_reduction_it_is_congruent_and_as_deep(self, pieces, by, along):
        front, facing = pieces
        assert follow(Pattern(pieces=(front, facing)), Following()).value.piece("facing").edges == facing.edges
        [traces] = facing.traces
        narrow = reduce(Pattern(pieces=(front, facing)), Reduction(by=by, along=along)).value
        assert narrow.piece("facing").edges == facing.edges
        pattern = follow(narrow, Following()).value
        done = pattern.piece("facing")
        traced = points(narrow.piece("leg").edge(traces.traced).line, traces.start.share, traces.end.share)
        own = points(done.edge(traces.edge).line)
        if facing.edge_names[0] != traces.edge:  # it is drawn the other way round, from its end to its start
            own = own[::-1]
        assert np.abs(distances(own) - distances(traced)).max() < 1e-6
        line = shape(done.edge(traces.edge).line)
        for k in range(1, 20):
            away = line.distance(Point(point_at_share(done.edge("outer").line, k / 20.0)))
            assert away == pytest.approx(DEPTH, abs=0.02)
        [before], [after] = facing.notches, done.notches
        assert after.share == pytest.approx(before.share, abs=0.1)
        assert follow(pattern, Following()).value == pattern
        assert check_dependents(pattern).findings == ()

    @SOME
    @given(faced(), st.floats(0.3, 1.0), st.sampled_from([1.0, -1.0]), st.data())
    def test_what_was_taken_in_is_found_and_followed(self, pieces, share, way, data):
        """The front's edge is moved in the middle of the stretch that is traced, as much as its depth leaves room."""
        front, facing = pieces
        [traces] = facing.traces
        line = front.edge(traces.traced).line
        length = path_length(line)
        first, last = (reach.share * length for reach in (traces.start, traces.end))
        third = (last - first) / 3.0
        amount = way * share * third**2 / 500.0
        stations = [first, first + data.draw(st.floats(0.8, 2.2)) * third, last]
        fitted = replace(
            front,
            edges=tuple(
                replace(edge, line=line_beside(line, stations, [0.0, amount, 0.0])) if edge.line == line else edge
                for edge in front.edges
            ),
        )
        pattern = Pattern(pieces=(fitted, facing))
        done = follow(pattern, Following()).value
        one = done.piece("facing").edge(traces.edge).line
        own = points(one)
        reaches = [reach.along(path_length(fitted.edge(traces.traced).line)) for reach in (traces.start, traces.end)]
        traced = points(part(fitted.edge(traces.traced).line, *reaches))
        if facing.edge_names[0] != traces.edge:
            own = own[::-1]
        assert np.abs(distances(own) - distances(traced)).max() < 1e-6
        assert check_dependents(done).findings == ()
        if abs(amount) < 2.0:
            return
        [finding] = check_dependents(pattern).findings
        assert (finding.piece, finding.edge) == ("facing", traces.edge)
        assert f"It is {path_length(facing.edge(traces.edge).line):.1f} mm long" in finding.message
        assert f"that it traces {path_length(one):.1f} mm" in finding.message
        assert "is not to be stretched to fit" in finding.message

    @SOME
    @given(faced(), st.floats(0.02, 0.2), st.data())
    def test_however_it_lies_it_becomes_the_same_piece(self, pieces, by, data):
        front, facing = pieces
        [traces], lies = facing.traces, data.draw(lying(facing))
        unsaid = replace(lies, traces=(replace(traces, reversed=False),))
        other, _findings = with_dependences(Pattern(pieces=(front,)), unsaid, unsaid.traces)
        narrow = reduce(Pattern(pieces=(front,)), Reduction(by=by)).value.piece("leg")
        one, two = (
            follow(Pattern(pieces=(narrow, piece)), Following()).value.piece("facing") for piece in (facing, other)
        )
        corners = [np.array([complex(*edge.line.start) for edge in piece.edges]) for piece in (one, two)]
        if one.edge_names[1] == two.edge_names[-1]:
            corners[1] = np.roll(corners[1][::-1], 1)
        sizes = [sorted(distances(each).ravel().tolist()) for each in corners]
        assert sizes[0] == pytest.approx(sizes[1], abs=0.02)

    @settings(max_examples=10)
    @given(upright_pieces(), st.floats(0.02, 0.15), st.randoms(use_true_random=False), st.data())
    def test_of_a_front_traced_by_hand_too(self, front, by, shakes, data):
        """Its side has a node every 15 mm, off the line by up to 0.28 mm; the facing is drawn on it."""
        crooked = by_hand(front, lambda: shakes.uniform(-0.2, 0.2))
        smooth = facing_of(front, "side", 0.1, 0.7)
        line = crooked.edge("side").line
        length = path_length(line)
        lines = {edge.name: edge.line for edge in smooth.edges} | {"side": part(line, 0.1 * length, 0.7 * length)}
        lines["foot"] = Path((Line(lines["side"].end, lines["outer"].start),))
        lines["head"] = Path((Line(lines["outer"].end, lines["side"].start),))
        facing = replace(smooth, edges=tuple(Edge(name=name, line=one) for name, one in lines.items()))
        narrow = reduce(Pattern(pieces=(crooked, data.draw(lying(facing)))), Reduction(by=by)).value
        done = follow(narrow, Following()).value
        own = points(done.piece("facing").edge("side").line)
        traced = points(narrow.piece("leg").edge("side").line, 0.1, 0.7)
        off = min(np.abs(distances(one) - distances(traced)).max() for one in (own, own[::-1]))
        assert off < 1e-5  # places on either line are found by lengths, over some fifty nodes
        away = shape(done.piece("facing").edge("side").line)
        for k in range(1, 20):
            at = Point(point_at_share(done.piece("facing").edge("outer").line, k / 20.0))
            assert away.distance(at) == pytest.approx(DEPTH, abs=0.8)


class TestPinnedByTwo:
    @SOME
    @given(upright_pieces(), st.floats(20.0, 50.0), st.floats(0.3, 0.8), st.floats(0.02, 0.15), st.data())
    def test_both_edges_lie_to_each_other_as_on_the_front(self, front, width, share, by, data):
        """A fly facing: the upper end of the centre, which runs up to the waist, and the first of the waist."""
        waist, centre = front.edge("waist").line, front.edge("centre").line
        along, down = part(waist, 0.0, width), part(centre, (1.0 - share) * path_length(centre), path_length(centre))
        edges = {"waist": along, "outer": Path((Line(along.end, down.start),)), "centre": down}
        facing = Piece(
            id="facing",
            edges=tuple(Edge(name=name, line=line) for name, line in edges.items()),
            traces=(
                read_dependence(f"waist traces leg to {width!r}mm"),
                read_dependence(f"centre traces leg from {100.0 * (1.0 - share)!r}%"),
            ),
            cut=CutInstruction(stabilised=True),
        )
        facing = data.draw(lying(facing))
        narrow = reduce(Pattern(pieces=(front, facing)), Reduction(by=by)).value
        done = follow(narrow, Following()).value
        leg, piece = done.piece("leg"), done.piece("facing")
        new_waist, new_centre = leg.edge("waist").line, leg.edge("centre").line
        reach = width / path_length(new_waist)
        traced = distances(points(new_waist, 0.0, reach), points(new_centre, 1.0 - share, 1.0))
        turned = piece.edge_names != ("waist", "outer", "centre")
        own = [points(piece.edge(name).line)[:: -1 if turned else 1] for name in ("waist", "centre")]
        assert np.abs(distances(*own) - traced).max() < 1e-6
        assert follow(done, Following()).value == done


class TestSamples:
    @pytest.fixture
    def pattern(self):
        return pattern_of(read_drawing(SAMPLES / "trousers.svg"))

    def test_as_drafted_facing_and_guard_stay_to_the_bit(self, pattern):
        done = follow(pattern, Following()).value
        for id in ("fly-facing", "fly-guard"):
            assert done.piece(id) == pattern.piece(id)

    @pytest.mark.parametrize("change", ["reduce", "lengthen"])
    def test_after_a_change_the_fly_fits(self, pattern, change):
        if change == "reduce":
            new = reduce(pattern, Reduction(by=0.12)).value
        else:
            new = lengthen(pattern, Lengthening(depth=90.0, by=10.0)).value
        found = {(one.piece, one.edge) for one in check_dependents(new).findings}
        done = follow(new, Following()).value
        assert check_dependents(done).findings == ()
        facing, front = done.piece("fly-facing"), done.piece("front-right")
        centre = points(front.edge("centre").line)
        own = facing.edge("centre").line
        upper = points(part(own, 15.0, path_length(own)))
        assert np.abs(distances(upper) - distances(centre)).max() < 1e-4
        [notch] = facing.notches
        assert notch.share * path_length(own) == pytest.approx(15.0, abs=1e-4)
        # 35 mm deep all the way from below the waist to where it curves to the foot.
        line = shape(own)
        for k in range(2, 8):
            at = point_at(facing.edge("outer").line, place_at(facing.edge("outer").line, 12.0 * k))
            assert line.distance(Point(at)) == pytest.approx(35.0, abs=0.35 if change == "reduce" else 0.3)
        guard = done.piece("fly-guard")
        assert len(guard.edge("fold").line.segments) == 1
        if change == "lengthen":
            assert {("fly facing", "centre"), ("fly guard", "centre"), ("left front", "centre")} <= found
            assert path_length(guard.edge("centre").line) == pytest.approx(180.0, abs=0.05)

    def test_past_the_step_of_the_extension_the_guard_goes_straight_on(self, pattern):
        guard = lengthen(pattern, Lengthening(depth=90.0, by=10.0)).value
        done = follow(guard, Following()).value.piece("fly-guard").edge("centre").line
        ends = done.segments[0].start_tangent, done.segments[-1].end_tangent
        assert ends[0] == pytest.approx(ends[1], abs=0.02)


def square(id, size, **more):
    lines = Path.polygon([(0, 0), (size, 0), (size, size), (0, size)]).segments
    names = ("waist", "side", "hem", "centre")
    edges = tuple(Edge(name=name, line=Path((line,))) for name, line in zip(names, lines, strict=True))
    return Piece(id=id, name=id, edges=edges, **more)


class TestRefusals:
    @pytest.mark.parametrize(
        ("words", "said"),
        [
            ("waist traces nobody", "There is no piece named nobody"),
            ("waist traces front/neck", "There is no edge named neck"),
            ("waist traces front from 80% to 20%", "has no length: it begins at 160.0 mm and ends at 40.0 mm"),
            ("waist traces front from 10% to 90%", "A dart opens in the part of waist of front that is traced"),
        ],
    )
    def test_what_cannot_be_traced(self, words, said):
        front = square("front", 200.0, darts=(Dart(edge="waist", share=0.5, width=20.0, depth=90.0),))
        facing = square("facing", 100.0, traces=(read_dependence(words),))
        with pytest.raises(ParameterError, match=said) as caught:
            follow(Pattern(pieces=(front, facing)), Following())
        assert caught.value.piece
        assert caught.value.advice

    def test_two_pieces_traced(self):
        traces = (read_dependence("waist traces front"), read_dependence("side traces back"))
        pieces = (square("front", 200.0), square("back", 210.0), square("facing", 100.0, traces=traces))
        with pytest.raises(ParameterError, match="traces edges of several pieces"):
            follow(Pattern(pieces=pieces), Following())

    def test_edges_that_would_not_meet(self):
        traces = (read_dependence("waist traces front from 50%"), read_dependence("side traces front from 20%"))
        pieces = (square("front", 200.0), square("facing", 100.0, traces=traces))
        with pytest.raises(
            ParameterError, match=r"waist and side meet, and what they trace does not: .* 40\.0 mm apart"
        ):
            follow(Pattern(pieces=pieces), Following())

    def test_pieces_that_follow_one_another_in_a_circle(self):
        one = square("one", 100.0, traces=(read_dependence("waist traces two"),))
        two = square("two", 120.0, traces=(read_dependence("waist traces one"),))
        with pytest.raises(ParameterError, match="in a circle: one, two"):
            follow(Pattern(pieces=(one, two)), Following())


def test_what_follows_a_follower_comes_after_it():
    """A band as long as the facing, which is drawn after the front, and stands before it in the drawing."""
    band = square("band", 80.0, follows=(read_follows("waist=facing/waist"),))
    facing = square("facing", 100.0, traces=(read_dependence("waist traces front to 50%"),))
    done = follow(Pattern(pieces=(band, facing, square("front", 180.0))), Following()).value
    for id in ("band", "facing"):
        assert path_length(done.piece(id).edge("waist").line) == pytest.approx(90.0, abs=1e-6)
    assert follow(done, Following()).value == done
