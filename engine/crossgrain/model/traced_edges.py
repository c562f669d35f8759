"""What the edges of a piece trace, laid where the piece lies."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from typing import Final

import numpy as np

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.area import winding
from crossgrain.kernel.length import path_length, places_at, point_at
from crossgrain.kernel.nearest import nearest_points
from crossgrain.kernel.path import Path
from crossgrain.kernel.spans import Complexes
from crossgrain.language import _
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece
from crossgrain.model.traced_line import TracedLine, traced_line
from crossgrain.model.traces import Traces
from crossgrain.tolerances import COINCIDENT, SEAM_MATCH

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
        ParameterError: what :func:`~crossgrain.model.traced_line.traced_line` refuses; edges that trace two pieces.
    """
    lines = [traced_line(pattern, traces) for traces in piece.traces]
    if len({line.piece.id for line in lines}) > 1:
        raise ParameterError(
            _("It traces edges of several pieces, which do not say how they lie to each other."),
            piece=piece.label,
            advice=_("Trace one piece, and let the other edges follow by their length."),
        )
    own = [_samples(piece.edge(traces.edge).line) for traces in piece.traces]
    wanted = _expected(piece, lines)
    fits = {
        way: _fit(
            own, [_samples(_run(line, turned)) for line, turned in zip(lines, way.turned, strict=True)], way.mirrored
        )
        for way in _ways(len(lines))
    }
    best = min(fits, key=lambda way: fits[way].off)
    against = fits[wanted].off > SEAM_MATCH and fits[best].off < _CLEARLY * fits[wanted].off
    way = best if against else wanted
    return tuple(
        _placed(piece, traces, line, turned, fits[way].affine)
        for traces, line, turned in zip(piece.traces, lines, way.turned, strict=True)
    )


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


def _ways(count: int) -> list[_Way]:
    both = (False, True)
    return [_Way(mirrored, turned) for mirrored in both for turned in product(both, repeat=count)]


def _expected(piece: Piece, lines: Sequence[TracedLine]) -> _Way:
    turned = tuple(
        _neighbours_say(piece, traces.edge, line.piece, traces.traced) < 0
        for traces, line in zip(piece.traces, lines, strict=True)
    )
    longest = max(range(len(lines)), key=lambda k: path_length(lines[k].line))
    same_hand = winding(piece.line) == winding(lines[longest].piece.line)
    return _Way(same_hand is turned[longest], turned)


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
