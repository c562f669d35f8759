"""Transforms, after CSS Transforms Module Level 1."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import DocumentError
from crossgrain.kernel.affine import Affine
from crossgrain.svg.transforms import (
    about_origin,
    format_matrix,
    largest_scale,
    parse_origin,
    parse_transform,
)
from strategies import affines, angles, points
from svg_text import drawing_of

_numbers = st.floats(-200, 200).map(lambda value: round(value, 3))


@st.composite
def functions(draw):
    """Draw one transform function as text."""
    name, most = draw(st.sampled_from([("translate", 2), ("scale", 2), ("rotate", 1), ("skewX", 1), ("skewY", 1)]))
    low, high = (-80.0, 80.0) if name.startswith("skew") else (-200.0, 200.0)
    values = [round(draw(st.floats(low, high)), 3) for _ in range(draw(st.integers(1, most)))]
    return f"{name}({draw(st.sampled_from([' ', ',', ' , ']))[:1].join(map(str, values))})"


def close(one, other):
    mine = (one.a, one.b, one.c, one.d, one.e, one.f)
    theirs = (other.a, other.b, other.c, other.d, other.e, other.f)
    size = max(1.0, *map(abs, theirs))
    return mine == pytest.approx(theirs, abs=1e-12 * size)


@given(functions(), functions(), points)
def test_a_list_does_its_last_function_first(first, second, point):
    whole = parse_transform(f"{first} {second}").of(point)
    after = parse_transform(first).of(parse_transform(second).of(point))
    assert whole == pytest.approx(after, rel=1e-12, abs=1e-9)


@given(_numbers, _numbers, _numbers)
def test_a_turn_about_a_point_is_a_move_a_turn_and_a_move_back(angle, x, y):
    # CSS Transforms 1, section 8: rotate(a, x, y).
    assert close(
        parse_transform(f"rotate({angle},{x},{y})"),
        parse_transform(f"translate({x} {y}) rotate({angle}) translate({-x} {-y})"),
    )


@given(affines())
def test_a_matrix_that_is_written_is_read_again_exactly(affine):
    assert parse_transform(format_matrix(affine)) == affine


@given(affines(), angles)
def test_no_direction_is_stretched_more_than_the_largest_scale(affine, angle):
    stretched = math.hypot(*affine.of_vector((math.cos(angle), math.sin(angle))))
    assert stretched <= largest_scale(affine) * (1 + 1e-12)


@given(affines(), points)
def test_a_map_about_its_origin_keeps_the_origin_when_it_moves_nothing(affine, origin):
    still = Affine(affine.a, affine.b, affine.c, affine.d, 0.0, 0.0)
    assert about_origin(still, origin).of(origin) == pytest.approx(origin, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "matrix"),
    [
        ("", (1, 0, 0, 1, 0, 0)),
        ("none", (1, 0, 0, 1, 0, 0)),
        ("matrix(1 2 3 4 5 6)", (1, 2, 3, 4, 5, 6)),
        ("matrix(1,2,3,4,5,6)", (1, 2, 3, 4, 5, 6)),
        ("matrix(1,2-3.5.5 5px 1in)", (1, 2, -3.5, 0.5, 5, 96)),
        ("translate(5)", (1, 0, 0, 1, 5, 0)),
        ("translate(1in, -2.54cm)", (1, 0, 0, 1, 96, -96)),
        ("translateX(3) translateY(4px)", (1, 0, 0, 1, 3, 4)),
        ("scale(2)", (2, 0, 0, 2, 0, 0)),
        ("scale(-1,1)", (-1, 0, 0, 1, 0, 0)),
        ("scaleX(3)scaleY(50%)", (3, 0, 0, 0.5, 0, 0)),
        ("rotate(90)", (0, 1, -1, 0, 0, 0)),
        ("rotate(.25turn)", (0, 1, -1, 0, 0, 0)),
        ("rotate(100grad)", (0, 1, -1, 0, 0, 0)),
        ("rotate(-90deg)", (0, -1, 1, 0, 0, 0)),
        ("rotate(1e2grad),rotate(-100grad)", (1, 0, 0, 1, 0, 0)),
        ("skewX(45)", (1, 0, 1, 1, 0, 0)),
        ("skewY(-45deg)", (1, -1, 0, 1, 0, 0)),
        ("skew(45deg, 45deg)", (1, 1, 1, 1, 0, 0)),
        (" translate ( 1 , 2 ) ,\n rotate(180) ", (-1, 0, 0, -1, 1, 2)),
        ("TRANSLATEX(1)", (1, 0, 0, 1, 1, 0)),
    ],
)
def test_every_function_in_every_spelling(text, matrix):
    assert close(parse_transform(text), Affine(*matrix))


@pytest.mark.parametrize("text", ["rotate(90)", "rotate(180 3 4)", "rotate(-270)", "rotate(3turn)"])
def test_quarter_turns_leave_no_round_off(text):
    affine = parse_transform(text)
    assert {abs(value) for value in (affine.a, affine.b, affine.c, affine.d)} == {0.0, 1.0}


@pytest.mark.parametrize(
    "text",
    [
        "rotate()",
        "rotate(1,2)",
        "scale(1,2,3)",
        "translate(1,,2)",
        "translate(1,2",
        "translate 1,2",
        "translate(1,2),",
        "translate(a)",
        "rotate(3px)",
        "translate(3deg)",
        "translate(1em)",
        "matrix(1 2 3 4 5)",
        "matrix(1 2 3 4 5 nan)",
        "scale(1e400)",
        "shear(3)",
        "translate(1)x",
        "translate(,1)",
    ],
)
def test_what_cannot_be_read_is_refused_with_the_text(text):
    with pytest.raises(DocumentError, match="transform cannot be read") as caught:
        parse_transform(text)
    assert text.strip() in caught.value.message


@pytest.mark.parametrize("text", ["translate3d(1px,2px,3px)", "rotateX(3deg)", "perspective(5px)"])
def test_a_transform_in_space_is_refused_as_such(text):
    with pytest.raises(DocumentError, match="in space"):
        parse_transform(text)


def test_a_move_by_a_share_of_itself_is_refused_as_such():
    with pytest.raises(DocumentError, match="share of its own size"):
        parse_transform("translate(50%)")


@pytest.mark.parametrize(
    ("text", "point"),
    [
        ("0 0", (10, 20)),
        ("center", (110, 70)),
        ("left", (10, 70)),
        ("bottom", (110, 120)),
        ("top right", (210, 20)),
        ("right top", (210, 20)),
        ("25% 1in", (60, 116)),
        ("5px bottom 0px", (15, 120)),
        ("center left", (10, 70)),
        ("3", (13, 70)),
        ("-5 5", (5, 25)),
    ],
)
def test_an_origin_in_every_spelling(text, point):
    assert parse_origin(text, (10.0, 20.0, 200.0, 100.0)) == pytest.approx(point)


@pytest.mark.parametrize("text", ["", "1 2 3 4", "left left", "top bottom", "1em 2", "1 2 x", "top 5px"])
def test_an_origin_that_cannot_be_read_is_refused(text):
    with pytest.raises(DocumentError, match="transform-origin"):
        parse_origin(text, (0.0, 0.0, 1.0, 1.0))


@pytest.mark.parametrize(
    ("declared", "nodes"),
    [
        ('transform="rotate(90)" transform-origin="10 10"', [(20, 0), (20, 10)]),
        ('style="transform:rotate(90deg);transform-origin:10px 10px"', [(20, 0), (20, 10)]),
        # The style wins over the attribute.
        ('transform="scale(7)" style="transform:translate(1px,2px)"', [(1, 2), (11, 2)]),
        # Percentages are of the viewBox, wherever its corner lies: CSS Transforms 1, section 4.
        ('transform="scale(2)" transform-origin="50% 50%"', [(-100, -50), (-80, -50)]),
        ('transform="scale(2)" transform-origin="center" style="transform-box:fill-box"', [(-5, 0), (15, 0)]),
        ('transform="scale(2)" style="transform-box:fill-box"', [(0, 0), (20, 0)]),
    ],
)
def test_a_transform_is_done_about_its_origin(declared, nodes):
    [shape] = drawing_of(f'<path d="M0 0H10" {declared}/>').shapes
    assert shape.paths[0].nodes == tuple(pytest.approx(node) for node in nodes)


def test_a_box_that_is_not_read_is_named():
    drawing = drawing_of('<path id="tie" d="M0 0H10" style="transform:scale(2);transform-box:stroke-box"/>')
    with pytest.raises(DocumentError, match=r"stroke-box.*tie"):
        drawing.shape("tie").paths  # noqa: B018
