"""Draw the pictures of corners and dart mouths for the page on cut pieces; called by ``pictures.py``."""

from __future__ import annotations

import math
import pathlib
from collections.abc import Sequence
from dataclasses import replace

from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.bounds import Box
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import Dart, Edge, Pattern, Piece, Width
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.notation.corners import read_corner
from crossgrain.operations.allowance import Allowance, allow
from crossgrain.output.path_text import path_text
from pictures import page

INK, NEW, FOLD = "#221f1a", "#1f3a5f", "#9c3b1b"
CELL, GAP, TITLE = 150.0, 18.0, 22.0


def polygon(names: str, *corners: Point) -> Piece:
    lines = Path.polygon(corners).segments
    return Piece(id="p", edges=tuple(Edge(name=n, line=Path((s,))) for n, s in zip(names.split(), lines, strict=True)))


def allowed(piece: Piece, style: str, **widths: float) -> Piece:
    """The piece with 15 mm, or other widths by edge, and one style."""
    named = tuple((name, Width.of(mm)) for name, mm in widths.items())
    corners = (read_corner(style),) if style else ()
    [new] = allow(Pattern(pieces=(piece,)), Allowance(width=15.0, edges=named, corners=corners)).value.pieces
    return new


def leg(lean: float) -> Piece:
    """The lower end of a leg whose seams lean outwards by so many degrees."""
    out = 160.0 * math.tan(math.radians(lean))
    return polygon("waist side hem inseam", (-40, 0), (40, 0), (40 + out, 160), (-40 - out, 160))


def shoulder() -> Piece:
    return polygon("waist side hem centre", (-130, -10), (0, 0), (30, 160), (-130, 160))


def thorn() -> Piece:
    return polygon("upper lower back", (-200, -35), (0, 0), (-200, 35))


CELLS: Sequence[tuple[str, Piece, str, dict[str, float], tuple[float, float, float]]] = (
    ("mitred, up to its limit", thorn(), "", {}, (-90.0, -75.0, 150.0)),
    ("blunted", thorn(), "upper/lower=blunted", {}, (-90.0, -75.0, 150.0)),
    ("straight along upper", thorn(), "upper/lower=straight along upper", {}, (-60.0, -75.0, 150.0)),
    ("waist/side=mitred", shoulder(), "", {}, (-85.0, -45.0, 130.0)),
    ("waist/side=squared to side", shoulder(), "waist/side=squared to side", {}, (-85.0, -45.0, 130.0)),
    ("side/hem=stepped", shoulder(), "side/hem=stepped", {"hem": 40.0}, (-65.0, 85.0, 130.0)),
    ("hem=mirrored, flared", leg(14.0), "hem=mirrored", {"hem": 40.0}, (-115.0, 60.0, 230.0)),
    ("hem=mirrored, tapered", leg(-9.0), "hem=mirrored", {"hem": 40.0}, (-80.0, 80.0, 160.0)),
    ("hem=mitred: too narrow", leg(-9.0), "", {"hem": 40.0}, (-80.0, 80.0, 160.0)),
)


def cell(x: float, y: float, title: str, box: tuple[float, float, float], parts: Sequence[str]) -> str:
    left, top, size = box
    frame = f'<svg x="{x}" y="{y + TITLE}" width="{CELL}" height="{CELL}" viewBox="{left} {top} {size} {size}">'
    words = f'<text x="{x}" y="{y + 14.0}" fill="{INK}" font-family="sans-serif" font-size="11">{title}</text>'
    return words + frame + "".join(parts) + "</svg>"


def drawn(piece: Piece, size: float) -> list[str]:
    """Stitch line thin, cut line thick."""
    thin, thick = size / 220.0, size / 75.0
    assert piece.counterpart is not None
    return [
        f'<path d="{path_text(piece.line)}" fill="#efe8d8" stroke="{INK}" stroke-width="{thin}" '
        f'stroke-dasharray="{4 * thin} {3 * thin}"/>',
        f'<path d="{path_text(piece.counterpart)}" fill="none" stroke="{NEW}" stroke-width="{thick}"/>',
    ]


