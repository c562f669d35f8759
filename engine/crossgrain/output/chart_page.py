"""The page a pattern maker ships with a pattern: read the gauge, find the row, take in at each level."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape

from crossgrain.fabric.body import Body
from crossgrain.fabric.chart import Cell, Chart
from crossgrain.fabric.cloth import Cloth
from crossgrain.fabric.pressure import BANDS_SOURCE, ESTIMATE
from crossgrain.language import _, level_word
from crossgrain.output.document import document
from crossgrain.output.text_table import TextTable
from crossgrain.units import format_length, format_pressure, format_share, format_tension


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartWords:
    """What stands on the page, in its order.

    Args:
        title: over all of it.
        body: whom it is for.
        lead: what to do.
        table: a row for each reading of the gauge, and the pressure under all.
        cautions: of the chart.
        words: what the rows take for granted.
        source: of the bands of pressure.
    """

    title: str
    body: str
    lead: str
    table: TextTable
    cautions: tuple[str, ...]
    words: str
    source: str


def chart_words(chart: Chart, drafted_for: Cloth, body: Body, pattern: str) -> ChartWords:
    """Put a chart into words, as :func:`chart_page` writes them."""
    grams = chart.tension / 9.80665 * 1000.0 * 5.0
    lead = _(
        "Hang {grams:.0f} g on a strip 5 cm wide ({tension}) with marks 10 cm apart, cut across the grain; read how "
        "far they have moved apart, and find the row. The figures are millimetres inside the old stitch line at each "
        "side seam, on both layers; with a minus, outside it."
    ).format(grams=grams, tension=format_tension(chart.tension))
    rows = [
        (f"{format_share(read, digits=0)}, {format_length(100.0 * (1.0 + read))}", *map(cell_text, cells))
        for read, cells in zip(chart.readings, chart.cells, strict=True)
    ]
    about = (_("pressure, about"), *(format_pressure(one) for one in chart.pressures))
    words = _(
        "The rows take it that a cloth stiffens as the one the pattern was drafted for does, {cloth}. Two readings at "
        "different loads say more than one: a comparison of the two cloths is truer than this page."
    ).format(cloth=drafted_for.name)
    return ChartWords(
        title=_("{pattern}: what to take in").format(pattern=pattern),
        body=_("For {body}").format(body=body.name),
        lead=lead,
        table=TextTable(
            title="",
            heads=(_("the gauge reads"), *(level_word(level.name) for level in chart.levels)),
            rows=(*rows, about),
        ),
        cautions=tuple(chart.cautions),
        words=words,
        source=_("Bands of pressure: {source}.").format(source=BANDS_SOURCE),
    )


def chart_page(chart: Chart, drafted_for: Cloth, body: Body, pattern: str) -> str:
    """Write the page.

    Args:
        chart: what stands in it.
        drafted_for: the cloth the pattern was drafted for.
        body: the body or size.
        pattern: the name of the pattern.

    Returns:
        A whole HTML document that fetches nothing and prints on A4.
    """
    page = chart_words(chart, drafted_for, body, pattern)
    lines = [
        "<table>",
        "<tr>" + "".join(f'<th class="figure">{escape(head)}</th>' for head in page.table.heads) + "</tr>",
    ]
    lines += [
        "<tr>" + "".join(f'<td class="figure">{escape(text)}</td>' for text in row) + "</tr>" for row in page.table.rows
    ]
    return document(
        page.title,
        [
            f"<h1>{escape(page.title)}</h1>",
            f"<p>{escape(page.body)}</p>",
            f"<p>{escape(page.lead)}</p>",
            *lines,
            "</table>",
            *(f'<p class="caution">{escape(sentence)}</p>' for sentence in page.cautions),
            f"<p>{escape(page.words)}</p>",
            f'<p class="caution">{escape(ESTIMATE)}</p>',
            f"<p>{escape(page.source)}</p>",
        ],
    )


def cell_text(cell: Cell) -> str:
    """Write what to do in a cell."""
    words = {"as it is": _("as it is"), "too firm": _("too firm"), "too soft": _("too soft")}
    return words.get(cell.fit) or format_length(cell.per_seam)
