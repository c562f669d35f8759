"""The menu entries, and for each a choice a maker makes: what is selected, the dialog's fields, and the same command.

A new entry gets one line here; the tests of this folder then hold it to all that every entry promises.
"""

from __future__ import annotations

from typing import NamedTuple

NOTES = ("--show", "notes")
SHOWN = (*NOTES, "--show", "labels")


class Choice(NamedTuple):
    """One use of a menu entry."""

    action: str
    drawing: str
    selected: tuple[str, ...]
    fields: dict[str, str]
    command: tuple[str, ...]


CHOICES = (
    Choice("name-edges", "bare", ("front",), {"name": "front leg", "edges": "waist side hem inseam", "labels": "1"},
           ("mark", "--name", "front leg", "--edges", "waist side hem inseam", *SHOWN)),
    Choice("mark", "marked", ("front",),
           {"mark": "notch", "notch": "side=50% double; inseam=120mm", "add": "true", "labels": "1"},
           ("mark", "--notch", "side=50% double", "--notch", "inseam=120mm", "--add", *SHOWN)),
    Choice("mark", "marked", ("back",), {"mark": "cut", "cut": "1 on fold side", "outline": "stitch", "labels": "0"},
           ("mark", "--cut", "1 on fold side", "--outline", "stitch", *NOTES)),
    Choice("reduce", "traced", ("front-trace",), {"by": "7,5 %", "along": "2%", "labels": "1", "before": "1"},
           ("reduce", "--by", "7,5 %", "--along", "2%", *SHOWN, "--show", "before")),
    Choice("allow", "marked", ("front", "back"), {"width": "3/8 in", "edge": "hem=30mm; inseam=0mm", "labels": "0"},
           ("allow", "--width", "3/8 in", "--edge", "hem=30mm", "--edge", "inseam=0mm", *NOTES)),
    Choice("measure", "marked", ("front",), {"level": "50mm; 120mm"},
           ("measure", "--level", "50mm", "--level", "120mm")),
)  # fmt: skip

NAMES = tuple(dict.fromkeys(choice.action for choice in CHOICES))
