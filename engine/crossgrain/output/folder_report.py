"""One page on a whole folder of drawings: what became of each, its girths and seams, and how it looks now."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from html import escape
from typing import Any, Final

from crossgrain.language import _
from crossgrain.model import Finding
from crossgrain.output.document import document, finding_list, legend
from crossgrain.units import format_length

PICTURED: Final = 100
"""Drawings that are shown with their pieces; a page of more takes a browser longer than anyone waits."""

_FIGURE: Final = re.compile(r"-?[0-9.,]+( mm)?")
_BODY: Final = "<!--body-->"


def folder_report(
    title: str,
    lead: Iterable[str],
    overview: Iterable[tuple[str, str, str]],
    results: Iterable[tuple[str, str, Mapping[str, Any]]],
) -> Iterator[str]:
    """Write the page, part by part, so that its length costs no memory.

    Args:
        title: its heading.
        lead: what was done, and what is to be said of all of it: a paragraph each.
        overview: for each drawing its name, what became of it, and how much there is to look at, in words.
        results: for each drawing its name, what became of it in words, and its record: ``girths``, ``seams``,
            ``tables``, ``findings``, ``pictures``; empty where there is none.

    Returns:
        The parts of one HTML document that asks nothing of the network.
    """
    head, tail = document(title, [_BODY]).split(_BODY)
    yield head
    yield f"<h1>{escape(title)}</h1>\n"
    for paragraph in lead:
        yield f"<p>{escape(paragraph)}</p>\n"
    yield legend()
    yield _table(_("Drawings"), (_("drawing"), _("state"), _("to look at")), overview)
    for number, (name, state, record) in enumerate(results):
        yield f"<h2>{escape(name)}</h2>\n<p>{escape(state)}</p>\n"
        yield from _drawing(record, pictured=number < PICTURED)
    yield tail


def _drawing(record: Mapping[str, Any], *, pictured: bool) -> Iterator[str]:
    findings = [Finding(**_finding(one)) for one in record.get("findings", ())]
    if findings:
        yield finding_list(sorted(findings, key=lambda one: one.severity != "caution")) + "\n"
    if record.get("girths"):
        yield _table(
            _("Girths of all pieces together, by depth below their highest point"),
            (_("depth"), _("before"), _("after")),
            [[_length(one["depth"]), _length(one["before"]), _length(one["after"])] for one in record["girths"]],
        )
    if record.get("seams"):
        yield _table(
            _("Seams"),
            (_("seam"), _("sides"), _("difference before"), _("after")),
            [
                [
                    one["seam"],
                    ", ".join(f"{side['piece']} {_length(side['length'])}" for side in one["sides"]),
                    _length(one["before"]),
                    _length(one["after"]),
                ]
                for one in record["seams"]
            ],
        )
    for table in record.get("tables", ()):
        yield _table(table["title"], table["heads"], table["rows"])
    if record.get("pictures") and pictured:
        yield '<div class="pieces">\n'
        for figure in record["pictures"]:
            yield f"{figure}\n"
        yield "</div>\n"


def _finding(data: Mapping[str, Any]) -> dict[str, Any]:
    place = data.get("position")
    return {**data, "position": tuple(place) if place else None}


def _table(caption: str, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    kept = list(rows)
    kinds = [
        ' class="figure"' if cells and all(_FIGURE.fullmatch(cell) for cell in cells) else ""
        for cells in ([row[column] for row in kept if row[column]] for column in range(len(heads)))
    ]

    def line(tag: str, cells: Sequence[str]) -> str:
        texts = (f"<{tag}{kind}>{escape(cell)}</{tag}>" for cell, kind in zip(cells, kinds, strict=True))
        return f"<tr>{''.join(texts)}</tr>"

    body = "\n".join(line("td", row) for row in kept)
    return f"<table><caption>{escape(caption)}</caption>\n{line('th', heads)}\n{body}\n</table>\n"


def _length(mm: float | None) -> str:
    return "" if mm is None else format_length(mm)
