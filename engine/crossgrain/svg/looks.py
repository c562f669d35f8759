"""How lines and words of ours look in a drawing; their table is that of :mod:`crossgrain.model.cutting.line_looks`."""

from __future__ import annotations

from crossgrain.model.cutting.line_looks import LOOKS, LineLook


def line_style(look: str, scale: float = 1.0) -> str:
    """Return the style of a line.

    Args:
        look: the kind of a mark; ``cut`` or ``stitch`` for the other of an outline's two lines; ``scissors`` for the
            cut line of a piece that is laid out.
        scale: mm in a unit of the coordinates around it.

    >>> line_style("grain")
    'fill:none;stroke:#1f3a5f;stroke-width:0.35;stroke-dasharray:none;stroke-linecap:butt;stroke-linejoin:round'
    """
    return style_of(LOOKS[look], scale)


def style_of(look: LineLook, scale: float = 1.0) -> str:
    """Return the style of a line that looks so; ``scale`` is mm in a unit of the coordinates around it."""
    dash = ",".join(f"{length / scale:.6g}" for length in look.dashes) or "none"
    return (
        f"fill:none;stroke:{look.colour};stroke-width:{look.width / scale:.6g};stroke-dasharray:{dash};"
        "stroke-linecap:butt;stroke-linejoin:round"
    )
