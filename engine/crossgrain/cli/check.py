"""``crossgrain check``: look a pattern over before it is cut."""

from __future__ import annotations

import os.path
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from crossgrain.cli.change import Asked
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, reads_drawing
from crossgrain.cli.program import COMMANDS
from crossgrain.cli.show import say, show_json, show_table
from crossgrain.language import _, level_word
from crossgrain.units import format_length, format_share

if TYPE_CHECKING:
    from crossgrain.checks.checked import Checked
    from crossgrain.checks.ease import PlacedLevel
    from crossgrain.cli.look_over import Wearing
    from crossgrain.fabric.cloth import Cloth
    from crossgrain.model import Finding, Pattern
    from crossgrain.output.text_table import TextTable
    from crossgrain.pipeline import Stage
    from crossgrain.svg.drawing import Drawing

_FILE = click.Path(path_type=Path)
UNWORN: Final = _("Girths, ease, and whether hip and foot pass: give --body BODY.toml.")
"""What is not checked where nobody is named who wears it."""


@click.command(
    "check",
    cls=Command,
    example="crossgrain check trousers.svg --mark looked-over.svg",
    help=COMMANDS["check"].summary
    + "\n\n"
    + _(
        "Each finding has its number, its place and the next step. What cannot be checked is said, and is no finding. "
        "Edges of one name on several pieces are a seam; waist, hem, neck and armhole go on from piece to piece. The "
        "exit code is 1 where anything is found. Of a folder of sizes, as crossgrain grade writes it, every seam is "
        "walked in every size."
    ),
)
@reads_drawing
@click.option("--body", metavar="BODY.toml", type=_FILE, help=_("The body that is to wear it, for girths and ease."))
@click.option("--fabric", metavar="F.toml", type=_FILE, help=_("The cloth it is to be cut from; goes with --body."))
@click.option("--opening", metavar="EDGE", help=_("The edge whose holds lie under the other side; centre if not said."))
@click.option(
    "--not-sewn",
    "not_sewn",
    metavar="EDGE",
    multiple=True,
    help=_("A name of edges that are not sewn to each other but go on from piece to piece; may be given again."),
)
@click.option(
    "--mark",
    metavar="OUT.svg",
    type=_FILE,
    help=_("Write a copy of the drawing with each finding as a numbered mark on a layer of its own."),
)
@click.option("--overwrite", is_flag=True, help=_("Write over OUT.svg where it is there already."))
def command(
    job: Job,
    *,
    body: Path | None,
    fabric: Path | None,
    opening: str | None,
    not_sewn: tuple[str, ...],
    mark: Path | None,
) -> Exit:
    """Check a pattern, or every seam in every size where a folder of them is named."""
    if os.path.isdir(job.source):  # Path.is_dir raises on a name that is too long for a file
        from crossgrain.cli.check_sizes import check_folder

        if body is not None or fabric is not None or mark is not None:
            raise click.UsageError(_("--body, --fabric and --mark go with one drawing, not with a folder of sizes."))
        return check_folder(job, not_sewn)
    from crossgrain.cli.look_over import Wearing, look_over
    from crossgrain.files import read_body_file, read_cloth_file
    from crossgrain.svg.reader import read_drawing

    if fabric is not None and body is None:
        raise click.UsageError(_("--fabric goes with --body: how far a cloth stretches depends on who wears it."))
    cloth = None if fabric is None else read_cloth_file(fabric)
    worn = Wearing(body=None if body is None else read_body_file(body), cloth=cloth, opening=opening)
    asked = click.get_current_context().obj
    if isinstance(asked, Asked):
        asked.stage = _stage(job, worn, not_sewn, mark)
        return Exit.FINE
    drawing = read_drawing(job.source, unit_mm=job.unit_mm)
    looked = look_over(drawing, job.pieces, worn, not_sewn)
    checked, levels = looked.checked, looked.levels
    if job.as_json:
        show_json(_data(job, checked, levels, cloth, wears=body is not None))
    else:
        _show(checked, levels, cloth)
    for sentence in (*([UNWORN] if body is None else []), *checked.unchecked):
        say(_("Not checked: {sentence}").format(sentence=sentence))
    if cloth is not None:
        from crossgrain.fabric.pressure import ESTIMATE

        say(ESTIMATE)
    if mark is not None:
        _mark(drawing, looked.pattern, checked.findings, mark, overwrite=job.overwrite)
    if not checked.findings:
        say(_("Nothing was found."))
    return Exit.FINDINGS if checked.findings else Exit.FINE


