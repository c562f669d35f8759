"""Marks by which a piece is pressed, stitched and closed, each placed relative to the outline as in ``marks``."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.marking.marks import check_share

LOOP_WIDTH: Final = 10.0
"""How wide a belt loop is where nothing else is said, mm (common practice)."""

Lie = Literal["across", "along"]


def _check_size(what: str, edge: str, *sizes: float) -> None:
    if not all(0.0 < size < math.inf for size in sizes):
        raise ParameterError(
            _("The {what} has no size.").format(what=what), advice=_("Give lengths above zero."), edge=edge
        )


def _check_inset(inset: float, edge: str) -> None:
    if not 0.0 <= inset < math.inf:
        raise ParameterError(
            _("A button lies inside its edge, or on it."), advice=_("Give a distance of 0 mm or more."), edge=edge
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Crease:
    """A line to press: from an edge along the grain, as from the hem up the middle of a trouser leg.

    Args:
        edge: the name of the edge it starts on.
        share: where on the edge, 0 to 1.
        reach: how far it goes, as a share of the way to the far side of the piece or to the first dart in that way,
            above 0 to 1.
    """

    edge: str
    share: float = 0.5
    reach: float = 1.0

    def __post_init__(self) -> None:
        check_share(self.share, _("crease"))
        if not 0.0 < self.reach <= 1.0:
            raise ParameterError(
                _("A crease goes {percent:.4g} % of its way.").format(percent=self.reach * 100.0),
                advice=_("Give a share above 0 % and up to 100 %."),
                edge=self.edge,
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Loop:
    """Where a belt loop is sewn: a strip square to an edge.

    Args:
        edge: the name of the edge.
        share: where on the edge its middle lies, 0 to 1.
        width: of the finished loop, mm along the edge, above 0.
        length: from the edge inwards, mm, above 0; None for the whole depth of the piece there, as on a band.
    """

    edge: str
    share: float
    width: float = LOOP_WIDTH
    length: float | None = None

    def __post_init__(self) -> None:
        check_share(self.share, _("belt loop"))
        _check_size(_("belt loop"), self.edge, self.width, *(() if self.length is None else (self.length,)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Button:
    """Where a button is sewn on.

    Args:
        edge: the name of the edge it is measured from.
        share: where on the edge, 0 to 1.
        diameter: of the button, mm, above 0.
        thickness: of the button, mm, above 0.
        inset: how far its middle lies inside the edge, mm, 0 or more.
    """

    edge: str
    share: float
    diameter: float
    thickness: float
    inset: float

    def __post_init__(self) -> None:
        check_share(self.share, _("button"))
        _check_size(_("button"), self.edge, self.diameter, self.thickness)
        _check_inset(self.inset, self.edge)


@dataclass(frozen=True, slots=True, kw_only=True)
class Buttonhole:
    """A slit for a button, sized from it.

    Args:
        edge: the name of the edge it is measured from.
        share: where on the edge the button's middle comes to lie, 0 to 1.
        diameter: of the button, mm, above 0.
        thickness: of the button, mm, above 0.
        inset: how far the button's middle lies inside the edge, mm, 0 or more.
        lie: ``across``, square to the edge, or ``along`` it.
    """

    edge: str
    share: float
    diameter: float
    thickness: float
    inset: float
    lie: Lie = "across"

    def __post_init__(self) -> None:
        check_share(self.share, _("buttonhole"))
        _check_size(_("buttonhole"), self.edge, self.diameter, self.thickness)
        _check_inset(self.inset, self.edge)

    @property
    def length(self) -> float:
        """How long the slit is, mm: the button's diameter and thickness (common practice).

        >>> Buttonhole(edge="end", share=0.5, diameter=15.0, thickness=3.0, inset=12.0).length
        18.0
        """
        return self.diameter + self.thickness


@dataclass(frozen=True, slots=True, kw_only=True)
class Topstitching:
    """The line stitched beside an opening, as on a fly: along the edge at a width, then in a curve to the edge.

    Args:
        edge: the name of the edge.
        width: how far inside the edge it runs, mm, above 0.
        start: the share of the edge where it begins, at its width from the edge.
        end: the share of the edge where its curve meets the edge; other than ``start``, and below it where the line
            runs against the edge.
    """

    edge: str
    width: float
    start: float = 0.0
    end: float = 1.0

    def __post_init__(self) -> None:
        check_share(self.start, _("topstitching"))
        check_share(self.end, _("topstitching"))
        _check_size(_("topstitching"), self.edge, self.width)
        if self.start == self.end:
            raise ParameterError(
                _("The topstitching ends where it begins."), advice=_("Give two places apart."), edge=self.edge
            )
