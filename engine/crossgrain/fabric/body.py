"""A body: girths at levels, and how far down they lie."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from crossgrain.errors import ParameterError
from crossgrain.language import _

LEVELS: Final = ("waist", "hip", "thigh", "knee", "calf", "ankle", "hem")
"""The levels of trousers from the top. The girths and heights are those of ISO 8559-1, but for the hem, which is no
landmark of a body."""

OF_A_LEG: Final = ("thigh", "knee", "calf", "ankle", "hem")
"""Levels at which a girth is that of one leg."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyLevel:
    """One level of a body.

    Args:
        name: one of :data:`LEVELS`.
        girth: of the body, or of one leg, mm; None where it was not taken.
        depth: below the waist, mm, 0 or more; None where it is not known.
    """

    name: str
    girth: float | None = None
    depth: float | None = None

    def __post_init__(self) -> None:
        if self.name not in LEVELS:
            raise ParameterError(
                _("There is no level named {name}.").format(name=self.name),
                advice=_("The levels are: {names}.").format(names=", ".join(LEVELS)),
            )
        if self.girth is not None and not (math.isfinite(self.girth) and self.girth > 0.0):
            raise ParameterError(_("The {name} girth is not above zero.").format(name=self.name))
        if self.depth is not None and not (math.isfinite(self.depth) and self.depth >= 0.0):
            raise ParameterError(
                _("The {name} lies above the waist.").format(name=self.name),
                advice=_("Heights are taken from the floor; look at them again."),
            )

    @property
    def limbs(self) -> int:
        """How many such girths the pieces make up together: two at the levels of a leg."""
        return 2 if self.name in OF_A_LEG else 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """A body, or a size of a size table.

    Args:
        name: whose.
        source: where the figures come from.
        levels: in order from the waist down, each once.
        heel_girth: round heel and instep with the foot stretched, mm: what has to pass a hem. None where it was not
            taken.
    """

    name: str
    source: str = ""
    levels: tuple[BodyLevel, ...] = ()
    heel_girth: float | None = None

    def __post_init__(self) -> None:
        if self.heel_girth is not None and not (math.isfinite(self.heel_girth) and self.heel_girth > 0.0):
            raise ParameterError(_("The {name} girth is not above zero.").format(name="heel"))
        names = [level.name for level in self.levels]
        if len(set(names)) != len(names):
            raise ParameterError(_("A level of the body is given twice."))
        known = [level for level in self.levels if level.depth is not None]
        for above, below in pairwise(known):
            assert above.depth is not None
            assert below.depth is not None
            if not above.depth < below.depth:
                raise ParameterError(
                    _("The {below} does not lie below the {above}.").format(below=below.name, above=above.name),
                    advice=_("Look at their heights again; they are taken from the floor."),
                )

    def level(self, name: str) -> BodyLevel:
        """Find a level.

        Raises:
            ParameterError: it is not given.
        """
        for level in self.levels:
            if level.name == name:
                return level
        raise ParameterError(
            _("{body} has no {name}.").format(body=self.name, name=name),
            advice=_("Add its girth to the body file."),
        )
