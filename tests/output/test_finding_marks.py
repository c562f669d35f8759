"""Numbers beside what was found: each near its place, none over another."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from crossgrain.kernel.path import Path
from crossgrain.model import Edge, Finding, Pattern, Piece
from crossgrain.output.finding_marks import finding_marks
from strategies import points

SQUARE = Piece(
    id="p1",
    name="band",
    edges=(Edge(name="", line=Path(Path.polygon([(0, 0), (400, 0), (400, 400), (0, 400)]).segments)),),
)
PATTERN = Pattern(pieces=(SQUARE,))


def finding(at, message="It is 3.0 mm longer on front than on back."):
    return Finding(piece="band", message=message, position=at)


@given(st.lists(st.one_of(st.none(), points), max_size=12))
def test_every_place_has_its_number_in_the_order_of_the_table(places):
    marks = finding_marks(PATTERN, [finding(at) for at in places])
    assert [(mark.number, mark.at) for mark in marks] == [
        (number, at) for number, at in enumerate(places, start=1) if at is not None
    ]
    for mark in marks:
        assert 10.0 < math.dist(mark.at, mark.dot) < 130.0
        assert mark.label.about == "p1"
        assert mark.label.kind == "finding"
        assert " ".join(mark.label.lines) == "It is 3.0 mm longer on front than on back."


@given(st.integers(2, 6), points)
def test_several_findings_in_one_place_stand_apart(count, at):
    dots = [mark.dot for mark in finding_marks(PATTERN, [finding(at)] * count)]
    assert all(math.dist(p, q) > 12.0 for i, p in enumerate(dots) for q in dots[:i])


def test_words_beside_an_edge_stand_clear_of_it():
    for at in ((0.0, 200.0), (400.0, 200.0), (200.0, 0.0), (200.0, 400.0)):
        [mark] = finding_marks(PATTERN, [finding(at)])
        x, y = mark.label.at
        side = 1.0 if mark.label.anchor == "start" else -1.0
        reach = sorted((mark.dot[0], x + side * 4.4 * max(len(line) for line in mark.label.lines)))
        crosses = any(reach[0] < edge < reach[1] for edge in (0.0, 400.0)) and 0.0 < y < 400.0
        assert not crosses
