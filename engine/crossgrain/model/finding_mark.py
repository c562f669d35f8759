"""A finding as it is marked on the drawing: its number at its place, and a few words beside it."""

from __future__ import annotations

from dataclasses import dataclass

from crossgrain.kernel.affine import Point
from crossgrain.model.label import Label


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingMark:
    """One finding on the drawing.

    Args:
        number: as in the table.
        at: the place that is meant, mm.
        dot: where the number stands, mm.
        label: the words.
    """

    number: int
    at: Point
    dot: Point
    label: Label
