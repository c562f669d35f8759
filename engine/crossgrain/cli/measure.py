"""``crossgrain measure``: print edges, lengths, areas, widths and girths."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from crossgrain.cli.amounts import LENGTH
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, reads_drawing
from crossgrain.cli.program import COMMANDS
from crossgrain.cli.show import say, say_findings, show_json, show_table
from crossgrain.language import _
from crossgrain.model import Finding, Pattern
from crossgrain.notation.cutting import write_cut
from crossgrain.units import format_area, format_both, format_length

if TYPE_CHECKING:
    from crossgrain.operations.measuring import EdgeMeasurement, Measurements, PieceMeasurement, WidthMeasurement
    from crossgrain.output.text_table import TextTable
    from crossgrain.svg.drawing import Drawing

TABLE_GAP: Final = 30.0
"""Between the pieces and a table beside them, mm."""


@click.command(
    "measure",
    cls=Command,
    example="crossgrain measure trousers.svg --piece back --level 200mm",
    help=COMMANDS["measure"].summary
    + "\n\n"
    + _(
        "Edges of one name on several pieces are a seam. The pieces named, or all that are marked, make up the girths: "
        "each counts as often as it is cut. What cannot be read is said, and the rest is measured."
    ),
)
@reads_drawing
@click.option(
    "--level",
    "levels",
    type=LENGTH,
    multiple=True,
    help=_("A depth below the highest point at which width and girth are wanted; may be given again."),
)
@click.option(
    "-o",
    "--output",
    metavar="OUT.svg",
    type=click.Path(path_type=Path),
    help=_("Write a copy of the drawing with the figures as a table beside the pieces."),
)
@click.option(
    "--page",
    metavar="OUT.html",
    type=click.Path(path_type=Path),
    help=_("Write the figures as a page for the browser."),
)
def command(job: Job, levels: tuple[float, ...], output: Path | None, page: Path | None) -> Exit:
    """Measure pieces."""
    from crossgrain.operations.measuring import measure
    from crossgrain.svg.pattern import readable_pattern
    from crossgrain.svg.reader import read_drawing

    drawing = read_drawing(job.source, unit_mm=job.unit_mm)
    pattern, unread = readable_pattern(drawing, job.pieces)
    measured = measure(pattern, levels)
    findings = (*unread, *_unreadable(drawing, job.pieces, unread), *measured.findings)
    if job.as_json:
        show_json({"input": str(job.source), **asdict(measured), "findings": [asdict(one) for one in findings]})
    else:
        for table in tables(measured):
            show_table(table.heads, table.rows, title=table.title)
    if page is not None:
        _write_page(page, measured, findings, drawing.name)
    if output is not None:
        _write_drawing(drawing, pattern, measured, output)
    say_findings(findings)
    return Exit.FINDINGS if findings else Exit.FINE


def _unreadable(drawing: Drawing, pieces: Sequence[str], said: Sequence[Finding]) -> list[Finding]:
    """Return what else in the drawing cannot be read, unless only some pieces are asked for."""
    if pieces:
        return []
    known = {finding.piece for finding in said}
    return [Finding(piece=id, message=message) for id, message in drawing.unreadable if id not in known]


def tables(measured: Measurements) -> tuple[TextTable, ...]:
    """Set what was measured in tables, in mm and inches."""
    from crossgrain.output.text_table import TextTable

    pieces = measured.pieces
    return (
        TextTable(
            title=_("Pieces"),
            heads=(_("piece"), _("line"), _("cut"), _("along the grain"), _("around"), _("area")),
            rows=tuple(
                (_label(one), _line_name(one), write_cut(one.cut), format_both(one.along), format_both(one.perimeter),
                 format_area(one.area))
                for one in pieces
            ),
        ),
        TextTable(
            title=_("Edges"),
            heads=(_("piece"), _("edge"), _("length"), _("allowance")),
            rows=tuple(
                (_label(one), edge.name, format_both(edge.length),
                 _allowance(edge))
                for one in pieces
                for edge in one.edges
                if edge.name
            ),
        ),
        TextTable(
            title=_("Widths across the grain"),
            heads=(_("piece"), _("level"), _("depth"), _("width"), _("in darts")),
            rows=tuple(
                (_label(one), level_name(width), format_length(width.depth), format_both(width.width),
                 format_both(width.intake) if width.intake else "")
                for one in pieces
                for width in one.widths
            ),
        ),
        TextTable(
            title=_("Seams"),
            heads=(_("seam"), _("piece"), _("length"), _("difference")),
            rows=tuple(
                (seam.name if first else "", label, format_both(length),
                 format_length(seam.difference) if first else "")
                for seam in measured.seams
                for first, (label, length) in zip((True, *[False] * len(seam.sides)), seam.sides, strict=False)
            ),
        ),
        TextTable(
            title=_("Girths, as often as each piece is cut, darts out"),
            heads=(_("depth"), _("girth"), _("from")),
            rows=tuple(
                (format_length(girth.depth), format_both(girth.girth),
                 ", ".join(f"{label} {format_length(part)}" for label, part in girth.parts))
                for girth in measured.girths
            ),
        ),
    )  # fmt: skip


def _line_name(piece: PieceMeasurement) -> str:
    return {"stitch": _("stitch"), "cut": _("cut")}[piece.outline]


def _write_page(page: Path, measured: Measurements, findings: Sequence[Finding], name: str) -> None:
    """Write the tables as a page for the browser."""
    from crossgrain.cli.page import write_page
    from crossgrain.output.text_table import table_page

    write_page(page, table_page(_("Measures of {drawing}").format(drawing=name), tables(measured), findings))
    say(_("Wrote {file}.").format(file=page))


def _write_drawing(drawing: Drawing, pattern: Pattern, measured: Measurements, target: Path) -> None:
    """Write the drawing with the tables on the layer of labels, right of the pieces."""
    from crossgrain.kernel.bounds import Box, bounds
    from crossgrain.model.label import Label
    from crossgrain.output.text_table import table_lines
    from crossgrain.svg.layers import draw_labels
    from crossgrain.svg.writer import write_drawing

    lines = [line for table in tables(measured) if table.rows for line in (*table_lines(table), "")]
    if pattern.pieces and lines:
        box = Box.around(bounds(piece.line) for piece in pattern.pieces)
        table = Label(about="", lines=tuple(lines), at=(box.right + TABLE_GAP, box.top), kind="table")
        draw_labels(drawing, [""], [table])
    write_drawing(drawing, target)
    say(_("Wrote {file}.").format(file=target))


def _allowance(edge: EdgeMeasurement) -> str:
    """Write the width of an edge's allowance, from the narrowest to the widest; empty where none is known."""
    if edge.allowance is None:
        return ""
    widths = [width for _share, width in edge.allowance_stations]
    return f"{format_length(min(widths))} – {format_length(max(widths))}" if widths else format_length(edge.allowance)


def level_name(width: WidthMeasurement) -> str:
    """Say in words at which level a width was taken."""
    return {
        "upper end": _("upper end"),
        "widest": _("widest"),
        "lower end": _("lower end"),
        "given": _("as asked"),
    }[width.kind]


def _label(piece: PieceMeasurement) -> str:
    return piece.name or piece.id
