"""Draft the samples: ``python samples/draft.py [FOLDER]`` writes every drawing that comes out of the draft.

The same files come out, to the byte, on every run.
"""

from __future__ import annotations

import math
import pathlib
import sys

from drafting.sheet import Sheet, moved, written_sheet
from drafting.trace import relative, traced
from drafting.trousers import trousers

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.area import centroid
from crossgrain.kernel.bounds import bounds
from crossgrain.model import Pattern, Piece
from crossgrain.svg.pattern import pattern_of, update
from crossgrain.svg.reader import parse_drawing
from crossgrain.svg.writer import drawing_bytes

PX = 25.4 / 96.0
"""Millimetres in a CSS pixel."""

MARGIN = 40.0
TOP = 130.0
GAP = 50.0


def laid_out(pattern: Pattern, title: str) -> Sheet:
    """Lay the pieces side by side, the small ones over one another at the right."""
    left, right, back, band, facing, guard = pattern.pieces
    placed: list[Piece] = []
    x = MARGIN
    for piece in (band, left, right, back):
        # Upright neighbours share the waist level of the page, so that the levels can be read across.
        top = TOP + (bounds(piece.line).top - bounds(back.line).top if piece is not band else 0.0)
        placed.append(moved(piece, x, round(top)))
        x = math.ceil(bounds(placed[-1].line).right) + GAP
    placed.append(moved(facing, x, TOP))
    placed.append(moved(guard, x, TOP + 230.0))
    labels = {piece.id: (label_place(piece), label_lines(piece)) for piece in placed}
    corner = max(bounds(piece.line).right for piece in placed)
    bottom = max(bounds(piece.line).bottom for piece in placed)
    width = round(max(corner, x + 140.0) + MARGIN)
    return Sheet(
        width=width,
        height=round(bottom + MARGIN),
        title=(
            title,
            # No measure of the body: it would stand there in every size.
            "Chalk side up: drawn as seen on the wrong side of the cloth. Stitch lines, no allowances.",
        ),
        pieces=tuple(sorted(placed, key=lambda piece: pattern.pieces.index(pattern.piece(piece.id)))),
        labels=labels,
        test_square=(x, TOP + 500.0),
    )


def label_place(piece: Piece) -> tuple[float, float]:
    """Return where a piece's label starts: beside a slender piece, on a broad one beside its grain line."""
    box = bounds(piece.line)
    if box.width < 60.0:
        return (box.left, box.top - 45.0) if box.height > 400.0 else (box.right + 8.0, box.top + 20.0)
    return (round(centroid(piece.line)[0]) + (30.0 if piece.creases else 10.0), round(box.top) + 330.0)


def label_lines(piece: Piece) -> tuple[str, ...]:
    """Return what is written on a piece."""
    cut = f"cut {piece.cut.count}" + (", mirrored" if piece.cut.mirrored else "")
    cut += f", {piece.cut.on_fold} edge on a fold" if piece.cut.on_fold else ""
    return (piece.name, cut, *(("stabilised",) if piece.cut.stabilised else ()))


def marked(sheet: Sheet, name: str) -> bytes:
    """Write a sheet and mark its pieces, through the engine's own door."""
    drawing = parse_drawing(written_sheet(sheet).encode("utf-8"), name=name)
    pieces = Pattern(pieces=sheet.pieces)
    update(drawing, pattern_of(drawing, [piece.id for piece in pieces.pieces]), pieces)
    return drawing_bytes(drawing)


def bare(piece: Piece, id: str) -> str:
    """Write one outline with no facts on it, as a folder of drawings from elsewhere would hold it."""
    box = bounds(piece.line)
    placed = moved(Piece(id=id, edges=piece.edges), MARGIN, MARGIN)
    return written_sheet(
        Sheet(
            width=round(box.width + 2 * MARGIN),
            height=round(box.height + 2 * MARGIN),
            title=(),
            pieces=(placed,),
            labels={},
        )
    )


def traced_drawing(front: Piece) -> str:
    """Write the traced front as it stands in a drawing made over a photograph of the paper.

    The path lies in the photograph's own turned and enlarged pixels; the groups around it bring it to true scale,
    upright.
    """
    box = bounds(front.line)
    to_page = Affine.translation(MARGIN - box.left, MARGIN - box.top).then(Affine.scaling(1.0 / PX, 1.0 / PX))
    width, height = round(box.width + 2 * MARGIN), round(box.height + 2 * MARGIN)
    groups = (
        ("translate(-212.5,96.25)", Affine.translation(-212.5, 96.25)),
        ("rotate(-7.5)", Affine.rotation(math.radians(-7.5))),
        ("scale(0.64)", Affine.scaling(0.64, 0.64)),
    )
    to_path = to_page
    for _, step in groups:
        to_path = to_path.then(step.inverse())
    (paper, turned, scaled) = (text for text, _ in groups)
    return "\n".join(
        [
            '<?xml version="1.0" encoding="UTF-8" standalone="no"?>',
            '<svg xmlns="http://www.w3.org/2000/svg"',
            '     xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"',
            f'     version="1.1" width="{width}mm" height="{height}mm"'
            f' viewBox="0 0 {width / PX:.6f} {height / PX:.6f}">',
            f'  <g id="paper" inkscape:groupmode="layer" inkscape:label="paper" transform="{paper}">',
            f'    <g id="photograph" transform="{turned} {scaled}">',
            '      <path id="front-trace" style="fill:none;stroke:#8a1c1c;stroke-width:3"',
            f'            d="{relative(traced(front), to_path)}"/>',
            "    </g>",
            "  </g>",
            "</svg>",
            "",
        ]
    )


def main(folder: pathlib.Path) -> None:
    """Write the samples into a folder that exists."""
    trued, untrued = trousers(), trousers(trued=False)
    sheets = {
        "trousers.svg": laid_out(trued, "Slim trousers, base size"),
        "trousers-untrued.svg": laid_out(untrued, "Slim trousers, first draft, seams not walked"),
    }
    front, back = trued.piece("front-right"), trued.piece("back")
    for name, sheet in sheets.items():
        (folder / name).write_bytes(marked(sheet, name))
    for name, text in {
        "bare-front.svg": bare(front, "front"),
        "bare-back.svg": bare(back, "back"),
        "traced-front.svg": traced_drawing(front),
    }.items():
        (folder / name).write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main(pathlib.Path(sys.argv[1]) if len(sys.argv) > 1 else pathlib.Path(__file__).parent)
