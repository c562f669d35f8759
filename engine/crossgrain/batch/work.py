"""Do one drawing: read it, put it through the steps, write it, and keep what is known of it."""

from __future__ import annotations

import traceback
from dataclasses import asdict, dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, Literal

from crossgrain.batch.record import digest, is_ours, read_record, write_record
from crossgrain.batch.tasks import Maker, Task, is_up_to_date, key_of
from crossgrain.errors import CrossgrainError, DocumentError
from crossgrain.language import _
from crossgrain.pipeline import Passage, Stage, put_through
from crossgrain.recipe.recipe import Step

State = Literal["done", "found", "kept", "refused", "fault", "lost"]
"""``done`` without and ``found`` with something to look at; ``kept`` as it was up to date; ``refused`` for what the
maker can mend; ``fault`` for a mistake of ours; ``lost`` with the process that worked on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """What became of one drawing. It is small: all else stands in the record.

    Args:
        name: what the drawing is called.
        state: what became of it.
        message: what is wrong, where something is.
        findings: how many things there are to look at.
    """

    name: str
    state: State
    message: str = ""
    findings: int = 0


def kept(task: Task) -> Result | None:
    """Return the result of a drawing that stands there as it would be written again; None of one that is to be done."""
    if not is_up_to_date(task):
        return None
    return Result(name=task.name, state="kept", findings=len(read_record(task.record).get("findings", ())))


def do(task: Task) -> Result:
    """Do one drawing; whatever is wrong with it is in the result."""
    try:
        return _done(task)
    except CrossgrainError as error:
        return Result(name=task.name, state="refused", message=str(error))
    except Exception:
        return Result(name=task.name, state="fault", message=traceback.format_exc())


def _done(task: Task) -> Result:
    from crossgrain.svg.reader import file_bytes, parse_drawing
    from crossgrain.svg.writer import bytes_for, write_drawing

    before = read_record(task.record)
    if task.target.exists() and not task.overwrite and not is_ours(task.target, before):
        raise DocumentError(
            _("{path} was altered since it was written.").format(path=task.target),
            advice=_("Move it somewhere else, or give --overwrite."),
        )
    data = file_bytes(task.source)
    key = key_of(task, data)
    drawing = parse_drawing(data, name=task.source.name, source=task.source, unit_mm=task.way.unit_mm)
    passage = put_through(drawing, _stages(task.way.steps, task.way.folder, task.way.make))
    output = digest(bytes_for(passage.drawing, task.target))
    _make(task.target.parent)
    write_record(
        task.record,
        {"key": key, "output": output, "was": before.get("output"), "name": task.name, **_known(passage)},
    )
    write_drawing(passage.drawing, task.target, overwrite=True)
    findings = len(passage.outcome.findings)
    return Result(name=task.name, state="found" if findings else "done", findings=findings)


@lru_cache(maxsize=64)
def _stages(steps: tuple[Step, ...], folder: Path, make: Maker) -> tuple[Stage, ...]:
    """Make steps ready once for all drawings that this process does."""
    return tuple(make(step, folder) for step in steps)


def _make(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise DocumentError(
            _("The folder {folder} cannot be made: {reason}.").format(folder=folder, reason=error.strerror),
            advice=_("Choose another place."),
        ) from error


def _known(passage: Passage) -> dict[str, Any]:
    """Return what a report shows of a drawing."""
    from crossgrain.batch.figures import figures

    return {
        "changes": [asdict(change) for change in passage.outcome.changes],
        "findings": [asdict(finding) for finding in passage.outcome.findings],
        "tables": [asdict(table.used()) for table in passage.tables if table.rows],
        **figures(passage),
    }
