"""The gauge for the strip test as a PDF: one page of A4 at true scale."""

from __future__ import annotations

from crossgrain.fabric.cloth import Cloth
from crossgrain.kernel.bounds import Box
from crossgrain.language import _
from crossgrain.output.gauge_marks import PAGE, Drawn, Pointer, Rule, Square, gauge_marks
from crossgrain.output.sheets.document import Page, document
from crossgrain.output.sheets.ink import Ink, Lettering, rectangle, ruled
from crossgrain.output.sheets.typeface import typeface


def gauge_sheet(benchmark: Cloth | None = None) -> bytes:
    """Write the gauge as a PDF; it also prints whole on Letter.

    Args:
        benchmark: a cloth whose readings are marked beside it, or None.

    >>> gauge_sheet()[:5]
    b'%PDF-'
    """
    width, height = PAGE
    ink = tuple(map(_ink, gauge_marks(benchmark)))
    page = Page(width=width, height=height, window=Box(0.0, 0.0, width, height), left=0.0, top=0.0, ink=(ink,))
    return document((), [page], title=_("Gauge for the strip test"), layered=False)


def _ink(one: Drawn) -> Ink:
    match one:
        case Rule():
            return ruled((one.start, one.end), one.width, dashes=(1.0, 1.0) if one.dashed else ())
        case Square():
            x, y = one.at
            return rectangle(Box(x, y, x + one.side, y + one.side))
        case Pointer():
            return ruled(one.corners, closed=True, filled=True)
        case _:
            x, y = one.at
            x -= {"start": 0.0, "middle": 0.5, "end": 1.0}[one.anchor] * typeface().width(one.text, one.height)
            return Lettering(text=one.text, at=(x, y), height=one.height)
