"""The part of another piece's edge that an edge traces."""

from __future__ import annotations

import math
from dataclasses import dataclass

from crossgrain.errors import ParameterError
from crossgrain.kernel.length import Place, path_length, place_at, run
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment
from crossgrain.language import _
from crossgrain.model.dependents.traces import Traces
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece
from crossgrain.model.seams.adjusted_seam import with_length
from crossgrain.tolerances import ACCURACY, COINCIDENT, CORNER_TURN

_STRAIGHT_SHARE = 0.1
"""Two straight segments are drawn as one where that moves their node by less than this share of the accuracy."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TracedLine:
    """What an edge traces.

    Args:
        piece: the piece that has it.
        line: the part, where that piece lies and as it runs there.
        before: how much of it lies before the start of the edge that is traced, mm.
        beyond: how much of it lies past that edge's end, mm.
    """

    piece: Piece
    line: Path
    before: float = 0.0
    beyond: float = 0.0


def traced_line(pattern: Pattern, traces: Traces) -> TracedLine:
    """Return the line that an edge traces.

    Past an end of the edge it goes on along the outline where that goes on without a corner, and otherwise as the edge
    was going: past the step at the end of a zip extension it goes straight on.

    Raises:
        ParameterError: no such piece or edge; a part of no length; a part in which a dart opens, which a facing has no
            way to fold.

    >>> from crossgrain.model import Edge
    >>> sides = Path.polygon([(0, 0), (90, 0), (90, 160), (0, 160)]).segments
    >>> names = ("waist", "side", "hem", "centre")
    >>> front = Piece(id="front", edges=tuple(Edge(name=n, line=Path((s,))) for n, s in zip(names, sides)))
    >>> from crossgrain.model.dependents.traces import Reach
    >>> below = Traces(edge="centre", piece="front", traced="centre", start=Reach(more=-15.0))
    >>> traced_line(Pattern(pieces=(front,)), below).line.nodes
    ((0.0, 175.0), (0.0, 0.0))
    """
    piece = pattern.piece(traces.piece)
    length = path_length(piece.edge(traces.traced).line)
    start, end = traces.start.along(length), traces.end.along(length)
    if end - start <= COINCIDENT:
        raise ParameterError(
            _("The part of {edge} of {piece} that is traced has no length: it begins at {start:.1f} mm and ends at "
              "{end:.1f} mm.").format(edge=traces.traced, piece=piece.label, start=start, end=end),
            edge=traces.edge,
            advice=_("Write it as centre traces front/centre from 0% to 80%."),
        )  # fmt: skip
    for dart in piece.darts:
        middle = dart.share * length
        if dart.edge == traces.traced and start < middle + dart.width / 2.0 and middle - dart.width / 2.0 < end:
            raise ParameterError(
                _("A dart opens in the part of {edge} of {piece} that is traced.").format(
                    edge=traces.traced, piece=piece.label
                ),
                edge=traces.edge,
                advice=_("Trace a part that ends before the dart, or let the edge follow by its length alone."),
            )
    before, beyond = max(0.0, -start), max(0.0, end - length)
    whole = _gone_on(piece, traces.traced, before, beyond)
    first, last = place_at(whole, before + start), place_at(whole, min(before + end, path_length(whole)))
    return TracedLine(piece=piece, line=_merged(run(whole, first, last)), before=before, beyond=beyond)


def _gone_on(piece: Piece, name: str, before: float, beyond: float) -> Path:
    """Return an edge drawn on before its start and past its end, mm."""
    at, count = piece.edge_names.index(name), len(piece.edges)
    line, next_line = piece.edges[at].line, piece.edges[(at + 1) % count].line
    last_line = piece.edges[at - 1].line
    on = _on(line, next_line if count > 1 else None, beyond)
    return _on(on.reversed(), last_line.reversed() if count > 1 else None, before).reversed()


def _on(line: Path, neighbour: Path | None, reach: float) -> Path:
    if reach <= 0.0:
        return line
    wanted = path_length(line) + reach
    if neighbour is not None and _goes_on(line.segments[-1], neighbour.segments[0]):
        whole = reach >= path_length(neighbour)
        part = neighbour if whole else run(neighbour, Place(0, 0.0), place_at(neighbour, reach))
        line = Path.joined((*line.segments, *part.segments))
    return with_length(line, wanted, "last")


def _goes_on(before: Segment, after: Segment) -> bool:
    one, other = before.end_tangent, after.start_tangent
    if one is None or other is None:
        return False
    return abs(math.atan2(one[0] * other[1] - one[1] * other[0], one[0] * other[0] + one[1] * other[1])) < CORNER_TURN


def _merged(line: Path) -> Path:
    """Return a line with straight segments that go on straight as one."""
    out: list[Segment] = []
    for segment in line.segments:
        if out and isinstance(segment, Line) and isinstance(out[-1], Line):
            both = Line(out[-1].start, segment.end)
            (ax, ay), (bx, by), (x, y) = both.start, both.end, segment.start
            aside = abs((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / max(math.dist(both.start, both.end), COINCIDENT)
            if aside <= _STRAIGHT_SHARE * ACCURACY:
                out[-1] = both
                continue
        out.append(segment)
    return Path(tuple(out))
