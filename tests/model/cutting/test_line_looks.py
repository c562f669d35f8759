"""Lines are told apart without colour: by width and dash, or by a shape that no other mark has."""

from itertools import combinations

import pytest

from crossgrain.model.cutting.line_looks import LOOKS
from crossgrain.model.marking.mark_lines import MARK_KINDS

SHAPED = {
    "grain": "a line with an arrowhead at either end",
    "notch": "short strokes, Vs and Ts",
    "drill": "a small ring",
    "fold": "a bracket with arrows at a fold",
    "loop": "a slim rectangle",
    "button": "a ring with a cross",
    "buttonhole": "a line with a bar at either end",
    "leader": "a line from words to a place",
    "scissors": "the outline itself",
}
"""What is told by its shape; the rest are lines that only their dashes tell."""


def test_every_kind_of_mark_has_a_look():
    assert set(MARK_KINDS) <= set(LOOKS)


@pytest.mark.parametrize(("one", "other"), list(combinations(sorted(set(LOOKS) - set(SHAPED)), 2)))
def test_lines_of_no_shape_of_their_own_differ_in_their_dashes(one, other):
    assert LOOKS[one].dashes
    assert LOOKS[other].dashes
    assert LOOKS[one].dashes != LOOKS[other].dashes


def test_what_has_a_shape_is_unbroken():
    assert {look for look in LOOKS if not LOOKS[look].dashes} == set(SHAPED)
