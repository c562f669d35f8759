"""Write down what became of a folder: as data and as a page, each whole, however many drawings there are."""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any, Final

from crossgrain import __version__
from crossgrain.batch.record import FOLDER, read_record
from crossgrain.batch.work import Result, State
from crossgrain.errors import DocumentError
from crossgrain.files import write_parts
from crossgrain.language import _
from crossgrain.output.folder_report import Reported, folder_report, page_names, page_number

DATA: Final = "report.json"
_OURS: Final = b"Content-Security-Policy"
"""Stands near the beginning of every page of ours."""
_OUR_DATA: Final = b'"engine": "'


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


def check_reports(outputs: Path, count: int, *, overwrite: bool = False) -> None:
    """See that no report is written over a file of the maker's own, and none where a link leads.

    Args:
        outputs: the folder of outputs.
        count: how many drawings are reported.
        overwrite: whether the maker's own files may go.

    Raises:
        DocumentError: such a file stands where one would be written.
    """
    for name in (DATA, *page_names(count)):
        path = outputs / name
        if os.path.islink(path):
            raise DocumentError(
                _("{path} is a link and leads elsewhere: nothing is written there.").format(path=path),
                advice=_("Move it somewhere else, or name another folder with -o."),
            )
        with contextlib.suppress(FileNotFoundError):
            if not overwrite and (_OUR_DATA if name == DATA else _OURS) not in _beginning(path):
                raise DocumentError(
                    _("{path} is there already, and no run has written it.").format(path=path),
                    advice=_("Move it somewhere else, or give --overwrite."),
                )


def _beginning(path: Path) -> bytes:
    """Return the first bytes of a file; none of one that cannot be read."""
    try:
        with path.open("rb") as file:
            return file.read(10_000)
    except FileNotFoundError:
        raise
    except OSError:
        return b""


def write_reports(outputs: Path, title: str, results: Iterable[Result], remarks: Sequence[str] = ()) -> None:
    """Write the data and the pages into the folder of outputs; further pages that an earlier run needed go.

    Args:
        outputs: the folder.
        title: of the pages; the recipe's.
        results: what became of each drawing, in the order in which they are to stand.
        remarks: what is to be said of all of them.

    Raises:
        DocumentError: they cannot be written.
    """
    kept = list(results)
    lead = _("Drawings: {count}; not done: {refused}; to look at: {found}. Made by Crossgrain {version}.").format(
        count=len(kept),
        refused=sum(one.state in ("refused", "fault", "lost") for one in kept),
        found=sum(one.findings for one in kept),
        version=__version__,
    )
    write_parts(outputs / DATA, map(str.encode, _data(outputs, title, kept, remarks)))
    drawings = [
        Reported(name=one.name, state=state_in_words(one.state), message=one.message, findings=one.findings)
        for one in kept
    ]
    states = {one.name: one for one in kept}
    written = set()
    for name, parts in folder_report(
        title, [lead, *remarks], drawings, lambda one: record_of(outputs, states[one.name])
    ):
        write_parts(outputs / name, map(str.encode, parts))
        written.add(name)
    for path in outputs.iterdir():
        if page_number(path.name) and path.name not in written:
            with contextlib.suppress(OSError):
                if _OURS in _beginning(path):
                    path.unlink()


def record_of(outputs: Path, result: Result) -> dict[str, Any]:
    """Return what is known of a drawing that is there; nothing of one that was not done."""
    return read_record(outputs / FOLDER / f"{result.name}.json") if result.state in ("done", "found", "kept") else {}


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
