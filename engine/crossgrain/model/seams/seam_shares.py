"""What share of the amount at a seam each of its sides takes: shared otherwise than by half, the seam moves."""

from __future__ import annotations

import math
from collections.abc import Sequence

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import is_called, listed
from crossgrain.model.seams.pairing import pair_edges
from crossgrain.model.seams.seam import SeamSide
from crossgrain.tolerances import ROUND_OFF


def side_shares(pattern: Pattern, sides: Sequence[SeamSide], given: Sequence[tuple[str, float]]) -> tuple[float, ...]:
    """Return what share of both sides' amount together each side of a seam takes.

    What one side takes, those that it is sewn to leave it: two edges that are sewn together take the whole. So of a
    left front, a right front and a back that is sewn to either, one share tells all.

    Args:
        pattern: the pieces.
        sides: the sides of the seam.
        given: shares, 0 to 1, by words of the pieces' names.

    Returns:
        A share for each side; half where nothing is said of it nor of what it is sewn to.

    Raises:
        ParameterError: a word that is no piece's; shares of two sides that do not add up to the whole; a side that is
            sewn to its own copy, which takes half.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge, Piece
    >>> from crossgrain.model.seams.seam import sides_of
    >>> lines = Path.polygon([(0, 0), (200, 0), (200, 900), (0, 900)]).segments
    >>> edges = tuple(Edge(name=n, line=Path((line,))) for n, line in zip(("waist", "side", "hem", "inseam"), lines))
    >>> pattern = Pattern(pieces=tuple(Piece(id=name, name=name, edges=edges) for name in ("front", "back")))
    >>> side_shares(pattern, sides_of(pattern, "side"), [("front", 0.25)])
    (0.25, 0.75)
    """
    found: dict[str, float] = {}
    for word, share in given:
        called = [side.piece for side in sides if is_called(side.piece, word)]
        if not called:
            raise ParameterError(
                _("No piece of this seam is called {word}.").format(word=word),
                edge=sides[0].edge.name,
                advice=_("Its pieces are: {names}.").format(names=listed(side.piece.label for side in sides)),
            )
        for piece in called:
            found.setdefault(piece.id, share)
    sewn = _sewn(pattern, sides)
    _spread(found, sewn)
    labels = {side.piece.id: side.piece.label for side in sides}
    for one, other in sewn:
        if one in found and abs(found[one] + found[other] - 1.0) > ROUND_OFF:
            raise _not_whole(sides, labels, one, other, found)
    return tuple(found.get(side.piece.id, 0.5) for side in sides)


def _sewn(pattern: Pattern, sides: Sequence[SeamSide]) -> list[tuple[str, str]]:
    """Return which sides are sewn together, by the ids of their pieces. Two sides alone are, whatever their pieces."""
    ids = [side.piece.id for side in sides]
    pairs = [pair for pair in pair_edges(pattern).pairs if pair.name == sides[0].edge.name]
    found = [(pair.first.piece.id, pair.second.piece.id) for pair in pairs]
    found = [both for both in found if set(both) <= set(ids)]
    return found if found or len(ids) != 2 else [(ids[0], ids[1])]


def _spread(found: dict[str, float], sewn: Sequence[tuple[str, str]]) -> None:
    """Add to shares what they leave to those that the sides are sewn to, and so on."""
    for _step in sewn:
        for one, other in (*sewn, *((other, one) for one, other in sewn)):
            if one in found:
                found.setdefault(other, 1.0 - found[one])


def _not_whole(
    sides: Sequence[SeamSide], labels: dict[str, str], one: str, other: str, found: dict[str, float]
) -> ParameterError:
    if one == other:
        return ParameterError(
            _("It is sewn to its own copy there, and both take alike."),
            piece=labels[one],
            edge=sides[0].edge.name,
            advice=_("Leave the share away, or make a left and a right piece of it first."),
        )
    return ParameterError(
        _("{one} and {other} together would take {percent:.4g} % of what is taken in.").format(
            one=labels[one], other=labels[other], percent=100.0 * math.fsum((found[one], found[other]))
        ),
        edge=sides[0].edge.name,
        advice=_("Give the share of one of them; the other takes the rest."),
    )
