"""The true scale of a drawing, or a good reason to ask for it.

A piece cut at a wrong scale is spoilt cloth, so nothing is guessed. Millimetres are certain where the drawing states
its size in units of length. Pixels are certain by the letter of CSS, 96 to the inch, but much software wrote, and
some still writes, 72 or 90 to the inch under the same name; where a drawing shows a sign of that, we ask.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from lxml import etree

from crossgrain.errors import DocumentError
from crossgrain.kernel.affine import Affine
from crossgrain.language import _
from crossgrain.svg.lengths import ABSOLUTE_PX, MM_PER_PX, parse_length
from crossgrain.svg.names import inkscape
from crossgrain.svg.transforms import largest_scale
from crossgrain.svg.viewport import Aspect, Box, fit, parse_aspect, parse_view_box

_MM: Final = {
    "": MM_PER_PX,
    "px": MM_PER_PX,
    "pt": 25.4 / 72.0,
    "pc": 25.4 / 6.0,
    "mm": 1.0,
    "cm": 10.0,
    "q": 0.25,
    "in": 25.4,
}

# ISO 216 and the inch sizes of ANSI/ASME Y14.1, mm.
_PAPER: Final = {
    "A0": (841.0, 1189.0),
    "A1": (594.0, 841.0),
    "A2": (420.0, 594.0),
    "A3": (297.0, 420.0),
    "A4": (210.0, 297.0),
    "A5": (148.0, 210.0),
    "Letter": (215.9, 279.4),
    "Legal": (215.9, 355.6),
    "Tabloid": (279.4, 431.8),
}
_OLD_RESOLUTIONS: Final = (72, 90)
_PAPER_SLACK: Final = 0.75
"""Page sizes in pixels are often rounded to whole ones, up or down, from sizes in mm that are rounded too."""

_VERSION: Final = re.compile(r"(\d+)\.(\d+)")
_OTHER_RESOLUTION: Final = re.compile(r"Adobe|Illustrator|Sketch|Fritzing", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Page:
    """The page of a drawing.

    Args:
        to_mm: from the user units of the outermost ``svg`` to mm from the page's upper left corner.
        width: of the page, mm; NaN where only the scale is known.
        height: of the page, mm; NaN likewise.
        across: the width in user units, of which percentages are taken.
        down: the height in user units.
    """

    to_mm: Affine
    width: float
    height: float
    across: float
    down: float


def page_of(root: etree._Element, *, unit_mm: float | None, remarks: Sequence[str] = ()) -> Page:
    """Return the page of a drawing at its true scale.

    Args:
        root: the outermost ``svg``.
        unit_mm: the mm of one user unit inside it, where the maker has said so; it overrides what the drawing says.
        remarks: the comments around the root, where generators sign.

    Raises:
        DocumentError: a size that cannot be read, or a scale that is in doubt; the message says what was seen and
            asks for ``--scale``.
    """
    box, aspect = parse_view_box(root.get("viewBox")), parse_aspect(root.get("preserveAspectRatio"))
    width, height = _size(root, "width"), _size(root, "height")
    if unit_mm is not None:
        return _page_at(unit_mm, box, aspect, width, height)
    page = _page(box, aspect, width, height)
    doubt = _doubt(root, remarks, box, width, height)
    if doubt or page is None:
        raise _question(doubt or _("it does not say how large it is"), page)
    return page


def _size(root: etree._Element, name: str) -> tuple[float, str] | None:
    """Return the number and unit of the width or height; None where it depends on the window."""
    text = root.get(name)
    if text is None or text.strip() == "auto":
        return None
    number, unit = parse_length(text, name)
    if number <= 0.0:
        raise DocumentError(
            _("The {name} of the drawing is {text}, which leaves nothing to see.").format(name=name, text=text),
            advice=_("Set the page size in the editor's document properties."),
        )
    return None if unit == "%" else (number, unit)


def _page(
    box: Box | None, aspect: Aspect, width: tuple[float, str] | None, height: tuple[float, str] | None
) -> Page | None:
    wide = width[0] * _MM[width[1]] if width else None
    high = height[0] * _MM[height[1]] if height else None
    if box is None:
        if wide is None or high is None:
            return None
        return Page(Affine.scaling(MM_PER_PX, MM_PER_PX), wide, high, wide / MM_PER_PX, high / MM_PER_PX)
    if wide is None and high is None:
        return None
    # One size alone: the other follows from the proportions of the viewBox (SVG 2, section 8.1).
    wide = wide if wide is not None else (high or 0.0) * box[2] / box[3]
    high = high if high is not None else wide * box[3] / box[2]
    return Page(fit(box, aspect, wide, high), wide, high, box[2], box[3])


def _page_at(
    unit_mm: float,
    box: Box | None,
    aspect: Aspect,
    width: tuple[float, str] | None,
    height: tuple[float, str] | None,
) -> Page:
    if not (math.isfinite(unit_mm) and unit_mm > 0.0):
        raise DocumentError(_("The scale given is not above zero."), advice=_("Give the mm of one user unit."))
    across = width[0] * ABSOLUTE_PX[width[1]] if width else math.nan
    down = height[0] * ABSOLUTE_PX[height[1]] if height else math.nan
    if box is None:
        return Page(Affine.scaling(unit_mm, unit_mm), across * unit_mm, down * unit_mm, across, down)
    both = width is not None and height is not None
    upright = unit_mm * (down / box[3]) / (across / box[2]) if aspect.stretch and both else unit_mm
    to_mm = Affine(unit_mm, 0.0, 0.0, upright, -unit_mm * box[0], -upright * box[1])
    return Page(to_mm, unit_mm * box[2], upright * box[3], box[2], box[3])


def _doubt(
    root: etree._Element,
    remarks: Sequence[str],
    box: Box | None,
    width: tuple[float, str] | None,
    height: tuple[float, str] | None,
) -> str:
    """Return why the scale is in doubt, as half a sentence; empty where it is not."""
    if width is None and height is None:
        return _("it does not say how large it is")
    if box is None and (width is None or height is None):
        return _("it gives only one of width and height, and no viewBox")
    units = {size[1] for size in (width, height) if size}
    old = _old_editor(root.get(inkscape("version")))
    if not units & {"", "px"}:
        if old and box is None:
            return _("it was saved by Inkscape {version}, which drew 90 units to the inch").format(version=old)
        return ""
    if box is None and "" in units:
        return _("its size {size} has no unit and it has no viewBox").format(size=_shown(width, height))
    if old:
        return _("it was saved by Inkscape {version}, which drew 90 pixels to the inch").format(version=old)
    paper = _old_paper(width, height)
    if paper:
        return _("its size {size} is {paper} at {resolution} pixels to the inch, not at 96").format(
            size=_shown(width, height), paper=paper[0], resolution=paper[1]
        )
    for remark in (*remarks, *(uri for uri in root.nsmap.values() if "adobe" in uri)):
        found = _OTHER_RESOLUTION.search(remark)
        if found:
            return _("it is signed by {generator}, whose pixels are 72 to the inch").format(
                generator=" ".join(remark.split())[:60]
            )
    return ""


def _old_editor(version: str | None) -> str:
    """Return the version of the editor where it is from before 0.92, which changed from 90 to 96 units an inch."""
    found = _VERSION.match(version or "")
    return found.group() if found and (int(found[1]), int(found[2])) < (0, 92) else ""


def _old_paper(width: tuple[float, str] | None, height: tuple[float, str] | None) -> tuple[str, int] | None:
    if not width or not height:
        return None
    size = sorted((width[0], height[0]))
    for resolution in _OLD_RESOLUTIONS:
        for name, paper in _PAPER.items():
            if all(abs(seen - mm * resolution / 25.4) <= _PAPER_SLACK for seen, mm in zip(size, paper, strict=True)):
                return name, resolution
    return None


def _shown(width: tuple[float, str] | None, height: tuple[float, str] | None) -> str:
    return " × ".join(f"{size[0]:g}{size[1]}" for size in (width, height) if size)


def _question(doubt: str, page: Page | None) -> DocumentError:
    advice = _("Measure a line whose true length you know, and give --scale, the mm of one user unit.")
    if page is not None:
        unit = largest_scale(page.to_mm)
        advice += " " + _("At 96 to the inch it is {modern:.6g}, at 90 {ninety:.6g}, at 72 {points:.6g}.").format(
            modern=unit, ninety=unit * 96 / 90, points=unit * 96 / 72
        )
    return DocumentError(_("The scale of the drawing is in doubt: {doubt}.").format(doubt=doubt), advice=advice)
