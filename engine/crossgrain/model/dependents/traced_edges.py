"""What the edges of a piece trace, laid where the piece lies."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Final

import numpy as np

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.area import winding
from crossgrain.kernel.length import path_length, places_at, point_at
from crossgrain.kernel.meetings.nearest import nearest_points
from crossgrain.kernel.path import Path
from crossgrain.kernel.spans import Complexes
from crossgrain.language import _
from crossgrain.model.dependents.traced_line import TracedLine, traced_line
from crossgrain.model.dependents.traces import Traces
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece
from crossgrain.tolerances import COINCIDENT, SEAM_MATCH, TRACED

_PLACES: Final = 65
"""At so many places of each edge it is compared with what it traces."""

_CLEARLY: Final = 0.5
"""Laid another way an edge must lie this many times as near to what it traces, for the drawing to speak against the way
that is expected."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TracedEdge:
    """An edge and what it traces, laid beside it.

    Args:
        traces: what is traced.
        line: the traced line, laid where the piece lies, as the edge runs.
        before: how much of it, from its start, lies beyond the edge that is traced, mm.
        beyond: how much of it, at its end, does, mm.
        off: how far the edge lies off it at most, mm: beside it, or at an end.
    """

    traces: Traces
    line: Path
    before: float
    beyond: float
    off: float


def traced_edges(pattern: Pattern, piece: Piece) -> tuple[TracedEdge, ...]:
    """Lay what the edges of a piece trace where these edges lie, as near to all of them as can be.

    It is turned and moved as a whole; where edges meet at a corner that is traced too, the lines meet there. It is laid
    the way round that a facing lies on the piece that it faces: both have their cloth on the same side of the line.
    Edges of one name beside it tell which end is which. Where the edges as they are drawn clearly speak against that,
    it is laid as they are drawn.

    Args:
        pattern: the pieces that are traced.
        piece: the piece that traces.

    Returns:
        One for each thing that the piece traces, in their order: a turned, moved or mirrored copy, exact to rounding.

    Raises:
        ParameterError: what :func:`~crossgrain.model.dependents.traced_line.traced_line` refuses; edges that trace two
            pieces.

    >>> from crossgrain.model import Edge
    >>> def piece(id, width, height, **more):
    ...     lines = Path.polygon([(0, 0), (width, 0), (width, height), (0, height)]).segments
    ...     names = ("waist", "side", "hem", "centre")
    ...     edges = tuple(Edge(name=name, line=Path((line,))) for name, line in zip(names, lines))
    ...     return Piece(id=id, edges=edges, **more)
    >>> facing = piece("facing", 60, 30, traces=(Traces(edge="waist", piece="front", traced="waist"),))
    >>> [one] = traced_edges(Pattern(pieces=(facing, piece("front", 64, 900))), facing)
    >>> one.line.nodes, round(one.off, 9)
    (((-2.0, 0.0), (62.0, 0.0)), 2.0)
    """
    laying = _Laying(pattern, piece)
    way = laying.way
    return tuple(
        _placed(piece, traces, line, turned, laying.fits[way].affine)
        for traces, line, turned in zip(piece.traces, laying.lines, way.turned, strict=True)
    )


def with_direction(pattern: Pattern, piece: Piece) -> tuple[Traces, ...]:
    """Return what a piece traces, and say which edges run the other way where only their shape tells.

    To be asked when it is marked, while the edges still lie on what they trace.
    """
    laying = _Laying(pattern, piece)
    way = laying.best if laying.is_nearer(TRACED) else laying.expected
    return tuple(
        replace(traces, reversed=True) if turned and not said else traces
        for traces, turned, said in zip(piece.traces, way.turned, laying.expected.turned, strict=True)
    )


