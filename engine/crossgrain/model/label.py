"""A few words that stand beside a piece on the drawing, for the maker to read and no one to calculate with."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from crossgrain.kernel.affine import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """One or more short lines of text at a place in the drawing.

    Args:
        about: the id of the piece it belongs to; empty for the drawing as a whole.
        lines: the text, line by line.
        at: where the first line stands, mm.
        anchor: which end of each line stands there.
        kind: ``name`` for names and figures, ``table`` for text in columns, ``finding`` for what to look at.
    """

    about: str
    lines: tuple[str, ...]
    at: Point
    anchor: Literal["start", "middle", "end"] = "start"
    kind: Literal["name", "table", "finding"] = "name"
