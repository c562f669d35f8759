"""How the corner of a piece's cut line is shaped, so that it suits how its two seams are sewn and pressed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from crossgrain.errors import ParameterError
from crossgrain.language import _

if TYPE_CHECKING:
    from crossgrain.model.piece import Piece

CornerWay = Literal["mitred", "blunted", "squared", "straight", "mirrored", "stepped"]
WAYS: Final[tuple[CornerWay, ...]] = ("mitred", "blunted", "squared", "straight", "mirrored", "stepped")
GUIDED: Final = ("squared", "straight", "mirrored")
"""The styles in which one of the two edges is the guide."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SewnCorner:
    """The style of one corner, of both ends of an edge, or of all corners.

    Args:
        edges: the names of the two edges that meet there, in either order; one name for both ends of that edge; none
            for every corner.
        way: ``mitred``: both cut lines go on to their point, up to a limit; ``blunted``: the point is cut off square;
            ``squared``: square to the seam that is sewn first; ``straight``: straight on along one seam; ``mirrored``
            about the fold, so that what is turned up lies flat; ``stepped``: the wider one ends square.
        guide: the edge that is sewn first, goes straight on or is the fold; empty for the other styles.
        amount: for ``mitred`` the limit in widths, above 1; for ``blunted`` how far from the corner it is cut, mm,
            above 0; None for what is usual.

    Raises:
        ParameterError: a guide that is none of the edges, or one or an amount where the style takes none.

    >>> SewnCorner(edges=("hem",), way="mirrored", guide="hem").amount is None
    True
    """

    edges: tuple[str, ...]
    way: CornerWay
    guide: str = ""
    amount: float | None = None

    def __post_init__(self) -> None:
        if self.way not in WAYS:
            raise ParameterError(
                _("“{word}” is no style of a corner.").format(word=self.way),
                advice=_("There are: {names}.").format(names=", ".join(WAYS)),
            )
        if len(self.edges) > 2 or len(set(self.edges)) < len(self.edges):
            raise ParameterError(
                _("A corner lies between two edges."), advice=_("Name two different ones, as side/hem.")
            )
        if (self.way in GUIDED) != bool(self.guide) or (self.guide and self.guide not in self.edges):
            raise ParameterError(
                _("A corner that is {way} needs to know by which of its edges.").format(way=self.way)
                if self.way in GUIDED
                else _("A corner that is {way} goes by neither of its edges.").format(way=self.way),
                advice=_("Write it as {example}.").format(example=_("side/hem=mirrored about hem")),
                edge=self.guide or None,
            )
        least = {"mitred": 1.0, "blunted": 0.0}.get(self.way)
        if self.amount is not None and (least is None or not least < self.amount < math.inf):
            raise ParameterError(
                _("A corner that is {way} takes no such amount.").format(way=self.way),
                advice=_("Write mitred limit 3, or blunted at 12mm."),
            )


def corner_style(piece: Piece, arriving: str, leaving: str) -> SewnCorner | None:
    """Return the style of the corner where one edge of a piece arrives and the next leaves; None for the usual mitre.

    What is said of the two edges goes before what is said of one, and that before what is said of all; of two that say
    it alike the later counts. On a piece of two edges the order of the names tells its two corners apart.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model.piece import Edge, Piece
    >>> sides = zip(("waist", "side", "hem", "fold"), Path.polygon([(0, 0), (9, 0), (9, 9), (0, 9)]).segments)
    >>> edges = tuple(Edge(name=name, line=Path((line,))) for name, line in sides)
    >>> hem = SewnCorner(edges=("hem",), way="mirrored", guide="hem")
    >>> corner_style(Piece(id="p", edges=edges, corners=(hem,)), "side", "hem").way
    'mirrored'
    """
    ordered = len(piece.edges) == 2
    found: SewnCorner | None = None
    for corner in piece.corners:
        if len(corner.edges) == 2:
            meant = corner.edges == (arriving, leaving) if ordered else set(corner.edges) == {arriving, leaving}
        else:
            meant = not corner.edges or corner.edges[0] in (arriving, leaving)
        if meant and (found is None or len(corner.edges) >= len(found.edges)):
            found = corner
    return found


def with_corners(kept: tuple[SewnCorner, ...], given: tuple[SewnCorner, ...]) -> tuple[SewnCorner, ...]:
    """Return styles that were kept with those newly given in their place.

    >>> old, new = (SewnCorner(edges=("hem",), way=way) for way in ("blunted", "stepped"))
    >>> [corner.way for corner in with_corners((old,), (new,))]
    ['stepped']
    """
    out = {_key(corner): corner for corner in kept}
    for corner in given:
        out.pop(_key(corner), None)
        out[_key(corner)] = corner
    return tuple(out.values())


def _key(corner: SewnCorner) -> tuple[str, ...]:
    return tuple(sorted(corner.edges))
