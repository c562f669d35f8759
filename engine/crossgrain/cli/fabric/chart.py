"""``crossgrain fabric chart``: the page that ships with a pattern."""

from __future__ import annotations

from pathlib import Path

import click

from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.fabric import FABRIC_COMMANDS
from crossgrain.cli.fabric.amounts import GIRTH, LENGTH, LOAD
from crossgrain.cli.fabric.figures import data_of
from crossgrain.cli.fabric.levels import levels_of
from crossgrain.cli.show import say, say_findings, show_json
from crossgrain.fabric.chart import chart
from crossgrain.fabric.pressure import ESTIMATE
from crossgrain.files import read_body_file, read_cloth_file, write_bytes, write_text
from crossgrain.language import _

_FILE = click.Path(path_type=Path)
_STRIP_CM = 5.0
_READINGS = tuple(percent / 100.0 for percent in range(5, 45, 5))


@click.command(
    "chart",
    cls=Command,
    example="crossgrain fabric chart -o chart.html --drafted-for cloth.toml --pattern trousers.svg --body body.toml",
    help=FABRIC_COMMANDS["chart"].summary
    + "\n\n"
    + _("Rows are gauge readings at one load on a strip 5 cm wide, columns the levels of the body."),
)
@click.option(
    "-o",
    "--output",
    metavar="OUT.html",
    type=_FILE,
    required=True,
    help=_("The page to write; a name in .pdf makes it a PDF."),
)
@click.option("--drafted-for", metavar="OLD.toml", type=_FILE, required=True, help=_("The cloth it was drafted for."))
@click.option("--body", metavar="BODY.toml", type=_FILE, required=True, help=_("The body or size."))
@click.option("--pattern", metavar="IN.svg", type=_FILE, help=_("The drawing whose pieces give the girths."))
@click.option("--scale", type=LENGTH, help=_("The length of the drawing's user unit, where it does not say it."))
@click.option("--girth", "girths", type=GIRTH, multiple=True, help=_("A girth of the pieces: hip=96cm."))
@click.option("--load", type=LOAD, default="1.5kg", show_default=True, help=_("The load at which the gauge is read."))
@click.option("--overwrite", is_flag=True, help=_("Write over OUT.html where it is there already."))
@click.option("--json", "as_json", is_flag=True, help=_("Print the data as JSON; mm, N/cm, kPa and ratios."))
def command(
    output: Path,
    drafted_for: Path,
    body: Path,
    pattern: Path | None,
    scale: float | None,
    girths: tuple[tuple[str, float], ...],
    load: float,
    overwrite: bool,
    as_json: bool,
) -> Exit:
    """Write the chart."""
    cloth, wearer = read_cloth_file(drafted_for), read_body_file(body)
    levels, findings = levels_of(wearer, girths, pattern, scale)
    worked = chart(cloth, levels, load / _STRIP_CM, _READINGS)
    title = pattern.stem if pattern is not None else _("Pattern")
    if output.suffix.lower() == ".pdf":
        from crossgrain.output.sheets.chart_sheet import chart_sheet

        write_bytes(output, chart_sheet(worked, cloth, wearer, title), overwrite=overwrite)
    else:
        from crossgrain.output.chart_page import chart_page

        write_text(output, chart_page(worked, cloth, wearer, title), overwrite=overwrite)
    if as_json:
        show_json(data_of({"chart": worked, "estimate": ESTIMATE}))
    say(_("Wrote {file}.").format(file=output))
    say(ESTIMATE)
    for sentence in worked.cautions:
        say(_("Caution: {message}").format(message=sentence))
    say_findings(findings)
    return Exit.FINDINGS if findings or worked.cautions else Exit.FINE
