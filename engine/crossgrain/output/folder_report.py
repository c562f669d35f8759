"""Pages on a whole folder of drawings: what became of each, its girths and seams, and how it looks before and after.

A browser lays out a hundred drawings with all their pieces in a second or two; a page of a thousand takes it longer
than anyone waits, and would be printed whole for the sake of one. So more than that are shown on pages of a hundred,
and the first page says of each what became of it and leads there.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from math import ceil
from pathlib import PurePosixPath
from typing import Any, Final
from urllib.parse import quote

from crossgrain.language import _
from crossgrain.model import Finding
from crossgrain.output.document import document, finding_list, legend
from crossgrain.units import format_length

PAGE: Final = "report.html"
"""The first page, and the only one where there are no more than :data:`A_PAGE` drawings."""
A_PAGE: Final = 100
"""Drawings that are shown on one page."""

_FURTHER: Final = re.compile(r"report-([1-9][0-9]*)\.html")
_FIGURE: Final = re.compile(r"-?[0-9.,]+( mm)?")
_BODY: Final = "<!--body-->"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reported:
    """One drawing on a report.

    Args:
        name: what it is called: the path of its result from the report on, parts parted by ``/``.
        state: what became of it, in words.
        message: what is wrong, where something is.
        findings: how many things there are to look at.
    """

    name: str
    state: str
    message: str = ""
    findings: int = 0


def folder_report(
    title: str,
    lead: Sequence[str],
    drawings: Sequence[Reported],
    record: Callable[[Reported], Mapping[str, Any]],
) -> Iterator[tuple[str, Iterator[str]]]:
    """Write the pages, part by part, so that their length costs no memory.

    Args:
        title: the heading.
        lead: what was done, and what is to be said of all of it: a paragraph each.
        drawings: the drawings, in the order in which they are to stand.
        record: what is known of one: ``files``, ``girths``, ``seams``, ``tables``, ``findings``, ``pictures``; empty
            where nothing is.

    Returns:
        For each page the name of its file and the parts of an HTML document that asks nothing of the network; they lead
        to each other and to the results by their names. The first page comes last, so that it leads to no page that is
        not there yet.
    """
    count = ceil(len(drawings) / A_PAGE)
    if count > 1:
        for number in range(1, count + 1):
            yield page_name(number), _further(title, drawings, record, number, count)
    yield PAGE, _first(title, lead, drawings, record, count)


def page_name(number: int) -> str:
    """Return the name of a further page, from 1.

    >>> page_name(3)
    'report-3.html'
    """
    return f"report-{number}.html"


def page_names(count: int) -> tuple[str, ...]:
    """Return the names of the pages on so many drawings, the first page last.

    >>> page_names(100), page_names(101)
    (('report.html',), ('report-1.html', 'report-2.html', 'report.html'))
    """
    pages = ceil(count / A_PAGE)
    return (*(page_name(number) for number in range(1, pages + 1) if pages > 1), PAGE)


def page_number(name: str) -> int | None:
    """Return which of the further pages a file is by its name; None for another one.

    >>> page_number("report-3.html"), page_number("report.html")
    (3, None)
    """
    found = _FURTHER.fullmatch(name)
    return int(found[1]) if found else None


def _first(
    title: str,
    lead: Sequence[str],
    drawings: Sequence[Reported],
    record: Callable[[Reported], Mapping[str, Any]],
    count: int,
) -> Iterator[str]:
    head, tail = document(title, [_BODY]).split(_BODY)
    yield head
    yield f"<h1>{escape(title)}</h1>\n"
    for paragraph in lead:
        yield f"<p>{escape(paragraph)}</p>\n"
    if count > 1:
        links = ", ".join(_page_link(number, len(drawings)) for number in range(1, count + 1))
        yield f"<p>{escape(_('Every drawing before and after:'))} {links}</p>\n"
    else:
        yield legend()
    yield from _overview(drawings, range(len(drawings)), elsewhere=count > 1)
    if count <= 1:
        yield from _shown(drawings, range(len(drawings)), record)
    yield tail


def _further(
    title: str,
    drawings: Sequence[Reported],
    record: Callable[[Reported], Mapping[str, Any]],
    number: int,
    count: int,
) -> Iterator[str]:
    shown = range((number - 1) * A_PAGE, min(number * A_PAGE, len(drawings)))
    head, tail = document(f"{title} – {_span(number, len(drawings))}", [_BODY]).split(_BODY)
    beside = [f'<a href="{PAGE}">{escape(_("all drawings"))}</a>']
    beside += [_page_link(other, len(drawings)) for other in (number - 1, number + 1) if 1 <= other <= count]
    yield head
    yield f"<h1>{escape(title)}</h1>\n"
    of = _("Drawings {first} to {last} of {count}.").format(first=shown[0] + 1, last=shown[-1] + 1, count=len(drawings))
    yield f"<p>{escape(of)} {', '.join(beside)}</p>\n"
    yield legend()
    yield from _overview(drawings, shown, elsewhere=False)
    yield from _shown(drawings, shown, record)
    yield tail


def _span(number: int, count: int) -> str:
    return f"{(number - 1) * A_PAGE + 1}–{min(number * A_PAGE, count)}"


def _page_link(number: int, count: int) -> str:
    return f'<a href="{page_name(number)}">{_span(number, count)}</a>'


def _overview(drawings: Sequence[Reported], shown: range, *, elsewhere: bool) -> Iterator[str]:
    """Say of each drawing what became of it, with a way to where it is shown."""
    heads = "".join(f"<th>{escape(head)}</th>" for head in (_("drawing"), _("state")))
    heads += f'<th class="figure">{escape(_("to look at"))}</th>'
    yield f"<table><caption>{escape(_('Drawings'))}</caption>\n<thead><tr>{heads}</tr></thead>\n"
    for number in shown:
        one = drawings[number]
        page = page_name(number // A_PAGE + 1) if elsewhere else ""
        link = f'<a href="{page}#d{number + 1}">{escape(one.name)}</a>'
        state, found = f'<td class="state">{escape(one.state)}</td>', str(one.findings or "")
        yield f'<tr><td class="name">{link}</td>{state}<td class="figure">{found}</td></tr>\n'
    yield "</table>\n"


def _shown(
    drawings: Sequence[Reported], shown: range, record: Callable[[Reported], Mapping[str, Any]]
) -> Iterator[str]:
    for number in shown:
        one = drawings[number]
        yield f'<h2 id="d{number + 1}">{escape(one.name)}</h2>\n'
        is_traceback = "\n" in one.message
        said = one.state if is_traceback or not one.message else f"{one.state}: {one.message}"
        yield f"<p>{escape(said)}</p>\n"
        if is_traceback:
            yield f"<pre>{escape(one.message)}</pre>\n"
        yield from _drawing(one, record(one))


def _drawing(one: Reported, record: Mapping[str, Any]) -> Iterator[str]:
    if record.get("files"):
        folder = PurePosixPath(one.name).parent
        links = (f'<a href="{quote(str(folder / name))}">{escape(name)}</a>' for name in record["files"])
        yield f"<p>{escape(_('Result:'))} {', '.join(links)}</p>\n"
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
    if record.get("pictures"):
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
