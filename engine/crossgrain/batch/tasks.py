"""Find the drawings of a folder, and what is to be done with each."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final
from unicodedata import normalize

from crossgrain import __version__
from crossgrain.batch.record import FOLDER, digest, digest_of_file, is_whole, read_record
from crossgrain.errors import DocumentError
from crossgrain.language import _, language
from crossgrain.recipe.recipe import Step

if TYPE_CHECKING:
    from crossgrain.pipeline import Stage

Maker = Callable[[Step, Path], "Stage"]
"""Makes a step ready; a function of a module, so that it can be named to another process."""

_ENDINGS: Final = (".svg", ".svgz")


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """The steps that every drawing goes through, with one choice of the variables.

    Args:
        steps: without variables.
        name: the folder under which its drawings are written; empty where there is only one way.
        folder: that of the recipe.
        make: makes a step ready.
        key: what the drawings depend on besides themselves, as one digest.
        unit_mm: the length of one user unit where the maker states it, mm.
        files: what its steps read besides the drawing.
        remarks: what its steps have to say whatever the drawing is, as that a pressure is an estimate.
    """

    steps: tuple[Step, ...]
    name: str
    folder: Path
    make: Maker
    key: str
    unit_mm: float | None = None
    files: tuple[Path, ...] = ()
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One drawing to go one way.

    Args:
        way: what is done.
        source: the drawing.
        target: where the result is written.
        record: where what is known of it is kept.
        name: what it is called to people: its path within the folder of outputs.
        beside: with what the names of further files begin that are written beside the result.
        overwrite: whether a result that was altered by hand may go.
    """

    way: Way
    source: Path
    target: Path
    record: Path
    name: str
    beside: str
    overwrite: bool = False


def way(steps: Sequence[Step], *, name: str, folder: Path, make: Maker, unit_mm: float | None = None) -> Way:
    """Make ready one way through the steps; everything its drawings depend on goes into its key.

    Raises:
        RecipeError: a step that cannot be made ready.
    """
    stages = [make(step, folder) for step in steps]
    files = tuple(file for stage in stages for file in stage.files)
    remarks = tuple(remark for stage in stages for remark in stage.remarks)
    said = repr([(step.do, step.given) for step in steps])
    parts = [__version__, language(), said, repr(unit_mm), *(str(digest_of_file(file)) for file in files)]
    key = digest(*(part.encode() for part in parts))
    return Way(
        steps=tuple(steps),
        name=name,
        folder=folder,
        make=make,
        key=key,
        unit_mm=unit_mm,
        files=files,
        remarks=remarks,
    )


def drawings_in(folder: Path, outputs: Path) -> list[Path]:
    """Return the drawings in a folder and those within it, in order of their names.

    What lies in the folder of outputs is none, nor what another run has written into another folder, nor what begins
    with a point. Links to files are followed, links to folders are not: they may lead in a circle.

    Args:
        folder: the folder.
        outputs: where results go.

    Returns:
        Paths from the folder on. A folder that may not be read stands there itself, so that it is told of.

    Raises:
        DocumentError: no such folder, or results would be written over drawings.
    """
    if not folder.is_dir():
        raise DocumentError(
            _("There is no folder {folder}.").format(folder=folder), advice=_("Name the one that holds the drawings.")
        )
    inside, out = Path(os.path.realpath(folder)), Path(os.path.realpath(outputs))
    if inside == out or inside.is_relative_to(out):
        raise DocumentError(
            _("Results in {outputs} could be written over the drawings in {folder}.").format(
                outputs=outputs, folder=folder
            ),
            advice=_("Name another folder for them with -o."),
        )
    found: list[Path] = []
    closed: list[str] = []
    for place, folders, files in os.walk(inside, onerror=lambda error: closed.append(error.filename)):
        here = Path(place)
        folders[:] = sorted(
            name
            for name in folders
            if not name.startswith(".") and here / name != out and not os.path.isdir(here / name / FOLDER)
        )
        found += [
            (here / name).relative_to(inside)
            for name in files
            if name.lower().endswith(_ENDINGS) and not name.startswith(".") and _may_be_read(here / name)
        ]
    found += [Path(os.path.relpath(place, inside)) for place in closed]
    return sorted(found)


def tasks(
    folder: Path, outputs: Path, ways: Sequence[Way], drawings: Sequence[Path], *, overwrite: bool = False
) -> Iterator[Task]:
    """Return what is to be done: every drawing, every way."""
    alike = Counter(_as_one_name(drawing.with_suffix("").as_posix()) for drawing in drawings)
    for one in ways:
        for drawing in drawings:
            name = Path(one.name) / drawing
            yield Task(
                way=one,
                source=folder / drawing,
                target=outputs / name,
                record=outputs / FOLDER / f"{name}.json",
                name=name.as_posix().encode("utf-8", "backslashreplace").decode(),
                beside=drawing.stem if alike[_as_one_name(drawing.with_suffix("").as_posix())] == 1 else drawing.name,
                overwrite=overwrite,
            )


def twins(todo: Sequence[Task], outputs: Path) -> Iterator[tuple[Task, str]]:
    """Return the tasks whose result would hide another's, each with the name of that, on a disk that tells no capitals
    apart; none on any other disk.

    Args:
        todo: the tasks.
        outputs: the folder of outputs, with that of records in it.
    """
    if not (outputs / FOLDER.upper()).exists():
        return
    first: dict[str, Task] = {}
    for task in todo:
        known = first.setdefault(_as_one_name(task.name), task)
        if known is not task:
            yield task, known.name


def _may_be_read(path: Path) -> bool:
    """Tell whether a name is that of a file, or a link that leads nowhere and is to be told of: never of a pipe."""
    return os.path.isfile(path) or not os.path.exists(path)


def _as_one_name(name: str) -> str:
    """Return a name as a disk has it that tells no capitals apart, nor two ways to write one letter with its accent."""
    return normalize("NFC", name).casefold()


def key_of(task: Task, data: bytes) -> str:
    """Return all that a result depends on, as one digest."""
    return digest(task.way.key.encode(), task.beside.encode(), data)


def is_up_to_date(task: Task, record: dict[str, Any] | None = None) -> bool:
    """Tell whether the result of a task stands there as it would be written again, by its record, if that was read."""
    record = read_record(task.record) if record is None else record
    if not is_whole(task.target.parent, record):
        return False
    try:
        return bool(record.get("key") == key_of(task, task.source.read_bytes()))
    except OSError:
        return False
