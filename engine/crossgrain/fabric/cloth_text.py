"""The file of a cloth, in TOML as a maker writes it by hand::

    name = "Twill, olive"
    composition = "97 % cotton, 3 % elastane"

    [cross]
    strip_width = "5 cm"
    gauge = "100 mm"
    readings = [
      { load = "300 g", length = "103.9 mm" },
      { load = "0.75 l", length = "107.1 mm", width = "48 mm" },   # a bottle of water
      { load = "15 N", length = "111 mm" },
    ]
    released = "101.5 mm"
    rested = "100.5 mm"

Instead of readings, ``pulled = { gauge = "10 cm", length = "12 cm" }`` says that it was pulled by hand. The tables
``[along]`` and ``[bias]`` may follow; ``[[cross.learned]]`` is what fittings taught.
"""

from __future__ import annotations

from typing import Final

from crossgrain.fabric.bench import READING_ERROR, Pull, Reading, Strip
from crossgrain.fabric.cloth import DIRECTIONS, Cloth, Direction, DirectionName, Learned
from crossgrain.fabric.toml_table import Table, read_table
from crossgrain.language import _
from crossgrain.units import parse_length, parse_load, parse_share, parse_tension

_STRIP: Final = ("strip_width", "gauge", "readings", "reading_error", "released", "rested", "learned")
_PULL: Final = ("pulled", "learned")
_LEARNED: Final = ("tension", "strain", "pattern", "level", "drafted_for", "bench_strain")


def read_cloth(text: str, name: str) -> Cloth:
    """Read the file of a cloth.

    Args:
        text: its text.
        name: what messages call it.

    Raises:
        DocumentError: what cannot be read or cannot have been read from a strip; the message says where.
    """
    table = read_table(text, name)
    table.only(("name", "composition", *DIRECTIONS))
    if "cross" not in table:
        raise table.fault(
            _("The cloth is not tested across the grain."),
            _("Add [cross] with a strip or with what was pulled by hand."),
        )
    found = {key: _direction(table.table(key)) for key in DIRECTIONS if key in table}
    return Cloth(
        name=table.text("name", name),
        composition=table.text("composition", ""),
        cross=found["cross"],
        along=found.get("along"),
        bias=found.get("bias"),
    )


def with_learned(text: str, learned: Learned, direction: DirectionName = "cross") -> str:
    """Return the text of a cloth's file with a learned point at its end; all that stood there stays as it was.

    >>> point = Learned(tension=0.5, strain=0.0625, level="hip")
    >>> print(with_learned('[cross]', point))
    [cross]
    <BLANKLINE>
    [[cross.learned]]
    tension = "0.500000 N/cm"
    strain = "6.250000 %"
    level = "hip"
    <BLANKLINE>
    """
    lines = [
        f"[[{direction}.learned]]",
        f'tension = "{learned.tension:.6f} N/cm"',
        f'strain = "{learned.strain * 100.0:.6f} %"',
    ]
    for key in ("pattern", "level", "drafted_for"):
        value = getattr(learned, key)
        if value:
            lines.append(f"{key} = {_quoted(value)}")
    if learned.bench_strain is not None:
        lines.append(f'bench_strain = "{learned.bench_strain * 100.0:.6f} %"')
    return "\n".join([text.rstrip("\n"), "", *lines, ""])


def _direction(table: Table) -> Direction:
    learned = tuple(_learned(one) for one in table.tables("learned"))
    if "pulled" in table:
        table.only(_PULL)
        pulled = table.table("pulled")
        pulled.only(("gauge", "length"))
        gauge, length = pulled.amount("gauge", parse_length), pulled.amount("length", parse_length)
        return pulled.made(lambda: Direction(test=Pull(gauge=gauge, length=length), learned=learned))
    table.only(_STRIP)
    width, gauge = table.amount("strip_width", parse_length), table.amount("gauge", parse_length)
    error = table.amount_or_none("reading_error", parse_length)
    readings = tuple(_reading(one) for one in table.tables("readings"))
    released, rested = table.amount_or_none("released", parse_length), table.amount_or_none("rested", parse_length)
    return table.made(
        lambda: Direction(
            test=Strip(
                width=width,
                gauge=gauge,
                readings=readings,
                reading_error=READING_ERROR if error is None else error,
                released=released,
                rested=rested,
            ),
            learned=learned,
        )
    )


def _reading(table: Table) -> Reading:
    table.only(("load", "length", "width"))
    load, length = table.amount("load", parse_load), table.amount("length", parse_length)
    width = table.amount_or_none("width", parse_length)
    return table.made(lambda: Reading(load=load, length=length, width=width))


def _learned(table: Table) -> Learned:
    table.only(_LEARNED)
    tension, strain = table.amount("tension", parse_tension), table.amount("strain", parse_share)
    bench = table.amount_or_none("bench_strain", parse_share)
    pattern, level, drafted_for = (table.text(key, "") for key in ("pattern", "level", "drafted_for"))
    return table.made(
        lambda: Learned(
            tension=tension,
            strain=strain,
            pattern=pattern,
            level=level,
            drafted_for=drafted_for,
            bench_strain=bench,
        )
    )


def _quoted(text: str) -> str:
    """Write a text as a basic string of TOML."""
    signs = {'"': '\\"', "\\": "\\\\"}
    return '"' + "".join(signs.get(c, c if c.isprintable() else f"\\U{ord(c):08x}") for c in text) + '"'