def _data(
    job: Job, checked: Checked, levels: Sequence[PlacedLevel], cloth: Cloth | None, *, wears: bool
) -> dict[str, object]:
    from crossgrain.checks.ease import worn_at
    from crossgrain.cli.fabric.figures import data_of

    rows = worn_at(levels, cloth) if cloth is not None else [None] * len(levels)
    return {
        "input": str(job.source),
        "findings": [{"number": number, **asdict(finding)} for number, finding in enumerate(checked.findings, start=1)],
        "unchecked": [*([UNWORN] if not wears else []), *checked.unchecked],
        "levels": [
            {
                "name": one.level.name,
                "body": one.level.body,
                "pieces": one.level.piece,
                "ease": one.ease,
                "strain": one.level.strain,
                "worn": None if row is None else data_of(row.as_it_stands),
            }
            for one, row in zip(levels, rows, strict=True)
        ],
    }


def _show(checked: Checked, levels: Sequence[PlacedLevel], cloth: Cloth | None) -> None:
    show_table(
        (_("no."), _("piece"), _("edge"), _("at"), _("what"), _("next step")),
        [
            (
                str(number),
                finding.piece,
                finding.edge,
                "" if finding.position is None else f"{finding.position[0]:.0f}, {finding.position[1]:.0f}",
                _words(finding),
                finding.advice,
            )
            for number, finding in enumerate(checked.findings, start=1)
        ],
        title=_("To look at"),
    )
    table = _level_table(levels, cloth)
    show_table(table.heads, table.rows, title=table.title)


def _words(finding: Finding) -> str:
    return f"{_('Caution')}: {finding.message}" if finding.severity == "caution" else finding.message


def _level_table(levels: Sequence[PlacedLevel], cloth: Cloth | None) -> TextTable:
    from crossgrain.checks.ease import worn_at
    from crossgrain.cli.fabric.figures import estimate_text
    from crossgrain.output.text_table import TextTable
    from crossgrain.units import format_pressure

    rows = worn_at(levels, cloth) if cloth is not None else [None] * len(levels)
    of_cloth = (_("stretched by"), _("of its stretch"), _("pressure, estimate"))
    return TextTable(
        title=_("Girths and ease; of one leg, where it is a leg's"),
        heads=(_("level"), _("body"), _("pieces"), _("ease"), *of_cloth),
        rows=tuple(
            (
                level_word(one.level.name),
                format_length(one.level.body),
                format_length(one.level.piece),
                format_length(one.ease),
                "" if row is None else format_share(row.as_it_stands.strain),
                "" if row is None else format_share(row.as_it_stands.used, digits=0),
                "" if row is None else estimate_text(row.as_it_stands.pressure, format_pressure),
            )
            for one, row in zip(levels, rows, strict=True)
        ),
    )


def _stage(job: Job, worn: Wearing, not_sewn: Sequence[str], mark: Path | None) -> Stage:
    """Return the step of a recipe: what is found goes into its report, and what holds of any drawing is said once."""
    from crossgrain.cli.look_over import look_over
    from crossgrain.fabric.pressure import ESTIMATE
    from crossgrain.output.text_table import TextTable
    from crossgrain.pipeline import Stage, View

    if mark is not None:
        raise click.UsageError(_("In a recipe, what check finds goes into the report; --mark is for one drawing."))

    def view(drawing: Drawing) -> View:
        looked = look_over(drawing, job.pieces, worn, not_sewn)
        unchecked = tuple((sentence,) for sentence in looked.checked.unchecked)
        return View(
            findings=looked.checked.findings,
            tables=(
                _level_table(looked.levels, worn.cloth),
                TextTable(title=_("Not checked"), heads=(_("what"),), rows=unchecked),
            ),
        )

    if worn.body is None:
        say(_("Not checked: {sentence}").format(sentence=UNWORN))
    if worn.cloth is not None:
        say(ESTIMATE)
    return Stage(name="check", pieces=job.pieces, view=view)


def _mark(drawing: Drawing, pattern: Pattern, findings: Sequence[Finding], target: Path, *, overwrite: bool) -> None:
    """Write the drawing with the findings on the layer of findings."""
    from crossgrain.output.finding_marks import finding_marks
    from crossgrain.svg.layers import draw_findings
    from crossgrain.svg.writer import write_drawing

    draw_findings(drawing, finding_marks(pattern, findings))
    write_drawing(drawing, target, overwrite=overwrite)
    say(_("Wrote {file}.").format(file=target))
