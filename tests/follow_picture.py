"""Draw the picture of the page on what follows; ``python tests/pictures.py`` calls it."""

from __future__ import annotations

import math
import pathlib

from crossgrain.cli import main
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.arc import arc_cubics
from crossgrain.kernel.bounds import Box
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import Edge, Pattern, Piece
from crossgrain.model.dependents.follows import Follows, Term
from crossgrain.operations.following import Following, follow
from crossgrain.output.path_text import path_text
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from pictures import INK, NEW, SAMPLES, page


def followed(folder: pathlib.Path) -> None:
    """Draw the fly after the opening became longer, and a shaped band for a narrower waist.

    Before: dashed. The band is the part of a ring, 40 mm wide, for a waist of 560 mm that becomes 500 mm.
    """
    longer, drawing = folder / "longer.svg", folder / "followed.svg"
    main(["lengthen", str(SAMPLES / "trousers.svg"), "-o", str(longer), "--at", "90mm", "--by", "24mm"])
    main(["follow", str(longer), "-o", str(drawing)])
    before, after = (pattern_of(read_drawing(path)) for path in (SAMPLES / "trousers.svg", drawing))
    parts = []
    for left, right, id in ((10.0, 45.0, "fly-facing"), (80.0, 80.0, "fly-guard")):
        for pattern in (before, after):
            x, y = pattern.piece(id).edge("waist").line.start
            lay = Affine.translation(right - x, 25.0 - y)
            parts.append(outlined(pattern.piece(id).line.mapped(lay), is_new=pattern is after))
        parts.append(word(left, 14.0, before.piece(id).name))
    for pattern, tint in shaped_bands():
        line = pattern.piece("band").line
        parts.append(outlined(line.mapped(Affine.translation(420.0, 425.0)), is_new=tint))
    parts.append(word(380.0, 24.0, "shaped waistband"))
    page("follow", Box(0.0, 0.0, 720.0, 230.0), parts, 1400, folder)


def outlined(line: Path, *, is_new: bool) -> str:
    """A line as it was, thin and dashed, or as it is."""
    how = (
        f'stroke="{NEW}" stroke-width="1.3"' if is_new else f'stroke="{INK}" stroke-dasharray="4 3" stroke-width="0.8"'
    )
    return f'<path d="{path_text(line)}" fill="none" {how}/>'


def word(x: float, y: float, text: str) -> str:
    """A word in the picture."""
    return f'<text x="{x:g}" y="{y:g}" fill="{INK}" font-family="sans-serif" font-size="10">{text}</text>'


def shaped_bands() -> list[tuple[Pattern, bool]]:
    """A shaped band as drawn, and as it follows a narrower waist."""
    radius, width, angle = 340.0, 40.0, 560.0 / 340.0
    far = radius + width
    ends = [(math.sin(a) * r, -math.cos(a) * r) for r in (far, radius) for a in (-angle / 2.0, angle / 2.0)]
    top, waist = (
        Path(arc_cubics(start, r, r, 0.0, False, way, end))
        for start, r, way, end in ((ends[0], far, True, ends[1]), (ends[3], radius, False, ends[2]))
    )
    sides = (Path((Line(ends[1], ends[3]),)), Path((Line(ends[2], ends[0]),)))
    edges = zip(("top", "right", "waist", "left"), (top, sides[0], waist, sides[1]), strict=True)
    band = Piece(
        id="band",
        edges=tuple(Edge(name=name, line=line) for name, line in edges),
        follows=(Follows(edge="waist", terms=(Term(piece="skirt", edge="waist"),)),),
    )
    square = Path.polygon([(0.0, 0.0), (500.0, 0.0), (500.0, 600.0), (0.0, 600.0)]).segments
    names = ("waist", "side", "hem", "centre")
    skirt = Piece(id="skirt", edges=tuple(Edge(name=n, line=Path((s,))) for n, s in zip(names, square, strict=True)))
    drawn = Pattern(pieces=(skirt, band))
    return [(drawn, False), (follow(drawn, Following()).value, True)]
