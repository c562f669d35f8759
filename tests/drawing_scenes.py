"""What is done to each drawing in ``tests/drawings/``: see the README there."""

from __future__ import annotations

import pathlib
from collections.abc import Callable, Mapping

from crossgrain.model import Outcome, Pattern, Width
from crossgrain.operations.allowance import Allowance, allow
from crossgrain.operations.reduction import Reduction, reduce
from crossgrain.svg.pattern import pattern_of, update
from crossgrain.svg.reader import read_drawing
from crossgrain.svg.writer import drawing_bytes

FOLDER = pathlib.Path(__file__).parent / "drawings"

SCENES: Mapping[str, Callable[[Pattern], Outcome[Pattern]]] = {
    "narrow": lambda pattern: reduce(pattern, Reduction(by=0.08)),
    "to-cut": lambda pattern: allow(
        pattern, Allowance(width=10.0, edges=(("hem", Width.of(30.0)), ("seat", Width.of(25.0))))
    ),
}

PIECES = {"narrow": ("front-left", "back"), "to-cut": ("back", "fly-guard")}


def file(name: str, state: str) -> pathlib.Path:
    return FOLDER / f"{name}.{state}.svg"


def done(name: str) -> bytes:
    """Do what is to be done to a drawing; return the drawing after."""
    drawing = read_drawing(file(name, "before"))
    before = pattern_of(drawing)
    update(drawing, before, SCENES[name](before).value)
    return drawing_bytes(drawing)
