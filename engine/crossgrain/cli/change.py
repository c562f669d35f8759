"""Change a drawing: read it, do one operation on its pieces, write it, show what was done."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import click
from click.core import ParameterSource

from crossgrain.cli.exits import Exit
from crossgrain.cli.job import COMMON, Job
from crossgrain.cli.show import say, show_outcome
from crossgrain.cli.written import written
from crossgrain.language import _
from crossgrain.model import Outcome, Pattern

if TYPE_CHECKING:
    from crossgrain.model import Finding
    from crossgrain.pipeline import Stage
    from crossgrain.svg.drawing import Drawing


class Asked:
    """Given to a command as its context's object, it is told what the command would do, and nothing is done."""

    def __init__(self) -> None:
        self.stage: Stage | None = None


def change(job: Job, operation: Callable[[Pattern], Outcome[Pattern]]) -> Exit:
    """Change a drawing as :func:`change_drawing` does, by an operation that needs to know its pieces only."""
    return change_drawing(job, lambda _drawing, pattern: operation(pattern))


def change_drawing(
    job: Job,
    operation: Callable[[Drawing, Pattern], Outcome[Pattern]],
    words: Callable[[Drawing], tuple[Finding, ...]] | None = None,
) -> Exit:
    """Read the drawing of a job, change its pieces, and write it whole or not at all.

    The drawing's journal gets a line that says which command was given, as it was written.

    Args:
        job: what was asked of the drawing; it has a target.
        operation: what to do with the drawing's pieces; it leaves the drawing as it is.
        words: what to do with the words on it afterwards; it says what to look at.

    Returns:
        The exit code of what was shown.

    Raises:
        CrossgrainError: the drawing cannot be read, or the operation refuses it. Nothing has been written.
    """
    from crossgrain.pipeline import Stage, put_through
    from crossgrain.svg.reader import read_drawing
    from crossgrain.svg.writer import write_drawing

    context = click.get_current_context()
    stage = Stage(
        name=str(context.info_name),
        deed=operation,
        pieces=job.pieces,
        given=tuple(parameters(context)),
        words=words,
    )
    if isinstance(context.obj, Asked):
        context.obj.stage = stage
        return Exit.FINE
    assert job.target is not None
    drawing = read_drawing(job.source, unit_mm=job.unit_mm)
    passage = put_through(drawing, [stage])
    before, outcome = passage.before, passage.outcome
    if job.show:
        _show(drawing, job.show, before, outcome)
    write_drawing(drawing, job.target, overwrite=job.overwrite, in_place=job.in_place)
    say(_("Wrote {file}.").format(file=job.target))
    if stage.name != "follow":
        _say_left_behind(drawing, job, before, outcome.value)
    return show_outcome(outcome, as_json=job.as_json, input=str(job.source), output=str(job.target))


def _say_left_behind(drawing: Drawing, job: Job, before: Pattern, after: Pattern) -> None:
    """Say what follows edges that are longer or shorter now: a waistband, a facing, a zip."""
    from crossgrain.model.dependents.left_behind import left_behind
    from crossgrain.svg.pattern import marked_pieces

    others = marked_pieces(drawing) if job.pieces and after != before else ()
    if left := left_behind(before, after, others):
        say(
            _(
                "They follow what was changed, and were left: {names}. Next: crossgrain follow {file} -o OUT.svg."
            ).format(names=", ".join(left), file=job.target)
        )


def _show(drawing: Drawing, wanted: frozenset[str], before: Pattern, outcome: Outcome[Pattern]) -> None:
    """Draw what the maker wants to see of the change, on layers of its own."""
    from crossgrain.output.labels import finding_labels, piece_labels
    from crossgrain.svg.layers import draw_before, draw_labels

    after = outcome.value
    if "before" in wanted:
        draw_before(drawing, before, after)
    labels = piece_labels(after, outcome.changes) if "labels" in wanted else ()
    notes = finding_labels(after, outcome.findings, labels) if "notes" in wanted else ()
    draw_labels(drawing, [piece.id for piece in after.pieces], [*labels, *notes])


def parameters(context: click.Context) -> Sequence[tuple[str, str]]:
    """Return the options that were given and are the command's own, each with its text as the maker wrote it."""
    texts = written(context)
    given = []
    for parameter in context.command.params:
        name = str(parameter.name)
        if name in COMMON or context.get_parameter_source(name) is not ParameterSource.COMMANDLINE:
            continue
        value = context.params[name]
        text = "; ".join(texts[name] if name in texts else value if isinstance(value, tuple) else [str(value)])
        given.append((max(parameter.opts, key=len).lstrip("-"), "yes" if text == "True" else text))
    return given
