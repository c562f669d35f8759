"""Words on a piece: inside it and clear of its lines where there is room, beside it where there is none."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model.cutting.lettering import block_size, text_width
from crossgrain.model.cutting.line_words import SIZE, line_word
from crossgrain.model.cutting.piece_label import labelled
from strategies import simple_outlines

WORDS = ("left front", "Slim trousers, size 10", "cut 2, mirrored, from cloth", "allowance included: 10 mm")


def rectangle(wide, high):
    return Path.polygon([(0, 0), (wide, 0), (wide, high), (0, high)])


def cloth(line):
    return shapely.Polygon(flatten(line, 0.01).points).buffer(0.0)


def box(found):
    return shapely.box(found.left, found.top, found.right, found.bottom)


@settings(max_examples=40, deadline=None)
@given(simple_outlines(), st.integers(1, 4))
def test_the_words_are_inside_or_beside_and_their_box_holds_them(outline, count):
    """Judged by shapely."""
    label = labelled(WORDS[:count], outline)
    wide, high = block_size(label.lines)
    size = (label.box.height, label.box.width) if label.turned else (label.box.width, label.box.height)
    assert size == pytest.approx((wide, high))
    if label.leader is None:
        assert cloth(outline).contains(box(label.box))
    else:
        assert cloth(outline).disjoint(box(label.box))
    assert " · ".join(text for text, _size in label.lines) == " · ".join(WORDS[:count])
    assert min(size for _text, size in label.lines) >= 0.7 * 3.5 - 1e-9


@settings(max_examples=30, deadline=None)
@given(st.floats(60.0, 400.0), st.floats(60.0, 900.0), st.floats(0.2, 0.8))
def test_they_keep_clear_of_the_lines_where_there_is_room(wide, high, share):
    """Half of such a piece has room for these words, turned or not, and some half stays free."""
    upright = Path((Line((share * wide, 0.0), (share * wide, high)),))
    label = labelled(WORDS[:2], rectangle(wide, high), [[upright]])
    assert label.leader is None
    assert box(label.box).disjoint(shapely.LineString(upright.nodes))


def test_where_lines_leave_no_room_they_stand_across_the_last_group_first():
    piece = rectangle(140.0, 40.0)
    comb = [Path((Line((x, 0.0), (x, 40.0)),)) for x in range(5, 140, 5)]
    mark = [Path((Line((0.0, 3.0), (140.0, 3.0)),))]
    label = labelled(WORDS[:2], piece, [mark, comb])
    assert label.leader is None
    assert label.box.top > 3.0
    assert labelled(WORDS[:2], piece, [comb, mark]).leader is None


@pytest.mark.parametrize(
    ("wide", "high", "turned", "count"),
    [(300.0, 400.0, False, 4), (45.0, 400.0, True, 4), (22.0, 400.0, True, 3), (400.0, 14.0, False, 1)],
)
def test_how_they_are_set(wide, high, turned, count):
    """Across a leg, up a band, and in fewer lines where that is narrow."""
    label = labelled(WORDS, rectangle(wide, high))
    assert (label.turned, len(label.lines)) == (turned, count)


def test_the_larger_the_piece_the_larger_the_letters_up_to_what_is_read_across_a_table():
    sizes = [labelled(WORDS, rectangle(width, 2.0 * width)).lines[0][1] for width in (30.0, 60.0, 200.0, 800.0)]
    assert sizes == sorted(sizes)
    assert sizes[-1] == 9.0
    assert sizes[0] < 9.0


class TestLineWords:
    @settings(max_examples=40, deadline=None)
    @given(simple_outlines(), st.booleans())
    def test_a_word_stands_inside_its_line_and_is_never_upside_down(self, outline, way):
        line = outline if way else outline.reversed()
        word = line_word("cut line", line)
        if word is None:
            return
        assert abs(word.angle_rad) <= math.pi / 2.0 + math.atan(1.0 / 3.0)
        middle = shapely.Polygon(word.room.nodes).centroid
        assert cloth(line).contains(middle)
        assert 0.5 < middle.distance(cloth(line).exterior) < 4.0

    @pytest.mark.parametrize("turn", [0.0, 0.4, 1.5, 1.6, 3.0, 4.7, 4.72])
    @pytest.mark.parametrize("flip", [1.0, -1.0])
    def test_along_a_straight_line_it_does_not_touch_it(self, turn, flip):
        line = rectangle(200.0, 60.0).mapped(Affine.scaling(flip, 1.0).then(Affine.rotation(turn)))
        word = line_word("stitch line", line)
        room = shapely.Polygon(word.room.nodes)
        assert cloth(line).contains(room)
        assert room.distance(cloth(line).exterior) == pytest.approx(0.9, abs=1e-6)

    def test_a_line_too_short_for_its_word_has_none(self):
        assert line_word("cut line", rectangle(9.0, 9.0)) is None
        assert line_word("cut line", rectangle(1.6 * text_width("cut line", SIZE), 9.0)) is not None
