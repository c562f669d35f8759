"""Put a drawing through one step after another.

A step is what a command does once its options are read: a function of the drawing and its pieces. Whether the options
came from a command line or from a recipe is nothing to it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, nullcontext
from dataclasses import dataclass, replace
from pathlib import Path

from crossgrain.errors import CrossgrainError, RecipeError
from crossgrain.model.outcome import Finding, Outcome
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece
from crossgrain.output.text_table import TextTable
from crossgrain.svg.drawing import Drawing
from crossgrain.svg.journal import Entry, append
from crossgrain.svg.pattern import draw_marks, pattern_of, readable_pattern, write_pieces

Deed = Callable[[Drawing, Pattern], Outcome[Pattern]]
"""What is done to the pieces of a drawing. It leaves the drawing itself as it is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """What is seen of a drawing, or made of it, while its pieces stay as they are.

    Args:
        drawing: one that shows them as something else, as laid out for the scissors, and is the result in its place.
        findings: what to look at.
        tables: what belongs to it in words and figures.
        files: what is written beside the result: what is added to its name, as ``-a4.pdf``, and what stands in it.
    """

    drawing: Drawing | None = None
    findings: tuple[Finding, ...] = ()
    tables: tuple[TextTable, ...] = ()
    files: tuple[tuple[str, bytes], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One step that is ready to be done.

    Args:
        name: the verb, as ``reduce``.
        deed: what is done to the pieces; none where they are only looked at.
        view: looks at a drawing, or makes something of it, and leaves it as it is.
        pieces: ids or names of the pieces it is done to; all that are marked where none is named.
        given: the parameters as the maker wrote them, for the drawing's journal.
        files: what the step reads besides the drawing, as the file of a cloth.
        remarks: sentences that hold whatever the drawing is.
        place: where the step is written, as ``recut.toml, line 7``; for what cannot be done to a drawing.
        words: alters what is written on the drawing after the deed, as the name of its size, and says what to look at.
    """

    name: str
    deed: Deed | None = None
    view: Callable[[Drawing], View] | None = None
    pieces: tuple[str, ...] = ()
    given: tuple[tuple[str, str], ...] = ()
    files: tuple[Path, ...] = ()
    remarks: tuple[str, ...] = ()
    place: str = ""
    words: Callable[[Drawing], tuple[Finding, ...]] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Passage:
    """What a drawing went through.

    Args:
        before: the pieces the first step found.
        outcome: the pieces after the last step, and all that was changed and found on the way.
        drawing: the drawing now, or what was made of it in its place.
        tables: what was seen of it, in words and figures.
        files: what is written beside it; see :class:`View`.
    """

    before: Pattern
    outcome: Outcome[Pattern]
    drawing: Drawing
    tables: tuple[TextTable, ...] = ()
    files: tuple[tuple[str, bytes], ...] = ()


def put_through(drawing: Drawing, stages: Iterable[Stage]) -> Passage:
    """Do steps to a drawing, in order, with a line in its journal for each.

    Each step reads the drawing as the one before it left it, just as if it had been written and read again between
    them.

    Args:
        drawing: altered in place, in memory only.
        stages: at least one; nothing is done to the pieces after another drawing was made in their place.

    Raises:
        CrossgrainError: a step refuses the drawing. Those before it have altered it: throw it away.
    """
    passage: Passage | None = None
    altered: dict[str, Piece] = {}
    for stage in stages:
        if stage.view is not None:
            passage = passage or _untouched(drawing, stage)
            with _in_its_place(stage):
                passage = _seen(passage, stage.view(drawing))
            continue
        assert stage.deed is not None, "a step does something to the pieces or looks at them"
        assert passage is None or passage.drawing is drawing, "nothing is done after another drawing is made"
        with _in_its_place(stage) if stage.pieces else nullcontext():
            before = pattern_of(drawing, stage.pieces)
        with _in_its_place(stage):
            outcome = stage.deed(drawing, before)
        altered |= {piece.id: piece for piece in write_pieces(drawing, before, outcome.value)}
        ids = tuple(piece.id for piece in before.pieces)
        append(drawing, Entry(operation=stage.name, pieces=ids, parameters=stage.given))
        if stage.words is not None:
            outcome = replace(outcome, findings=(*outcome.findings, *stage.words(drawing)))
        step = Passage(before=before, outcome=outcome, drawing=drawing)
        passage = step if passage is None else _on_from(_answered(passage, stage, before), step)
    assert passage is not None, "a drawing is put through at least one step"
    if passage.drawing is drawing:
        draw_marks(drawing, altered.values())
    return passage


@contextmanager
def _in_its_place(stage: Stage) -> Iterator[None]:
    """Say of what a step refuses where the step is written."""
    try:
        yield
    except CrossgrainError as error:
        if not stage.place:
            raise
        raise RecipeError(
            f"{stage.place}: {error.message}",
            advice=error.advice,
            piece=error.piece,
            edge=error.edge,
            position=error.position,
        ) from error


def _untouched(drawing: Drawing, stage: Stage) -> Passage:
    """Return the passage of a drawing to which nothing was done: those of its pieces that can be read."""
    with _in_its_place(stage) if stage.pieces else nullcontext():
        pattern, _unread = readable_pattern(drawing, stage.pieces)
    return Passage(before=pattern, outcome=Outcome(value=pattern), drawing=drawing)


def _seen(passage: Passage, view: View) -> Passage:
    """Return a passage with what was seen on it."""
    return replace(
        passage,
        outcome=replace(passage.outcome, findings=(*passage.outcome.findings, *view.findings)),
        drawing=view.drawing or passage.drawing,
        tables=(*passage.tables, *view.tables),
        files=(*passage.files, *view.files),
    )


def _answered(passage: Passage, stage: Stage, done_to: Pattern) -> Passage:
    """Return a passage without the findings whose advice a step follows: what it leaves to look at it says itself."""
    does = {stage.name, *(f"{stage.name} {word}" for given in stage.given for word in given)}
    labels = {piece.label for piece in done_to.pieces}
    left = tuple(
        finding
        for finding in passage.outcome.findings
        if finding.answered_by not in does or not labels.issuperset(finding.piece.split(", "))
    )
    return replace(passage, outcome=replace(passage.outcome, findings=left))


def _on_from(passage: Passage, step: Passage) -> Passage:
    """Return a passage with one more step; pieces that the step was not done to stay as they were."""
    on = passage.outcome.then(step.outcome)
    return replace(
        passage,
        before=_joined(step.before, passage.before),
        outcome=replace(on, value=_joined(passage.outcome.value, step.outcome.value)),
    )


def _joined(pattern: Pattern, over: Pattern) -> Pattern:
    """Return the pieces of two patterns; a piece that stands in both is as in the second."""
    new = {piece.id: piece for piece in over.pieces}
    kept = [new.pop(piece.id, piece) for piece in pattern.pieces]
    return Pattern(pieces=(*kept, *new.values()))
