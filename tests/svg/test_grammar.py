"""Path data in and out: the grammar of SVG 2, chapter 9, strictly."""

import contextlib
import itertools
import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from svgpathtools import Arc
from svgpathtools import parse_path as reference_path

from crossgrain.errors import DocumentError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.svg.grammar import format_path, parse_outline, parse_path
from crossgrain.tolerances import ARC_ACCURACY, PATH_TEXT
from strategies import open_lines, paths


def controls(path):
    return [point for segment in path.segments for point in segment.controls]


def assert_same(read, written, within):
    assert [path.closed for path in read] == [path.closed for path in written]
    for one, other in zip(read, written, strict=True):
        assert [type(segment) for segment in one.segments] == [type(segment) for segment in other.segments]
        for p, q in zip(controls(one), controls(other), strict=True):
            assert p == pytest.approx(q, abs=within)


# ---- Laws


@given(st.lists(paths(), max_size=3))
def test_what_is_written_is_read_again(lines):
    # A last point pulled onto the start by PATH_ROUND_OFF moves by no more than that share of 600 mm.
    assert_same(parse_path(format_path(lines)), lines, 2 * PATH_TEXT + 600 * 3e-7)


@given(st.lists(paths(), max_size=3))
def test_writing_what_was_read_gives_the_same_text(lines):
    text = format_path(lines)
    assert format_path(parse_path(text)) == text


@given(paths(), st.sampled_from([25.4, 1.0, 25.4 / 96, 1e-3, 1000.0]))
def test_rounding_stays_below_its_bound_in_any_unit(line, unit_mm):
    [read] = parse_path(format_path([line], unit_mm=unit_mm))
    for p, q in zip(controls(read)[1:-1], controls(line)[1:-1], strict=True):
        if p not in (read.start, read.end):
            assert math.dist(p, q) * unit_mm <= 1.5 * PATH_TEXT + 600 * 3e-7 * unit_mm


@given(st.lists(paths(), min_size=1, max_size=2), st.floats(-3.0, 3.0), st.floats(0.1, 4.0))
def test_reading_under_a_map_is_reading_then_mapping(lines, angle, size):
    affine = Affine.rotation(angle).then(Affine.scaling(size, -size)).then(Affine.translation(7.0, -3.0))
    text = format_path(lines)
    assert_same(parse_outline(text, affine), [line.mapped(affine) for line in parse_path(text)], 1e-9)


_pieces = st.sampled_from([*"MmZzLlHhVvCcSsQqTtAa0123456789+-.,eE \t\nxN∞", "1e999", "nan", "inf", "1_0", "0x1"])


@given(st.lists(_pieces, max_size=25).map("".join))
@example("M")
@example("M0,0 L1e999,0")
@example("M1e308 0 l1e308 0 1e308 0")
@example("M0 0A1e308 1e-308 0 0 0 1e300 4")
def test_any_text_is_read_or_refused_with_a_sentence(text):
    # Anything but a DocumentError comes through and fails; what is read can be written and read again.
    with contextlib.suppress(DocumentError):
        lines = parse_path(text)
        assert len(parse_path(format_path(lines))) == len(lines)


@given(st.lists(paths(), min_size=1, max_size=2), st.data())
def test_a_letter_put_anywhere_is_refused_where_it_stands(lines, data):
    text = format_path(lines)
    place = data.draw(st.integers(0, len(text)))
    with pytest.raises(DocumentError, match=f"'x' at character {place + 1},"):
        parse_path(text[:place] + "x" + text[place:])


# ---- Against svgpathtools, an independent reader of the same grammar

