"""Walk all of one seam: which of its sides are sewn together, as far as the pieces tell."""

from __future__ import annotations

from collections.abc import Sequence

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import listed
from crossgrain.model.seams.pairing import GOING_ON, Pair, are_middles, copied_edges, is_middle, pair_edges
from crossgrain.model.seams.seam import not_a_seam, sides_of
from crossgrain.model.seams.side import Side
from crossgrain.model.seams.walking import Walk, walk


def walked_seam(whole: Pattern, named: Pattern, seam: str) -> tuple[Pattern, tuple[Walk, ...]]:
    """Walk every two sides of a seam that are sewn together, one of them of a piece that is named.

    Two sides alone are sewn together, whatever their pieces; and what all pieces together leave open, those that are
    named may tell.

    Args:
        whole: all pieces that are known.
        named: those of them that are meant.
        seam: the name of the seam's edges.

    Returns:
        The pieces by which it was told, and the walks.

    Raises:
        ParameterError: no such seam among the pieces that are meant, or it cannot be told what is sewn to what.
    """
    sides, ids = sides_of(named, seam), {piece.id for piece in named.pieces}
    for piece, _edge in whole.seam(seam):
        if piece.outline == "cut" and piece.goes_round:
            raise ParameterError(
                _("The outline is the cut line, and seams are trued along the stitch line."),
                piece=piece.label,
                edge=seam,
                advice=_("Take the allowance off first: crossgrain allow IN.svg -o OUT.svg --strip."),
            )
    if seam in GOING_ON:
        raise not_a_seam(seam, sides, _("Give those that are sewn together a name of their own."))
    for pattern in (whole, named):
        pairs = pair_edges(pattern)
        found = [
            pair for pair in pairs.pairs if pair.name == seam and {pair.first.piece.id, pair.second.piece.id} & ids
        ]
        if found:
            break
    if not found and len(sides) == 2:
        found = [Pair(Side(sides[0].piece, seam), Side(sides[1].piece, seam))]
    if not found:
        raise ParameterError(
            _("It cannot be told what the edge {name} is sewn to.").format(name=seam),
            edge=seam,
            piece=listed(side.piece.label for side in sides),
            advice=_("Name the two pieces, or mark how often each is cut."),
        )
    for pair in found:
        if (pair.is_copy and not is_middle(pair.first.piece, pairs)) or (pair.is_twin and not are_middles(pair, pairs)):
            raise ParameterError(
                _("What it is sewn to is not there, or it is sewn to its own mirrored copy: that is not told."),
                edge=listed(copied_edges(pair.first.piece, pairs)) or seam,
                piece=listed(dict.fromkeys(side.piece.label for side in (pair.first, pair.second))),
                advice=_("Mark the piece that it is sewn to, with edges of the same names."),
            )
    return pattern, tuple(walk(pair) for pair in found)


def sewn_together(walks: Sequence[Walk]) -> list[list[Walk]]:
    """Divide walks into those that have pieces in common: the left side seam and the right one may be two.

    Args:
        walks: the walks of one seam.
    """
    groups: list[tuple[set[str], list[Walk]]] = []
    for one in walks:
        ids = {side.piece.id for side in one.sides}
        joined = [group for group in groups if group[0] & ids]
        apart = [group for group in groups if not group[0] & ids]
        ids = ids.union(*(group[0] for group in joined))
        groups = [*apart, (ids, [*(walk_ for group in joined for walk_ in group[1]), one])]
    return [group[1] for group in groups]
