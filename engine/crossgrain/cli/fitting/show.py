"""``crossgrain fitting show``: print what a record holds."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import click

from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.fitting import FITTING_COMMANDS
from crossgrain.cli.show import say, show_json, show_table
from crossgrain.files import read_record_file
from crossgrain.language import _, level_word
from crossgrain.model.seams.fitting import LAYERS, FittingRecord
from crossgrain.notation.stations import write_station
from crossgrain.units import format_both


@click.command(
    "show",
    cls=Command,
    example="crossgrain fitting show record.toml",
    help=FITTING_COMMANDS["show"].summary
    + "\n\n"
    + _(
        "The totals are those at stations that all fittings of a seam have: what is stitched inside the first line, "
        "what one seam takes from the girth, twice as much, and what all such seams take. Where one fitting has a "
        "station that another has not, the pattern tells what that other has there: crossgrain take-in --from adds it "
        "up."
    ),
)
@click.argument("record", metavar="RECORD.toml", type=click.Path(path_type=Path))
@click.option("--up-to", type=click.IntRange(0), help=_("Only the first so many bastings."))
@click.option("--json", "as_json", is_flag=True, help=_("Print the data as JSON; lengths in mm."))
def command(record: Path, up_to: int | None, as_json: bool) -> Exit:
    """Show a record."""
    read = read_record_file(record).up_to(up_to)
    totals = _totals(read)
    if as_json:
        show_json({"person": read.person, "garment": read.garment, "bastings": _bastings(read), "totals": totals})
        return Exit.FINE
    show_table(
        (_("no."), _("seam"), _("station"), _("stitched inside"), _("cloth"), _("note")),
        [
            (str(one["number"]), one["seam"], level_word(station), format_both(amount), one["cloth"], one["note"])
            for one in _bastings(read)
            for station, amount in one["inside"].items()
        ],
        title=", ".join(part for part in (read.person, read.garment) if part),
    )
    show_table(
        (_("seam"), _("station"), _("stitched inside"), _("girth at one seam"), _("girth of the garment"), _("over")),
        [
            (
                one["seam"],
                level_word(one["station"]),
                *(format_both(one[key]) for key in ("inside", "seam_girth", "garment_girth")),
                _seams(one["seams"]),
            )
            for one in totals
            if one["inside"] is not None
        ],
        title=_("Added up"),
    )
    for one in totals:
        if one["inside"] is None:
            sentence = _(
                "{seam}, {station}: not every fitting of this seam has an amount there; what they take there in all "
                "crossgrain take-in IN.svg -o OUT.svg --from {record} tells."
            )
            say(sentence.format(seam=one["seam"], station=level_word(one["station"]), record=record.name))
    return Exit.FINE


def _bastings(record: FittingRecord) -> list[dict[str, Any]]:
    return [
        {
            "number": number,
            "seam": basted.seam,
            "inside": {write_station(station): amount for station, amount in basted.inside},
            "cloth": basted.cloth,
            "note": basted.note,
        }
        for number, basted in enumerate(record.bastings, 1)
    ]


def _totals(record: FittingRecord) -> list[dict[str, Any]]:
    """Return what was basted at each station of each seam in all, mm; None where a fitting of it has none there."""
    inside: dict[tuple[str, str], list[float]] = {}
    seams: dict[str, list[int]] = {}
    for basted in record.bastings:
        seams.setdefault(basted.seam, []).append(basted.seams)
        for station, amount in basted.inside:
            inside.setdefault((basted.seam, write_station(station)), []).append(amount)
    out = []
    for (seam, place), amounts in inside.items():
        is_whole = len(amounts) == len(seams[seam])
        total, count = math.fsum(amounts), max(seams[seam])
        figures = {"inside": total, "seam_girth": LAYERS * total, "garment_girth": LAYERS * count * total}
        out.append(
            {
                "seam": seam,
                "station": place,
                "seams": count,
                **{key: figure if is_whole else None for key, figure in figures.items()},
            }
        )
    return out


def _seams(count: int) -> str:
    return _("1 seam") if count == 1 else _("{count} seams").format(count=count)
