"""A piece whose edges are drawn after parts of another piece, drawn anew after what these have become."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

import numpy as np

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import path_length, place_at, point_at, point_at_share
from crossgrain.kernel.path import Path
from crossgrain.kernel.rescale import Rescale
from crossgrain.kernel.segment import Line, ended_at, started_at
from crossgrain.kernel.spans import Complexes
from crossgrain.kernel.strip import Guide, strip_map
from crossgrain.kernel.warp import Map, moved_point, warped
from crossgrain.language import _
from crossgrain.model.dependents.fitting_strip import check_fits
from crossgrain.model.dependents.traced_edges import TracedEdge
from crossgrain.model.marking.carried_marks import with_marks_carried
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.piece import Edge, Piece
from crossgrain.model.simple_outline import check_simple
from crossgrain.tolerances import CLOSING_GAP, COINCIDENT

_BLEND: Final = 80.0
"""Over what length an edge that is not traced is led to a corner that the piece's longest traced edge does not carry
along, mm: a hand's breadth, over which no bend shows."""

_MOST_SHARE: Final = 0.5
"""And over no more than this share of the way to the next traced corner."""


def retraced(piece: Piece, traced: Sequence[TracedEdge]) -> Piece:
    """Draw a piece anew after what its edges trace.

    The edges that trace become the traced lines. The others are carried along by the longest of these: every place
    keeps its distance from it, measured square to it, so that the depth of a facing stays. At corners with other
    traced edges they are led to where the corner is now, over a hand's breadth.

    Args:
        piece: the piece.
        traced: what its edges trace, laid where it lies.

    Returns:
        The piece, its notches, darts and holds carried along; on a traced edge by their share of what lies between its
        ends and those of the edge that is traced.

    Raises:
        ParameterError: traced edges that meet on the piece, and would not.
        GeometryError: a piece wider than a bend of the traced line has room for.

    >>> from crossgrain.model import Pattern
    >>> from crossgrain.model.dependents.traced_edges import traced_edges
    >>> from crossgrain.model.dependents.traces import Traces
    >>> def piece(id, width, height, **more):
    ...     lines = Path.polygon([(0, 0), (width, 0), (width, height), (0, height)]).segments
    ...     names = ("waist", "side", "hem", "centre")
    ...     edges = tuple(Edge(name=name, line=Path((line,))) for name, line in zip(names, lines))
    ...     return Piece(id=id, edges=edges, **more)
    >>> facing = piece("facing", 60, 30, traces=(Traces(edge="waist", piece="front", traced="waist"),))
    >>> new = retraced(facing, traced_edges(Pattern(pieces=(facing, piece("front", 64, 900))), facing))
    >>> [(round(x, 6), round(y, 6)) for x, y in (edge.line.start for edge in new.edges)]
    [(-2.0, 0.0), (62.0, 0.0), (62.0, 30.0), (-2.0, 30.0)]
    """
    lines = {one.traces.edge: one for one in traced}
    longest = max(traced, key=lambda one: path_length(one.line))
    rescales = {name: _rescale(piece, one) for name, one in lines.items()}
    old, new = Guide.of(piece.edge(longest.traces.edge).line), Guide.of(longest.line)
    check_fits(piece, longest.traces.edge, old)
    move = strip_map(old, new, rescales[longest.traces.edge])
    moves = _led(piece, lines, move)
    edges = _drawn(piece, lines, moves)

    def place(edge: str, share: float) -> Point:
        if edge not in lines:
            return moved_point(point_at_share(piece.edge(edge).line, share), moves[edge])
        line, along = lines[edge].line, share * path_length(piece.edge(edge).line)
        carried = float(rescales[edge].evenly(np.array([along]))[0][0])
        return point_at(line, place_at(line, min(max(carried, 0.0), path_length(line))))

    out = with_marks_carried(piece, edges, place, lambda dart: moved_point(dart_points(piece, dart)[1], move))
    check_fits(out, longest.traces.edge, new)
    check_simple(out)
    return out


