"""``crossgrain fabric gauge``: the gauge for the strip test, to print at true scale."""

from __future__ import annotations

from pathlib import Path

import click

from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.fabric import FABRIC_COMMANDS
from crossgrain.cli.show import say
from crossgrain.files import read_cloth_file, write_bytes, write_text
from crossgrain.language import _

_FILE = click.Path(path_type=Path)


@click.command(
    "gauge",
    cls=Command,
    example="crossgrain fabric gauge -o gauge.svg --benchmark drafted-for.toml",
    help=FABRIC_COMMANDS["gauge"].summary,
)
@click.option(
    "-o",
    "--output",
    metavar="OUT.svg",
    type=_FILE,
    required=True,
    help=_("The page to write; a name in .pdf makes it a PDF."),
)
@click.option("--benchmark", metavar="CLOTH.toml", type=_FILE, help=_("A known cloth, marked at each of its loads."))
@click.option("--overwrite", is_flag=True, help=_("Write over OUT.svg where it is there already."))
def command(output: Path, benchmark: Path | None, overwrite: bool) -> Exit:
    """Write the gauge."""
    cloth = None if benchmark is None else read_cloth_file(benchmark)
    if output.suffix.lower() == ".pdf":
        from crossgrain.output.sheets.gauge_sheet import gauge_sheet

        write_bytes(output, gauge_sheet(cloth), overwrite=overwrite)
    else:
        from crossgrain.output.gauge import gauge

        write_text(output, gauge(cloth), overwrite=overwrite)
    say(_("Wrote {file}. Print it at 100 %.").format(file=output))
    return Exit.FINE
