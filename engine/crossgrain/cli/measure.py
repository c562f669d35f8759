"""``crossgrain measure``: print edges, lengths, areas, widths and girths."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING

import click

from crossgrain.cli.amounts import LENGTH
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, reads_drawing
from crossgrain.cli.program import COMMANDS
from crossgrain.cli.show import say_findings, show_json, show_table
from crossgrain.language import _
from crossgrain.model import Finding
from crossgrain.notation import write_cut
from crossgrain.units import format_area, format_both, format_length

if TYPE_CHECKING:
    from crossgrain.operations.measuring import Measurements, PieceMeasurement, WidthMeasurement
    from crossgrain.svg.drawing import Drawing


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
def command(job: Job, levels: tuple[float, ...]) -> Exit:
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
        _show(measured)
    say_findings(findings)
    return Exit.FINDINGS if findings else Exit.FINE


def _unreadable(drawing: Drawing, pieces: Sequence[str], said: Sequence[Finding]) -> list[Finding]:
    """Return what else in the drawing cannot be read, unless only some pieces are asked for."""
    if pieces:
        return []
    known = {finding.piece for finding in said}
    return [Finding(piece=id, message=message) for id, message in drawing.unreadable if id not in known]


def _show(measured: Measurements) -> None:
    pieces = measured.pieces
    show_table(
        (_("piece"), _("line"), _("cut"), _("along the grain"), _("around"), _("area")),
        [
            (_label(one), one.outline, write_cut(one.cut), format_both(one.along), format_both(one.perimeter),
             format_area(one.area))
            for one in pieces
        ],
        title=_("Pieces"),
    )  # fmt: skip
    show_table(
        (_("piece"), _("edge"), _("length"), _("allowance")),
        [
            (_label(one), edge.name, format_both(edge.length),
             "" if edge.allowance is None else format_length(edge.allowance))
            for one in pieces
            for edge in one.edges
            if edge.name
        ],
        title=_("Edges"),
    )  # fmt: skip
    show_table(
        (_("piece"), _("level"), _("depth"), _("width"), _("in darts")),
        [
            (_label(one), level_name(width), format_length(width.depth), format_both(width.width),
             format_both(width.intake) if width.intake else "")
            for one in pieces
            for width in one.widths
        ],
        title=_("Widths across the grain"),
    )  # fmt: skip
    show_table(
        (_("seam"), _("piece"), _("length"), _("difference")),
        [
            (seam.name if first else "", label, format_both(length), format_length(seam.difference) if first else "")
            for seam in measured.seams
            for first, (label, length) in zip((True, *[False] * len(seam.sides)), seam.sides, strict=False)
        ],
        title=_("Seams"),
    )
    show_table(
        (_("depth"), _("girth"), _("from")),
        [
            (format_length(girth.depth), format_both(girth.girth),
             ", ".join(f"{label} {format_length(part)}" for label, part in girth.parts))
            for girth in measured.girths
        ],
        title=_("Girths, as often as each piece is cut, darts out"),
    )  # fmt: skip


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
