"""``crossgrain fitting add``: add what was basted to a record."""

from __future__ import annotations

from pathlib import Path

import click

from crossgrain.cli.amounts import BASTING
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.fitting import FITTING_COMMANDS
from crossgrain.cli.show import say
from crossgrain.files import read_text, write_text
from crossgrain.language import _
from crossgrain.model.seams.fitting import Basted, FittingRecord, Measured
from crossgrain.model.seams.station import Station
from crossgrain.notation.fittings import new_record, read_record, with_basted


@click.command(
    "add",
    cls=Command,
    example="crossgrain fitting add record.toml --seam side --at waist=0mm --at hip=7mm --at hem=5mm",
    help=FITTING_COMMANDS["add"].summary
    + "\n\n"
    + _(
        "Amounts are distances stitched inside the line as it was then; negative ones let out. With --seam-girth they "
        "are what one seam took from the girth, with --garment-girth what all seams took together: distances and "
        "girths are never mixed. A record that is not there yet is begun."
    ),
)
@click.argument("record", metavar="RECORD.toml", type=click.Path(path_type=Path))
@click.option("--seam", required=True, metavar="EDGE", help=_("The name of the edges that are sewn together there."))
@click.option("--at", type=BASTING, multiple=True, required=True, help=_("An amount at a station: hip=7mm; several."))
@click.option("--seam-girth", is_flag=True, help=_("The amounts are what one seam took from the girth."))
@click.option("--garment-girth", is_flag=True, help=_("The amounts are what all such seams took from the girth."))
@click.option("--seams", type=click.IntRange(1, 99), default=2, help=_("How many such seams there are; 2 if not said."))
@click.option("--cloth", default="", metavar="NAME", help=_("What it was sewn in."))
@click.option("--note", default="", metavar="TEXT", help=_("What else is to be remembered."))
@click.option("--person", default="", metavar="NAME", help=_("For whom; for a new record."))
@click.option("--garment", default="", metavar="NAME", help=_("Which garment; for a new record."))
def command(
    record: Path,
    seam: str,
    at: tuple[tuple[Station, float], ...],
    seam_girth: bool,
    garment_girth: bool,
    seams: int,
    cloth: str,
    note: str,
    person: str,
    garment: str,
) -> Exit:
    """Add to a record."""
    if seam_girth and garment_girth:
        raise click.UsageError(_("--seam-girth and --garment-girth exclude each other. Give one of them."))
    if len(at) == 1 and at[0][1] and seam not in ("dart", _("dart")):
        raise click.UsageError(
            _(
                "Say what the seam does at its ends, too, as --at waist=0mm and --at hem=0mm: it moves from place to "
                "place."
            )
        )
    if record.exists():
        text = read_text(record)
        read_record(text, record.name)
        if person or garment:
            raise click.UsageError(_("The record says already for whom it is and which garment."))
    else:
        text = new_record(FittingRecord(person=person, garment=garment))
    measured: Measured = "seam girth" if seam_girth else "garment girth" if garment_girth else "inside"
    basted = Basted(seam=seam, at=at, measured=measured, seams=seams, cloth=cloth, note=note)
    new = with_basted(text, basted)
    count = len(read_record(new, record.name).bastings)  # what is written can be read
    write_text(record, new, overwrite=True)
    say(_("Wrote {file}: basting {number}.").format(file=record, number=count))
    return Exit.FINE
