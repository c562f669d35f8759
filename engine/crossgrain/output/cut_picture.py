"""The sheet of cut pieces as a small picture for the page of the cut list."""

from __future__ import annotations

from html import escape
from typing import Final

from crossgrain.kernel.bounds import Box
from crossgrain.language import _
from crossgrain.model.cutting.cut_plan import CutPiece, CutPlan
from crossgrain.output.path_text import number_text, path_text

_WIDTH: Final = 186.0
"""How wide the picture is, mm: a page of A4 within its margins."""

_LARGEST: Final = 0.25
"""No picture is larger than a quarter of true size."""

_LETTERS: Final = 3.0
"""Height of the pieces' names on the page, mm."""

_MARGIN: Final = 4.0


def cut_picture(plan: CutPlan) -> str:
    """Draw the pieces as they are laid out, each with its name.

    Args:
        plan: what is laid out; at least one piece.

    Returns:
        An ``svg`` element whose user unit is a millimetre of the sheet.
    """
    box = Box.around(piece.extent for piece in plan.pieces).grown(_MARGIN)
    scale = min(_LARGEST, _WIDTH / box.width)
    view = " ".join(number_text(value) for value in (box.left, box.top, box.width, box.height))
    size = f'width="{number_text(box.width * scale)}mm" height="{number_text(box.height * scale)}mm"'
    return "\n".join(
        [
            f'<svg role="img" {size} viewBox="{view}">',
            f"<title>{escape(_('The pieces as they are laid out'))}</title>",
            *(part for piece in plan.pieces for part in _drawn(piece, scale)),
            "</svg>",
        ]
    )


def _drawn(piece: CutPiece, scale: float) -> list[str]:
    parts = [f'<path class="after" d="{path_text(piece.outer)}"/>']
    if piece.stitch is not None and piece.cut is not None:
        parts.append(f'<path class="other" style="fill:none" d="{path_text(piece.stitch)}"/>')
    x, y = piece.label.box.centre
    size = number_text(_LETTERS / scale)
    name = _("template") if piece.is_template else piece.piece.label
    turn = f' transform="rotate(-90 {number_text(x)} {number_text(y)})"' if piece.label.turned else ""
    at = f'x="{number_text(x)}" y="{number_text(y)}"'
    parts.append(f'<text class="edge" style="font-size:{size}px" text-anchor="middle" {at}{turn}>{escape(name)}</text>')
    return parts
