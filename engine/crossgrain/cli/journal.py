"""``crossgrain journal``: write what was done to a drawing as a recipe."""

from __future__ import annotations

from pathlib import Path

import click

from crossgrain.cli.amounts import LENGTH
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.program import COMMANDS
from crossgrain.cli.show import say, show_json
from crossgrain.errors import DocumentError
from crossgrain.language import _


@click.command(
    "journal",
    cls=Command,
    example="crossgrain journal fitted.svg -o fitted.toml",
    help=COMMANDS["journal"].summary
    + "\n\n"
    + _(
        "Each operation leaves a line in the drawing's journal, whether it came from the menu or from here. As a "
        "recipe they can be done again to another drawing: crossgrain run. Without -o the recipe is printed."
    ),
)
@click.argument("source", metavar="IN.svg", type=click.Path(path_type=Path))
@click.option("-o", "--output", metavar="RECIPE.toml", type=click.Path(path_type=Path), help=_("The recipe to write."))
@click.option("--overwrite", is_flag=True, help=_("Write over a recipe that is there already."))
@click.option("--scale", type=LENGTH, help=_("The length of one user unit, where the drawing does not say it."))
@click.option("--json", "as_json", is_flag=True, help=_("Print the steps as JSON."))
def command(source: Path, output: Path | None, overwrite: bool, scale: float | None, as_json: bool) -> Exit:
    """Write a recipe."""
    from crossgrain.cli.steps import step_of_entry
    from crossgrain.files import keep_drawing, write_text
    from crossgrain.recipe import Recipe, write_recipe
    from crossgrain.svg.journal import entries
    from crossgrain.svg.pattern import pattern_of
    from crossgrain.svg.reader import read_drawing

    drawing = read_drawing(source, unit_mm=scale)
    done = entries(drawing)
    if not done:
        raise DocumentError(
            _("The journal of {drawing} is empty: nothing was done to it yet.").format(drawing=source.name),
            advice=_("Change it first, from the menu or by a command."),
        )
    pieces = frozenset(piece.id for piece in pattern_of(drawing).pieces)
    recipe = Recipe(steps=tuple(step_of_entry(entry, pieces) for entry in done))
    text = write_recipe(recipe, remarks=[_("What was done to {drawing}.").format(drawing=source.name)])
    if as_json:
        show_json([{"do": step.do, **dict(step.given)} for step in recipe.steps])
    elif output is None:
        click.echo(text, nl=False)
    if output is not None:
        keep_drawing(output, source)
        write_text(output, text, overwrite=overwrite)
        say(_("Wrote {file}.").format(file=output))
    return Exit.FINE
