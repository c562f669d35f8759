"""Put a drawing through one step after another.

A step is what a command does once its options are read: a function of the drawing and its pieces. Whether the options
came from a command line or from a recipe is nothing to it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from crossgrain.model.outcome import Finding, Outcome
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece
from crossgrain.output.text_table import TextTable
from crossgrain.svg.drawing import Drawing
from crossgrain.svg.journal import Entry, append
from crossgrain.svg.pattern import draw_marks, pattern_of, write_pieces

Deed = Callable[[Drawing, Pattern], Outcome[Pattern]]
"""What is done to the pieces of a drawing. It leaves the drawing itself as it is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A drawing that shows another one's pieces as something else, as laid out for the scissors.

    Args:
        drawing: the sheet.
        findings: what to look at.
        tables: what belongs to it in words and figures.
    """

    drawing: Drawing
    findings: tuple[Finding, ...] = ()
    tables: tuple[TextTable, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One step that is ready to be done.

    Args:
        name: the verb, as ``reduce``.
        deed: what is done to the pieces; none where a sheet is made of them instead.
        sheet: makes that sheet of a drawing; it leaves the drawing as it is.
        pieces: ids or names of the pieces it is done to; all that are marked where none is named.
        given: the parameters as the maker wrote them, for the drawing's journal.
        files: what the step reads besides the drawing, as the file of a cloth.
        remarks: sentences that hold whatever the drawing is.
        words: alters what is written on the drawing after the deed, as the name of its size, and says what to look at.
    """

    name: str
    deed: Deed | None = None
    sheet: Callable[[Drawing], Sheet] | None = None
    pieces: tuple[str, ...] = ()
    given: tuple[tuple[str, str], ...] = ()
    files: tuple[Path, ...] = ()
    remarks: tuple[str, ...] = ()
    words: Callable[[Drawing], tuple[Finding, ...]] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Passage:
    """What a drawing went through.

    Args:
        before: the pieces the first step found.
        outcome: the pieces after the last step, and all that was changed and found on the way.
        drawing: the drawing now, or the sheet that was made of it at the end.
        tables: what belongs to that sheet.
    """

    before: Pattern
    outcome: Outcome[Pattern]
    drawing: Drawing
    tables: tuple[TextTable, ...] = ()


def put_through(drawing: Drawing, stages: Iterable[Stage]) -> Passage:
    """Do steps to a drawing, in order, with a line in its journal for each.

    Each step reads the drawing as the one before it left it, just as if it had been written and read again between
    them.

    Args:
        drawing: altered in place, in memory only.
        stages: at least one; a sheet is made by the last of them only.

    Raises:
        CrossgrainError: a step refuses the drawing. Those before it have altered it: throw it away.
    """
    passage: Passage | None = None
    altered: dict[str, Piece] = {}
    for stage in stages:
        assert passage is None or passage.drawing is drawing, "nothing is done after a sheet is made"
        before = pattern_of(drawing, stage.pieces)
        if stage.deed is not None:
            outcome = stage.deed(drawing, before)
            altered |= {piece.id: piece for piece in write_pieces(drawing, before, outcome.value)}
            ids = tuple(piece.id for piece in before.pieces)
            append(drawing, Entry(operation=stage.name, pieces=ids, parameters=stage.given))
            if stage.words is not None:
                outcome = replace(outcome, findings=(*outcome.findings, *stage.words(drawing)))
            step = Passage(before=before, outcome=outcome, drawing=drawing)
        else:
            assert stage.sheet is not None, "a step does something to the pieces or makes a sheet of them"
            sheet = stage.sheet(drawing)
            step = Passage(
                before=before,
                outcome=Outcome(value=before, findings=sheet.findings),
                drawing=sheet.drawing,
                tables=sheet.tables,
            )
        passage = step if passage is None else _on_from(passage, step)
    assert passage is not None, "a drawing is put through at least one step"
    if passage.drawing is drawing:
        draw_marks(drawing, altered.values())
    return passage


def _on_from(passage: Passage, step: Passage) -> Passage:
    """Return a passage with one more step; pieces that the step was not done to stay as they were."""
    on = passage.outcome.then(step.outcome)
    return Passage(
        before=_joined(step.before, passage.before),
        outcome=Outcome(
            value=_joined(passage.outcome.value, step.outcome.value), changes=on.changes, findings=on.findings
        ),
        drawing=step.drawing,
        tables=step.tables,
    )


def _joined(pattern: Pattern, over: Pattern) -> Pattern:
    """Return the pieces of two patterns; a piece that stands in both is as in the second."""
    new = {piece.id: piece for piece in over.pieces}
    kept = [new.pop(piece.id, piece) for piece in pattern.pieces]
    return Pattern(pieces=(*kept, *new.values()))
