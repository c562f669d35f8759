"""``crossgrain grade-rules``: make rules for grading from a table of bodies."""

from __future__ import annotations

from pathlib import Path
from typing import Final

import click

from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, reads_drawing
from crossgrain.cli.program import COMMANDS
from crossgrain.cli.show import say, show_outcome
from crossgrain.language import _

_FILE: Final = click.Path(path_type=Path)


@click.command(
    "grade-rules",
    cls=Command,
    example="crossgrain grade-rules trousers.svg --bodies bodies-astm-d5585.csv --spread spread-trousers.toml "
    "--base 10 -o rules.toml",
    help=COMMANDS["grade-rules"].summary
    + "\n\n"
    + _(
        "The table holds measures of the body in each size, columns by their names in ISO 8559-1 with the unit "
        "beside; the spread says which share of each girth and length goes to which point of which piece. The shares "
        "of a girth add up to the whole over all pieces. What comes out is a file of rules to look over and alter."
    ),
)
@reads_drawing
@click.option("--bodies", metavar="TABLE.csv", type=_FILE, required=True, help=_("Measures of the body in each size."))
@click.option(
    "--spread",
    "shares",
    metavar="S.toml",
    type=_FILE,
    required=True,
    multiple=True,
    help=_("Which share goes where; may be given again, as for a bodice and its sleeve."),
)
@click.option("--base", metavar="SIZE", required=True, help=_("The size that the drawing is."))
@click.option("-o", "--output", metavar="R.toml", type=_FILE, required=True, help=_("The rules to write."))
@click.option("--overwrite", is_flag=True, help=_("Write over R.toml where it is there already."))
def command(job: Job, *, bodies: Path, shares: tuple[Path, ...], base: str, output: Path) -> Exit:
    """Make rules."""
    from crossgrain.files import read_text, write_text
    from crossgrain.model.sizes.spread import spreads_together
    from crossgrain.notation.body_sizes import read_body_sizes
    from crossgrain.notation.grade_rules import write_grade_rules
    from crossgrain.notation.spread import read_spread
    from crossgrain.operations.spreading import Spreading, spread
    from crossgrain.svg.pattern import pattern_of
    from crossgrain.svg.reader import read_drawing

    table = read_body_sizes(read_text(bodies), bodies.name)
    read = spreads_together([read_spread(read_text(one), one.name) for one in shares])
    wanted = Spreading(spread=read, bodies=table, base=base)
    drawing = read_drawing(job.source, unit_mm=job.unit_mm)
    outcome = spread(pattern_of(drawing, job.pieces), wanted)
    remarks = (
        _("Rules for grading {drawing}, made by crossgrain grade-rules.").format(drawing=job.source.name),
        _("Bodies: {file}. Shares: {spread}.").format(file=bodies.name, spread=", ".join(one.name for one in shares)),
    )
    write_text(output, write_grade_rules(outcome.value, remarks), overwrite=job.overwrite)
    say(_("Wrote {file}.").format(file=output))
    return show_outcome(outcome, as_json=job.as_json, input=str(job.source), output=str(output))
