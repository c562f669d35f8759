"""How the growth of a body is spread over the points of a pattern: which share of each girth and length goes where."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.sizes.grade_point import GradePoint
from crossgrain.model.sizes.grade_rules import Toward
from crossgrain.model.sizes.seam_match import SeamMatch

PAIRED: Final = ("thigh", "mid_thigh", "knee", "calf", "ankle", "hem", "upper_arm", "elbow", "wrist", "armscye")
"""What a body has two of: such a girth is that of one of them, and the pieces make up both."""


def limbs_of(measure: str) -> int:
    """Return how many such girths a body has.

    >>> limbs_of("hip_girth"), limbs_of("thigh_girth")
    (1, 2)
    """
    return 2 if measure.removesuffix("_girth") in PAIRED else 1


Shares = tuple[tuple[GradePoint, float], ...]
"""Points, and the share of the growth that each takes; above 0 widens the piece there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GirthSpread:
    """Where the growth of a girth goes.

    Args:
        measure: the girth, as ``hip_girth``.
        shares: points and shares of the whole girth, for each time the piece is cut.
        going_along: points that move alike and are not counted: the corner beside the level, as the crotch point.
        across: points that move across the grain and are not counted; above 0 towards the side, as rules count it.
        edges: the name of the edges along which the girth runs, as ``waist``; empty where it runs straight across.
        limbs: how many such girths the pieces make up together; 0 for what the measure's name says.
    """

    measure: str
    shares: Shares
    going_along: Shares = ()
    across: Shares = ()
    edges: str = ""
    limbs: int = 0

    def __post_init__(self) -> None:
        if not self.measure.endswith("_girth"):
            raise ParameterError(
                _("{name} is no girth.").format(name=self.measure), advice=_("Name one as hip_girth; lengths go apart.")
            )

    @property
    def whole(self) -> int:
        """How many such girths the pieces make up together."""
        return self.limbs or limbs_of(self.measure)


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthSpread:
    """Where the growth of a length or height goes.

    Args:
        measure: as ``waist_height``.
        shares: points and the share of the growth by which each moves along the grain; above 0 down.
    """

    measure: str
    shares: Shares


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """A whole spread.

    Args:
        name: what it is for.
        girths: where girths go.
        lengths: where lengths go.
        matches: seams that are kept matching.
        levels: names of levels, and their depth below the waist, mm, or the height of the body that places them.
        toward: the directions of pieces that do not go by waist, side and hem.
        stays: words of the names of pieces that are the same in every size.
    """

    name: str = ""
    girths: tuple[GirthSpread, ...] = ()
    lengths: tuple[LengthSpread, ...] = ()
    matches: tuple[SeamMatch, ...] = ()
    levels: tuple[tuple[str, float | str], ...] = ()
    toward: tuple[Toward, ...] = ()
    stays: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not self.girths and not self.lengths:
            raise ParameterError(_("Nothing is spread."), advice=_("Write [[girth]] or [[length]] with its shares."))


def spreads_together(spreads: Sequence[Spread]) -> Spread:
    """Return one spread of several, as of a bodice and of its sleeve.

    Args:
        spreads: at least one.

    Raises:
        ParameterError: they place one level at two depths, or let moves on one piece count towards two edges.

    >>> bust = GirthSpread(measure="bust_girth", shares=())
    >>> spreads_together([Spread(name="Bodice", girths=(bust,)), Spread(name="Sleeve", girths=(bust,))]).name
    'Bodice, Sleeve'
    """
    levels: dict[str, float | str] = {}
    toward: dict[str, Toward] = {}
    for one in spreads:
        for name, depth in one.levels:
            if levels.setdefault(name, depth) != depth:
                raise ParameterError(
                    _("Two spreads place the {level} at different depths.").format(level=name),
                    advice=_("Let them agree, or make the rules apart."),
                )
        for way in one.toward:
            if toward.setdefault(way.piece, way) != way:
                raise ParameterError(
                    _("Two spreads say differently under [toward] how moves count on {piece}.").format(piece=way.piece),
                    advice=_("Let them agree, or make the rules apart."),
                )
    return Spread(
        name=", ".join(one.name for one in spreads if one.name),
        girths=tuple(girth for one in spreads for girth in one.girths),
        lengths=tuple(length for one in spreads for length in one.lengths),
        matches=tuple(match for one in spreads for match in one.matches),
        levels=tuple(levels.items()),
        toward=tuple(toward.values()),
        stays=tuple(dict.fromkeys(word for one in spreads for word in one.stays)),
    )
