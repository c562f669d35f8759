"""The written form of a record of fittings, in TOML::

    person = "Wardrobe form 2"
    garment = "slim trousers"

    [[basting]]
    seam = "side"
    at = ["waist=0mm", "hip=7mm", "hem=5mm"]
    measured = "inside"      # or "seam girth", or "garment girth"
    seams = 2
    cloth = "the softer twill"
    note = "second try-on"

Bastings are only ever added at the end, so every earlier version of the record is its beginning.
"""

from __future__ import annotations

import json
import re

from crossgrain.fabric.toml_table import Table, read_table
from crossgrain.language import _
from crossgrain.model.seams.fitting import MEASURED, Basted, FittingRecord
from crossgrain.notation.stations import read_basting, write_basting, write_station

_CONTROL = re.compile(r"[\x00-\x1f\x7f]")


def read_record(text: str, name: str) -> FittingRecord:
    """Read a record of fittings.

    Args:
        text: the text of the file.
        name: what messages call it.

    Raises:
        DocumentError: it cannot be read; the message says where.

    >>> record = read_record('[[basting]]\\nseam = "side"\\nat = ["hip=7mm"]', "record.toml")
    >>> record.bastings[0].inside[0][1]
    7.0
    """
    table = read_table(text, name)
    table.only(("person", "garment", "basting"))
    return FittingRecord(
        person=table.text("person", ""),
        garment=table.text("garment", ""),
        bastings=tuple(_read_basted(one) for one in table.tables("basting")),
    )


def _read_basted(table: Table) -> Basted:
    table.only(("seam", "at", "measured", "seams", "cloth", "note"))
    texts = table.texts("at")
    at = table.made(lambda: tuple(read_basting(text) for text in texts))
    places = [station for station, _amount in at]
    for station in places:
        if places.count(station) > 1:
            raise table.fault(
                _("{station} is given twice.").format(station=write_station(station)),
                _("Give each place once, with what was basted there in all."),
            )
    measured = table.text("measured", MEASURED[0])
    return table.made(
        lambda: Basted(
            seam=table.text("seam"),
            at=at,
            measured=measured,  # type: ignore[arg-type]  # it checks itself
            seams=table.count("seams", 2),
            cloth=table.text("cloth", ""),
            note=table.text("note", ""),
        )
    )


def new_record(record: FittingRecord) -> str:
    """Write the head of a new record."""
    lines = [_("# What the fittings found. Bastings are added at the end; nothing above is ever changed.")]
    lines += _filled(person=record.person, garment=record.garment)
    return "\n".join(lines) + "\n"


def with_basted(text: str, basted: Basted) -> str:
    """Return the text of a record with one basting added at its end; all that stands in it stays.

    >>> from crossgrain.model.seams.station import Station
    >>> text = with_basted("", Basted(seam="side", at=((Station(name="hip"), 7.0),)))
    >>> read_record(text, "r").bastings[0].seam
    'side'
    """
    amounts = ", ".join(_quoted(write_basting(*one)) for one in basted.at)
    lines = ["[[basting]]", f"seam = {_quoted(basted.seam)}", f"at = [{amounts}]"]
    lines += [f"measured = {_quoted(basted.measured)}", f"seams = {basted.seams}"]
    lines += _filled(cloth=basted.cloth, note=basted.note)
    gap = "\n" if text and not text.endswith("\n") else ""
    return text + gap + ("\n" if text else "") + "\n".join(lines) + "\n"


def _filled(**texts: str) -> list[str]:
    """Write the texts that are not empty, a line each."""
    return [f"{key} = {_quoted(value)}" for key, value in texts.items() if value]


def _quoted(text: str) -> str:
    """Write a text as a basic string of TOML, whose escapes are those of JSON."""
    return json.dumps(_CONTROL.sub(" ", text), ensure_ascii=False)
