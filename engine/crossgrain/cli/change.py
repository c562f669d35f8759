"""Change a drawing: read it, do one operation on its pieces, write it, show what was done."""

from __future__ import annotations

from collections.abc import Callable

from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job
from crossgrain.cli.show import say, show_outcome
from crossgrain.language import _
from crossgrain.model import Outcome, Pattern


def change(job: Job, operation: Callable[[Pattern], Outcome[Pattern]]) -> Exit:
    """Read the drawing of a job, change its pieces, and write it whole or not at all.

    Args:
        job: what was asked of the drawing; it has a target.
        operation: what to do with its pieces.

    Returns:
        The exit code of what was shown.

    Raises:
        CrossgrainError: the drawing cannot be read, or the operation refuses it. Nothing has been written.
    """
    from crossgrain.svg.pattern import pattern_of, update
    from crossgrain.svg.reader import read_drawing
    from crossgrain.svg.writer import write_drawing

    assert job.target is not None
    drawing = read_drawing(job.source, unit_mm=job.unit_mm)
    before = pattern_of(drawing, job.pieces)
    outcome = operation(before)
    update(drawing, before, outcome.value)
    write_drawing(drawing, job.target, in_place=job.in_place)
    say(_("Wrote {file}.").format(file=job.target))
    return show_outcome(outcome, as_json=job.as_json, input=str(job.source), output=str(job.target))
