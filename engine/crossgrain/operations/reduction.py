"""Reduce: narrow a piece along the cross grain, because its cloth stretches."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.arrays import rows_of
from crossgrain.kernel.curvature import simplified
from crossgrain.kernel.length import distance_of, path_length, place_at, point_at
from crossgrain.kernel.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Segment, section, started_at
from crossgrain.kernel.warp import moved_point, warped
from crossgrain.language import _
from crossgrain.model.lift import on_each_piece
from crossgrain.model.mark_lines import aimed, dart_points
from crossgrain.model.narrowing import ON_CREASE, Narrowing, widest
from crossgrain.model.outcome import Change, Finding, Outcome
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Edge, Piece
from crossgrain.tolerances import ACCURACY, COINCIDENT, LEAST_SHARE, SMOOTH_KINK


@dataclass(frozen=True, slots=True, kw_only=True)
class Reduction:
    """How much narrower a piece is made.

    Args:
        by: the share of its width to take away, above -1 and below 1; negative makes it wider.
        along: the share of its length to take away, for cloth that stretches both ways; within the same range.
        anchor: the edge whose middle stays where it is; none for the fold, or else the middle of the piece.
    """

    by: float
    along: float = 0.0
    anchor: str = ""

    def __post_init__(self) -> None:
        for share in (self.by, self.along):
            if not -1.0 < share < 1.0:
                raise ParameterError(
                    _("A piece cannot be reduced by {share:.4g} %.").format(share=100.0 * share),
                    advice=_("Give a share between -100 % and 100 %, as 8 %."),
                )


def reduce(pattern: Pattern, reduction: Reduction) -> Outcome[Pattern]:
    """Narrow each piece along the cross grain; lengthways nothing moves unless asked.

    At every level the piece's whole width shrinks by the share asked, while zip extensions, taped strips and dart
    intakes keep theirs: the free part takes it up (see :mod:`crossgrain.model.narrowing`). Without holds this is an
    exact scaling across the grain and no node is added.

    Args:
        pattern: the pieces.
        reduction: how much.

    Returns:
        The narrowed pieces. The width reached is within 0.01 mm of the width asked, curves lie within 0.01 mm of
        the true image. Notches, darts and holds have moved along. A cut line drawn before is dropped, for it no longer
        fits. Stabilised pieces stay as they are, each with a finding.

    Raises:
        ParameterError: only stabilised pieces are given, or a hold runs across the grain.
        CollapseError: the holds leave too little to narrow.

    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> pattern = Pattern(pieces=(Piece(id="band", edges=(Edge(name="", line=Path(square.segments)),)),))
    >>> [piece] = reduce(pattern, Reduction(by=0.08)).value.pieces
    >>> [round(x, 6) for x, _y in piece.line.nodes]
    [4.0, 96.0, 96.0, 4.0]
    """
    if pattern.pieces and all(piece.cut.stabilised for piece in pattern.pieces):
        raise ParameterError(
            _("A stabilised piece does not stretch, so it is not reduced."),
            piece=pattern.pieces[0].label,
            advice=_("Let it follow the edge it is sewn to, or mark it as not stabilised."),
        )
    return on_each_piece(pattern, lambda piece: _one_reduced(piece, reduction))


def _one_reduced(piece: Piece, reduction: Reduction) -> Outcome[Piece]:
    if piece.cut.stabilised:
        finding = Finding(
            piece=piece.label,
            message=_("It is stabilised and does not stretch, so it was left as it is."),
            advice=_("See that it still fits the edge it is sewn to."),
        )
        return Outcome(value=piece, findings=(finding,))
    if not reduction.by and not reduction.along:
        return Outcome(value=piece)
    narrowing = Narrowing(piece, 1.0 - reduction.by, reduction.anchor)
    lengthen = _along(piece, reduction, narrowing)
    if narrowing.is_even:
        even = _even(piece, reduction, narrowing).then(lengthen)
        lines = [edge.line.mapped(even) for edge in piece.edges]
    else:
        lines = [_narrowed(edge.line, narrowing).mapped(lengthen) for edge in piece.edges]
    edges = _closed([replace(edge, line=line) for edge, line in zip(piece.edges, lines, strict=True)])
    new = _with_marks(
        replace(piece, edges=edges, notches=(), darts=(), holds=(), counterpart=None), piece, narrowing, lengthen
    )
    changes = [
        Change(
            piece=piece.label,
            what=_("width at the widest"),
            before=widest(piece),
            after=widest(new),
        )
    ]
    changes += [
        Change(
            piece=piece.label,
            edge=old.name,
            what=_("length"),
            before=path_length(old.line),
            after=path_length(edge.line),
        )
        for old, edge in zip(piece.edges, edges, strict=True)
        if old.name
    ]
    findings = []
    if piece.counterpart is not None:
        findings.append(
            Finding(
                piece=piece.label,
                message=_("The other line beside the outline no longer fits and was taken away."),
                advice=_("Draw the allowance again."),
            )
        )
    return Outcome(value=new, changes=tuple(changes), findings=tuple(findings))


def _even(piece: Piece, reduction: Reduction, narrowing: Narrowing) -> Affine:
    """Return the scaling across the grain of a piece without holds."""
    gx, gy = piece.grain
    scale = Affine.scaling(1.0 - reduction.by, 1.0, (narrowing.anchor, 0.0))
    if (gx, gy) == (0.0, 1.0):
        return scale
    return Affine(gy, gx, -gx, gy).then(scale).then(Affine(gy, -gx, gx, gy))


def _along(piece: Piece, reduction: Reduction, narrowing: Narrowing) -> Affine:
    """Return the scaling along the grain, about the middle of the piece's length."""
    if not reduction.along:
        return Affine()
    gx, gy = piece.grain
    levels = narrowing.in_frame(rows_of(piece.line.segments)).imag
    scale = Affine.scaling(1.0, 1.0 - reduction.along, (0.0, float(levels.min() + levels.max()) / 2.0))
    return Affine(gy, gx, -gx, gy).then(scale).then(Affine(gy, -gx, gx, gy))


