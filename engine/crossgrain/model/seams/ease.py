"""Ease that is sewn in: one side of a seam stays longer than the other."""

from __future__ import annotations

import math
from dataclasses import dataclass

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.seams.station import Station


@dataclass(frozen=True, slots=True, kw_only=True)
class Ease:
    """By how much one side of a seam is to stay longer than the other, to be eased in.

    Args:
        piece: the longer side, by a word of its piece's name.
        amount: mm, 0 or more.
        start: where it is eased in from; the seam's first end where none is given.
        end: where to; the seam's last end where none is given.
    """

    piece: str
    amount: float
    start: Station | None = None
    end: Station | None = None

    def __post_init__(self) -> None:
        if not 0.0 <= self.amount < math.inf:
            raise ParameterError(
                _("An ease of {amount:.4g} mm cannot be sewn.").format(amount=self.amount),
                advice=_("Give the longer side, and 0 mm or more."),
            )
