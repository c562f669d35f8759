"""What is marked on a piece as depending on others: what an edge is as long as, what it traces, a zip along it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from crossgrain.errors import ParameterError
from crossgrain.kernel.length import path_length
from crossgrain.language import _
from crossgrain.model.dependents.follows import Follows, lengths_followed
from crossgrain.model.dependents.openings import opening_length
from crossgrain.model.dependents.traced_edges import traced_edges, with_direction
from crossgrain.model.dependents.traces import Traces
from crossgrain.model.dependents.zips import Zip
from crossgrain.model.outcome import Finding
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece
from crossgrain.tolerances import SEAM_MATCH

Dependence = Follows | Traces | Zip

_UP_TO_DATE = _("Bring it up to date, or look at what it follows again.")


def with_dependences(
    pattern: Pattern, piece: Piece, wanted: Sequence[Dependence], *, add: bool = False
) -> tuple[Piece, tuple[Finding, ...]]:
    """Mark what edges of a piece depend on, and note how long that is now.

    Args:
        pattern: the pieces that are followed.
        piece: the piece that follows.
        wanted: what to mark.
        add: to what is marked; otherwise in its place.

    Returns:
        The piece, and a finding for each edge that does not match what it depends on.

    Raises:
        ParameterError: no such piece or edge; an edge that both follows and traces; what cannot be traced.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge
    >>> lines = Path.polygon([(0, 0), (200, 0), (200, 160), (0, 160)]).segments
    >>> edges = tuple(Edge(name=n, line=Path((line,))) for n, line in zip(("waist", "side", "hem", "centre"), lines))
    >>> front = Piece(id="front", edges=edges)
    >>> with_dependences(Pattern(pieces=(front,)), front, [Zip(edge="centre")])[0].zips
    (Zip(edge='centre', was=160.0),)
    """
    follows = tuple(replace(one, was=lengths_followed(pattern, one)) for one in wanted if isinstance(one, Follows))
    traces = tuple(one for one in wanted if isinstance(one, Traces))
    zips = tuple(replace(one, was=opening_length(piece, one.edge)) for one in wanted if isinstance(one, Zip))
    if add:
        follows, traces, zips = (*piece.follows, *follows), (*piece.traces, *traces), (*piece.zips, *zips)
    edges = [*(one.edge for one in follows), *(one.edge for one in traces)]
    for name in edges:
        if edges.count(name) > 1:
            raise ParameterError(
                _("The edge {edge} is to follow two things.").format(edge=name),
                piece=piece.label,
                edge=name,
                advice=_("Say of each edge once what it is as long as, or what it traces."),
            )
    marked = replace(piece, follows=follows, traces=traces, zips=zips)
    if traces:
        marked = replace(marked, traces=with_direction(pattern, marked))
    return marked, (*_off_length(marked), *_off_line(pattern, marked))


def _off_length(piece: Piece) -> list[Finding]:
    out = []
    for one in piece.follows:
        length, followed = path_length(piece.edge(one.edge).line), sum(one.was)
        if abs(followed - length) > SEAM_MATCH:
            message = _("It is {length:.1f} mm long, and what it follows {followed:.1f} mm.")
            out.append(
                Finding(
                    piece=piece.label,
                    edge=one.edge,
                    message=message.format(length=length, followed=followed),
                    advice=_UP_TO_DATE,
                )
            )
    return out


def _off_line(pattern: Pattern, piece: Piece) -> list[Finding]:
    if not piece.traces:
        return []
    message = _("It is {length:.1f} mm long, and what it traces {traced:.1f} mm; they part by up to {off:.1f} mm.")
    return [
        Finding(
            piece=piece.label,
            edge=one.traces.edge,
            message=message.format(
                length=path_length(piece.edge(one.traces.edge).line), traced=path_length(one.line), off=one.off
            ),
            advice=_UP_TO_DATE,
        )
        for one in traced_edges(pattern, piece)
        if one.off > SEAM_MATCH
    ]
