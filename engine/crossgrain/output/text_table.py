"""Tables of text: the same figures on a page in the browser and in columns on the drawing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from crossgrain.language import _
from crossgrain.model import Finding
from crossgrain.output.document import document, finding_list


@dataclass(frozen=True, slots=True, kw_only=True)
class TextTable:
    """Texts in columns.

    Args:
        title: what stands over it.
        heads: a word over each column.
        rows: as many texts each.
    """

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    def used(self) -> TextTable:
        """Return the table without the columns in which nothing stands."""
        kept = [column for column in range(len(self.heads)) if any(row[column] for row in self.rows)]
        return TextTable(
            title=self.title,
            heads=tuple(self.heads[column] for column in kept),
            rows=tuple(tuple(row[column] for column in kept) for row in self.rows),
        )


def table_lines(table: TextTable) -> tuple[str, ...]:
    """Set a table in lines of one width of sign.

    >>> table_lines(TextTable(title="Edges", heads=("edge", "length"), rows=(("hem", "148.0 mm"),)))
    ('Edges', 'edge  length', 'hem   148.0 mm')
    """
    used = table.used()
    columns = list(zip(used.heads, *used.rows, strict=True))
    widths = [max(len(text) for text in column) for column in columns]
    lines = [
        "  ".join(text.ljust(width) for text, width in zip(row, widths, strict=True)).rstrip()
        for row in (used.heads, *used.rows)
    ]
    return (used.title, *lines)


def table_page(
    title: str, tables: Sequence[TextTable], findings: Sequence[Finding] = (), after: Sequence[str] = ()
) -> str:
    """Write a page of tables.

    Args:
        title: its heading.
        tables: what stands on it; tables without rows are left out.
        findings: what to look at.
        after: HTML that stands behind the tables.

    Returns:
        A whole HTML document that asks nothing of the network.
    """
    body = [f"<h1>{escape(title)}</h1>"]
    if findings:
        body += [f"<h2>{escape(_('To look at'))}</h2>", finding_list(findings)]
    for table in tables:
        if not table.rows:
            continue
        used = table.used()
        head = "".join(f"<th>{escape(text)}</th>" for text in used.heads)
        rows = "".join("<tr>" + "".join(f"<td>{escape(text)}</td>" for text in row) + "</tr>" for row in used.rows)
        body += [
            f"<h2>{escape(table.title)}</h2>",
            f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>",
        ]
    return document(title, [*body, *after])
