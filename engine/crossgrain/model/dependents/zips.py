"""A zip along an edge: as long as the opening that it closes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from crossgrain.errors import ParameterError
from crossgrain.language import _


@dataclass(frozen=True, slots=True, kw_only=True)
class Zip:
    """A zip that closes an opening along an edge.

    Args:
        edge: the name of the piece's own edge.
        was: how long the opening was when the zip was last told, mm, above 0; None where it never was.
    """

    edge: str
    was: float | None = None

    def __post_init__(self) -> None:
        if self.was is not None and not 0.0 < self.was < math.inf:
            raise ParameterError(_("A zip has no length."), edge=self.edge, advice=_("Mark it as zip along centre."))

    @property
    def pieces(self) -> tuple[str, ...]:
        """The pieces it depends on besides its own: none."""
        return ()