_numbers = st.floats(-90, 90).map(lambda value: f"{value:.3f}")
_takes = {"L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2}


@st.composite
def path_data(draw):
    """Draw path data with every command, absolute and relative, repeats without the letter among them."""
    words = [draw(st.sampled_from("Mm")), draw(_numbers), draw(_numbers)]
    for _ in range(draw(st.integers(1, 6))):
        letter = draw(st.sampled_from("LHVCSQTA"))
        # The reference cannot do without an arc that ends where it starts: only relative ones, never by zero.
        words.append("a" if letter == "A" else draw(st.sampled_from([letter, letter.lower()])))
        for _ in range(draw(st.integers(1, 2))):
            if letter == "A":
                radii = st.floats(1, 200).map(lambda value: f"{value:.3f}")
                words += [draw(radii), draw(radii), draw(_numbers), draw(st.sampled_from("01")), draw(_flag)]
                words += [draw(radii), draw(_numbers)]
            else:
                words += [draw(_numbers) for _ in range(_takes[letter])]
    return " ".join(words)


_flag = st.sampled_from("01")


def off_the_ellipse(arc, point):
    """Return a lower bound of the distance of a point from the arc's ellipse."""
    x, y = point[0] - arc.center.real, point[1] - arc.center.imag
    x, y = Affine.rotation(-math.radians(arc.rotation)).of_vector((x, y))
    rx, ry = arc.radius.real, arc.radius.imag
    return abs(math.hypot(x / rx, y / ry) - 1.0) * min(rx, ry)


def points_of_reference(text):
    """Sample each of svgpathtools' segments, arcs as true ellipses."""
    for segment in reference_path(text):
        yield segment, [segment.point(t) for t in (0.0, 0.21, 0.5, 0.83, 1.0)]


@given(path_data())
def test_lines_and_curves_are_those_svgpathtools_reads(text):
    [path] = parse_path(text)
    mine = iter(path.segments)
    for segment, points in points_of_reference(text):
        if isinstance(segment, Arc):
            end = (segment.end.real, segment.end.imag)
            run = [next(mine)]
            while math.dist(run[-1].end, end) > 1e-6:
                run.append(next(mine))
            assert max(off_the_ellipse(segment, one.point(i / 16)) for one in run for i in range(17)) <= (
                1.05 * ARC_ACCURACY + 1e-6
            )
            # The right one of the four arcs passes by the middle.
            middle = (points[2].real, points[2].imag)
            samples = [one.point(i / 500) for one in run for i in range(501)]
            step = max(math.dist(p, q) for p, q in itertools.pairwise(samples))
            assert min(math.dist(point, middle) for point in samples) <= step + ARC_ACCURACY
        else:
            one = next(mine)
            for t, point in zip((0.0, 0.21, 0.5, 0.83, 1.0), points, strict=True):
                assert one.point(t) == pytest.approx((point.real, point.imag), abs=1e-9)
    assert next(mine, None) is None


# ---- Cases of the grammar, SVG 2 section 9.3


@pytest.mark.parametrize(
    ("text", "nodes"),
    [
        # The two examples of section 9.3.9.
        ("M 100-200L0 0", [(100, -200), (0, 0)]),
        ("M 0.6.5L0 0", [(0.6, 0.5), (0, 0)]),
        ("M1e1,1E+1L1.5e-1-.5e1", [(10, 10), (0.15, -5)]),
        ("m1 1 2 2 3 3", [(1, 1), (3, 3), (6, 6)]),
        ("M1 1 2 2 3 3", [(1, 1), (2, 2), (3, 3)]),
        ("M+1-1l-.5+.5", [(1, -1), (0.5, -0.5)]),
        ("\tM 0 , 0\n\r l\f5 5 ", [(0, 0), (5, 5)]),
        ("M0 0h1 2H5v1V9", [(0, 0), (1, 0), (3, 0), (5, 0), (5, 1), (5, 9)]),
        ("M1. 2.L3 4", [(1, 2), (3, 4)]),
        ("M00 01L1 0", [(0, 1), (1, 0)]),
    ],
)
def test_numbers_stand_as_close_as_the_grammar_lets_them(text, nodes):
    [path] = parse_path(text)
    assert path.nodes == tuple(nodes)


@pytest.mark.parametrize("text", ["", " \n", "none", "M1 1", "M1 1z", "M1 1M2 2m3 3"])
def test_what_only_moves_draws_nothing(text):
    assert parse_path(text) == ()


@pytest.mark.parametrize(
    "text",
    ["M0 0a1 1 0 00.5.5", "M0 0a1 1 0 0 0 .5 .5", "M0,0a1,1,0,0,0,.5,.5", "M0 0a1 1 0 0,0.5.5", "M0 0A1 1 0 00.5.5"],
)
def test_flags_may_touch_what_follows(text):
    [path] = parse_path(text)
    assert path.end == (0.5, 0.5)


def test_several_arcs_follow_one_letter():
    [path] = parse_path("M0 0a5 5 0 1110 0 5 5 0 01-10 0z")
    assert path.closed
    assert {(round(x, 6), round(y, 6)) for x, y in path.nodes} >= {(0.0, 0.0), (10.0, 0.0)}


@pytest.mark.parametrize("radii", ["0 5", "5 0", "0 0"])
def test_an_arc_without_a_radius_is_a_straight_line(radii):
    # SVG 2 section 9.5.1.
    [path] = parse_path(f"M0 0A{radii} 0 0 1 10 4")
    assert path.segments == (Line((0.0, 0.0), (10.0, 4.0)),)


def test_an_arc_back_to_its_start_draws_nothing():
    # SVG 2 section 9.5.1.
    assert parse_path("M1 1A5 5 0 1 1 1 1") == ()


def test_radii_too_small_are_scaled_up_to_reach():
    # SVG 2 section 9.5.1: the half circle over the chord.
    [path] = parse_path("M0 0A1 1 0 0 1 20 0")
    for segment in path.segments:
        for t in (0.0, 0.3, 0.7, 1.0):
            assert math.dist(segment.point(t), (10.0, 0.0)) == pytest.approx(10.0, abs=ARC_ACCURACY)


def test_arcs_keep_their_accuracy_in_mm_whatever_the_unit():
    # A drawing in inches a hundred times over: the same words, a circle of 254 mm.
    [path] = parse_outline("M-1 0A1 1 0 0 1 1 0", Affine.scaling(254.0, 254.0))
    for segment in path.segments:
        for i in range(21):
            assert math.hypot(*segment.point(i / 20)) == pytest.approx(254.0, abs=ARC_ACCURACY)


@pytest.mark.parametrize(
    ("text", "control"),
    [
        ("M0 0C1 1 2 3 4 4S6 6 7 7", (6, 5)),
        ("M0 0c1 1 2 3 4 4s2 2 3 3", (6, 5)),
        ("M0 0Q2 3 4 4S6 6 7 7", (4, 4)),
        ("M0 0L4 4S6 6 7 7", (4, 4)),
        ("M4 4S6 6 7 7", (4, 4)),
    ],
)
def test_a_smooth_cubic_mirrors_the_handle_of_a_cubic_only(text, control):
    [path] = parse_path(text)
    assert path.segments[-1].control1 == control


@pytest.mark.parametrize(
    ("text", "control"),
    [
        ("M0 0Q2 3 4 4T7 7", (6, 5)),
        ("M0 0q2 3 4 4t3 3", (6, 5)),
        ("M0 0C1 1 2 3 4 4T7 7", (4, 4)),
        ("M0 0Q2 3 4 4T7 7T9 9", (8, 9)),
    ],
)
def test_a_smooth_quadratic_mirrors_the_control_of_a_quadratic_only(text, control):
    [path] = parse_path(text)
    last = path.segments[-1]
    assert last == Cubic.from_quadratic(last.start, control, last.end)


def test_after_closing_the_pen_is_at_the_start():
    first, second = parse_path("m10 10h5v5zl-3-3v-1")
    assert first.closed
    assert second.nodes == ((10, 10), (7, 7), (7, 6))
    assert not second.closed


@pytest.mark.parametrize(
    ("text", "segments"),
    [
        ("M0 0H10V10Z", 3),
        ("M0 0H10V10L0 0Z", 3),
        ("M0 0H10V10L0.0000005 0Z", 3),
        ("M0 0H10V10L0.01 0Z", 4),
        ("M500 0H510V10L500.00005 0Z", 3),
        ("M0 0L0 0Z", 1),
    ],
)
def test_closing_adds_a_line_only_where_one_is_left_to_draw(text, segments):
    [path] = parse_path(text)
    assert path.closed
    assert len(path.segments) == segments
    assert path.segments[-1].end == path.segments[0].start


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("L10,xx20", "'L' at character 1, where the command M"),
        ("M0,0 L10,xx20", "'x' at character 10, where a number"),
        ("M0 0L10", "ends at character 7, where a number"),
        ("M0 0L", "ends at character 5, where a number"),
        ("M0 0C1 2 3 4 5", "ends at character 14, where a number"),
        ("M0 0C1 2 3 4 5Z", "'Z' at character 15, where a number"),
        ("M0 0,,1 1", "',' at character 6, where a number"),
        ("M0 0,L1 1", "'L' at character 6, where a number"),
        ("M,0 0", "',' at character 2, where a number"),
        ("M0 0 Z 5", "'5' at character 8, where a number or a command"),
        ("M0 0a1 1 0 2 0 5 5", "'2' at character 12, where the flag 0 or 1"),
        ("M0 0 l1e400 0", "'1' at character 7, where a number that can be drawn"),
        ("M0 0 L1 nan", "'n' at character 9, where a number"),
        ("M0 0 L1_0 0", "'_' at character 8, where a number"),
        ("M0 0 L1 2 3", "ends at character 11, where a number"),
        ("M0 0 Lٳ 2", "'ٳ' at character 7, where a number"),
        ("M0 0 L1\u00a02", "U\\+00A0 at character 8, where a number"),
        ("M--1 0", "'-' at character 3, where a number"),
        ("M0 0L1 .", "ends at character 8, where a number"),
        ("hello", "'h' at character 1, where the command M"),
    ],
)
def test_a_mistake_is_named_with_its_place(text, complaint):
    with pytest.raises(DocumentError, match=complaint) as caught:
        parse_path(text)
    assert caught.value.advice


