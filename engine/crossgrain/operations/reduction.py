"""Reduce: narrow a piece along the cross grain, because its cloth stretches."""

from __future__ import annotations

from dataclasses import dataclass

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import bounds
from crossgrain.language import _
from crossgrain.model.lift import on_each_piece
from crossgrain.model.narrowed import narrowed, narrowing_outcome
from crossgrain.model.narrowing import Narrowing
from crossgrain.model.outcome import Finding, Outcome
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece


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

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge, Piece
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
    if piece.traces:
        finding = Finding(
            piece=piece.label,
            message=_("It traces another piece, and was left as it is."),
            advice=_("Bring it up to date: crossgrain follow IN.svg -o OUT.svg."),
            answered_by="follow",
        )
        return Outcome(value=piece, findings=(finding,))
    if not reduction.by and not reduction.along:
        return Outcome(value=piece)
    narrowing = Narrowing(piece, 1.0 - reduction.by, reduction.anchor)
    lengthen = _along(piece, reduction)
    even = _even(piece, reduction, narrowing) if narrowing.is_even else None
    return narrowing_outcome(piece, narrowed(piece, narrowing, lengthen=lengthen, even=even))


def _even(piece: Piece, reduction: Reduction, narrowing: Narrowing) -> Affine:
    """Return the scaling across the grain of a piece without holds."""
    gx, gy = piece.grain
    scale = Affine.scaling(1.0 - reduction.by, 1.0, (narrowing.anchor, 0.0))
    if (gx, gy) == (0.0, 1.0):
        return scale
    return Affine(gy, gx, -gx, gy).then(scale).then(Affine(gy, -gx, gx, gy))


def _along(piece: Piece, reduction: Reduction) -> Affine:
    """Return the scaling along the grain, about the middle of the piece's length."""
    if not reduction.along:
        return Affine()
    gx, gy = piece.grain
    middle = bounds(piece.line.mapped(Affine(gy, gx, -gx, gy))).centre
    scale = Affine.scaling(1.0, 1.0 - reduction.along, middle)
    return Affine(gy, gx, -gx, gy).then(scale).then(Affine(gy, -gx, gx, gy))
