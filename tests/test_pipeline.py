"""What a drawing goes through: which findings are left at the end."""

import pytest

from crossgrain.cli.samples import sample
from crossgrain.model.outcome import Finding, Outcome
from crossgrain.pipeline import Stage, put_through
from crossgrain.svg.reader import read_drawing


def finding(answered_by, piece="back, left front"):
    return Finding(piece=piece, edge="side", message="Look.", answered_by=answered_by)


def finds(*findings):
    return Stage(name="take-in", deed=lambda _drawing, pattern: Outcome(value=pattern, findings=findings))


def does(name, *given, pieces=(), findings=()):
    return Stage(
        name=name, given=given, pieces=pieces, deed=lambda _drawing, pattern: Outcome(value=pattern, findings=findings)
    )


def left(*stages):
    return put_through(read_drawing(sample("trousers.svg")), stages).outcome.findings


@pytest.mark.parametrize(
    ("answered_by", "stage", "is_answered"),
    [
        ("true side", does("true", ("seam", "side")), True),
        ("true side", does("true", ("seam", "inseam")), False),
        ("true side", does("follow"), False),
        ("true darts", does("true", ("darts", "true")), True),
        ("true darts", does("true", ("seam", "side")), False),
        ("allow", does("allow", ("width", "10mm")), True),
        ("follow", does("follow"), True),
        ("follow", does("follow", pieces=("back",)), False),
        ("", does("follow"), False),
    ],
)
def test_what_a_later_step_answers_is_not_left_to_look_at(answered_by, stage, is_answered):
    assert left(finds(finding(answered_by)), stage) == (() if is_answered else (finding(answered_by),))


def test_what_the_answering_step_says_itself_is_left():
    again = finding("follow")
    assert left(finds(finding("follow")), does("follow", findings=(again,))) == (again,)


def test_an_answer_before_the_question_is_none():
    assert left(does("follow"), finds(finding("follow"))) == (finding("follow"),)
