"""Put the sheets of a pattern together: pieces, pages, joins, first pages."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import Box
from crossgrain.language import _
from crossgrain.model.cutting.cut_plan import CutPlan
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import listed
from crossgrain.output.sheets.content import Part
from crossgrain.output.sheets.document import Page, document
from crossgrain.output.sheets.head import MAP, About, head_blocks
from crossgrain.output.sheets.ink import PALE, PURPOSES, Block, Ink, Lettering
from crossgrain.output.sheets.joins import corner_ink, join_ink, joins
from crossgrain.output.sheets.packing import packed
from crossgrain.output.sheets.page_map import map_ink
from crossgrain.output.sheets.paper import MARGIN, TILE, Paper, paper_named
from crossgrain.output.sheets.stacking import blocks_of, stacked_blocks
from crossgrain.output.sheets.tiles import Cell, Layout, Placed
from crossgrain.output.sheets.typeface import typeface

_THICKER = 3.0
"""Lines for a projector: 1 to 2 mm wide on the table."""

_STRIP = 2.6
"""Height of the words in the upper margin, mm: the strip that printers leave is 3.65 mm high."""

_GREAT = 9.0
"""Height of row and column on each page, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Printing:
    """How sheets are printed.

    Args:
        paper: ``a4``, ``letter``, ``a3``, ``a0``, ``roll-914mm`` or another width, or ``projector``.
        overlap: of neighbouring pages, mm, 0 or more.
        gap: the least distance between two pieces, mm, 0 or more.
        grain_parallel: whether all grains are parallel; else pieces may lie across where that saves pages.
        off: the layers that are off when the file is opened: what they are for, and names of sizes.
    """

    paper: str = "a4"
    overlap: float = 10.0
    gap: float = 10.0
    grain_parallel: bool = False
    off: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheets:
    """What is printed.

    Args:
        pdf: the file.
        pages: how many pages it has.
        rows: how many rows of pages are joined.
        columns: how many columns.
        joins: how many joins there are.
        findings: what to look at that came up in the printing.
    """

    pdf: bytes
    pages: int
    rows: int
    columns: int
    joins: int
    findings: tuple[Finding, ...] = ()


def sheets(
    title: str,
    plans: Sequence[tuple[str, CutPlan]],
    printing: Printing,
    findings: Sequence[Finding] = (),
    *,
    layered: bool = True,
) -> Sheets:
    """Make the sheets of a pattern.

    Args:
        title: what the garment is called.
        plans: the name of each size and what is cut of it; for a single size the name may be empty.
        printing: how they are printed.
        findings: what to look at; it is said on the first pages.
        layered: whether the file has layers.

    Returns:
        The sheets. Every line is true to 0.001 mm in the file's own figures; curves are curves.

    Raises:
        ParameterError: nothing to print, an unknown paper or layer, a page too small for its margins, two sizes of one
            name.
    """
    paper = paper_named(printing.paper)
    sizes = [size for size, _plan in plans]
    _check(plans, sizes, printing.off)
    is_stack = len(plans) > 1
    times = _THICKER if paper.way == "projector" else 1.0
    pieces = stacked_blocks(plans, thicker=times) if is_stack else blocks_of(plans[0][1], thicker=times)
    unwritten = _unwritten(title, pieces)
    about = About(title=title, plans=plans, findings=(*findings, *unwritten), paper=paper, overlap=printing.overlap)
    own_pages = paper.tile == TILE
    if own_pages:
        heads = head_blocks(about, is_tiled=True)
        layout = _packed(pieces, paper, printing)
    else:
        # On large paper the first pages are laid out among the pieces; there, what they say depends on what comes out.
        heads = head_blocks(about, is_tiled=False)
        layout = _packed((*heads, *pieces), paper, printing)
        if len(layout.cells) > 1:
            heads = head_blocks(about, is_tiled=True)
            layout = _packed((*heads, *pieces), paper, printing)
    cells = _in_order(layout)
    first = len(heads) if own_pages else 0
    numbers = {cell: first + k for k, cell in enumerate(cells, start=1)}
    mapped = _with_map(heads[0], layout, numbers) if len(cells) > 1 else heads[0]
    placed = list(layout.placed)
    pages = list(_pages(layout, cells, numbers, paper, title))
    if own_pages:
        own = [Placed(block=block, place=Affine()) for block in (mapped, *heads[1:])]
        placed += own
        pages = [*_head_pages(paper, len(layout.placed), len(own)), *pages]
    else:
        placed[0] = replace(placed[0], block=mapped)
    pdf = document(
        placed,
        pages,
        title=title,
        sizes=sizes if is_stack and layered else (),
        off=printing.off,
        layered=layered,
    )
    return Sheets(
        pdf=pdf,
        pages=len(pages),
        rows=len({row for row, _column in cells}),
        columns=len({column for _row, column in cells}),
        joins=len(joins(layout)),
        findings=unwritten,
    )


