"""Write down what became of a folder: as data and as a page, each whole, however many drawings there are."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

from crossgrain import __version__
from crossgrain.batch.record import FOLDER, read_record
from crossgrain.batch.work import Result, State
from crossgrain.files import write_parts
from crossgrain.language import _
from crossgrain.output.folder_report import folder_report

DATA, PAGE = "report.json", "report.html"


def state_in_words(state: State) -> str:
    """Say what became of a drawing."""
    return {
        "done": _("done"),
        "found": _("done, something to look at"),
        "kept": _("up to date"),
        "refused": _("not done"),
        "fault": _("a fault of ours"),
        "lost": _("lost"),
    }[state]


def write_reports(outputs: Path, title: str, results: Iterable[Result], remarks: Sequence[str] = ()) -> None:
    """Write the data and the page into the folder of outputs.

    Args:
        outputs: the folder.
        title: of the page; the recipe's.
        results: what became of each drawing, in the order in which they are to stand.
        remarks: what is to be said of all of them.

    Raises:
        DocumentError: they cannot be written.
    """
    kept = list(results)
    lead = _("{count} drawings; not done: {refused}; to look at: {found}. Made by Crossgrain {version}.").format(
        count=len(kept),
        refused=sum(one.state in ("refused", "fault", "lost") for one in kept),
        found=sum(one.findings for one in kept),
        version=__version__,
    )
    write_parts(outputs / DATA, map(str.encode, _data(outputs, title, kept, remarks)))
    overview = ((one.name, state_in_words(one.state), str(one.findings or "")) for one in kept)
    write_parts(
        outputs / PAGE, map(str.encode, folder_report(title, [lead, *remarks], overview, _shown(outputs, kept)))
    )


def record_of(outputs: Path, result: Result) -> dict[str, Any]:
    """Return what is known of a drawing that is there; nothing of one that was not done."""
    return read_record(outputs / FOLDER / f"{result.name}.json") if result.state in ("done", "found", "kept") else {}


def _shown(outputs: Path, results: Iterable[Result]) -> Iterator[tuple[str, str, dict[str, Any]]]:
    for one in results:
        said = state_in_words(one.state) + (f": {one.message}" if one.message else "")
        yield one.name, said, record_of(outputs, one)


def _data(outputs: Path, title: str, results: Iterable[Result], remarks: Sequence[str]) -> Iterator[str]:
    about = json.dumps({"title": title, "engine": __version__, "remarks": list(remarks)}, ensure_ascii=False)
    yield about[:-1] + ', "drawings": ['
    between = "\n"
    for one in results:
        record = record_of(outputs, one)
        said = {"name": one.name, "state": one.state, "message": one.message}
        known = {key: record[key] for key in ("girths", "seams", "tables", "changes", "findings") if key in record}
        yield between + json.dumps({**said, **known}, ensure_ascii=False, allow_nan=False)
        between = ",\n"
    yield "\n]}\n"
