"""A piece under a narrowing: its edges drawn anew, its marks moved along."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import islice, pairwise

import numpy as np

from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.curvature import simplified
from crossgrain.kernel.length import path_length, point_at_share
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Segment, between, section, started_at
from crossgrain.kernel.warp import moved_point, warped
from crossgrain.language import _
from crossgrain.model.marking.carried_marks import with_marks_carried
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.marks import Dart
from crossgrain.model.narrowing import Narrowing, widest
from crossgrain.model.outcome import Change, Outcome, counterpart_gone
from crossgrain.model.piece import Edge, Piece
from crossgrain.model.simple_outline import check_simple
from crossgrain.tolerances import ACCURACY, COINCIDENT, LEAST_SHARE, ON_CREASE, SMOOTH_KINK

_UNMOVED = Affine()


def narrowed(piece: Piece, narrowing: Narrowing, *, lengthen: Affine = _UNMOVED, even: Affine | None = None) -> Piece:
    """Return a piece as its narrowing makes it.

    Args:
        piece: the piece.
        narrowing: the map that narrows it.
        lengthen: what is done to it along the grain afterwards.
        even: the narrowing as one scaling, where it is one.

    Returns:
        The piece. Curves lie within 0.01 mm of the true image; notches, darts and holds have moved along, and a
        cut line drawn before is dropped, for it no longer fits.

    Raises:
        SelfCrossingError: an outline that crosses itself.
    """
    check_simple(piece)
    if even is not None:
        even = even.then(lengthen)
        lines = [edge.line.mapped(even) for edge in piece.edges]
    else:
        lines = [line.mapped(lengthen) for line in _narrowed([edge.line for edge in piece.edges], narrowing)]
    edges = _closed([replace(edge, line=line) for edge, line in zip(piece.edges, lines, strict=True)])
    return _with_marks(edges, piece, narrowing, lengthen)


def narrowing_outcome(piece: Piece, new: Piece) -> Outcome[Piece]:
    """Return the outcome of narrowing a piece, with what changed in words a maker reads."""
    changes = [Change(piece=piece.label, what=_("width at the widest"), before=widest(piece), after=widest(new))]
    changes += [
        Change(
            piece=piece.label,
            edge=old.name,
            what=_("length"),
            before=path_length(old.line),
            after=path_length(edge.line),
        )
        for old, edge in zip(piece.edges, new.edges, strict=True)
        if old.name
    ]
    return Outcome(value=new, changes=tuple(changes), findings=counterpart_gone(piece))


def _narrowed(lines: Sequence[Path], narrowing: Narrowing) -> list[Path]:
    """Return lines as a narrowing moves them; all at once, for most of the time goes into beginning."""
    parts = [
        [part for segment in line.segments if (plain := simplified(segment)) for part in _uncreased(plain, narrowing)]
        for line in lines
    ]
    moved = iter(warped([part for some in parts for part in some], narrowing, _LINE_ACCURACY))
    return [Path.joined([new for group in islice(moved, len(some)) for new in group]) for some in parts]


def _uncreased(segment: Segment, narrowing: Narrowing) -> list[Segment]:
    """Cut a segment where it enters or leaves a hold, if the crease of the map bends it visibly there."""
    t = np.linspace(0.0, 1.0, 65)
    points = np.array([complex(*segment.point(u)) for u in t.tolist()])
    step = np.maximum(np.abs(np.diff(points)), COINCIDENT)
    cuts: list[float] = []
    for crease, (away, bend) in enumerate(narrowing.creases(points)):
        away[[0, -1]] = np.where(np.abs(away[[0, -1]]) < ON_CREASE, 0.0, away[[0, -1]])
        kink = np.abs(np.diff(away)) / step * np.maximum(bend[1:], bend[:-1])
        for k in np.flatnonzero((away[1:] * away[:-1] < 0.0) & (np.abs(kink) > SMOOTH_KINK)):
            low, high = float(t[k]), float(t[k + 1])
            for _halving in range(60):
                middle = (low + high) / 2.0
                there = narrowing.creases(np.array([complex(*segment.point(middle))]))[crease][0][0]
                low, high = (middle, high) if there * away[k] > 0.0 else (low, middle)
            cuts.append((low + high) / 2.0)
    limits = [0.0, *sorted(cuts), 1.0]
    return [section(segment, a, b) for a, b in pairwise(limits) if b - a > LEAST_SHARE]


_LINE_ACCURACY = ACCURACY / 2.0
"""Both sides of a piece share what its width may be off by."""


def _closed(edges: list[Edge]) -> tuple[Edge, ...]:
    """Let each edge start exactly where the one before it ends."""
    out = []
    for before, edge in zip([edges[-1], *edges[:-1]], edges, strict=True):
        segments = edge.line.segments
        out.append(replace(edge, line=Path((started_at(segments[0], before.line.end), *segments[1:]))))
    return tuple(out)


def _with_marks(edges: tuple[Edge, ...], old: Piece, narrowing: Narrowing, lengthen: Affine) -> Piece:
    """Return the old piece with new edges and its marks where their points went to."""

    def place(edge: str, share: float) -> Point:
        return lengthen.of(moved_point(point_at_share(old.edge(edge).line, share), narrowing))

    def tip(dart: Dart) -> Point:
        first, tip, last = dart_points(old, dart)
        if not narrowing.holds(dart):
            return lengthen.of(moved_point(tip, narrowing))
        # It is moved as a whole, so that its legs stay as long as they were.
        mouth = between(first, last, 0.5)
        x, y = moved_point(mouth, narrowing)
        return lengthen.of((tip[0] + x - mouth[0], tip[1] + y - mouth[1]))

    return with_marks_carried(old, edges, place, tip)
