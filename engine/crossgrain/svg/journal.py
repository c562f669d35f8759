"""The journal of a drawing: what was done to which pieces, one line for each operation.

It stands in the drawing's ``metadata``, so that work done by eye in the editor can be replayed on another size or
cloth::

    <metadata><crossgrain:journal>
      <crossgrain:entry operation="reduce" pieces="front back" by="8%"/>
    </crossgrain:journal></metadata>
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from lxml import etree

from crossgrain.errors import DocumentError, ParameterError
from crossgrain.language import _
from crossgrain.svg.drawing import Drawing
from crossgrain.svg.names import crossgrain, svg

_WORD: Final = re.compile(r"[a-z][a-z0-9-]*")


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One operation that was done.

    Args:
        operation: the verb, as ``reduce``.
        pieces: the ids of the pieces it was done to.
        parameters: name and value of each parameter as the maker wrote it; the names in small letters, each once.

    >>> Entry(operation="reduce", pieces=("front",), parameters=(("by", "8%"),)).parameters
    (('by', '8%'),)
    """

    operation: str
    pieces: tuple[str, ...] = ()
    parameters: tuple[tuple[str, str], ...] = ()

    def __post_init__(self) -> None:
        names = [name for name, _value in self.parameters]
        for name in (self.operation, *names):
            if not _WORD.fullmatch(name) or name in ("operation", "pieces") or names.count(name) > 1:
                raise ParameterError(_("“{name}” cannot stand in the journal.").format(name=name))
        for piece in self.pieces:
            if not piece or piece.split() != [piece]:
                raise ParameterError(_("“{id}” is no id of a piece.").format(id=piece))


def append(drawing: Drawing, entry: Entry) -> None:
    """Add a line at the end of the drawing's journal.

    Args:
        drawing: the drawing; altered in place.
        entry: what was done.
    """
    journal = next(_journals(drawing), None)
    if journal is None:
        journal = etree.SubElement(
            _metadata(drawing), crossgrain("journal"), nsmap={"crossgrain": crossgrain("")[1:-1]}
        )
        journal.text, journal.tail = "\n", "\n"
    line = etree.SubElement(journal, crossgrain("entry"))
    line.set("operation", entry.operation)
    line.set("pieces", " ".join(entry.pieces))
    for name, value in entry.parameters:
        line.set(name, value)
    line.tail = "\n"


def entries(drawing: Drawing) -> tuple[Entry, ...]:
    """Read the drawing's journal from its first line to its last.

    Raises:
        DocumentError: a line that says no operation.
    """
    return tuple(
        _read(line, number)
        for journal in _journals(drawing)
        for number, line in enumerate(journal.iterchildren(crossgrain("entry")), 1)
    )


def _read(line: etree._Element, number: int) -> Entry:
    given = {str(name): str(value) for name, value in line.attrib.items()}
    try:
        return Entry(
            operation=given.pop("operation", ""),
            pieces=tuple(given.pop("pieces", "").split()),
            parameters=tuple(given.items()),
        )
    except ParameterError as error:
        raise DocumentError(
            _("Line {number} of the drawing's journal cannot be read: {message}").format(
                number=number, message=error.message
            ),
            advice=_("Mend or remove it in the editor's XML panel."),
        ) from error


def _journals(drawing: Drawing) -> Iterator[etree._Element]:
    for metadata in drawing.root.iterchildren(svg("metadata")):
        yield from metadata.iterchildren(crossgrain("journal"))


def _metadata(drawing: Drawing) -> etree._Element:
    found = next(drawing.root.iterchildren(svg("metadata")), None)
    if found is None:
        found = etree.Element(svg("metadata"))
        drawing.root.insert(0, found)
        found.tail = drawing.root.text
    return found
