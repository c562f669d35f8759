"""One page that puts two cloths side by side: both curves, a bar for each level, the figures, what to look at."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Final

from crossgrain.fabric.body import Body
from crossgrain.fabric.cloth import Cloth
from crossgrain.fabric.comparison import Row, verdict_words
from crossgrain.fabric.estimate import Estimate
from crossgrain.fabric.pressure import BANDS_SOURCE, ESTIMATE, band_of
from crossgrain.language import _, level_word
from crossgrain.model import Finding
from crossgrain.output.curve_drawing import curve_drawing
from crossgrain.output.document import document, finding_list
from crossgrain.output.path_text import number_text
from crossgrain.units import format_length, format_pressure, format_share, format_tension

_WIDTH: Final = 170.0
_ROW: Final = 22.0
_LONGEST: Final = 85.0
"""Length of the longest bar; its words stand beside it."""
_LEFT: Final = 22.0
_CAPTION: Final = _("Grey: what the readings leave open. Dots: readings. Dotted: beyond what was tested.")
_INK, _GREY, _PALE = "#221f1a", "#57524a", "#e4ddcc"


def comparison_page(
    drafted_for: Cloth,
    new: Cloth,
    rows: Sequence[Row] = (),
    *,
    body: Body | None = None,
    findings: Sequence[Finding] = (),
) -> str:
    """Write the page.

    Args:
        drafted_for: the cloth the pattern was drafted for.
        new: the cloth it is to be cut from.
        rows: the levels; none where no body was given.
        body: the body.
        findings: what to look at.

    Returns:
        A whole HTML document that fetches nothing and prints on A4.
    """
    title = _("{new} instead of {old}").format(new=new.name, old=drafted_for.name)
    parts = [f"<h1>{escape(title)}</h1>"]
    if body is not None:
        source = f" ({body.source})" if body.source else ""
        parts.append(f"<p>{escape(_('For {body}').format(body=body.name) + source)}</p>")
    parts.append(f'<p class="caution">{escape(ESTIMATE)}</p>')
    if findings:
        parts += [f"<h2>{escape(_('To look at'))}</h2>", finding_list(findings)]
    parts += [
        f"<h2>{escape(_('How they stretch, across the grain'))}</h2>",
        "<figure>",
        curve_drawing([(drafted_for.name, drafted_for.cross), (new.name, new.cross)]),
        f"<figcaption>{escape(_CAPTION)}</figcaption></figure>",
    ]
    if rows:
        parts += [
            f"<h2>{escape(_('At each level'))}</h2>",
            "<figure>",
            _bars(rows, drafted_for.name, new.name),
            "</figure>",
            _table(rows),
            f"<p>{escape(_('Bands of pressure: {source}.').format(source=BANDS_SOURCE))}</p>",
        ]
    return document(title, parts)


def _bars(rows: Sequence[Row], old: str, new: str) -> str:
    """Draw for each level the body as a grey bar, the pieces now and the pieces wanted as bars under it."""
    most = max(max(row.level.body, row.level.piece, row.girth.middle) for row in rows)
    scale = _LONGEST / most
    height = _ROW * len(rows) + 8.0
    out = [
        f'<svg role="img" width="{_WIDTH:.0f}mm" height="{height:.0f}mm" viewBox="0 0 {_WIDTH:.0f} {height:.0f}" '
        f'font-family="Georgia, serif" font-size="3.2"><title>{escape(_("Girths at each level"))}</title>'
    ]
    for number, row in enumerate(rows):
        y = 4.0 + _ROW * number
        out.append(f'<text x="0" y="{y + 8.0:.1f}" font-size="4">{escape(level_word(row.level.name))}</text>')
        bars = (
            (_("body"), row.level.body, format_length(row.level.body), _PALE),
            (_("in {cloth}").format(cloth=old), row.level.piece, format_length(row.level.piece), "#b9b09c"),
            (_("in {cloth}").format(cloth=new), row.girth.middle, _range(row.girth), _GREY),
        )
        for k, (words, girth, text, fill) in enumerate(bars):
            at = y + 5.6 * k
            out.append(
                f'<rect x="{_LEFT}" y="{at:.1f}" width="{number_text(girth * scale)}" height="5" fill="{fill}"/>'
                f'<text x="{number_text(_LEFT + girth * scale + 1.5)}" y="{at + 3.6:.1f}">'
                f"{escape(text)}, {escape(words)}</text>"
            )
    return "\n".join([*out, "</svg>"])


def _table(rows: Sequence[Row]) -> str:
    heads = (
        _("level"), _("stretched now"), _("tension now"), _("girth wanted"), _("inside, each side seam"),
        _("of its stretch"), _("pressure, about"), _("verdict"),
    )  # fmt: skip
    lines = ["<table>", "<tr>" + "".join(f"<th>{escape(head)}</th>" for head in heads) + "</tr>"]
    for row in rows:
        worn = row.matched.pressure
        band = band_of(worn.middle).words if worn.middle > 0.0 else ""
        pressure = " ".join(part for part in (_range(worn, format_pressure), band) if part)
        cells = (
            level_word(row.level.name),
            format_share(row.drafted.strain),
            _range(row.drafted.tension, format_tension),
            _range(row.girth),
            _range(row.per_seam),
            format_share(row.matched.used, digits=0),
            pressure,
            verdict_words(row.verdict),
        )
        lines.append("<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in cells) + "</tr>")
    return "\n".join([*lines, "</table>"])


def _range(estimate: Estimate, write: object = None) -> str:
    """Write the figure, or the range where only that is known."""
    text = write if callable(write) else format_length
    if estimate.value is not None:
        return str(text(estimate.value)) + (" ?" if estimate.is_beyond else "")
    return f"{text(estimate.low)} … {text(estimate.high)}"
