"""The page that ships with a pattern as a PDF: read the gauge, find the row, take in at each level."""

from __future__ import annotations

from crossgrain.fabric.body import Body
from crossgrain.fabric.chart import Chart
from crossgrain.fabric.cloth import Cloth
from crossgrain.fabric.pressure import ESTIMATE
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import Box
from crossgrain.language import _
from crossgrain.output.chart_page import chart_words
from crossgrain.output.sheets.document import Page, document
from crossgrain.output.sheets.flow import TEXT, Flow
from crossgrain.output.sheets.paper import MARGIN, TILE, paper_named
from crossgrain.output.sheets.tiles import Placed


def chart_sheet(chart: Chart, drafted_for: Cloth, body: Body, pattern: str) -> bytes:
    """Write the page as a PDF of A4 that also prints whole on Letter.

    Args:
        chart: what stands in it.
        drafted_for: the cloth the pattern was drafted for.
        body: the body or size.
        pattern: the name of the pattern.
    """
    page, flow = chart_words(chart, drafted_for, body, pattern), Flow(*TILE)
    flow.words(page.title, 2.0 * TEXT)
    for text in (page.body, page.lead):
        flow.space(TEXT)
        flow.words(text)
    flow.table(page.table)
    for caution in (*page.cautions, ESTIMATE):
        flow.space(TEXT)
        flow.words(_("Caution: {message}").format(message=caution))
    for text in (page.words, page.source):
        flow.space(TEXT)
        flow.words(text)
    placed = [Placed(block=block, place=Affine()) for block in flow.filled()]
    paper = paper_named("a4")
    pages = [
        Page(
            width=paper.width,
            height=paper.height,
            window=Box(0.0, 0.0, *TILE),
            left=MARGIN,
            top=MARGIN,
            blocks=(number,),
        )
        for number in range(len(placed))
    ]
    return document(placed, pages, title=page.title, layered=False)