class _Laying:
    """The ways in which traced lines can be laid onto the edges of a piece."""

    def __init__(self, pattern: Pattern, piece: Piece) -> None:
        self.lines = [traced_line(pattern, traces) for traces in piece.traces]
        if len({line.piece.id for line in self.lines}) > 1:
            raise ParameterError(
                _("It traces edges of several pieces, which do not say how they lie to each other."),
                piece=piece.label,
                advice=_("Trace one piece, and let the other edges follow by their length."),
            )
        turns = [_turns(piece, traces, line.piece) for traces, line in zip(piece.traces, self.lines, strict=True)]
        first = tuple(turn[0] for turn in turns)
        longest = max(range(len(turns)), key=lambda k: path_length(self.lines[k].line))
        same_hand = winding(piece.line) == winding(self.lines[0].piece.line)
        self.expected = _Way(same_hand is first[longest], first)
        own = [_samples(piece.edge(traces.edge).line) for traces in piece.traces]
        self.fits = {
            _Way(mirrored, turned): _fit(
                own, [_samples(_run(*one)) for one in zip(self.lines, turned, strict=True)], mirrored
            )
            for mirrored in (False, True)
            for turned in product(*turns)
        }
        self.best = min(self.fits, key=lambda way: self.fits[way].off)

    def is_nearer(self, least: float) -> bool:
        """Tell whether the best way is clearly nearer than the expected one, which is off by more than a least."""
        return (
            self.fits[self.expected].off > least and self.fits[self.best].off < _CLEARLY * self.fits[self.expected].off
        )

    @property
    def way(self) -> _Way:
        """The way in which they are laid."""
        return self.best if self.is_nearer(SEAM_MATCH) else self.expected


def _turns(piece: Piece, traces: Traces, other: Piece) -> tuple[bool, ...]:
    """Return whether an edge may run the other way than the one it traces, the likelier first."""
    alike = _neighbours_say(piece, traces.edge, other, traces.traced)
    if traces.reversed:
        return (True,)
    return (False, True) if alike == 0 else (alike < 0,)


@dataclass(frozen=True, slots=True)
class _Way:
    """Whether the lines are mirrored, and which of them run the other way."""

    mirrored: bool
    turned: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class _Fit:
    """How lines are laid onto edges, and how far off they are in the mean, mm."""

    affine: Affine
    off: float


def _neighbours_say(piece: Piece, edge: str, other: Piece, traced: str) -> int:
    """Tell by the names of the edges beside them whether two edges run alike: above zero if so, below if not."""
    (before, after), (first, last) = _beside(piece, edge), _beside(other, traced)
    return (before == first) + (after == last) - (before == last) - (after == first)


def _beside(piece: Piece, edge: str) -> tuple[str, str]:
    names = piece.edge_names
    at = names.index(edge)
    return names[at - 1], names[(at + 1) % len(names)]


def _samples(line: Path) -> Complexes:
    length = path_length(line)
    places = places_at(line, np.linspace(0.0, length, _PLACES).tolist())
    return np.array([complex(*point_at(line, place)) for place in places])


def _run(traced: TracedLine, turned: bool) -> Path:
    return traced.line.reversed() if turned else traced.line


def _fit(own: Sequence[Complexes], laid: Sequence[Complexes], mirrored: bool) -> _Fit:
    """Turn and move samples, mirrored or not, onto others, so that the squares of their distances add up to least."""
    p, q = np.concatenate(own), np.concatenate(laid)
    q = q.conj() if mirrored else q
    weight = np.concatenate([np.full(len(one), float(np.abs(np.diff(one)).sum())) for one in own])
    weight /= weight.sum()
    to, centre = complex(weight @ p), complex(weight @ q)
    turn = complex(weight @ ((p - to) * (q - centre).conj()))
    turn = turn / abs(turn) if abs(turn) > COINCIDENT else 1.0 + 0.0j
    off = math.sqrt(float(weight @ np.abs(p - to - turn * (q - centre)) ** 2))
    (a, b), shift = (turn.real, turn.imag), to - turn * centre
    mirror = Affine.scaling(1.0, -1.0 if mirrored else 1.0)
    return _Fit(mirror.then(Affine(a, b, -b, a, shift.real, shift.imag)), off)


def _placed(piece: Piece, traces: Traces, traced: TracedLine, turned: bool, affine: Affine) -> TracedEdge:
    own, line = piece.edge(traces.edge).line, _run(traced, turned).mapped(affine)
    points = _samples(line)
    beside = nearest_points(own, np.stack([points.real, points.imag], axis=1)).distances
    ends = math.dist(own.start, line.start), math.dist(own.end, line.end)
    before, beyond = (traced.beyond, traced.before) if turned else (traced.before, traced.beyond)
    return TracedEdge(traces=traces, line=line, before=before, beyond=beyond, off=max(float(beside.max()), *ends))
