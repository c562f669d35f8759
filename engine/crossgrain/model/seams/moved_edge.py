"""A piece one of whose edges has been moved: the edges beside it are cut or drawn on to meet it."""

from __future__ import annotations

from dataclasses import replace

from crossgrain.errors import CrossgrainError, ParameterError, SelfCrossingError
from crossgrain.kernel.area import winding
from crossgrain.kernel.meetings.crossing import self_crossings
from crossgrain.kernel.path import Path
from crossgrain.kernel.sliding import slid
from crossgrain.language import _
from crossgrain.model.piece import Edge, Piece


def with_moved_edge(piece: Piece, name: str, line: Path) -> tuple[Edge, ...]:
    """Return the edges of a piece with one of them drawn anew.

    Args:
        piece: a piece of at least two edges.
        name: the edge.
        line: its new line, in the order of the piece's edges, with its ends near the old corners.

    Returns:
        All edges, each starting where the one before it ends. An end that did not move moves nothing else; where one
        did, the neighbour is cut or drawn on as it was going. All other edges are what they were.

    Raises:
        GeometryError: at an end the edges cannot meet, or the outline would cross itself.
    """
    edges = list(piece.edges)
    count = len(edges)
    if count < 2:
        raise ParameterError(
            _("The outline is one edge, which has no corner to slide along."),
            piece=piece.label,
            advice=_("Name the edges of the piece first."),
        )
    at = piece.edge_names.index(name)
    after, before = (at + 1) % count, at - 1
    try:
        line, rest = slid(line, edges[after].line)
        edges[after] = replace(edges[after], line=rest)
        line, rest = (one.reversed() for one in slid(line.reversed(), edges[before].line.reversed()))
        edges[before] = replace(edges[before], line=rest)
    except CrossgrainError as error:
        error.piece, error.edge = error.piece or piece.label, error.edge or name
        raise
    edges[at] = replace(edges[at], line=line)
    outline = Path(tuple(segment for edge in edges for segment in edge.line.segments), True)
    crossing = next(iter(self_crossings(outline)), None)
    if crossing is not None or winding(outline) != winding(piece.line):
        raise SelfCrossingError(
            _("The outline would cross itself."),
            piece=piece.label,
            edge=name,
            position=crossing.point if crossing is not None else outline.start,
            advice=_("Move the seam by less there."),
        )
    return tuple(edges)
