"""Seams whose sides are to agree in every size: a corner slides along one side until they do."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from crossgrain.errors import ParameterError
from crossgrain.kernel.length import path_length
from crossgrain.language import _
from crossgrain.model.piece import Piece, is_called
from crossgrain.model.seams.pairing import Pair
from crossgrain.model.sizes.grade_point import GradePoint

if TYPE_CHECKING:
    from crossgrain.model.sizes.grade_base import BasePiece

_LEAST_SLOPE: Final = 0.2
"""Where a seam runs to within some 12° across the grain, moves along the grain alone do not make it longer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamMatch:
    """A seam whose sides are to differ by no more in any size than in the base.

    Args:
        seam: the name of the edges.
        at: the corner, at an end of one side, that slides along the seam until they do.
    """

    seam: str
    at: GradePoint

    def __post_init__(self) -> None:
        if not self.at.meets or self.seam not in (self.at.edge, self.at.meets):
            raise ParameterError(
                _("{point} of {piece} is at no end of the seam {seam}.").format(
                    point=self.at.words, piece=self.at.piece, seam=self.seam
                ),
                advice=_("Name a corner at an end of one of its sides, as back: waist/side for the side."),
            )


def seam_slide(
    match: SeamMatch, bases: Sequence[BasePiece], new: Mapping[str, Piece], pairs: Sequence[Pair]
) -> tuple[float, complex]:
    """Return by how much a side has become too long, and which way its corner moves to make it longer by 1.

    Args:
        match: the seam and its corner.
        bases: the pieces of the base, with their directions.
        new: the pieces of a size, by their ids.
        pairs: what is sewn to what in the base.

    Returns:
        The length in mm, below 0 where it is too short; the move across the grain and, imaginary, along it. Over the
        same corner of several pieces, as of left front and right front, both are means, for these have one rule.

    Raises:
        ParameterError: no such seam, or one that runs across the grain where across is not told.
    """
    off, ways = [], []
    for pair in pairs:
        sides = (pair.first, pair.second)
        if pair.name != match.seam or pair.is_copy:
            continue
        ours = [side for side in sides if is_called(side.piece, match.at.piece) and match.at.is_on(side.piece)]
        if len(ours) != 1:
            continue
        mine, other = ours[0].piece, (sides[1] if ours[0] is sides[0] else sides[0]).piece
        grown = [
            path_length(new[piece.id].edge(match.seam).line) - path_length(piece.edge(match.seam).line)
            for piece in (mine, other)
        ]
        off.append(grown[0] - grown[1])
        base = next(one for one in bases if one.piece.id == mine.id)
        ways.append(_way_on(new[mine.id], match, base.across, base.down))
    if not off:
        raise ParameterError(
            _("No seam {seam} joins {piece} to another piece.").format(seam=match.seam, piece=match.at.piece),
            advice=_("Name a seam with two sides, and a corner at an end of one of them."),
        )
    return math.fsum(off) / len(off), sum(ways) / len(ways)


def _way_on(piece: Piece, match: SeamMatch, across: complex | None, down: complex) -> complex:
    """Return which way a corner moves to make its seam longer by 1: across the grain and, imaginary, along it."""
    line = piece.edge(match.seam).line
    corner = piece.edges[match.at.corner(piece) or 0].line.start
    if corner == line.end:
        on = complex(*(line.segments[-1].end_tangent or (0.0, 0.0)))
    else:
        on = -complex(*(line.segments[0].start_tangent or (0.0, 0.0)))
    along = (on * down.conjugate()).real
    aside = 0.0 if across is None else (on * across.conjugate()).real
    if across is None and abs(along) < _LEAST_SLOPE:
        raise ParameterError(
            _("The seam {seam} runs across the grain at {point}.").format(seam=match.seam, point=match.at.words),
            advice=_("Say under [toward] towards which edge across counts, or name its other end."),
        )
    return complex(aside, along) / (aside * aside + along * along)
