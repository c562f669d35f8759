"""The written form of a spread, in TOML::

    name = "Skirt"
    stays = ["placket"]

    [levels]                          # a depth below the waist, or the height of the body that places it
    hip = "hip_height"

    [[girth]]
    measure = "waist_girth"
    edges = "waist"                   # runs along these edges; else straight across
    shares = { "front: waist/side" = "25 %", "back: waist/side" = "25 %" }

    [[girth]]
    measure = "hip_girth"
    shares = { "front: side at hip" = "25 %", "back: side at hip" = "25 %" }
    going_along = { "front: side/hem" = "25 %", "back: side/hem" = "25 %" }    # as wide, not counted
    across = { "front: dart 1 of waist" = "12.5 %" }    # not counted; above zero towards the side

    [[length]]                        # along the grain; above zero down
    measure = "waist_height"
    shares = { "front: waist/side" = "-100 %" }

    [[match]]                         # the corner slides along the seam until both sides agree
    seam = "side"
    at = "back: waist/side"

The shares of a girth are for each time a piece is cut, and add up to the whole.
"""

from __future__ import annotations

from crossgrain.errors import InputError
from crossgrain.fabric.toml_table import Table, read_table
from crossgrain.model.sizes.spread import GirthSpread, LengthSpread, Shares, Spread
from crossgrain.notation.grade_points import read_grade_point
from crossgrain.notation.grade_rules import read_match, read_toward
from crossgrain.notation.words import read_name
from crossgrain.units import parse_length, parse_share


def read_spread(text: str, name: str) -> Spread:
    """Read a spread.

    Args:
        text: the text of the file.
        name: what messages call it.

    Raises:
        DocumentError: it cannot be read; the message says where.

    >>> text = '[[girth]]\\nmeasure = "hip_girth"\\nshares = { "front: waist/side" = "25 %" }'
    >>> read_spread(text, "spread.toml").girths[0].shares[0][1]
    0.25
    """
    table = read_table(text, name)
    table.only(("name", "source", "stays", "levels", "girth", "length", "match", "toward"))
    return table.made(
        lambda: Spread(
            name=table.text("name", ""),
            girths=tuple(_girth(one) for one in table.tables("girth")),
            lengths=tuple(_length(one) for one in table.tables("length")),
            matches=tuple(read_match(one) for one in table.tables("match")),
            levels=_levels(table),
            toward=read_toward(table),
            stays=table.texts("stays", none=True),
        )
    )


def _girth(table: Table) -> GirthSpread:
    table.only(("measure", "edges", "limbs", "shares", "going_along", "across"))
    return table.made(
        lambda: GirthSpread(
            measure=table.text("measure"),
            edges=table.text("edges", ""),
            limbs=table.count("limbs", 0),
            shares=_shares(table, "shares"),
            going_along=_shares(table, "going_along") if "going_along" in table else (),
            across=_shares(table, "across") if "across" in table else (),
        )
    )


def _length(table: Table) -> LengthSpread:
    table.only(("measure", "shares"))
    return LengthSpread(measure=table.text("measure"), shares=_shares(table, "shares"))


def _shares(table: Table, key: str) -> Shares:
    shares = table.table(key)
    out = []
    for point in shares.keys():  # noqa: SIM118  # a table is no mapping
        try:
            read = read_grade_point(point)
        except InputError as error:
            raise shares.fault(error.message, error.advice) from error
        out.append((read, shares.amount(point, lambda text: parse_share(text, signed=True))))
    return tuple(out)


def _levels(table: Table) -> tuple[tuple[str, float | str], ...]:
    if "levels" not in table:
        return ()
    levels = table.table("levels")
    out: list[tuple[str, float | str]] = []
    for key in levels.keys():  # noqa: SIM118
        text = levels.text(key)
        out.append((read_name(key), text if text.endswith("_height") else levels.amount(key, parse_length)))
    return tuple(out)
