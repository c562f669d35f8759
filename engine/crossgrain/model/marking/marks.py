"""Marks on a piece. Each is placed relative to the outline, so that it moves with it.

A place on an edge is a **share** of the edge's length, 0 at its start and 1 at its end. Inwards is towards the
inside of the piece.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

from crossgrain.errors import ParameterError
from crossgrain.language import _

NotchKind = Literal["slit", "V", "T"]
NOTCH_KINDS: Final[tuple[NotchKind, ...]] = ("slit", "V", "T")


def check_share(share: float, what: str) -> None:
    """Refuse a place that lies off its edge.

    Raises:
        ParameterError: a share below 0 or above 1; ``what`` says of which mark.
    """
    if not 0.0 <= share <= 1.0:
        raise ParameterError(
            _("The {what} lies at {share:.4g} of its edge, which is off the edge.").format(what=what, share=share),
            advice=_("Give a share from 0 % to 100 %."),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """A matching mark on an edge.

    Args:
        edge: the name of the edge.
        share: where on the edge, 0 to 1.
        count: 1, 2 or 3 for a single, double or triple notch.
        kind: ``slit``, a straight snip; ``V``, cut out; ``T``, drawn only and never cut.
    """

    edge: str
    share: float
    count: Literal[1, 2, 3] = 1
    kind: NotchKind = "slit"

    def __post_init__(self) -> None:
        check_share(self.share, _("notch"))
        if self.count not in (1, 2, 3):
            raise ParameterError(_("A notch is single, double or triple."), advice=_("Give 1, 2 or 3."))
        if self.kind not in NOTCH_KINDS:
            raise ParameterError(_("A notch is a slit, a V or a T."), advice=_("Write slit, V or T."))


@dataclass(frozen=True, slots=True, kw_only=True)
class Dart:
    """A wedge of cloth folded away from an edge; the outline runs straight across its mouth.

    Args:
        edge: the name of the edge it opens on.
        share: where the middle of its mouth lies on the edge, 0 to 1.
        width: the intake at the mouth, mm along the edge, above 0.
        depth: from the middle of the mouth to the tip, mm, above 0.
        lean_rad: the turn of its axis from the inward normal of the chord across its mouth, positive towards the
            end of the edge.
        drill: how far short of the tip a drill hole marks it on the cloth, mm, so that the sewn dart hides it; 0 for
            no hole.
        pressed: to which end of its edge the intake is pressed, ``start`` or ``end``: the cut edge across its mouth is
            peaked for it; None where that is not said, and the cut edge runs straight across.
    """

    edge: str
    share: float
    width: float
    depth: float
    lean_rad: float = 0.0
    drill: float = 0.0
    pressed: Literal["start", "end"] | None = None

    def __post_init__(self) -> None:
        check_share(self.share, _("dart"))
        if not (self.width > 0.0 and self.depth > 0.0):
            raise ParameterError(
                _("A dart has no width or no depth."), advice=_("Give both as lengths above zero."), edge=self.edge
            )
        if not 0.0 <= self.drill < math.inf:
            raise ParameterError(
                _("A drill hole lies short of the dart's tip, or at it."),
                advice=_("Give a distance of 0 mm or more."),
                edge=self.edge,
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """A strip along an edge whose width no reduction may change, as a zip extension or a taped strip.

    Args:
        edge: the name of the edge it lies along.
        width: across the grain from the edge inwards, mm, above 0.
        start: the share of the edge where it begins.
        end: the share of the edge where it ends, above ``start``.
    """

    edge: str
    width: float
    start: float = 0.0
    end: float = 1.0

    def __post_init__(self) -> None:
        check_share(self.start, _("hold"))
        check_share(self.end, _("hold"))
        if not self.width > 0.0:
            raise ParameterError(_("A hold has no width."), advice=_("Give a length above zero."), edge=self.edge)
        if not self.start < self.end:
            raise ParameterError(_("A hold ends before it begins."), edge=self.edge)