def _narrowed(line: Path, narrowing: Narrowing) -> Path:
    parts = [
        part for segment in line.segments if (plain := simplified(segment)) for part in _uncreased(plain, narrowing)
    ]
    return Path.joined([new for group in warped(parts, narrowing, _LINE_ACCURACY) for new in group])


def _uncreased(segment: Segment, narrowing: Narrowing) -> list[Segment]:
    """Cut a segment where it enters or leaves a hold, if the crease of the map bends it visibly there."""
    t = np.linspace(0.0, 1.0, 65)
    points = rows_of([section(segment, a, b) for a, b in pairwise(t.tolist())])[:, [0, 3]]
    points = np.append(points[:, 0], points[-1, 1])
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


def _with_marks(new: Piece, old: Piece, narrowing: Narrowing, lengthen: Affine) -> Piece:
    """Return the new piece with the old one's marks at the places their points went to."""

    def share(edge: str, share: float) -> float:
        line, moved = old.edge(edge).line, new.edge(edge).line
        if share in (0.0, 1.0):
            return share
        point = point_at(line, place_at(line, share * path_length(line)))
        found = nearest(moved, lengthen.of(moved_point(point, narrowing)))
        return min(1.0, distance_of(moved, found.place) / path_length(moved))

    notches = tuple(replace(notch, share=share(notch.edge, notch.share)) for notch in old.notches)
    holds = tuple(
        replace(hold, start=share(hold.edge, hold.start), end=share(hold.edge, hold.end)) for hold in old.holds
    )
    darts = []
    for dart in old.darts:
        moved = replace(dart, share=share(dart.edge, dart.share))
        _first, tip, _last = dart_points(old, dart)
        darts.append(aimed(new, moved, lengthen.of(moved_point(tip, narrowing))))
    return replace(new, notches=notches, holds=holds, darts=tuple(darts))
