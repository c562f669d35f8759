"""``crossgrain cut``: lay every piece out as it is cut, and list what is cut and what else is needed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from crossgrain.cli.amounts import LENGTH, RATIO
from crossgrain.cli.change import Asked
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, reads_drawing
from crossgrain.cli.program import COMMANDS
from crossgrain.cli.show import say, say_findings, show_json, show_table
from crossgrain.cli.to_cut import size_of, title_of, with_cut_lines
from crossgrain.language import _

if TYPE_CHECKING:
    from crossgrain.model import Finding, Pattern
    from crossgrain.model.cutting.cut_plan import CutPlan
    from crossgrain.pipeline import View
    from crossgrain.svg.drawing import Drawing

_FILE = click.Path(path_type=Path)


@click.command(
    "cut",
    cls=Command,
    example="crossgrain cut to-cut.svg -o pieces.svg --list cut-list.html --width-of-cloth 1400mm",
    help=COMMANDS["cut"].summary
    + "\n\n"
    + _(
        "Pieces are moved, turned upright and, where a copy is cut the other way round, mirrored; nothing else. One "
        "paper stands for all copies of a piece and says how many are cut, unless --all lays them all out. A piece "
        "whose cut line went when it was altered gets it again from the allowances that the drawing holds."
    ),
)
@reads_drawing
@click.option("-o", "--output", metavar="OUT.svg", type=_FILE, help=_("The drawing to write; without it only lists."))
@click.option("--overwrite", is_flag=True, help=_("Write over OUT.svg where it is there already."))
@click.option(
    "--beside", is_flag=True, help=_("Write a copy of IN.svg with the pieces laid out beside what is drawn in it.")
)
@click.option("--list", "page", metavar="LIST.html", type=_FILE, help=_("Write the cut list as a page to print."))
@click.option("--all", "all_copies", is_flag=True, help=_("Lay out every copy, those in stabiliser too."))
@click.option("--open-folds", is_flag=True, help=_("Lay out the whole of a piece that is cut on a fold."))
@click.option("--width-of-cloth", type=LENGTH, help=_("How wide the cloth is, and a row of pieces: 1400mm."))
@click.option("--width-of-stabiliser", type=LENGTH, help=_("How wide the stabiliser is: 900mm."))
@click.option("--gap", type=LENGTH, help=_("The least distance between two pieces: 20mm."))
@click.option("--garment", metavar="NAME", help=_("What the garment is called; else as the drawing is."))
@click.option(
    "--size", metavar="SIZE", help=_("The size that is written on the pieces; else that they were graded to.")
)
@click.option("--cloth", metavar="NAME", help=_("What the cloth is called on the pieces."))
@click.option("--fabric", metavar="CLOTH.toml", type=_FILE, help=_("The cloth they are cut from, for its name."))
@click.option(
    "--tape",
    metavar="EDGE",
    multiple=True,
    help=_("Edges that are taped, besides those with a hold; may be given again."),
)
@click.option("--opening", metavar="EDGE", help=_("The edge with the zip, where none is marked; centre if not said."))
@click.option("--efficiency", type=RATIO, help=_("The share of the cloth that ends in pieces: 75%."))
def command(
    job: Job, *, output: Path | None, beside: bool, page: Path | None, fabric: Path | None, **cutting: Any
) -> Exit:
    """Lay out pieces."""
    from crossgrain.pipeline import Stage
    from crossgrain.svg.reader import read_drawing

    if beside and output is None:
        raise click.UsageError(_("--beside goes with -o OUT.svg."))
    given = {name: value for name, value in cutting.items() if value is not None}
    if fabric is not None:
        from crossgrain.files import read_cloth_file

        given.setdefault("cloth", read_cloth_file(fabric).name)
    asked = click.get_current_context().obj
    if isinstance(asked, Asked):
        if beside or page is not None:
            raise click.UsageError(_("In a recipe, cut makes a sheet of its own, and its lists go into the report."))
        asked.stage = Stage(name="cut", pieces=job.pieces, view=lambda drawing: _sheet(drawing, job.pieces, given))
        return Exit.FINE
    drawing = read_drawing(job.source, unit_mm=job.unit_mm)
    pattern, plan, findings = _planned(drawing, job.pieces, given)
    if output is not None:
        _write(drawing, pattern, plan, output, beside=beside, overwrite=job.overwrite)
    if page is not None:
        _write_page(page, plan, findings)
    if job.as_json:
        _show_data(job, output, page, plan, findings)
    else:
        from crossgrain.output.cut_list import cut_tables

        for table in cut_tables(plan):
            show_table(table.heads, table.rows, title=table.title)
    say_findings(findings)
    return Exit.FINDINGS if findings else Exit.FINE


def _planned(
    drawing: Drawing, pieces: Sequence[str], cutting: Mapping[str, Any]
) -> tuple[Pattern, CutPlan, tuple[Finding, ...]]:
    """Return the pieces with their cut lines, how they are laid out, and what to look at."""
    from crossgrain.operations.cutting import Cutting, cut
    from crossgrain.svg.pattern import pattern_of

    pattern, without = with_cut_lines(pattern_of(drawing, pieces))
    outcome = cut(pattern, Cutting(**{"garment": title_of(drawing), "size": size_of(drawing), **cutting}))
    return pattern, outcome.value, (*without, *outcome.findings)


def _sheet(drawing: Drawing, pieces: Sequence[str], cutting: Mapping[str, Any]) -> View:
    """Make the sheet of a drawing, as a step of a recipe."""
    from crossgrain.output.cut_list import cut_tables
    from crossgrain.pipeline import View
    from crossgrain.svg.build import new_drawing
    from crossgrain.svg.cut_sheet import draw_cut_pieces

    _pattern, plan, findings = _planned(drawing, pieces, cutting)
    sheet = new_drawing(plan.width, plan.height, name=drawing.name)
    draw_cut_pieces(sheet, plan)
    return View(drawing=sheet, findings=findings, tables=tuple(cut_tables(plan)))


def _write(drawing: Drawing, pattern: Pattern, plan: CutPlan, target: Path, *, beside: bool, overwrite: bool) -> None:
    from crossgrain.kernel.bounds import Box, bounds
    from crossgrain.svg.build import new_drawing
    from crossgrain.svg.cut_sheet import beside as right_of
    from crossgrain.svg.cut_sheet import draw_cut_pieces
    from crossgrain.svg.writer import write_drawing

    if beside:
        sheet = drawing
        box = Box.around(bounds(line) for piece in pattern.pieces for line in (piece.line, piece.counterpart) if line)
        draw_cut_pieces(sheet, plan, left=right_of(drawing, box.right))
    else:
        sheet = new_drawing(plan.width, plan.height, name=target.name)
        sheet.source = drawing.source  # which is not written over
        draw_cut_pieces(sheet, plan)
    write_drawing(sheet, target, overwrite=overwrite)
    say(_("Wrote {file}.").format(file=target))


def _write_page(page: Path, plan: CutPlan, findings: Sequence[Finding]) -> None:
    from crossgrain.cli.page import write_page
    from crossgrain.output.cut_list import cut_page

    write_page(page, cut_page(plan, findings))
    say(_("Wrote {file}.").format(file=page))


def _show_data(job: Job, output: Path | None, page: Path | None, plan: CutPlan, findings: Sequence[Finding]) -> None:
    from crossgrain.output.cut_list import cut_data

    show_json(
        {
            "input": str(job.source),
            "output": None if output is None else str(output),
            "list": None if page is None else str(page),
            **cut_data(plan),
            "findings": [asdict(finding) for finding in findings],
        }
    )
