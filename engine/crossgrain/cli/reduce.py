"""``crossgrain reduce``: narrow pieces along the cross grain, for cloth that stretches."""

from __future__ import annotations

from typing import Any

import click

from crossgrain.cli.amounts import SHARE
from crossgrain.cli.change import change
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, changes_drawing
from crossgrain.cli.program import COMMANDS
from crossgrain.language import _


@click.command(
    "reduce",
    cls=Command,
    example="crossgrain reduce front.svg -o narrower.svg --by 8%",
    help=COMMANDS["reduce"].summary
    + "\n\n"
    + _(
        "Holds keep their width and the piece still narrows by the share asked: the free part takes it up. Lengthways "
        "nothing moves, unless --along says so. Without --piece, all marked pieces are narrowed."
    ),
)
@changes_drawing
@click.option("--by", type=SHARE, required=True, help=_("The share of the width to take away: 8%; -3% adds to it."))
@click.option("--along", type=SHARE, help=_("The share of the length to take away, for stretch both ways."))
@click.option("--anchor", metavar="EDGE", help=_("The edge that stays where it is, instead of the grain line or fold."))
def command(job: Job, **reduction: Any) -> Exit:
    """Narrow pieces."""
    from crossgrain.operations.reduction import Reduction, reduce

    given = {name: value for name, value in reduction.items() if value is not None}
    return change(job, lambda pattern: reduce(pattern, Reduction(**given)))
