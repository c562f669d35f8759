"""``crossgrain recipe check``: find the mistakes in a recipe."""

from __future__ import annotations

from pathlib import Path

import click

from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.recipe import RECIPE_COMMANDS
from crossgrain.cli.show import say
from crossgrain.language import _


@click.command(
    "check",
    cls=Command,
    example="crossgrain recipe check recut.toml",
    help=RECIPE_COMMANDS["check"].summary
    + "\n\n"
    + _(
        "Each is said with its line and, where a word is not known, the nearest that is. A variable that stands for "
        "nothing yet is left to whoever runs the recipe."
    ),
)
@click.argument("recipe", metavar="RECIPE.toml", type=click.Path(path_type=Path))
def command(recipe: Path) -> Exit:
    """Check a recipe."""
    from crossgrain.cli.steps import all_mistakes
    from crossgrain.recipe import read_recipe

    read = read_recipe(recipe)
    found = list(all_mistakes(read))
    for mistake in found:
        say(str(mistake))
    if found:
        return Exit.FINDINGS
    count = len(read.steps)
    click.echo(_("One step, no mistake.") if count == 1 else _("{count} steps, no mistake.").format(count=count))
    return Exit.FINE