def turned_up(piece: Piece, size: float) -> str:
    """What lies under a straight hem, turned up about it: where it comes to lie on the leg."""
    assert piece.counterpart is not None
    height = piece.edge("hem").line.start[1]
    up = Affine.scaling(1.0, -1.0, (0.0, height))
    clip = f'<clipPath id="c{id(piece)}"><rect x="-300" y="0" width="600" height="{height}"/></clipPath>'
    thin = size / 140.0
    return (
        f'{clip}<path clip-path="url(#c{id(piece)})" d="{path_text(piece.counterpart.mapped(up))}" fill="none" '
        f'stroke="{FOLD}" stroke-width="{thin}" stroke-dasharray="{5 * thin} {3 * thin}"/>'
    )


def corners() -> tuple[float, float, list[str]]:
    """Every style once, or on two legs: width, height and parts of the picture."""
    parts = []
    for number, (title, piece, style, widths, box) in enumerate(CELLS):
        row, column = divmod(number, 3)
        new = allowed(piece, style, **widths)
        inside = drawn(new, box[2])
        if title.startswith("hem="):
            inside.append(turned_up(new, box[2]))
        parts.append(cell(column * (CELL + GAP), row * (CELL + TITLE + GAP), title, box, inside))
    rows = (len(CELLS) + 2) // 3
    return 3 * (CELL + GAP), rows * (CELL + TITLE + GAP), parts


def slanting(pressed: str | None) -> Piece:
    """A waist that is straight and slants when its dart is shut."""
    width, depth, slant = 36.0, 90.0, math.radians(14.0)
    half = math.atan2(width / 2.0, depth)
    tip = (0.0, depth)
    first, last = (-width / 2.0, 0.0), (width / 2.0, 0.0)
    left = (first[0] - 90.0 * math.cos(half - slant), first[1] + 90.0 * math.sin(half - slant))
    right = (last[0] + 90.0 * math.cos(half + slant), last[1] + 90.0 * math.sin(half + slant))
    waist = Path((Line(left, first), Line(first, last), Line(last, right)))
    lines = {
        "waist": waist,
        "side": Path((Line(right, (right[0], 160.0)),)),
        "hem": Path((Line((right[0], 160.0), (left[0], 160.0)),)),
        "seat": Path((Line((left[0], 160.0), left),)),
    }
    share = (90.0 + width / 2.0) / (180.0 + width)
    dart = Dart(edge="waist", share=share, width=width, depth=tip[1])
    return replace(
        Piece(id="p", edges=tuple(Edge(name=n, line=line) for n, line in lines.items()), darts=(dart,)),
        darts=(replace(dart, pressed=pressed),),  # type: ignore[arg-type]  # start, end or None
    )


def darts() -> tuple[float, float, list[str]]:
    """A dart of which nothing is said, one pressed to the start of its edge, one to its end."""
    parts = []
    for number, (title, pressed) in enumerate(
        (("nothing said", None), ("pressed to start", "start"), ("pressed to end", "end"))
    ):
        piece = allowed(slanting(pressed), "")
        first, tip, last = dart_points(piece, piece.darts[0])
        middle = ((first[0] + last[0]) / 2.0, (first[1] + last[1]) / 2.0)
        legs = f"M{first[0]} {first[1]}L{tip[0]} {tip[1]}L{last[0]} {last[1]}"
        fold = f"M{tip[0]} {tip[1]}L{middle[0]} {middle[1] - 30.0}"
        inside = [
            *drawn(piece, 200.0),
            f'<path d="{legs}" fill="none" stroke="{INK}" stroke-width="1"/>',
            f'<path d="{fold}" fill="none" stroke="{FOLD}" stroke-width="1" stroke-dasharray="5 3"/>',
        ]
        parts.append(cell(number * (CELL + GAP), 0.0, title, (-100.0, -75.0, 200.0), inside))
    return 3 * (CELL + GAP), CELL + TITLE, parts


def cornered(folder: pathlib.Path) -> None:
    """Each style of corner, and the mouths of darts."""
    for name, (width, height, parts) in (("corners", corners()), ("dart-mouths", darts())):
        page(name, Box(-6.0, -2.0, width, height + 4.0), parts, 1500, folder)
