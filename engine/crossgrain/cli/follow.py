"""``crossgrain follow``: bring the pieces that follow others up to date."""

from __future__ import annotations

from dataclasses import replace

import click

from crossgrain.cli.change import change
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, changes_drawing
from crossgrain.cli.program import COMMANDS
from crossgrain.language import _


@click.command(
    "follow",
    cls=Command,
    example="crossgrain follow trued.svg -o whole.svg",
    help=COMMANDS["follow"].summary
    + "\n\n"
    + _(
        "A waistband that is marked to follow the waist becomes as long as the waist edges it is sewn to, dart intakes "
        "out, overlap and extension in; its notches stay at the seams. A facing that traces an edge is drawn after "
        "what that edge has become, and keeps its depth. Of a zip the new length is told. With --piece only the "
        "pieces named are brought up to date. What a piece follows is said once, by crossgrain mark --follow."
    ),
)
@changes_drawing
def command(job: Job) -> Exit:
    """Bring dependent pieces up to date."""
    from crossgrain.operations.following import Following, follow

    following = Following(pieces=job.pieces)
    # What is followed must be read too, so all pieces are.
    return change(replace(job, pieces=()), lambda pattern: follow(pattern, following))
