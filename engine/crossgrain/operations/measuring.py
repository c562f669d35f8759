"""Measure: what a tape would say of the pieces of a pattern. Nothing is altered."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.bounds import Box, bounds
from crossgrain.kernel.corners import corners
from crossgrain.kernel.length import Place, path_length, run
from crossgrain.kernel.meetings.sections import widths_at
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.outcome import Finding
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import CutInstruction, OutlineKind, Piece
from crossgrain.tolerances import COINCIDENT

LevelKind = Literal["upper end", "widest", "lower end", "given"]

_ACROSS = (1.0, 0.0)

_LEVELS = 80
"""At how many levels the greatest width is looked for, besides those of the outline's own nodes."""

_CLOSING_IN = 5
_PARTS = 8
"""How often the stretch in which the greatest width lies is looked at in so many parts, and a quarter of it kept: from
10 mm to 0.01 mm, over which a width that has a greatest value changes by less still."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeMeasurement:
    """The length of an edge along the line, mm; its name is empty on a bare outline."""

    name: str
    length: float
    allowance: float | None = None
    allowance_stations: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WidthMeasurement:
    """The width of a piece across its grain at one level.

    Args:
        kind: which level it is.
        depth: how far the level lies below the piece's highest point, mm along the grain.
        width: of the cloth there, mm: without what lies outside between two parts of the piece.
        intake: what the darts take out of that, mm.
    """

    kind: LevelKind
    depth: float
    width: float
    intake: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceMeasurement:
    """What was measured on one piece.

    Args:
        id: the id of its path.
        name: its name; empty on a bare outline.
        outline: which line was measured.
        cut: how many are cut.
        edges: its edges, in order.
        perimeter: the length of the outline, mm.
        area: inside it, mm².
        box: the upright box around it on the page, mm.
        along: its length along the grain, mm.
        across: its extent across the grain, mm; more than its greatest width where it leans.
        widths: at its upper end, where it is widest, at its lower end, and at the levels asked for.
    """

    id: str
    name: str
    outline: OutlineKind
    cut: CutInstruction
    edges: tuple[EdgeMeasurement, ...]
    perimeter: float
    area: float
    box: Box
    along: float
    across: float
    widths: tuple[WidthMeasurement, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamMeasurement:
    """Edges of one name on two or more pieces, which are sewn together.

    Args:
        name: the name of the edges.
        sides: the piece's label and the edge's length, mm, for each.
        difference: between the longest and the shortest, mm.
    """

    name: str
    sides: tuple[tuple[str, float], ...]
    difference: float


@dataclass(frozen=True, slots=True, kw_only=True)
class GirthMeasurement:
    """What the pieces come to together at one level.

    Args:
        depth: the level, mm below the highest point of each piece.
        girth: the sum of the widths, dart intakes out, each as often as its piece is cut and twice where it is cut on
            a fold, mm.
        parts: the label of each piece that reaches so far, and what it adds, mm.
    """

    depth: float
    girth: float
    parts: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Measurements:
    """What was measured on a pattern, and what could not be."""

    pieces: tuple[PieceMeasurement, ...]
    seams: tuple[SeamMeasurement, ...] = ()
    girths: tuple[GirthMeasurement, ...] = ()
    findings: tuple[Finding, ...] = ()


def measure(pattern: Pattern, levels: Sequence[float] = ()) -> Measurements:
    """Measure edges, areas, widths, seams and girths.

    Which end of a piece is the upper one is told by an edge named waist or hem; without these, by the grain, which
    points down.

    Args:
        pattern: the pattern; for a girth, of the pieces that make it up and no others.
        levels: depths along the grain below each piece's highest point at which widths and girths are wanted, mm,
            0 or more.

    Returns:
        Lengths, areas and widths exact to rounding; the greatest width within 0.01 mm. A finding for each level that a
        piece does not reach.

    Raises:
        ParameterError: a level above the piece.

    >>> from crossgrain.model import Edge
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> bare = Pattern(pieces=(Piece(id="band", edges=(Edge(name="", line=Path(square.segments)),)),))
    >>> [piece] = measure(bare, [20.0]).pieces
    >>> piece.area, piece.perimeter, [round(width.width, 9) for width in piece.widths]
    (6000.0, 320.0, [100.0, 100.0, 100.0, 100.0])
    """
    for level in levels:
        if not (math.isfinite(level) and level >= 0.0):
            raise ParameterError(
                _("A level at {depth:.4g} mm lies above the piece.").format(depth=level),
                advice=_("Give its depth below the highest point."),
            )
    findings: list[Finding] = []
    measured = [_piece(piece, levels, findings) for piece in pattern.pieces]
    return Measurements(
        pieces=tuple(measured),
        seams=_seams(pattern),
        girths=tuple(_girth(measured, level) for level in levels),
        findings=tuple(findings),
    )


def _piece(piece: Piece, levels: Sequence[float], findings: list[Finding]) -> PieceMeasurement:
    line = piece.line
    cloth = _Cloth(piece)
    upper, lower = cloth.widths(["upper end", "lower end"], [cloth.upper_end, cloth.lower_end])
    widths = [upper, cloth.widest(), lower]
    reached = []
    for level in levels:
        if level > cloth.length + COINCIDENT:
            findings.append(
                Finding(
                    piece=piece.label,
                    message=_(
                        "The level {depth:.1f} mm down lies below the piece, which is {length:.1f} mm long."
                    ).format(depth=level, length=cloth.length),
                )
            )
        else:
            reached.append(level)
    widths += cloth.given(reached)
    return PieceMeasurement(
        id=piece.id,
        name=piece.name,
        outline=piece.outline,
        cut=piece.cut,
        edges=tuple(
            EdgeMeasurement(
                name=edge.name,
                length=path_length(edge.line),
                allowance=edge.allowance.most if edge.allowance else None,
                allowance_stations=edge.allowance.stations if edge.allowance and not edge.allowance.is_even else (),
            )
            for edge in piece.edges
        ),
        perimeter=path_length(line),
        area=abs(signed_area(line)),
        box=bounds(line),
        along=cloth.length,
        across=cloth.extent,
        widths=tuple(widths),
    )


class _Cloth:
    """A piece in the frame of its grain: across it to the right, along it downwards from its highest point."""

    def __init__(self, piece: Piece) -> None:
        gx, gy = piece.grain
        frame = Affine(gy, gx, -gx, gy)
        if _is_upside_down(piece, frame):
            frame = frame.then(Affine(-1.0, 0.0, 0.0, -1.0))
        box = bounds(piece.line.mapped(frame))
        frame = frame.then(Affine.translation(0.0, -box.top))
        self.length, self.extent = box.bottom - box.top, box.right - box.left
        self.outline = piece.line.mapped(frame)
        self.darts = [Path.polygon([frame.of(point) for point in dart_points(piece, dart)]) for dart in piece.darts]
        self.upper_end, self.lower_end = _ends(piece, frame, self.length)

    def given(self, depths: Sequence[float]) -> list[WidthMeasurement]:
        """Return the widths at depths that were asked for."""
        return self.widths(["given"] * len(depths), depths)

    def widths(self, kinds: Sequence[LevelKind], depths: Sequence[float]) -> list[WidthMeasurement]:
        """Return the widths at depths of some kind."""
        widths = widths_at(self.outline, _ACROSS, depths)
        taken = [widths_at(dart, _ACROSS, depths) for dart in self.darts]
        intakes = [math.fsum(each) for each in zip(*taken, strict=True)]
        return [
            WidthMeasurement(kind=kind, depth=depth, width=width, intake=intake)
            for kind, depth, width, intake in zip(kinds, depths, widths, intakes or [0.0] * len(depths), strict=True)
        ]

    def widest(self) -> WidthMeasurement:
        """Look at many levels and at those of the nodes, then close in on the best between its neighbours."""
        nodes = [min(max(y, 0.0), self.length) for _x, y in self.outline.nodes]
        depths = sorted({*nodes, *(self.length * number / _LEVELS for number in range(_LEVELS + 1))})
        for _round in range(_CLOSING_IN + 1):
            widths = widths_at(self.outline, _ACROSS, depths)
            best = max(range(len(depths)), key=widths.__getitem__)
            depth, low, high = depths[best], depths[max(best - 1, 0)], depths[min(best + 1, len(depths) - 1)]
            depths = sorted({depth, *(low + (high - low) * number / _PARTS for number in range(_PARTS + 1))})
        return self.widths(["widest"], [depth])[0]


def _is_upside_down(piece: Piece, frame: Affine) -> bool:
    box = bounds(piece.line.mapped(frame))
    middle = (box.top + box.bottom) / 2.0
    for name, is_above in (("waist", True), ("hem", False)):
        if name in piece.edge_names:
            line = piece.edge(name).line.mapped(frame)
            return ((line.start[1] + line.end[1]) / 2.0 < middle) is not is_above
    return False


def _ends(piece: Piece, frame: Affine, length: float) -> tuple[float, float]:
    """Return the depths between which the piece has its full width: past a slanted or hollow waist, before a hem."""
    ends = []
    for line in _sides(piece):
        (x0, y0), (x1, y1) = frame.of(line.start), frame.of(line.end)
        if abs(x1 - x0) > abs(y1 - y0):
            box = bounds(line.mapped(frame))
            ends.append((box.top, box.bottom))
    upper = [high for low, high in ends if low + high < length]
    lower = [low for low, high in ends if low + high >= length]
    return min(upper, default=0.0), max(lower, default=length)


def _sides(piece: Piece) -> list[Path]:
    """Return the line of every edge; on a bare outline every run between corners."""
    if len(piece.edges) > 1:
        return [edge.line for edge in piece.edges]
    line = piece.line
    places = [Place(corner.node, 0.0) for corner in corners(line)]
    if len(places) < 2:
        return []
    return [run(line, start, end) for start, end in zip(places, places[1:] + places[:1], strict=True)]


def _seams(pattern: Pattern) -> tuple[SeamMeasurement, ...]:
    names = dict.fromkeys(edge.name for piece in pattern.pieces for edge in piece.edges if edge.name)
    out = []
    for name in names:
        sides = tuple((piece.label, path_length(edge.line)) for piece, edge in pattern.seam(name))
        if len(sides) > 1:
            lengths = [length for _label, length in sides]
            out.append(SeamMeasurement(name=name, sides=sides, difference=max(lengths) - min(lengths)))
    return tuple(out)


def girths(pattern: Pattern, depths: Sequence[float]) -> tuple[GirthMeasurement, ...]:
    """Measure girths alone, as :func:`measure` does: it looks for the widest place of every piece, which takes longer.

    Args:
        pattern: the pieces that make up the girths.
        depths: along the grain below each piece's highest point, mm, 0 or more.

    Returns:
        A girth at each depth that a piece reaches, exact to rounding.

    >>> from crossgrain.model import CutInstruction, Edge
    >>> square = Path(Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)]).segments)
    >>> bare = Piece(id="band", edges=(Edge(name="", line=square),), cut=CutInstruction(count=2))
    >>> [round(one.girth, 9) for one in girths(Pattern(pieces=(bare,)), [20.0, 70.0])]
    [200.0]
    """
    clothes = [(piece, _Cloth(piece)) for piece in pattern.pieces]
    given = [{width.depth: width for width in cloth.given(depths)} for _piece, cloth in clothes]
    found = []
    for depth in depths:
        parts = tuple(
            _part(piece.label, piece.cut, widths[depth])
            for (piece, cloth), widths in zip(clothes, given, strict=True)
            if depth <= cloth.length + COINCIDENT
        )
        if parts:
            found.append(_summed(depth, parts))
    return tuple(found)


def _girth(pieces: Sequence[PieceMeasurement], level: float) -> GirthMeasurement:
    parts = []
    for piece in pieces:
        widths = [width for width in piece.widths if width.kind == "given" and width.depth == level]
        parts += [_part(piece.name or piece.id, piece.cut, width) for width in widths[:1]]
    return _summed(level, tuple(parts))


def _part(label: str, cut: CutInstruction, width: WidthMeasurement) -> tuple[str, float]:
    """Return what a piece adds to a girth, as often as it is cut, and twice where it is cut on a fold."""
    return label, cut.times * (width.width - width.intake)


def _summed(depth: float, parts: tuple[tuple[str, float], ...]) -> GirthMeasurement:
    return GirthMeasurement(depth=depth, girth=math.fsum(part for _label, part in parts), parts=parts)
