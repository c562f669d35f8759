"""viewBox and preserveAspectRatio, after SVG 2, sections 8.2 and 8.6."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import DocumentError
from crossgrain.svg.viewport import Aspect, fit, parse_aspect, parse_view_box
from svg_text import drawing_of

sizes = st.floats(0.5, 500.0)
boxes = st.tuples(st.floats(-100, 100), st.floats(-100, 100), sizes, sizes)
SHARES = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}


@given(boxes, sizes, sizes, st.sampled_from(list(SHARES)), st.sampled_from(list(SHARES)), st.booleans())
def test_the_aligned_point_of_the_box_lands_on_that_of_the_viewport(box, width, height, x, y, cover):
    affine = fit(box, parse_aspect(f"x{x}Y{y} {'slice' if cover else 'meet'}"), width, height)
    assert affine.a == affine.d
    point = affine.of((box[0] + SHARES[x] * box[2], box[1] + SHARES[y] * box[3]))
    assert point == pytest.approx((SHARES[x] * width, SHARES[y] * height), abs=1e-7)


@given(boxes, sizes, sizes, st.booleans())
def test_meet_stays_inside_and_slice_covers(box, width, height, cover):
    affine = fit(box, Aspect(slice=cover), width, height)
    drawn = (affine.a * box[2] / width, affine.d * box[3] / height)
    assert (min if cover else max)(drawn) == pytest.approx(1.0)


@given(boxes, sizes, sizes)
def test_none_fills_both_ways(box, width, height):
    affine = fit(box, parse_aspect("none"), width, height)
    assert affine.of((box[0], box[1])) == pytest.approx((0.0, 0.0), abs=1e-7)
    assert affine.of((box[0] + box[2], box[1] + box[3])) == pytest.approx((width, height))


@pytest.mark.parametrize("text", ["0 0 10 20", "0,0,10,20", " 0 0\n10, 20 ", "0 , 0 , 1e1 , 20."])
def test_a_box_in_every_spelling(text):
    assert parse_view_box(text) == (0.0, 0.0, 10.0, 20.0)


@pytest.mark.parametrize(
    "text", ["", "0 0 10", "0 0 10 20 30", "0 0 0 5", "0 0 5 -1", "0 0 a 5", "0 0 1e400 5", "0,,0 1 1", "0 0 5mm 5"]
)
def test_a_box_that_cannot_be_used_is_refused(text):
    with pytest.raises(DocumentError, match="viewBox"):
        parse_view_box(text)


@pytest.mark.parametrize("text", ["", "xMidYMid cover", "xmidymid", "none none", "meet", "xMidYMidmeet"])
def test_an_aspect_that_cannot_be_read_is_refused(text):
    with pytest.raises(DocumentError, match="preserveAspectRatio"):
        parse_aspect(text)


@pytest.mark.parametrize("text", ["none", "none meet", "none slice", "defer none"])
def test_none_needs_no_second_word(text):
    assert parse_aspect(text).stretch


# ---- Nested viewports


@pytest.mark.parametrize(
    ("svg", "box"),
    [
        # Uniform scale 2, the slack of 20 shared above and below.
        ('x="10" y="10" width="20" height="40" viewBox="0 0 10 10"', [(10, 20), (30, 40)]),
        ('width="20" height="40" viewBox="0 0 10 10" preserveAspectRatio="xMinYMin slice"', [(0, 0), (40, 40)]),
        ('width="20" height="40" viewBox="0 0 10 10" preserveAspectRatio="none"', [(0, 0), (20, 40)]),
        ('x="5" y="6"', [(5, 6), (15, 16)]),
        ('width="50%" height="auto" viewBox="-10 -10 20 20"', [(50, 50), (100, 100)]),
        ('width="20" height="20" viewBox="0 0 10 10" transform="translate(3,4)"', [(3, 4), (23, 24)]),
        ('x="1in" width="10" height="10"', [(96, 0), (106, 10)]),
    ],
)
def test_a_nested_drawing_has_coordinates_of_its_own(svg, box):
    [shape] = drawing_of(f'<svg {svg}><path d="M0 0L10 10"/></svg>').shapes
    assert shape.paths[0].nodes == tuple(pytest.approx(corner) for corner in box)


def test_a_nested_drawing_of_no_size_draws_nothing():
    assert drawing_of('<svg width="0"><path d="M0 0L10 10"/></svg>').shapes == ()


def test_a_broken_viewport_spoils_only_what_is_in_it():
    drawing = drawing_of('<svg id="tab" viewBox="0 0 0 1"><path id="in" d="M0 0H1"/></svg><path id="out" d="M0 0H1"/>')
    assert drawing.shape("out").paths
    [(id, sentence)] = drawing.unreadable
    assert id == "in"
    assert "viewBox" in sentence
    assert "tab" in sentence
