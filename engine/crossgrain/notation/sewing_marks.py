"""The written form of what is pressed, stitched and closed.

================  ==================================================================================
a crease          ``hem=50%``, ``hem=50% to 80%``, ``hem=50% to 700mm``
a belt loop       ``waist=25%``, ``waist=25% width 10mm length 60mm``
a button          ``waist=95% 15mm by 3mm from 12mm``
a buttonhole      ``right=50% 15mm by 3mm from 12mm``, ``… along``
the topstitching  ``centre=35mm``, ``centre=35mm from 100% to 5%``
================  ==================================================================================

A crease goes so far on its way across the piece. A button is as wide and as thick as is said, and lies so far from the
edge; its buttonhole is square to the edge, or along it.
"""

from __future__ import annotations

import re

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.marking.sewing_marks import LOOP_WIDTH, Button, Buttonhole, Crease, Lie, Loop, Topstitching
from crossgrain.model.marking.wanted import END, Spot
from crossgrain.model.marking.wanted_marks import (
    WantedButton,
    WantedButtonhole,
    WantedCrease,
    WantedLoop,
    WantedTopstitching,
)
from crossgrain.notation.words import edge_and_rest, keyed, read_spot, write_length, write_share
from crossgrain.units import parse_length


def read_crease(text: str) -> WantedCrease:
    """Read a crease: an edge, where on it, and how far it goes where that is not all of its way.

    >>> read_crease("hem=50% to 80%").to
    Spot(share=0.8, along=None)
    """
    edge, rest = edge_and_rest(text, _("hem=50% or hem=50% to 80%"))
    at, given = keyed(rest, ("to",))
    return WantedCrease(edge=edge, at=read_spot(at), to=read_spot(given["to"]) if "to" in given else END)


def write_crease(crease: Crease) -> str:
    """Write a crease; read by :func:`read_crease`.

    >>> write_crease(Crease(edge="hem", reach=0.8))
    'hem=50% to 80%'
    """
    reach = write_share(crease.reach)
    return f"{crease.edge}={write_share(crease.share)}{'' if reach == '100%' else f' to {reach}'}"


def read_loop(text: str) -> WantedLoop:
    """Read a belt loop: an edge, where on it, how wide and how long.

    >>> read_loop("waist=25% width 12mm").width
    12.0
    """
    edge, rest = edge_and_rest(text, _("waist=25% or waist=25% width 10mm length 60mm"))
    at, given = keyed(rest, ("width", "length"))
    return WantedLoop(
        edge=edge,
        at=read_spot(at),
        width=parse_length(given["width"]) if "width" in given else LOOP_WIDTH,
        length=parse_length(given["length"]) if "length" in given else None,
    )


def write_loop(loop: Loop) -> str:
    """Write a belt loop; read by :func:`read_loop`.

    >>> write_loop(Loop(edge="waist", share=0.25))
    'waist=25% width 10mm'
    """
    length = "" if loop.length is None else f" length {write_length(loop.length)}"
    return f"{loop.edge}={write_share(loop.share)} width {write_length(loop.width)}{length}"


def read_button(text: str) -> WantedButton:
    """Read a button: an edge, where on it, its width and thickness, and how far it lies from the edge.

    >>> read_button("waist=95% 15mm by 3mm from 12mm").inset
    12.0
    """
    edge, at, diameter, given = _button(text, _("waist=95% 15mm by 3mm from 12mm"))
    return WantedButton(
        edge=edge,
        at=at,
        diameter=diameter,
        thickness=parse_length(given["by"]),
        inset=parse_length(given["from"]) if "from" in given else None,
    )


def write_button(button: Button) -> str:
    """Write a button; read by :func:`read_button`.

    >>> write_button(Button(edge="waist", share=0.95, diameter=15.0, thickness=3.0, inset=12.0))
    'waist=95% 15mm by 3mm from 12mm'
    """
    return _written(button)


def read_buttonhole(text: str) -> WantedButtonhole:
    """Read a buttonhole: as its button, and ``along`` where it does not lie square to the edge.

    >>> read_buttonhole("right=50% 15mm by 3mm from 12mm along").lie
    'along'
    """
    words = text.rsplit(None, 1)
    lies: dict[str, Lie] = {"along": "along", "across": "across"}
    lie = lies.get(words[-1]) if words else None
    edge, at, diameter, given = _button(words[0] if lie else text, _("right=50% 15mm by 3mm from 12mm along"))
    return WantedButtonhole(
        edge=edge,
        at=at,
        diameter=diameter,
        thickness=parse_length(given["by"]),
        inset=parse_length(given["from"]) if "from" in given else None,
        lie=lie or "across",
    )


def write_buttonhole(hole: Buttonhole) -> str:
    """Write a buttonhole; read by :func:`read_buttonhole`.

    >>> write_buttonhole(Buttonhole(edge="right", share=0.5, diameter=15.0, thickness=3.0, inset=12.0))
    'right=50% 15mm by 3mm from 12mm'
    """
    return _written(hole) + (" along" if hole.lie == "along" else "")


def read_topstitching(text: str) -> WantedTopstitching:
    """Read the topstitching beside an opening: an edge, how far from it, and from where to where.

    >>> read_topstitching("centre=35mm to 85%").end
    Spot(share=0.85, along=None)
    """
    edge, rest = edge_and_rest(text, _("centre=35mm or centre=35mm from 100% to 5%"))
    width, given = keyed(rest, ("from", "to"))
    start, end = (read_spot(given[key]) if key in given else None for key in ("from", "to"))
    return WantedTopstitching(edge=edge, width=parse_length(width), start=start, end=end)


def write_topstitching(stitching: Topstitching) -> str:
    """Write the topstitching beside an opening; read by :func:`read_topstitching`.

    >>> write_topstitching(Topstitching(edge="centre", width=35.0, end=0.85))
    'centre=35mm from 0% to 85%'
    """
    ends = f"from {write_share(stitching.start)} to {write_share(stitching.end)}"
    return f"{stitching.edge}={write_length(stitching.width)} {ends}"


def _button(text: str, example: str) -> tuple[str, Spot, float, dict[str, str]]:
    """Split a button into its edge, its place, its diameter, and what follows ``by`` and ``from``."""
    edge, rest = edge_and_rest(text, example)
    sizes, given = keyed(rest, ("by", "from"))
    # The place ends with its unit; a blank inside an amount follows a figure.
    place = re.match(r"(.*?(?:%|[^\W\d]|[\"″”]))\s+(?=[0-9.¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])", sizes)
    if place is None or "by" not in given:
        raise ParameterError(
            _("“{text}” gives a button no width or no thickness.").format(text=text.strip()),
            advice=_("Write it as {example}.").format(example=example),
        )
    return edge, read_spot(place[1]), parse_length(sizes[place.end() :]), given


def _written(button: Button | Buttonhole) -> str:
    at, size = write_share(button.share), write_length(button.diameter)
    return f"{button.edge}={at} {size} by {write_length(button.thickness)} from {write_length(button.inset)}"
