"""``crossgrain take-in``: move a seam by what was basted at the fitting."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from crossgrain.cli.amounts import BASTING, SIDE_SHARE
from crossgrain.cli.change import change_drawing
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, changes_drawing
from crossgrain.cli.levels import BODY, LEVEL, levels_of
from crossgrain.cli.program import COMMANDS
from crossgrain.language import _

if TYPE_CHECKING:
    from crossgrain.model import Outcome, Pattern
    from crossgrain.model.station import Station
    from crossgrain.svg.drawing import Drawing


@click.command(
    "take-in",
    cls=Command,
    example="crossgrain take-in trousers.svg -o fitted.svg --seam side --at waist=0mm --at 20%=12mm --at hem=6mm",
    help=COMMANDS["take-in"].summary
    + "\n\n"
    + _(
        "A seam is found by its name on every piece that has it. Amounts are distances stitched inside the old line; "
        "negative ones let out. A station is an end, by the edge that the seam meets there; a level, with --body or "
        "--level; a share of the seam; a distance from an end; or a notch. Between stations amounts are blended "
        "without overshoot; where they are zero nothing moves. The ends slide along the edges beside the seam."
    ),
)
@changes_drawing
@click.option("--seam", required=True, metavar="EDGE", help=_("The name of the edges that are sewn together there."))
@click.option(
    "--at",
    type=BASTING,
    multiple=True,
    required=True,
    help=_("An amount at a station: waist=0mm, hip=12mm, 60%=10mm, 120mm from waist=6mm, notch 2=5mm; several."),
)
@click.option(
    "--girth", "is_girth", is_flag=True, help=_("The amounts are what the whole garment is to lose in girth there.")
)
@click.option(
    "--share",
    "shares",
    type=SIDE_SHARE,
    multiple=True,
    help=_("What share of both sides together a side takes: front=40% moves the seam; half each if not said."),
)
@LEVEL
@BODY
def command(
    job: Job,
    *,
    seam: str,
    at: tuple[tuple[Station, float], ...],
    is_girth: bool,
    shares: tuple[tuple[str, float], ...],
    levels: tuple[tuple[str, float], ...],
    body: Path | None,
) -> Exit:
    """Move a seam."""
    from crossgrain.operations.take_in import Basting, TakeIn, take_in
    from crossgrain.svg.nodes import station_at_node

    def taken_in(drawing: Drawing, pattern: Pattern) -> Outcome[Pattern]:
        wanted = TakeIn(
            seam=seam,
            at=tuple(
                Basting(station=station_at_node(drawing, pattern, station), amount=amount) for station, amount in at
            ),
            is_girth=is_girth,
            shares=shares,
            levels=levels_of(body, levels),
        )
        return take_in(pattern, wanted)

    return change_drawing(job, taken_in)
