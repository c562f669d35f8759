"""What an edge is drawn after: a fly facing the centre of the front that it faces."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from crossgrain.errors import ParameterError
from crossgrain.language import _


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """Where along an edge a part of it begins or ends; it may lie before the edge's start or past its end.

    Args:
        share: of the edge's length, 0 to 1.
        more: what is added to its start or to its end, at share 0 or 1, mm; below 0 towards the start.

    >>> Reach(share=1.0, more=15.0).along(155.0)
    170.0
    """

    share: float = 0.0
    more: float = 0.0

    def __post_init__(self) -> None:
        is_place = 0.0 <= self.share <= 1.0 and (self.more == 0.0 or self.share in (0.0, 1.0))
        if not is_place or not math.isfinite(self.more):
            raise ParameterError(
                _("A place at {percent:.4g} % of an edge lies off it.").format(percent=self.share * 100.0),
                advice=_("Give a share from 0 % to 100 %, or a length as 15mm after end."),
            )

    def along(self, length: float) -> float:
        """Return how far from the start of an edge of some length it lies, mm."""
        return self.share * length + self.more


@dataclass(frozen=True, slots=True, kw_only=True)
class Traces:
    """An edge of a piece that is drawn after a part of another piece's edge.

    Args:
        edge: the name of the piece's own edge.
        piece: the id or the name of the other piece.
        traced: the name of the edge that is traced.
        start: where on it the part begins. Before its start the part goes on along the outline where that
            goes on smoothly, and otherwise as the edge was going.
        end: where the part ends; past the edge's end as before its start.
        reversed: whether the piece's edge runs from the end of the part to its start. Only said where the names of the
            edges beside it do not tell.
    """

    edge: str
    piece: str
    traced: str
    start: Reach = field(default_factory=Reach)
    end: Reach = field(default_factory=lambda: Reach(share=1.0))
    reversed: bool = False

    def __post_init__(self) -> None:
        if not self.piece or not self.traced:
            raise ParameterError(
                _("The edge {edge} traces nothing.").format(edge=self.edge),
                advice=_("Write it as centre traces front/centre from 0% to 80%."),
            )

    @property
    def pieces(self) -> tuple[str, ...]:
        """The piece that is traced."""
        return (self.piece,)