def test_a_drawing_of_a_million_numbers_is_read_in_one_go():
    text = "M0 0" + "l1 1-1 1" * 100_000
    [path] = parse_path(text)
    assert len(path.segments) == 200_000


# ---- Writing


def test_the_closing_line_is_left_to_z():
    assert format_path([Path.polygon([(0, 0), (10, 0), (10, 10)])]) == "M0,0 L10,0 L10,10 Z"


def test_a_closing_line_that_z_would_not_draw_is_written():
    text = format_path([Path.polygon([(0, 0), (10, 0), (0, 0)])])
    assert text == "M0,0 L10,0 L0,0 L0,0 Z"


@pytest.mark.parametrize(
    ("value", "word"), [(-0.0, "0"), (-1e-9, "0"), (1 / 3, "0.333333"), (1e7, "10000000"), (-2.5, "-2.5")]
)
def test_numbers_are_short_and_plain(value, word):
    assert format_path([Path((Line((0.0, 0.0), (value, 1.0)),))]) == f"M0,0 L{word},1"


@given(open_lines())
def test_the_text_has_only_absolute_commands(line):
    assert set(format_path([line])) <= set("MLCZ0123456789-., ")


def test_a_path_longer_than_any_outline_is_refused_before_it_is_read(monkeypatch):
    monkeypatch.setattr("crossgrain.svg.grammar.PATH_SIGNS", 20)
    assert parse_path("M0 0h10v5z")
    with pytest.raises(DocumentError, match=r"21 signs long; no more than 20"):
        parse_path("M0 0h10v5zm1 1m1 1m11")