def _rescale(piece: Piece, one: TracedEdge) -> Rescale:
    """Return where places along a traced edge go: what lies past the ends of the edge it traces keeps its length."""
    was, now = path_length(piece.edge(one.traces.edge).line), path_length(one.line)
    kept = one.before + one.beyond
    if not kept or kept >= min(was, now) - COINCIDENT:
        return Rescale([0.0, was], [0.0, now])
    first = [one.before] if one.before > COINCIDENT else []
    last = [one.beyond] if one.beyond > COINCIDENT else []
    return Rescale(
        [0.0, *first, *(was - length for length in last), was], [0.0, *first, *(now - length for length in last), now]
    )


def _led(piece: Piece, lines: Mapping[str, TracedEdge], move: Map) -> dict[str, Map]:
    """Return by which map each edge that is not traced moves."""
    out: dict[str, Map] = {}
    names = piece.edge_names
    first = next(at for at, name in enumerate(names) if name in lines)
    order = [*names[first:], *names[:first], names[first]]
    chain: list[str] = []
    before = order[0]
    for name in order[1:]:
        if name not in lines:
            chain.append(name)
            continue
        if chain:
            corners = piece.edge(chain[0]).line.start, piece.edge(chain[-1]).line.end
            ends = lines[before].line.end, lines[name].line.start
            out.update(dict.fromkeys(chain, _led_to(move, corners, ends)))
        chain, before = [], name
    return out


def _led_to(move: Map, corners: tuple[Point, Point], ends: tuple[Point, Point]) -> Map:
    """Return a map that also takes two corners to where they must be; elsewhere it is as it was."""
    reach = min(_BLEND, _MOST_SHARE * math.dist(*corners))
    for corner, end in zip(corners, ends, strict=True):
        (x, y), (u, v) = moved_point(corner, move), end
        gap = complex(u - x, v - y)
        if abs(gap) > COINCIDENT and reach > COINCIDENT:
            move = _pulled(move, complex(*corner), gap, reach)
    return move


def _pulled(move: Map, corner: complex, gap: complex, reach: float) -> Map:
    """Return a map that moves what lies around a corner by a little more, smoothly less to nothing at a distance."""

    def pulled(point: Complexes, direction: Complexes) -> tuple[Complexes, Complexes]:
        moved, turned = move(point, direction)
        away = point - corner
        far = np.abs(away)
        u = np.minimum(far / reach, 1.0)
        outwards = away.conj() / np.maximum(far, COINCIDENT)
        fall = -6.0 * u * (1.0 - u) / reach * (outwards * direction).real
        return moved + gap * (1.0 - u * u * (3.0 - 2.0 * u)), turned + gap * fall

    return pulled


def _carried(piece: Piece, edge: Edge, move: Map) -> Path:
    """Draw an edge under a map; one that lies on a fold of the cloth stays straight."""
    if edge.name == piece.cut.on_fold:
        return Path((Line(moved_point(edge.line.start, move), moved_point(edge.line.end, move)),))
    return Path.joined([part for parts in warped(edge.line.segments, move) for part in parts])


def _drawn(piece: Piece, lines: Mapping[str, TracedEdge], moves: Mapping[str, Map]) -> tuple[Edge, ...]:
    """Draw the edges, each starting where the one before it ends; traced lines stay the very ones."""
    out = [
        lines[edge.name].line if edge.name in lines else _carried(piece, edge, moves[edge.name]) for edge in piece.edges
    ]
    for at, (edge, after) in enumerate(pairwise([*piece.edges, piece.edges[0]])):
        following = (at + 1) % len(out)
        end, start = out[at].end, out[following].start
        if math.dist(end, start) > CLOSING_GAP:
            raise ParameterError(
                _("The edges {first} and {second} meet, and what they trace does not: its ends are {gap:.1f} mm apart.")
                .format(first=edge.name, second=after.name, gap=math.dist(end, start)),
                piece=piece.label,
                edge=edge.name,
                position=end,
                advice=_("Look at which part of its edge each of them traces."),
            )  # fmt: skip
        if after.name in lines and edge.name not in lines:
            out[at] = Path((*out[at].segments[:-1], ended_at(out[at].segments[-1], start)))
        else:
            out[following] = Path((started_at(out[following].segments[0], end), *out[following].segments[1:]))
    return tuple(replace(edge, line=line) for edge, line in zip(piece.edges, out, strict=True))
