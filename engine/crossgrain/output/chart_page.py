"""The page a pattern maker ships with a pattern: read the gauge, find the row, take in at each level."""

from __future__ import annotations

from html import escape

from crossgrain.fabric.body import Body
from crossgrain.fabric.chart import Cell, Chart
from crossgrain.fabric.cloth import Cloth
from crossgrain.fabric.pressure import BANDS_SOURCE, ESTIMATE
from crossgrain.language import _, level_word
from crossgrain.output.document import document
from crossgrain.units import format_length, format_pressure, format_share, format_tension


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
    grams = chart.tension / 9.80665 * 1000.0 * 5.0
    lead = _(
        "Hang {grams:.0f} g on a strip 5 cm wide ({tension}) with marks 10 cm apart, cut across the grain; read how "
        "far they have moved apart, and find the row. The figures are millimetres inside the old stitch line at each "
        "side seam, on both layers; with a minus, outside it."
    ).format(grams=grams, tension=format_tension(chart.tension))
    heads = [_("the gauge reads"), *(level_word(level.name) for level in chart.levels)]
    lines = ["<table>", "<tr>" + "".join(f'<th class="figure">{escape(head)}</th>' for head in heads) + "</tr>"]
    for read, cells in zip(chart.readings, chart.cells, strict=True):
        texts = [f"{format_share(read, digits=0)}, {format_length(100.0 * (1.0 + read))}", *map(cell_text, cells)]
        lines.append("<tr>" + "".join(f'<td class="figure">{escape(text)}</td>' for text in texts) + "</tr>")
    about = [_("pressure, about"), *(format_pressure(one) for one in chart.pressures)]
    lines.append("<tr>" + "".join(f'<td class="figure">{escape(text)}</td>' for text in about) + "</tr>")
    words = _(
        "The rows take it that a cloth stiffens as the one the pattern was drafted for does, {cloth}. Two readings at "
        "different loads say more than one: a comparison of the two cloths is truer than this page."
    ).format(cloth=drafted_for.name)
    title = _("{pattern}: what to take in").format(pattern=pattern)
    return document(
        title,
        [
            f"<h1>{escape(title)}</h1>",
            f"<p>{escape(_('For {body}').format(body=body.name))}</p>",
            f"<p>{escape(lead)}</p>",
            *lines,
            "</table>",
            *(f'<p class="caution">{escape(sentence)}</p>' for sentence in chart.cautions),
            f"<p>{escape(words)}</p>",
            f'<p class="caution">{escape(ESTIMATE)}</p>',
            f"<p>{escape(_('Bands of pressure: {source}.').format(source=BANDS_SOURCE))}</p>",
        ],
    )


def cell_text(cell: Cell) -> str:
    """Write what to do in a cell."""
    words = {"as it is": _("as it is"), "too firm": _("too firm"), "too soft": _("too soft")}
    return words.get(cell.fit) or format_length(cell.per_seam)
