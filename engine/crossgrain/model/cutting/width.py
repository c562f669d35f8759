"""How wide the cloth outside an edge is: the same all along, or changing from station to station."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from crossgrain.errors import ParameterError
from crossgrain.language import _

if TYPE_CHECKING:
    from crossgrain.kernel.profile import Profile


@dataclass(frozen=True, slots=True, kw_only=True)
class Width:
    """The width of an allowance along its edge.

    Between stations it changes smoothly and without overshoot (:class:`~crossgrain.kernel.profile.Profile`); before
    the first and behind the last it stays what it is there.

    Args:
        stations: shares of the edge, rising from 0 to 1, each with the width there, mm, 0 or more; at least one. Those
            that change nothing are left out.

    Raises:
        ParameterError: no station, a share off the edge or out of order, or a width that cannot be drawn.

    >>> growing = Width(stations=((0.0, 10.0), (1.0, 25.0)))
    >>> growing.start, growing.at(0.5), growing.end, growing.most
    (10.0, 17.5, 25.0, 25.0)
    """

    stations: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        if not self.stations:
            raise ParameterError(_("A width says no amount."), advice=_("Write it as 10mm, or 10mm to 25mm."))
        for share, width in self.stations:
            if not 0.0 <= width < math.inf:
                raise ParameterError(
                    _("An allowance of {width:.4g} mm cannot be drawn.").format(width=width),
                    advice=_("Give 0 mm or more."),
                )
            if not 0.0 <= share <= 1.0:
                raise ParameterError(
                    _("A width is given at {share:.4g} of its edge, which is off the edge.").format(share=share),
                    advice=_("Give a share from 0 % to 100 %."),
                )
        if any(after <= before for (before, _w), (after, _v) in pairwise(self.stations)):
            raise ParameterError(
                _("Two widths of one edge are given at the same place, or out of order."),
                advice=_("Give each place once, in order from the start of the edge."),
            )
        object.__setattr__(self, "stations", _telling(self.stations))

    @classmethod
    def of(cls, width: float) -> Width:
        """Return the same width all along, mm.

        >>> Width.of(10.0).is_even
        True
        """
        return cls(stations=((0.0, width),))

    @property
    def is_even(self) -> bool:
        """Whether it is the same all along."""
        return len(self.stations) == 1

    @property
    def start(self) -> float:
        """The width where the edge starts, mm."""
        return self.stations[0][1]

    @property
    def end(self) -> float:
        """The width where the edge ends, mm."""
        return self.stations[-1][1]

    @property
    def least(self) -> float:
        """The least width, mm."""
        return min(width for _share, width in self.stations)

    @property
    def most(self) -> float:
        """The greatest width, mm."""
        return max(width for _share, width in self.stations)

    def at(self, share: float) -> float:
        """Return the width at a share of the edge, mm."""
        if self.is_even:
            return self.start
        import numpy as np

        return float(self.along(1.0)(np.array([share]))[0][0])

    def along(self, length: float) -> Profile:
        """Return the width along an edge of this length, mm over mm from its start."""
        from crossgrain.kernel.profile import Profile

        return Profile([share * length for share, _width in self.stations], [width for _share, width in self.stations])

    def reversed(self) -> Width:
        """Return the same width along the edge travelled the other way; twice is itself but for rounding."""
        return Width(stations=tuple((1.0 - share, width) for share, width in reversed(self.stations)))


def _telling(stations: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    """Leave out stations between or outside equal ones: one width all along has one station, at the start."""
    if all(width == stations[0][1] for _share, width in stations):
        return ((0.0, stations[0][1]),)
    kept = [
        one
        for k, one in enumerate(stations)
        if not (0 < k < len(stations) - 1 and stations[k - 1][1] == one[1] == stations[k + 1][1])
    ]
    return tuple(kept)
