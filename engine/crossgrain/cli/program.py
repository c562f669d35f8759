"""The program ``crossgrain``: its commands and what they have in common."""

from __future__ import annotations

from typing import Final

import click

import crossgrain
from crossgrain.cli.command import Entry, LazyGroup
from crossgrain.language import _

COMMANDS: Final = {
    "demo": Entry("crossgrain.cli.demo", _("Recut the sample trousers and write a page that shows them.")),
    "mark": Entry("crossgrain.cli.mark", _("Name the edges of a bare outline, mark what a maker knows of the piece.")),
    "reduce": Entry("crossgrain.cli.reduce", _("Narrow pieces along the cross grain for cloth that stretches.")),
    "allow": Entry("crossgrain.cli.allow", _("Draw the cut line beside the stitch line, a width per edge.")),
    "cut": Entry("crossgrain.cli.cut", _("Lay the pieces out for cutting, labelled, with a list of what is cut.")),
    "sheets": Entry("crossgrain.cli.sheets", _("Print pieces at true size on sheets that are joined, as PDF.")),
    "take-in": Entry("crossgrain.cli.take_in", _("Take in or let out a seam by amounts at stations along it.")),
    "fitting": Entry("crossgrain.cli.fitting", _("Keep a record of what the fittings found.")),
    "true": Entry("crossgrain.cli.true", _("Make the sides of a seam agree: lengths, notches, smooth joins.")),
    "lengthen": Entry("crossgrain.cli.lengthen", _("Lengthen or shorten pieces along the grain at a level.")),
    "follow": Entry("crossgrain.cli.follow", _("Bring the pieces that follow others up to date.")),
    "grade": Entry("crossgrain.cli.grade", _("Make the other sizes from the base, by rules at its corners.")),
    "grade-rules": Entry("crossgrain.cli.grade_rules", _("Make rules for grading from a table of bodies.")),
    "measure": Entry("crossgrain.cli.measure", _("Print edges, lengths, areas, widths and girths.")),
    "check": Entry("crossgrain.cli.check", _("Look over seams, notches, joins, darts, allowances and girths.")),
    "fabric": Entry("crossgrain.cli.fabric", _("Test, compare and learn cloths: strain, tension, pressure.")),
    "run": Entry("crossgrain.cli.folder", _("Put every drawing of a folder through a recipe.")),
    "recipe": Entry("crossgrain.cli.recipe", _("Look over a recipe before it runs.")),
    "journal": Entry("crossgrain.cli.journal", _("Write what was done to a drawing as a recipe.")),
    "editor": Entry("crossgrain.cli.editor", _("Put Crossgrain's menus into the vector editor Inkscape.")),
}


@click.group(
    "crossgrain",
    cls=LazyGroup,
    table=COMMANDS,
    example="crossgrain reduce front.svg -o narrower.svg --by 8%",
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    help=_("Work on flat garment pieces drawn as SVG. The drawing is never changed unless you ask for it."),
    epilog=_(
        "Exit codes: 0 fine, 1 something to look at, 2 the command is not written as it must be, "
        "3 the drawing or an amount cannot be used, 4 a fault of ours."
    ),
)
@click.version_option(crossgrain.__version__, message="%(prog)s %(version)s")
def program() -> None:
    """Hold the commands; it does nothing itself."""
