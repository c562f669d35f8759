"""``crossgrain allow``: draw the cut line beside the stitch line, or strip the allowance off again."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from crossgrain.cli.amounts import CORNER, EDGE_CLASS, EDGE_WIDTH, LENGTH, PRESSED
from crossgrain.cli.change import change
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, changes_drawing
from crossgrain.cli.program import COMMANDS
from crossgrain.language import _


@click.command(
    "allow",
    cls=Command,
    example="crossgrain allow front.svg -o to-cut.svg --width 10mm --edge hem=30mm --corner hem=mirrored",
    help=COMMANDS["allow"].summary
    + "\n\n"
    + _(
        "Widths, corners and the sides darts are pressed to are kept in the drawing, and --renew draws the line again "
        "after the pieces have changed. Corners of which nothing is said are mitred, up to a limit. Where the outline "
        "is the cut line, --strip recovers the stitch line inside it. Without --piece, all marked pieces get their "
        "allowance."
    ),
)
@changes_drawing
@click.option("--width", type=LENGTH, help=_("The width of cloth outside every edge that is not named: 10mm."))
@click.option(
    "--edge",
    "edges",
    type=EDGE_WIDTH,
    multiple=True,
    help=_("The width at one edge: hem=30mm, centre=10mm to 25mm, or seat=10mm at 0%, 10mm at 60%, 25mm at 100%."),
)
@click.option(
    "--set",
    "widths",
    metavar="FILE.toml",
    type=click.Path(path_type=Path),
    help=_("A named set: the widths of classes of seams, and which edges are of which."),
)
@click.option(
    "--class",
    "classes",
    type=EDGE_CLASS,
    multiple=True,
    help=_("The class of seam an edge is sewn as, by its name in the set: side=plain seam."),
)
@click.option(
    "--corner",
    "corners",
    type=CORNER,
    multiple=True,
    help=_(
        "The style of both ends of an edge, hem=mirrored, or of one corner, waist/side=squared to side: mitred, "
        "blunted, squared, straight, mirrored or stepped; may be given again."
    ),
)
@click.option(
    "--press",
    "pressed",
    type=PRESSED,
    multiple=True,
    help=_("To which end of their edge darts are pressed: waist=start, waist=end or waist=open."),
)
@click.option(
    "--limit",
    type=click.FloatRange(1.0, min_open=True),
    help=_("How far the point of a mitred corner may stand out, in widths; longer points are cut off square."),
)
@click.option("--accuracy", type=LENGTH, help=_("How near the new line keeps to its true distance: 0.01mm."))
@click.option("--strip", is_flag=True, help=_("The outline is the cut line: recover the stitch line inside it."))
@click.option("--renew", is_flag=True, help=_("Draw again what was drawn, from the widths kept in the drawing."))
def command(job: Job, *, strip: bool, renew: bool, widths: Path | None, **allowance: Any) -> Exit:
    """Add, renew or strip allowances."""
    from crossgrain.files import read_width_set_file
    from crossgrain.operations import allowance as operation

    if strip and renew:
        raise click.UsageError(_("--renew knows by itself which line is drawn. Leave out --strip."))
    given = {name: value for name, value in allowance.items() if value is not None}
    if widths is not None:
        given["widths"] = read_width_set_file(widths)
    asked = operation.Allowance(**given)
    verb = operation.renew if renew else operation.strip if strip else operation.allow
    return change(job, lambda pattern: verb(pattern, asked))
