"""``crossgrain recipe``: look at recipes."""

from __future__ import annotations

from typing import Final

import click

from crossgrain.cli.command import Entry, LazyGroup
from crossgrain.cli.program import COMMANDS
from crossgrain.language import _

RECIPE_COMMANDS: Final = {
    "check": Entry("crossgrain.cli.recipe.check", _("Find the mistakes in a recipe before anything runs.")),
}


@click.group(
    "recipe",
    cls=LazyGroup,
    table=RECIPE_COMMANDS,
    example="crossgrain recipe check recut.toml",
    help=COMMANDS["recipe"].summary,
)
def command() -> None:
    """Hold the commands; it does nothing itself."""