def _unwritten(title: str, pieces: Sequence[Block]) -> tuple[Finding, ...]:
    """Say which words have letters that the typeface has not."""
    texts = [title, *(one.text for block in pieces for one in block.ink if isinstance(one, Lettering))]
    words = dict.fromkeys(word.strip(".,;:()") for text in texts for word in text.split())
    lacking = [word for word in words if typeface().known(word) != word]
    if not lacking:
        return ()
    message = _("These words have letters that the sheets cannot write, printed as question marks: {words}.")
    return (
        Finding(
            piece="",
            message=message.format(words=", ".join(lacking)),
            advice=_("Give names in Latin, Greek or Cyrillic letters, or write them on the paper by hand."),
        ),
    )


def _check(plans: Sequence[tuple[str, CutPlan]], sizes: Sequence[str], off: Collection[str]) -> None:
    if not any(plan.pieces for _size, plan in plans):
        raise ParameterError(
            _("There is nothing to print: the drawing has no pieces."),
            advice=_("Mark the outlines first (crossgrain mark), or name one with --piece."),
        )
    for size in sizes:
        if sizes.count(size) > 1:
            raise ParameterError(
                _("Two sizes are both named {size}.").format(size=size), advice=_("Give each a name with --size.")
            )
    known = (*PURPOSES, *(size for size in sizes if size and len(sizes) > 1))
    for name in off:
        if name not in known:
            raise ParameterError(
                _("There is no layer {name}.").format(name=name),
                advice=_("There are: {names}.").format(names=listed(known)),
            )


def _packed(blocks: Sequence[Block], paper: Paper, printing: Printing) -> Layout:
    return packed(blocks, paper, printing.overlap, printing.gap, grain_parallel=printing.grain_parallel)


def _in_order(layout: Layout) -> list[Cell]:
    """Return the tiles row by row, but first the one with the squares, where they are among the pieces."""
    cells = list(layout.cells)
    if layout.placed[0].block.is_head:
        own = min(layout.needs[0])
        cells.remove(own)
        cells.insert(0, own)
    return cells


def _with_map(head: Block, layout: Layout, numbers: dict[Cell, int]) -> Block:
    return replace(head, ink=(*head.ink, *map_ink(layout, numbers, MAP)))


def _head_pages(paper: Paper, first: int, count: int) -> Iterator[Page]:
    window = Box(0.0, 0.0, *TILE)
    for number in range(count):
        yield Page(
            width=paper.width, height=paper.height, window=window, left=MARGIN, top=MARGIN, blocks=(first + number,)
        )


def _left_of_great(layout: Layout, box: Box) -> float:
    """Return where row and column begin: in the corner, or beside the words of a first page that lie there."""
    corner = Box(box.left, box.top, box.left + 2.0 * _GREAT, box.top + 2.0 * _GREAT)
    heads = [placed.box for placed in layout.placed if placed.block.is_head and placed.box.meets(corner)]
    return max([box.left, *(head.right for head in heads)]) + 3.0


def _pages(layout: Layout, cells: Sequence[Cell], numbers: dict[Cell, int], paper: Paper, title: str) -> Iterator[Page]:
    own: dict[Cell, list[Part]] = {cell: [] for cell in cells}
    for join in joins(layout):
        drawn = join_ink(layout, join)
        own[join.lower].append(drawn)
        own[join.upper].append(drawn)
    for cell in cells:
        box, ink, beside = layout.grid.box(cell), list[Ink](), list[Ink]()
        if len(cells) > 1:
            row, column = cell[0] + 1, cell[1] + 1
            ink += corner_ink(box)
            at = (_left_of_great(layout, box), box.top + 3.0 + _GREAT)
            ink.append(Lettering(text=f"{row} · {column}", at=at, height=_GREAT, purpose="joins", colour=PALE))
            words = _("row {row}, column {column}: page {page} of {pages}, {title}").format(
                row=row, column=column, page=numbers[cell], pages=max(numbers.values()), title=title
            )
            beside.append(Lettering(text=words, at=(box.left, box.top - 0.9), height=_STRIP, purpose="joins"))
        yield Page(
            width=box.width + 2.0 * MARGIN if paper.way == "projector" else paper.width,
            height=paper.height if paper.way == "tiles" else box.height + 2.0 * MARGIN,
            window=box,
            left=MARGIN,
            top=MARGIN,
            blocks=layout.on(cell),
            ink=(*own[cell], tuple(ink)),
            beside=tuple(beside),
        )
