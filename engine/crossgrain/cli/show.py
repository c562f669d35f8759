"""Show what was done: figures as a table or as JSON, findings as sentences."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING, Any, Final

import click

from crossgrain.cli.exits import Exit
from crossgrain.language import _, headed
from crossgrain.units import format_area, format_both, format_share

if TYPE_CHECKING:
    from crossgrain.model import Change, Finding, Outcome

WIDEST: Final = 100
"""Columns of a table where the output is not a terminal; a longer line would be wrapped by most viewers."""

_FIGURE: Final = re.compile(r"-?[0-9.]+( (mm|cm²|%)|$)")


def show_outcome(outcome: Outcome[Any], *, as_json: bool, **about: object) -> Exit:
    """Print the changes as data and the findings as messages.

    Args:
        outcome: what an operation gave back.
        as_json: print one JSON object with both.
        about: what else that object says, as the file that was written.

    Returns:
        ``FINDINGS`` where there is something to look at, or ``FINE``.
    """
    if as_json:
        show_json(
            {
                **about,
                "changes": [asdict(change) for change in outcome.changes],
                "findings": [asdict(finding) for finding in outcome.findings],
            }
        )
    else:
        show_table(
            (_("piece"), _("edge"), _("what"), _("before"), _("after")),
            [
                (change.piece, change.edge, change.what, _figure(change, change.before), _figure(change, change.after))
                for change in outcome.changes
            ],
        )
    say_findings(outcome.findings)
    return Exit.FINDINGS if outcome.findings else Exit.FINE


def show_json(data: object) -> None:
    """Print one JSON value on standard output; what is no number cannot get into it."""
    click.echo(json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False))


def say(message: str) -> None:
    """Write a message to standard error."""
    click.echo(message, err=True)


def say_findings(findings: Iterable[Finding]) -> None:
    """Write findings to standard error, cautions first."""
    for finding in sorted(findings, key=lambda finding: finding.severity != "caution"):
        where = finding.where
        if finding.position is not None:
            where += _(" at x {x:.1f} mm, y {y:.1f} mm").format(x=finding.position[0], y=finding.position[1])
        say(headed(finding.kind, where.strip(), finding.said))


def show_table(heads: Sequence[str], rows: Sequence[Sequence[str]], *, title: str = "") -> None:
    """Print a table, leaving out columns in which nothing stands; nothing at all without rows.

    Args:
        heads: a word over each column.
        rows: as many texts each.
        title: what stands over it.
    """
    if not rows:
        return
    from rich import box
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    console = Console(highlight=False)
    if not console.is_terminal:
        console = Console(highlight=False, width=max(WIDEST, _natural_width(heads, rows)))
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, title=title or None, title_justify="left", title_style="bold")
    kept = [column for column in range(len(heads)) if any(row[column] for row in rows)]
    for column in kept:
        figures = all(_FIGURE.match(row[column]) for row in rows if row[column])
        table.add_column(heads[column], justify="right" if figures else "left", overflow="fold")
    for row in rows:
        table.add_row(*(Text(row[column]) for column in kept))
    console.print(table)


def _natural_width(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> int:
    return sum(max(len(text) for text in column) + 3 for column in zip(heads, *rows, strict=True)) + 1


def _figure(change: Change, value: float) -> str:
    match change.unit:
        case "mm":
            return format_both(value)
        case "mm2":
            return format_area(value)
        case "nodes":
            return f"{value:.0f}"
        case "ratio":
            return format_share(value)
