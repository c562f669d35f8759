"""``crossgrain lengthen``: open or close pieces along the grain at a level."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from crossgrain.cli.amounts import LENGTH, PLACE_DOWN, SIGNED_LENGTH
from crossgrain.cli.change import change
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, changes_drawing
from crossgrain.cli.levels import BODY, LEVEL, levels_of
from crossgrain.cli.program import COMMANDS
from crossgrain.language import _


@click.command(
    "lengthen",
    cls=Command,
    example="crossgrain lengthen trousers.svg -o shorter.svg --at 550mm --by -25mm",
    help=COMMANDS["lengthen"].summary
    + "\n\n"
    + _(
        "Every piece that crosses the level becomes longer by the same amount along the grain; a negative amount "
        "shortens. What lies below goes down as it is, and no kink is left. With --keep line the seams stay where they "
        "are and the hem slides along them."
    ),
)
@changes_drawing
@click.option(
    "--at",
    type=PLACE_DOWN,
    required=True,
    help=_("hem, a level as knee (with --body or --level), or a depth as 550mm."),
)
@click.option("--by", type=SIGNED_LENGTH, required=True, help=_("How much longer; -25mm makes it shorter."))
@click.option("--keep", type=click.Choice(["hem-width", "line"]), help=_("What stays; hem-width if not said."))
@click.option("--blend", type=LENGTH, help=_("Over what length it is opened or closed; 100mm if not said."))
@LEVEL
@BODY
def command(
    job: Job,
    *,
    at: tuple[str, float | None],
    levels: tuple[tuple[str, float], ...],
    body: Path | None,
    **given: Any,
) -> Exit:
    """Make pieces longer or shorter."""
    from crossgrain.operations.lengthening import Lengthening, lengthen

    name, depth = at
    lengthening = Lengthening(
        at=name,
        depth=depth,
        levels=levels_of(body, levels),
        **{key: value for key, value in given.items() if value is not None},
    )
    return change(job, lambda pattern: lengthen(pattern, lengthening))
