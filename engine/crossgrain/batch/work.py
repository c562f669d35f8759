"""Do one drawing: read it, put it through the steps, write it, and keep what is known of it."""

from __future__ import annotations

import os
import traceback
from collections.abc import Collection, Iterator
from dataclasses import asdict, dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, Literal

from crossgrain.batch.record import digest, digest_of_file, is_ours, read_record, texts, write_record
from crossgrain.batch.tasks import Maker, Task, is_up_to_date, key_of
from crossgrain.errors import CrossgrainError, DocumentError
from crossgrain.files import why_not_written, write_parts
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
    record = read_record(task.record)
    if not is_up_to_date(task, record):
        return None
    return Result(name=task.name, state="kept", findings=len(record.get("findings", ())))


def do(task: Task) -> Result:
    """Do one drawing; whatever is wrong with it is in the result."""
    try:
        return _done(task)
    except CrossgrainError as error:
        return Result(name=task.name, state="refused", message=" ".join((str(error), *_earlier(task))))
    except Exception:
        return Result(name=task.name, state="fault", message=traceback.format_exc())


def _earlier(task: Task) -> Iterator[str]:
    """Say of a drawing that was not done that its result of an earlier run is still there: nobody is to cut by it."""
    if is_ours(task.target, read_record(task.record)):
        yield _("What stands there under its name is the result of an earlier run.")


def _done(task: Task) -> Result:
    from crossgrain.svg.reader import file_bytes, parse_drawing
    from crossgrain.svg.writer import bytes_for

    folder, before = task.target.parent, read_record(task.record)
    _check_name(task)
    if os.path.isdir(task.source):
        raise DocumentError(
            _("{path} may not be read.").format(path=task.source), advice=_("Ask for the right to read it.")
        )
    _check_free(task, before, [task.target.name])
    data = file_bytes(task.source)
    key = key_of(task, data)
    drawing = parse_drawing(data, name=task.source.name, source=task.source, unit_mm=task.way.unit_mm)
    passage = put_through(drawing, _stages(task.way.steps, task.way.folder, task.way.make))
    # The drawing last: who sees it there has all that belongs to it.
    files = {task.beside + ending: content for ending, content in passage.files}
    files[task.target.name] = bytes_for(passage.drawing, task.target)
    _check_free(task, before, files)
    _make(folder)
    earlier = {**texts(before, "were"), **texts(before, "files")}.keys() - files
    to_go = sorted(name for name in earlier if is_ours(folder / name, before))
    were = {name: found for name in (*files, *to_go) if (found := digest_of_file(folder / name))}
    written = {name: digest(content) for name, content in files.items()}
    write_record(task.record, {"key": key, "name": task.name, "files": written, "were": were, **_known(passage)})
    for name in to_go:
        _remove(folder / name)
    for name, content in files.items():
        write_parts(folder / name, [content])
    findings = len(passage.outcome.findings)
    return Result(name=task.name, state="found" if findings else "done", findings=findings)


@lru_cache(maxsize=64)
def _stages(steps: tuple[Step, ...], folder: Path, make: Maker) -> tuple[Stage, ...]:
    """Make steps ready once for all drawings that this process does."""
    return tuple(make(step, folder) for step in steps)


def _check_name(task: Task) -> None:
    """See that what a drawing is called can be written down: on sheets, in lists, in the report."""
    try:
        str(task.target).encode()
    except UnicodeEncodeError as error:
        raise DocumentError(_("Its name is no text in UTF-8."), advice=_("Rename it.")) from error


def _check_free(task: Task, before: dict[str, Any], names: Collection[str]) -> None:
    """See that files may be written: they are not there yet, or as a run has written them, or may go.

    Nothing is written where a link leads: that may be one of the drawings.
    """
    folder = task.target.parent
    for place in (*(folder / name for name in names), *(folder, *folder.parents)[: len(Path(task.name).parts) - 1]):
        if os.path.islink(place):
            raise DocumentError(
                _("{path} is a link and leads elsewhere: nothing is written there.").format(path=place),
                advice=_("Move it somewhere else, or name another folder with -o."),
            )
    for path in (folder / name for name in names):
        if task.overwrite or not os.path.exists(path) or is_ours(path, before):
            continue
        raise DocumentError(
            _("{path} was altered since it was written.").format(path=path)
            if path.name in texts(before, "files")
            else _("{path} is there already, and no run has written it.").format(path=path),
            advice=_("Move it somewhere else, or give --overwrite."),
        )


def _make(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise DocumentError(
            _("The folder {folder} cannot be made: {reason}.").format(folder=folder, reason=why_not_written(error)),
            advice=_("Choose another place."),
        ) from error


def _remove(path: Path) -> None:
    """Remove what an earlier recipe wrote and this one does not."""
    try:
        path.unlink(missing_ok=True)
    except OSError as error:
        raise DocumentError(
            _("{file} belongs to an earlier recipe and cannot be removed: {reason}.").format(
                file=path, reason=why_not_written(error)
            ),
            advice=_("Remove it by hand."),
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
