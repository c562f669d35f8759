"""``crossgrain check``: look a pattern over before it is cut."""

from __future__ import annotations

import os.path
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

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
    from crossgrain.fabric.body import Body
    from crossgrain.fabric.cloth import Cloth
    from crossgrain.model import Finding, Pattern
    from crossgrain.svg.drawing import Drawing

_FILE = click.Path(path_type=Path)


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
    from crossgrain.checks.checked import Checked, together
    from crossgrain.checks.pattern import Looking, check_pattern
    from crossgrain.cli.meant_eases import meant_eases
    from crossgrain.files import read_body_file, read_cloth_file
    from crossgrain.svg.markup import states_grain
    from crossgrain.svg.pattern import readable_pattern
    from crossgrain.svg.reader import read_drawing

    if fabric is not None and body is None:
        raise click.UsageError(_("--fabric goes with --body: how far a cloth stretches depends on who wears it."))
    wearer = None if body is None else read_body_file(body)
    cloth = None if fabric is None else read_cloth_file(fabric)
    drawing = read_drawing(job.source, unit_mm=job.unit_mm)
    pattern, unread = readable_pattern(drawing, job.pieces)
    without_grain = frozenset(
        piece.id for piece in pattern.pieces if piece.name and not states_grain(drawing.shape(piece.id).element)
    )
    eases, lost = meant_eases(drawing)
    looked = check_pattern(pattern, Looking(going_on=not_sewn, eases=eases, without_grain=without_grain))
    worn, levels = _worn(pattern, wearer, cloth, opening)
    checked = together([Checked(findings=(*unread, *_unreadable(drawing, job, unread)), unchecked=lost), looked, worn])
    if job.as_json:
        show_json(_data(job, checked, levels, cloth))
    else:
        _show(checked, levels, cloth)
    for sentence in checked.unchecked:
        say(_("Not checked: {sentence}").format(sentence=sentence))
    if cloth is not None:
        from crossgrain.fabric.pressure import ESTIMATE

        say(ESTIMATE)
    if mark is not None:
        _mark(drawing, pattern, checked.findings, mark, overwrite=job.overwrite)
    if not checked.findings:
        say(_("Nothing was found."))
    return Exit.FINDINGS if checked.findings else Exit.FINE


def _unreadable(drawing: Drawing, job: Job, said: Sequence[Finding]) -> list[Finding]:
    """Return what else in the drawing cannot be read, unless only some pieces are asked for."""
    from crossgrain.model import Finding

    if job.pieces:
        return []
    known = {finding.piece for finding in said}
    return [Finding(piece=id, message=message) for id, message in drawing.unreadable if id not in known]


def _worn(
    pattern: Pattern, body: Body | None, cloth: Cloth | None, opening: str | None
) -> tuple[Checked, tuple[PlacedLevel, ...]]:
    """Check what depends on who wears it."""
    from crossgrain.checks.checked import Checked, together

    if body is None:
        return Checked(unchecked=(_("Girths, ease, and whether hip and foot pass: give --body BODY.toml."),)), ()
    from crossgrain.checks.dressing import check_dressing
    from crossgrain.checks.ease import PlacedLevel, check_ease
    from crossgrain.checks.outlines import check_outline
    from crossgrain.errors import CrossgrainError
    from crossgrain.model import Pattern
    from crossgrain.model.girths import OPENING
    from crossgrain.model.level_place import level_place
    from crossgrain.operations.cloth_reduction import stations

    pattern = Pattern(pieces=tuple(piece for piece in pattern.pieces if not check_outline(piece).findings))
    try:
        found, missing = stations(pattern, body, opening or OPENING)
    except CrossgrainError as error:
        return Checked(unchecked=(_("Girths and ease: {reason}").format(reason=error),)), ()
    levels = []
    for station in found:
        piece, at = level_place(pattern, station.depth, station.edge)
        levels.append(PlacedLevel(level=station.level, piece=piece, at=at))
    left_out = tuple(" ".join((one.piece, one.message, one.advice)).strip() for one in missing)
    return together(
        [
            check_ease(levels, cloth),
            check_dressing(pattern, body, cloth, opening or OPENING),
            Checked(unchecked=left_out),
        ]
    ), tuple(levels)


def _data(job: Job, checked: Checked, levels: Sequence[PlacedLevel], cloth: Cloth | None) -> dict[str, object]:
    from crossgrain.checks.ease import worn_at
    from crossgrain.cli.fabric.figures import data_of

    rows = worn_at(levels, cloth) if cloth is not None else [None] * len(levels)
    return {
        "input": str(job.source),
        "findings": [{"number": number, **asdict(finding)} for number, finding in enumerate(checked.findings, start=1)],
        "unchecked": list(checked.unchecked),
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
    _show_levels(levels, cloth)


def _words(finding: Finding) -> str:
    return f"{_('Caution')}: {finding.message}" if finding.severity == "caution" else finding.message


def _show_levels(levels: Sequence[PlacedLevel], cloth: Cloth | None) -> None:
    if not levels:
        return
    from crossgrain.checks.ease import worn_at
    from crossgrain.cli.fabric.figures import estimate_text
    from crossgrain.units import format_pressure

    rows = worn_at(levels, cloth) if cloth is not None else [None] * len(levels)
    of_cloth = (_("stretched by"), _("of its stretch"), _("pressure, estimate"))
    show_table(
        (_("level"), _("body"), _("pieces"), _("ease"), *of_cloth),
        [
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
        ],
        title=_("Girths and ease; of one leg, where it is a leg's"),
    )


def _mark(drawing: Drawing, pattern: Pattern, findings: Sequence[Finding], target: Path, *, overwrite: bool) -> None:
    """Write the drawing with the findings on the layer of findings."""
    from crossgrain.output.finding_marks import finding_marks
    from crossgrain.svg.layers import draw_findings
    from crossgrain.svg.writer import write_drawing

    draw_findings(drawing, finding_marks(pattern, findings))
    write_drawing(drawing, target, overwrite=overwrite)
    say(_("Wrote {file}.").format(file=target))
