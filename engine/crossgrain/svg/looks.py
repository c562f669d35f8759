"""How lines and words of ours look: told apart by width and dash, so that they hold in black and white.

Colour only helps. One table, so that a line looks alike wherever it is drawn.
"""

from __future__ import annotations

from typing import Final

# Width in mm, dashes in mm, colour.
_LOOKS: Final[dict[str, tuple[float, tuple[float, ...], str]]] = {
    "grain": (0.35, (), "#1f3a5f"),
    "notch": (0.9, (), "#000000"),
    "dart": (0.35, (6.0, 2.0), "#7a1f1f"),
    "drill": (0.5, (), "#7a1f1f"),
    "hold": (0.5, (1.0, 2.0), "#1f5f3a"),
    "fold": (0.6, (), "#1f3a5f"),
    "crease": (0.3, (10.0, 4.0), "#5f4a1f"),
    "loop": (0.35, (2.0, 1.5), "#5f4a1f"),
    "button": (0.35, (), "#000000"),
    "buttonhole": (0.7, (), "#000000"),
    "topstitch": (0.35, (2.5, 1.0), "#7a1f1f"),
    "cut": (0.7, (12.0, 3.0, 2.0, 3.0), "#3a3a3a"),
    "stitch": (0.35, (4.0, 2.5), "#3a3a3a"),
    "scissors": (0.8, (), "#000000"),
    "leader": (0.3, (), "#000000"),
}


def line_style(look: str, scale: float = 1.0) -> str:
    """Return the style of a line.

    Args:
        look: the kind of a mark; ``cut`` or ``stitch`` for the other of an outline's two lines; ``scissors`` for the
            cut line of a piece that is laid out.
        scale: mm in a unit of the coordinates around it.

    >>> line_style("grain")
    'fill:none;stroke:#1f3a5f;stroke-width:0.35;stroke-dasharray:none;stroke-linecap:butt;stroke-linejoin:round'
    """
    width, dashes, colour = _LOOKS[look]
    dash = ",".join(f"{length / scale:.6g}" for length in dashes) or "none"
    return (
        f"fill:none;stroke:{colour};stroke-width:{width / scale:.6g};stroke-dasharray:{dash};"
        "stroke-linecap:butt;stroke-linejoin:round"
    )
