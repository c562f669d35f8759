"""The first pages: the squares that prove the scale, how to print and to join, the map, what is cut and needed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from crossgrain.kernel.bounds import Box
from crossgrain.language import _, headed
from crossgrain.model.cutting.cut_plan import CutPlan
from crossgrain.model.cutting.line_looks import LOOKS, LineLook
from crossgrain.model.marking.mark_names import mark_names
from crossgrain.model.outcome import Finding
from crossgrain.output.cut_list import cut_tables
from crossgrain.output.sheets.flow import Flow, middled
from crossgrain.output.sheets.ink import Block, Ink, rectangle
from crossgrain.output.sheets.paper import MARGIN, TILE, Paper
from crossgrain.output.sheets.stacking import cut_look, size_range, stitch_look
from crossgrain.units import format_length

SQUARE: Final = 100.0
"""The side of the smaller square, mm."""

INCHES: Final = 4.0 * 25.4
"""The side of the greater one, mm."""

MAP: Final = Box(110.0, 16.0, TILE[0], 16.0 + INCHES)
"""Where the map of the pages is drawn on the first one, mm."""

_TOP: Final = 16.0
_TITLE: Final = 7.0


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What the first pages tell.

    Args:
        title: what the garment is called.
        plans: the name of each size, empty for a single one, and what is cut of it.
        findings: what to look at.
        paper: what it is printed on.
        overlap: of neighbouring pages, mm.
    """

    title: str
    plans: Sequence[tuple[str, CutPlan]]
    findings: Sequence[Finding]
    paper: Paper
    overlap: float

    @property
    def sizes(self) -> list[str]:
        """The names of the sizes."""
        return [size for size, _plan in self.plans if size]


def head_blocks(about: About, *, is_tiled: bool) -> tuple[Block, ...]:
    """Write the first pages, with room for the map of the pages.

    Args:
        about: what they tell.
        is_tiled: whether there is more than one page to join.
    """
    flow = Flow(*TILE)
    flow.words(about.title, _TITLE)
    if about.sizes:
        flow.words(_("size {size}").format(size=size_range(about.sizes)), 5.0, left=0.0)
    flow.blocks[-1].extend(_squares())
    flow.down = _TOP + INCHES + 4.0
    flow.heading(_("Print at actual size"))
    for step in _printing(about):
        flow.words(step)
    if is_tiled:
        flow.heading(_("Join the sheets; nothing is cut off"))
        for step in _joining(about):
            flow.words(step)
    if about.findings:
        flow.heading(_("To look at"))
        for finding in sorted(about.findings, key=lambda finding: finding.severity != "caution"):
            flow.words(_sentence(finding))
    flow.heading(_("What the lines are"))
    flow.samples(list(_legend(about)))
    size, plan = about.plans[-1]
    if len(about.sizes) > 1:
        flow.words(_("Figures below are those of size {size}; the file of each size has its own.").format(size=size))
    for table in cut_tables(plan):
        flow.table(table)
    return flow.filled()


def _squares() -> Iterator[Ink]:
    inner = Box(0.0, _TOP, SQUARE, _TOP + SQUARE)
    yield rectangle(Box(0.0, _TOP, INCHES, _TOP + INCHES))
    yield rectangle(inner)
    lines = (
        (_("To prove the scale:"), 4.5),
        (_("the inner square is 100 mm wide,"), 3.6),
        (_("the outer one 4 inches."), 3.6),
        (_("Measure both before you cut."), 3.6),
    )
    for k, (text, height) in enumerate(lines):
        yield middled(text, height, inner, _TOP + 40.0 + 7.0 * k)


def _printing(about: About) -> Iterator[str]:
    if about.paper.way == "projector":
        yield _("1  Set the projector so that both squares have their true size on the cutting table, in all corners.")
        yield _("2  Show the page at 100 % of that; switch layers off in the viewer for a single size.")
        return
    yield _("1  In the print dialog choose “actual size” or 100 %. Do not choose “fit to page” or “shrink”.")
    yield _("2  Print this page first, and measure both squares with a ruler. Then print the rest the same way.")


def _joining(about: About) -> Iterator[str]:
    yield _(
        "1  Begin with row 1 and lay the sheets down row by row. Each one goes over the sheet on its left and over the "
        "one above it: its blank margin covers {margin} of their print."
    ).format(margin=format_length(MARGIN, digits=0))
    yield _(
        "2  Across every join lie two lozenges with its number. Half of each is on either sheet: move the upper sheet "
        "until all four sides of both run on straight. The dotted line shows about where its edge comes to lie."
    )
    yield _(
        "3  Tape it. The sheets overlap by {overlap} beyond the margin; a line that goes under a margin runs on, and "
        "is seen against the light. Sheets on which nothing is drawn are left out."
    ).format(overlap=format_length(about.overlap, digits=0))


def _sentence(finding: Finding) -> str:
    return headed(finding.kind, finding.where, finding.said)


def _legend(about: About) -> Iterator[tuple[tuple[LineLook, ...], str]]:
    pieces = [piece for _size, plan in about.plans for piece in plan.pieces]
    has_cut, has_stitch = (any(getattr(piece, kind) is not None for piece in pieces) for kind in ("cut", "stitch"))
    if len(about.sizes) > 1:
        for number, size in enumerate(about.sizes):
            looks = [cut_look(number)] * has_cut + [stitch_look(number)] * has_stitch
            words = _("size {size}: cut, stitch") if len(looks) == 2 else _("size {size}")
            yield tuple(looks), words.format(size=size)
    else:
        if has_cut:
            yield (LOOKS["scissors"],), _("cut line: cut here")
        if has_stitch:
            yield (LOOKS["stitch"],), _("stitch line: sew here")
    there = {mark.kind for piece in pieces for mark in piece.marks}
    yield from (((LOOKS[kind],), name) for kind, name in mark_names().items() if kind in there)
