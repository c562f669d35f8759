"""``crossgrain fabric learn``: add to a cloth what a fitting taught."""

from __future__ import annotations

from pathlib import Path

import click

from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.fabric import FABRIC_COMMANDS
from crossgrain.cli.fabric.amounts import GIRTH, LENGTH
from crossgrain.cli.fabric.figures import data_of, estimate_text
from crossgrain.cli.fabric.levels import levels_of
from crossgrain.cli.show import say, say_findings, show_json
from crossgrain.fabric.cloth_text import read_cloth, with_learned
from crossgrain.fabric.learning import Lesson, learn
from crossgrain.fabric.pressure import ESTIMATE
from crossgrain.files import read_body_file, read_cloth_file, read_text, write_text
from crossgrain.language import _
from crossgrain.units import format_share, format_tension

_FILE = click.Path(path_type=Path)


@click.command(
    "learn",
    cls=Command,
    example="crossgrain fabric learn new.toml -o new-learned.toml --drafted-for drafted-for.toml --body body.toml "
    "--pattern trousers.svg --fitted hip=93.2cm",
    help=FABRIC_COMMANDS["learn"].summary
    + "\n\n"
    + _(
        "A fitting where the garment felt right is a measurement: the tension there is that of the cloth the pattern "
        "was drafted for. All that stands in the cloth's file stays; the point is added at its end."
    ),
)
@click.argument("cloth_file", metavar="NEW.toml", type=_FILE)
@click.option("-o", "--output", metavar="OUT.toml", type=_FILE, help=_("The cloth file to write."))
@click.option("--in-place", is_flag=True, help=_("Change NEW.toml itself instead."))
@click.option("--overwrite", is_flag=True, help=_("Write over OUT.toml where it is there already."))
@click.option("--drafted-for", metavar="OLD.toml", type=_FILE, required=True, help=_("The cloth it was drafted for."))
@click.option("--body", metavar="BODY.toml", type=_FILE, required=True, help=_("The body that was fitted."))
@click.option("--pattern", metavar="IN.svg", type=_FILE, help=_("The drawing whose pieces give the drafted girth."))
@click.option("--scale", type=LENGTH, help=_("The length of the drawing's user unit, where it does not say it."))
@click.option("--girth", "girths", type=GIRTH, multiple=True, help=_("The drafted girth of the pieces: hip=96cm."))
@click.option("--fitted", type=GIRTH, required=True, help=_("The girth at which it felt right: hip=93.2cm."))
@click.option("--json", "as_json", is_flag=True, help=_("Print the data as JSON."))
def command(
    cloth_file: Path,
    output: Path | None,
    in_place: bool,
    overwrite: bool,
    drafted_for: Path,
    body: Path,
    pattern: Path | None,
    scale: float | None,
    girths: tuple[tuple[str, float], ...],
    fitted: tuple[str, float],
    as_json: bool,
) -> Exit:
    """Learn from a fitting."""
    if in_place == (output is not None):
        raise click.UsageError(_("Say where to write: -o OUT.toml, or --in-place to change NEW.toml itself."))
    text = read_text(cloth_file)
    cloth = read_cloth(text, cloth_file.name)
    name, girth = fitted
    levels, findings = levels_of(read_body_file(body), girths, pattern, scale)
    level = next((one for one in levels if one.name == name), None)
    if level is None:
        raise click.UsageError(
            _("The drafted girth at the {level} is not known: give --pattern or --girth.").format(level=name)
        )
    source = pattern.name if pattern is not None else ""
    lesson = learn(read_cloth_file(drafted_for), cloth, level, girth, source)
    new_text = with_learned(text, lesson.learned)
    read_cloth(new_text, cloth_file.name)  # what is written can be read
    write_text(output or cloth_file, new_text, overwrite=overwrite or in_place)
    if as_json:
        show_json(data_of({"learned": lesson.learned, "bench": lesson.bench, "was_off_by": lesson.was_off_by}))
    else:
        click.echo(_sentence(lesson))
    say(_("Wrote {file}.").format(file=output or cloth_file))
    say(ESTIMATE)
    say_findings([finding for finding in findings if finding.piece == name])
    return Exit.FINE


def _sentence(lesson: Lesson) -> str:
    learned, off = lesson.learned, lesson.was_off_by
    return _(
        "At the {level} it pulls with {tension} when stretched by {strain}; the bench test had said {bench}{off}."
    ).format(
        level=learned.level,
        tension=format_tension(learned.tension),
        strain=format_share(learned.strain),
        bench=estimate_text(lesson.bench, format_share),
        off="" if off is None else _(", off by {off}").format(off=format_share(off)),
    )
