"""The papers on which sheets are printed, and how much of each is drawn on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from crossgrain.errors import ParameterError, UnitError
from crossgrain.language import _
from crossgrain.units import format_length, parse_length

Way = Literal["tiles", "roll", "projector"]

LEAST_MARGIN: Final = 6.35
"""What printers at home leave blank at most, mm: a quarter of an inch."""

MARGIN: Final = 10.0
"""Left blank on the left and above, mm, and as much or more on the right and below: what a sheet covers of the next."""

LONGEST: Final = 5000.0
"""No page is longer, mm: at 72 points to the inch a PDF page ends at 14,400 points, 5,080 mm."""

TILE: Final = (190.0, 259.0)
"""The tile that fits both A4 and Letter, mm."""

_ROLL: Final = "roll-"
_NAMES: Final = ("a4", "letter", "a3", "a0", "roll-914mm", "projector")


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A paper, and the part of it that is drawn on.

    Args:
        name: as a maker says it.
        width: mm.
        height: mm; of a roll, and of what is projected, the most a page may have.
        tile: width and height of the part that is drawn on, mm; its upper left corner lies a margin from the paper's.
        way: ``tiles`` on pages of one size, a ``roll`` cut off where it ends, or one page for a ``projector``.

    Raises:
        ParameterError: the paper is too small for its tile and the margins that printers need.
    """

    name: str
    width: float
    height: float
    tile: tuple[float, float]
    way: Way = "tiles"

    def __post_init__(self) -> None:
        wide, high = self.tile
        room = (self.width - MARGIN - LEAST_MARGIN, self.height - MARGIN - LEAST_MARGIN)
        if wide <= 0.0 or high <= 0.0 or wide > room[0] or high > room[1]:
            raise ParameterError(
                _("Paper of {width} × {height} is too small to draw on with margins of {margin}.").format(
                    width=format_length(self.width), height=format_length(self.height), margin=format_length(MARGIN)
                ),
                advice=_("Take a larger one, such as a4."),
            )

    @property
    def margins(self) -> tuple[float, float, float, float]:
        """What is left blank on the left, above, on the right and below, mm."""
        return (MARGIN, MARGIN, self.width - MARGIN - self.tile[0], self.height - MARGIN - self.tile[1])


def _whole(name: str, width: float, height: float, way: Way = "tiles") -> Paper:
    """Return a paper that is drawn on up to its margins."""
    return Paper(name=name, width=width, height=height, tile=(width - 2.0 * MARGIN, height - 2.0 * MARGIN), way=way)


def paper_named(name: str) -> Paper:
    """Return a paper by its name.

    Args:
        name: ``a4``, ``letter``, ``a3``, ``a0``, ``roll-914mm`` or another width, or ``projector``.

    Returns:
        The paper. Sizes after ISO 216 and ANSI/ASME Y14.1 (Letter, 8½ × 11 in).

    Raises:
        ParameterError: no such paper, or one too narrow for its margins.

    >>> paper_named("letter").tile == paper_named("a4").tile
    True
    """
    match name:
        case "a4":
            return Paper(name=name, width=210.0, height=297.0, tile=TILE)
        case "letter":
            return Paper(name=name, width=215.9, height=279.4, tile=TILE)
        case "a3":
            return _whole(name, 297.0, 420.0)
        case "a0":
            return _whole(name, 841.0, 1189.0)
        case "projector":
            return _whole(name, LONGEST, LONGEST, "projector")
    if name.startswith(_ROLL):
        try:
            width = parse_length(name.removeprefix(_ROLL))
        except UnitError as error:
            raise ParameterError(
                _("The width of a roll cannot be read in {name}.").format(name=name),
                advice=_("Write it so: roll-914mm."),
            ) from error
        return _whole(name, min(width, LONGEST), LONGEST, "roll")
    raise ParameterError(
        _("There is no paper {name}.").format(name=name),
        advice=_("There are: {names}.").format(names=", ".join(_NAMES)),
    )
