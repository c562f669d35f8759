"""The written form of a table of bodies, as a spreadsheet saves it::

    # where the figures come from
    size,waist_girth (in),hip_girth (mm)
    8,28 1/4,960
    10,29,985.1

Columns go by the names of ISO 8559-1; each says its unit in brackets, or each of its figures does. Lines that begin
with ``#`` are remarks.
"""

from __future__ import annotations

import csv
import re

from crossgrain.errors import DocumentError, InputError
from crossgrain.language import _
from crossgrain.model.sizes.body_sizes import BodySizes
from crossgrain.units import parse_length

_HEAD = re.compile(r"([a-z][a-z0-9_]*)\s*(?:[(\[]\s*([^)\]\s]+)\s*[)\]])?")


def read_body_sizes(text: str, name: str) -> BodySizes:
    """Read a table of bodies; columns are parted by commas, semicolons or tabs.

    Args:
        text: the text of the file.
        name: what messages call it.

    Raises:
        DocumentError: it cannot be read; the message names the line and the column.

    >>> read_body_sizes("size,hip_girth (in)\\nS,38\\nM,40 1/2", "t.csv").measure("hip_girth")
    (965.2, 1028.7)
    """
    rows = [
        (number, line) for number, line in enumerate(text.splitlines(), 1) if line.strip() and line.strip()[0] != "#"
    ]
    if len(rows) < 2:
        raise DocumentError(
            _("{file} has no sizes.").format(file=name), advice=_("Write a line of names, then one for each size.")
        )
    sign = max(";\t,", key=rows[0][1].count)
    heads = _cells(rows[0][1], sign)
    if heads[0].casefold() not in ("size", _("size").casefold()):
        raise DocumentError(
            _("{file}: the first column is “{name}”, not the size.").format(file=name, name=heads[0]),
            advice=_("Begin its first line with: size."),
        )
    columns = [_column(head, name) for head in heads[1:]]
    known = [column for column, _unit in columns]
    for column in known:
        if known.count(column) > 1:
            raise DocumentError(_("{file}: the column {name} is there twice.").format(file=name, name=column))
    sizes, found = [], []
    for number, line in rows[1:]:
        cells = _cells(line, sign)
        if len(cells) != len(heads):
            raise DocumentError(
                _("{file}, line {line}: {count} figures for {columns} columns.").format(
                    file=name, line=number, count=len(cells) - 1, columns=len(columns)
                ),
                advice=_("Give one for each, and write decimals with a point where commas part the columns."),
            )
        sizes.append(cells[0])
        found.append(
            [_figure(cell, *column, f"{name}, {cells[0]}") for cell, column in zip(cells[1:], columns, strict=True)]
        )
    try:
        return BodySizes(
            sizes=tuple(sizes),
            measures=tuple((column, tuple(row[k] for row in found)) for k, column in enumerate(known)),
        )
    except InputError as error:
        raise DocumentError(f"{name}: {error.message}", advice=error.advice) from error


def _cells(line: str, sign: str) -> list[str]:
    # Inches are marked by the sign that else quotes a cell; only a cell that begins with it is quoted.
    return [cell.strip() for cell in next(csv.reader([line], delimiter=sign, skipinitialspace=True))]


def _column(head: str, name: str) -> tuple[str, str]:
    match = _HEAD.fullmatch(head)
    if match is None:
        raise DocumentError(
            _("{file}: “{head}” is no name of a measure.").format(file=name, head=head),
            advice=_("Use the names of ISO 8559-1 with their unit, as hip_girth (mm)."),
        )
    return match[1], match[2] or ""


def _figure(cell: str, column: str, unit: str, where: str) -> float:
    if not cell:
        raise DocumentError(
            _("{where}: {column} is missing.").format(where=where, column=column), advice=_("Fill it in.")
        )
    if re.fullmatch(r"-.*|0+(?:[.,]0+)?", cell):
        raise DocumentError(
            _("{where}: {column} is {figure}.").format(where=where, column=column, figure=cell),
            advice=_("Write what such a body measures."),
        )
    bare = re.fullmatch(r"[0-9][0-9.,/ -]*[¼½¾⅛⅜⅝⅞]?", cell) is not None
    try:
        return parse_length(f"{cell} {unit}" if bare and unit else cell)
    except InputError as error:
        advice = _("Say the unit in the column's name: {column} (cm).").format(column=column) if bare else error.advice
        raise DocumentError(f"{where}, {column}: {error.message}", advice=advice) from error
