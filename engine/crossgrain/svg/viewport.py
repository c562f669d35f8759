"""How a ``viewBox`` is fitted into its viewport. Source: SVG 2, sections 8.2, 8.6 and 8.7."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Final

from crossgrain.errors import DocumentError
from crossgrain.kernel.affine import Affine
from crossgrain.language import _
from crossgrain.svg.path_tokens import NUMBER, SEPARATOR

Box = tuple[float, float, float, float]

_BOX: Final = re.compile(rf"\s*({NUMBER}){SEPARATOR}({NUMBER}){SEPARATOR}({NUMBER}){SEPARATOR}({NUMBER})\s*")
_ASPECT: Final = re.compile(
    r"\s*(?:defer\s+)?(?:(?P<none>none)|x(?P<x>Min|Mid|Max)Y(?P<y>Min|Mid|Max))(?:\s+(?P<fit>meet|slice))?\s*"
)
_SHARES: Final = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}


@dataclass(frozen=True, slots=True)
class Aspect:
    """What is done where a viewBox and its viewport have different proportions.

    Args:
        stretch: fill the viewport in both directions, each to its own scale.
        x: the share of the slack left of the drawing.
        y: the share of the slack above it.
        slice: cover the viewport rather than stay inside it.
    """

    stretch: bool = False
    x: float = 0.5
    y: float = 0.5
    slice: bool = False


def parse_view_box(text: str | None) -> Box | None:
    """Read a ``viewBox``.

    Returns:
        x, y, width and height in user units; None where there is none.

    Raises:
        DocumentError: text that cannot be read, or a box of no size.

    >>> parse_view_box("0 0 210,297")
    (0.0, 0.0, 210.0, 297.0)
    """
    if text is None or text.strip() == "none":
        return None
    found = _BOX.fullmatch(text)
    box = tuple(map(float, found.groups())) if found else ()
    if len(box) != 4 or not all(map(math.isfinite, box)) or box[2] <= 0.0 or box[3] <= 0.0:
        raise DocumentError(
            _("Its viewBox cannot be used: {text}.").format(text=text.strip()[:80]),
            advice=_("Give four numbers: left, top, width and height, the last two above zero."),
        )
    return box


def parse_aspect(text: str | None) -> Aspect:
    """Read a ``preserveAspectRatio``.

    Raises:
        DocumentError: text that cannot be read.

    >>> parse_aspect("xMinYMax slice")
    Aspect(stretch=False, x=0.0, y=1.0, slice=True)
    """
    if text is None:
        return Aspect()
    found = _ASPECT.fullmatch(text)
    if not found:
        raise DocumentError(
            _("Its preserveAspectRatio cannot be read: {text}.").format(text=text.strip()[:80]),
            advice=_("Remove it, or write none, or for example xMidYMid meet."),
        )
    if found["none"]:
        return Aspect(stretch=True)
    return Aspect(x=_SHARES[found["x"]], y=_SHARES[found["y"]], slice=found["fit"] == "slice")


def fit(box: Box, aspect: Aspect, width: float, height: float) -> Affine:
    """Return the map from a viewBox into a viewport at the zero of its coordinates.

    Args:
        box: x, y, width and height of the viewBox.
        aspect: what is done where the proportions differ.
        width: of the viewport, above 0, in any unit.
        height: of the viewport, in the same unit.

    >>> fit((0.0, 0.0, 100.0, 100.0), Aspect(), 300.0, 200.0).of((0.0, 0.0))
    (50.0, 0.0)
    """
    sx, sy = width / box[2], height / box[3]
    if aspect.stretch:
        return Affine(sx, 0.0, 0.0, sy, -sx * box[0], -sy * box[1])
    s = max(sx, sy) if aspect.slice else min(sx, sy)
    return Affine(
        s,
        0.0,
        0.0,
        s,
        aspect.x * (width - s * box[2]) - s * box[0],
        aspect.y * (height - s * box[3]) - s * box[1],
    )
