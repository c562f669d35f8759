"""The right front as a person traces it from paper: many nodes, a shaky hand, lines and curves as they came."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from itertools import pairwise

from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.length import path_length, place_at, segment_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line, Segment, section
from crossgrain.model import Piece

SEED = 1887
CLICKS = {"waist": 12, "side": 26, "hem": 4, "inseam": 22, "crotch": 16}
"""How often the pen clicks on each edge: 80 nodes, closer where the line bends."""

JITTER = 0.3
"""How far a node may lie off the paper's line, mm."""

BROKEN_RAD = math.radians(2.5)
"""How far a handle may point off the line's direction, either way."""

STRAIGHT = 0.12
CARELESS = 0.75
"""A stretch that leaves its chord by less than this is clicked as a straight line, three times out of four."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """What is drawn between two nodes: the paper's own line there, in one or two parts."""

    parts: tuple[Segment, ...]

    @property
    def sagitta(self) -> float:
        """The greatest distance, nearly, of the line from its chord."""
        start, end = self.parts[0].start, self.parts[-1].end
        dx, dy = end[0] - start[0], end[1] - start[1]
        points = [part.point(t) for part in self.parts for t in (0.25, 0.5, 0.75, 1.0)]
        return max(abs((x - start[0]) * dy - (y - start[1]) * dx) / math.hypot(dx, dy) for x, y in points)


def traced(piece: Piece) -> Path:
    """Trace a piece, from its first corner along its edges; the same on every run."""
    hand = random.Random(SEED)
    stretches: list[Stretch] = []
    for name, line in corner_to_corner(piece).items():
        stretches += clicked(line, CLICKS[name], hand)

    def shaken(point: Point) -> Point:
        reach, angle = JITTER * math.sqrt(hand.random()), 2.0 * math.pi * hand.random()
        return (point[0] + reach * math.cos(angle), point[1] + reach * math.sin(angle))

    nodes = [shaken(stretch.parts[0].start) for stretch in stretches]
    drawn: list[Segment] = []
    for stretch, start, end in zip(stretches, nodes, nodes[1:] + nodes[:1], strict=True):
        if stretch.sagitta < STRAIGHT and hand.random() < CARELESS:
            drawn.append(Line(start, end))
            continue
        size = sum(segment_length(part) for part in stretch.parts)
        first = handle(stretch.parts[0].start_tangent, size, hand)
        last = handle(stretch.parts[-1].end_tangent, size, hand)
        drawn.append(
            Cubic(start, (start[0] + first[0], start[1] + first[1]), (end[0] - last[0], end[1] - last[1]), end)
        )
    return Path(tuple(drawn), True)


def corner_to_corner(piece: Piece) -> dict[str, Path]:
    """Return the outline between true corners: who traces does not know where a smooth line changes its name."""
    lines = {edge.name: edge.line.segments for edge in piece.edges}
    lines["crotch"] += lines.pop("centre")
    return {name: Path(segments) for name, segments in lines.items()}


def clicked(line: Path, count: int, hand: random.Random) -> list[Stretch]:
    """Cut a line into stretches of uneven length, between the places where the pen clicks."""
    widths = [0.6 + 0.8 * hand.random() for _ in range(count)]
    size, total = path_length(line), sum(widths)
    ends = [size * sum(widths[:number]) / total for number in range(1, count)]
    places = [place_at(line, end) for end in ends]
    bounds = [(0, 0.0), *((place.index, place.t) for place in places), (len(line.segments) - 1, 1.0)]
    stretches = []
    for (i, t), (j, u) in pairwise(bounds):
        parts = [
            section(line.segments[k], t if k == i else 0.0, u if k == j else 1.0)
            for k in range(i, j + 1)
            if (t if k == i else 0.0) < (u if k == j else 1.0)
        ]
        stretches.append(Stretch(parts=tuple(parts)))
    return stretches


def handle(tangent: Point | None, size: float, hand: random.Random) -> Point:
    """Pull a handle about a third of the stretch long, not quite in the line's direction."""
    assert tangent is not None, "no stretch of a drafted line is without length"
    reach = size / 3.0 * (0.85 + 0.3 * hand.random())
    turn = BROKEN_RAD * (2.0 * hand.random() - 1.0)
    cos, sin = reach * math.cos(turn), reach * math.sin(turn)
    return (tangent[0] * cos - tangent[1] * sin, tangent[0] * sin + tangent[1] * cos)


def relative(path: Path, to_path: Affine) -> str:
    """Write a closed line as an editor does: relative, three decimals, no rounding adding up."""

    def at(point: Point) -> tuple[int, int]:
        x, y = to_path.of(point)
        return (round(1000.0 * x), round(1000.0 * y))

    def step(here: tuple[int, int], there: tuple[int, int]) -> str:
        return f"{(there[0] - here[0]) / 1000.0:g},{(there[1] - here[1]) / 1000.0:g}"

    here = at(path.start)
    words = [f"m {here[0] / 1000.0:.10g},{here[1] / 1000.0:.10g}"]
    for segment in path.segments:
        if isinstance(segment, Line):
            words.append("l " + step(here, at(segment.end)))
        else:
            words.append("c " + " ".join(step(here, at(control)) for control in segment.controls[1:]))
        here = at(segment.end)
    return " ".join([*words, "z"])
