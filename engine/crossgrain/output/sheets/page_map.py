"""A small picture of all pages with the pieces on them: where each sheet goes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import Box
from crossgrain.model.cutting.line_looks import LineLook
from crossgrain.output.sheets.ink import INK, PALE, Ink, Lettering, Stroke, rectangle
from crossgrain.output.sheets.tiles import Cell, Layout

_THIN: Final = LineLook(0.15, (), INK)
_LETTERS: Final = 0.4
"""Height of the page numbers, as a share of the smaller side of a page on the map."""

_LARGEST: Final = 5.0


def map_ink(layout: Layout, numbers: Mapping[Cell, int], room: Box) -> Iterator[Ink]:
    """Draw the pages and the pieces, as large as there is room.

    Args:
        layout: the pages.
        numbers: the number of each page in the document.
        room: where, mm.
    """
    boxes = {cell: layout.grid.box(cell) for cell in layout.cells}
    whole = Box.around([*boxes.values(), *(placed.box for placed in layout.placed)])
    scale = min(room.width / whole.width, room.height / whole.height)
    onto = Affine.scaling(scale, scale).then(
        Affine.translation(room.left - scale * whole.left, room.top - scale * whole.top)
    )
    for placed in layout.placed:
        move = placed.place.then(onto)
        for region in placed.block.regions:
            yield Stroke(line=region.mapped(move), look=_THIN, purpose="labels")
    half = layout.grid.overlap / 2.0
    height = min(_LETTERS * scale * min(layout.grid.steps), _LARGEST)
    for cell, box in boxes.items():
        (left, top), (right, bottom) = (
            onto.of((box.left + half, box.top + half)),
            onto.of((box.right - half, box.bottom - half)),
        )
        yield rectangle(Box(left, top, right, bottom), 0.2, colour=PALE)
        at = ((left + right) / 2.0, (top + bottom) / 2.0 + 0.36 * height)
        yield Lettering(text=str(numbers[cell]), at=at, height=height, middle=True)
