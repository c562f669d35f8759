"""``crossgrain true``: make the sides of a seam agree."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from crossgrain.cli.amounts import EASE, LENGTH
from crossgrain.cli.change import change, change_drawing
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, changes_drawing
from crossgrain.cli.levels import BODY, LEVEL, levels_of
from crossgrain.cli.program import COMMANDS
from crossgrain.language import _

if TYPE_CHECKING:
    from crossgrain.model import Outcome, Pattern
    from crossgrain.model.seams.ease import Ease
    from crossgrain.svg.drawing import Drawing


@click.command(
    "true",
    cls=Command,
    example="crossgrain true fitted.svg -o trued.svg --seam side",
    help=COMMANDS["true"].summary
    + "\n\n"
    + _(
        "Both sides are walked from their common end. Their lengths and their notches are made to agree, and at both "
        "ends the edges beside the seam are led to its new corners until they go on in one smooth line from piece to "
        "piece. What already agrees stays exactly as it is: lengths and notches within 0.5 mm, angles within 0.5°."
    ),
)
@changes_drawing
@click.option("--seam", metavar="EDGE", help=_("The name of the edges that are sewn together there."))
@click.option(
    "--darts", is_flag=True, help=_("True the darts instead: equal legs, the edge smooth when they are folded.")
)
@click.option(
    "--give",
    metavar="END",
    help=_("The end at which it may become longer or shorter, or along for all of it; the hem where it has one."),
)
@click.option(
    "--keep",
    metavar="PIECE",
    multiple=True,
    help=_("Pieces that stay as they are, by their name or a word of it; may be given again."),
)
@click.option(
    "--ease",
    type=EASE,
    multiple=True,
    help=_("The side that stays longer and by how much: back=4mm, or back=4mm between knee and hip."),
)
@click.option("--blend", type=LENGTH, help=_("Over what length an edge is led to its new corner; 80mm if not said."))
@LEVEL
@BODY
def command(
    job: Job,
    *,
    seam: str | None,
    darts: bool,
    ease: tuple[Ease, ...],
    keep: tuple[str, ...],
    levels: tuple[tuple[str, float], ...],
    body: Path | None,
    **given: Any,
) -> Exit:
    """True a seam, or the darts."""
    said = {name: value for name, value in given.items() if value is not None}
    if darts is (seam is not None):
        raise click.UsageError(_("Say what to true: --seam EDGE, or --darts; one of the two."))
    if darts:
        if ease or keep or levels or body or set(said) - {"blend"}:
            raise click.UsageError(_("With --darts only --blend and --piece can be given."))
        from crossgrain.operations.dart_trueing import DartTrueing, true_darts

        dart_trueing = DartTrueing(**said)
        return change(job, lambda pattern: true_darts(pattern, dart_trueing))
    from crossgrain.operations.trueing import Trueing, true

    assert seam is not None
    trueing = Trueing(seam=seam, ease=ease, keep=keep, levels=levels_of(body, levels), **said)

    def trued(drawing: Drawing, pattern: Pattern) -> Outcome[Pattern]:
        from crossgrain.model import Pattern as Pieces
        from crossgrain.svg.pattern import marked_pieces

        return true(pattern, trueing, beside=Pieces(pieces=marked_pieces(drawing)) if job.pieces else None)

    return change_drawing(job, trued)
