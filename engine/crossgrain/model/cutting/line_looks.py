"""How lines look: told apart by width and dash, so that they hold in black and white.

Colour only helps. One table, so that a line looks alike wherever it is drawn, on the screen and on paper.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class LineLook:
    """How one kind of line is drawn.

    Args:
        width: of the line, mm.
        dashes: lengths of dashes and gaps in turn, mm; none for an unbroken line.
        colour: as ``#rrggbb``.
    """

    width: float
    dashes: tuple[float, ...]
    colour: str

    def thicker(self, times: float) -> LineLook:
        """Return the same look, wider and with longer dashes.

        >>> LineLook(0.5, (2.0, 1.0), "#000000").thicker(3.0)
        LineLook(width=1.5, dashes=(6.0, 3.0), colour='#000000')
        """
        return LineLook(times * self.width, tuple(times * length for length in self.dashes), self.colour)


LOOKS: Final[dict[str, LineLook]] = {
    "grain": LineLook(0.35, (), "#1f3a5f"),
    "notch": LineLook(0.9, (), "#000000"),
    "dart": LineLook(0.35, (6.0, 2.0), "#7a1f1f"),
    "drill": LineLook(0.5, (), "#7a1f1f"),
    "hold": LineLook(0.5, (1.0, 2.0), "#1f5f3a"),
    "fold": LineLook(0.6, (), "#1f3a5f"),
    "crease": LineLook(0.3, (10.0, 4.0), "#5f4a1f"),
    "loop": LineLook(0.25, (), "#5f4a1f"),
    "button": LineLook(0.35, (), "#000000"),
    "buttonhole": LineLook(0.7, (), "#000000"),
    "topstitch": LineLook(0.35, (2.5, 1.0), "#7a1f1f"),
    "cut": LineLook(0.7, (12.0, 3.0, 2.0, 3.0), "#3a3a3a"),
    "stitch": LineLook(0.35, (4.0, 2.5), "#3a3a3a"),
    "scissors": LineLook(0.8, (), "#000000"),
    "leader": LineLook(0.3, (), "#000000"),
}
"""The kinds of marks; ``cut`` or ``stitch`` for the other of an outline's two lines; ``scissors`` for the cut line of a
piece that is laid out."""
