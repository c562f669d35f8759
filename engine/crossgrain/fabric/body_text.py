"""The file of a body, in TOML, any unit, by the names of ISO 8559-1::

    name = "Size 12"
    source = "…"
    waist_girth = "30 3/4 in"
    hip_girth = "1017 mm"
    waist_height = "1027 mm"
    hip_height = "827 mm"

Girths: waist, hip, thigh, knee, calf, ankle. Heights, from the floor: waist, hip, thigh, knee, calf, ankle.
``hem_height`` places the hem, which has no girth of a body. ``heel_girth`` is taken round heel and instep with the foot
stretched: what has to pass a hem. The list of ISO 8559:1989 has no such girth; its name here is ours.
"""

from __future__ import annotations

from crossgrain.fabric.body import LEVELS, Body, BodyLevel
from crossgrain.fabric.toml_table import read_table
from crossgrain.language import _
from crossgrain.units import parse_length


def read_body(text: str, name: str) -> Body:
    """Read the file of a body.

    Args:
        text: its text.
        name: what messages call it.

    Raises:
        DocumentError: what cannot be read or cannot be a body; the message says where.

    >>> body = read_body('waist_girth = "74 cm"\\nwaist_height = "103 cm"\\nhip_height = "83 cm"', "body.toml")
    >>> body.level("waist").girth, body.level("hip").depth
    (740.0, 200.0)
    """
    table = read_table(text, name)
    girths = {level: f"{level}_girth" for level in LEVELS if level != "hem"}
    heights = {level: f"{level}_height" for level in LEVELS}
    table.only(("name", "source", "heel_girth", *girths.values(), *heights.values()))
    top = table.amount_or_none("waist_height", parse_length)
    levels = []
    for level in LEVELS:
        girth = table.amount_or_none(girths[level], parse_length) if level in girths else None
        height = table.amount_or_none(heights[level], parse_length)
        if height is not None and top is None:
            raise table.fault(_("“waist_height” is missing."), _("Depths are counted from it; add it."))
        depth = None if height is None or top is None else top - height
        if girth is not None or depth is not None:
            levels.append(table.made(lambda n=level, g=girth, d=depth: BodyLevel(name=n, girth=g, depth=d)))  # type: ignore[misc]
    if all(level.girth is None for level in levels):
        raise table.fault(_("No girth is given."), _("Add hip_girth or another."))
    title, source = table.text("name", name), table.text("source", "")
    heel = table.amount_or_none("heel_girth", parse_length)
    return table.made(lambda: Body(name=title, source=source, levels=tuple(levels), heel_girth=heel))
