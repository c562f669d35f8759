"""One page that shows what was done to the pieces: before dashed, after solid, with the figures.

The page stands alone. It fetches nothing, and says so to the browser; it prints on A4 and reads in grey.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Final

from crossgrain.language import _, language
from crossgrain.model import Change, Finding, Pattern, Piece
from crossgrain.output.piece_drawing import draw_piece
from crossgrain.units import format_area, format_length, format_share

_STYLE: Final = """
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 10mm; max-width: 210mm; background: #fbf8f1; color: #221f1a;
  font: 11pt/1.45 Georgia, "Times New Roman", serif; }
h1 { font-size: 20pt; font-weight: normal; line-height: 1.15; margin: 0 0 3mm; }
h2 { font-size: 13pt; font-weight: normal; margin: 9mm 0 2mm; border-top: 0.3mm solid #221f1a; padding-top: 2mm; }
p { margin: 0 0 2mm; max-width: 150mm; }
table { border-collapse: collapse; font-variant-numeric: tabular-nums; margin: 2mm 0; }
th, td { padding: 1mm 5mm 1mm 0; text-align: left; vertical-align: baseline; border-bottom: 0.2mm solid #cfc8b8; }
th { font-weight: normal; font-style: italic; }
caption { text-align: left; white-space: nowrap; padding: 3mm 0 1mm; }
td.figure, th.figure { text-align: right; white-space: nowrap; }
td.small { font-size: 9pt; color: #57524a; }
.legend { display: flex; flex-wrap: wrap; gap: 1mm 8mm; font-size: 10pt; padding: 0; margin: 2mm 0 0;
  list-style: none; }
.legend svg { width: 16mm; height: 3mm; vertical-align: middle; margin-right: 2mm; }
.pieces { display: flex; flex-wrap: wrap; gap: 6mm 5mm; align-items: flex-start; }
figure { margin: 0; break-inside: avoid; }
figcaption { font-size: 10pt; margin-bottom: 1mm; }
figcaption b { font-weight: normal; font-size: 12pt; }
figure svg { display: block; max-width: 100%; height: auto; overflow: visible; }
svg path { fill: none; stroke: #221f1a; stroke-linejoin: round; }
svg .before { stroke: #57524a; stroke-width: 1.6; stroke-dasharray: 9 6; }
svg .after { stroke-width: 2.6; }
svg .other { stroke-width: 1; fill: #fff; }
svg .grain, svg .dart, svg .drill, svg .fold, svg .button { stroke-width: 1.1; }
svg .notch, svg .buttonhole { stroke-width: 2; }
svg .crease { stroke-width: 0.9; stroke-dasharray: 24 9; }
svg .loop { stroke-width: 0.8; }
svg .topstitch { stroke-width: 1.1; stroke-dasharray: 6 2.5; }
svg .hold { stroke-width: 1.4; stroke-dasharray: 1.5 4; }
svg .edge { font: italic 15px Georgia, "Times New Roman", serif; fill: #221f1a; }
.legend svg path { vector-effect: non-scaling-stroke; }
.findings li { margin-bottom: 1.5mm; max-width: 150mm; }
.caution { font-weight: bold; }
@media print {
  @page { size: A4; margin: 12mm; }
  body { padding: 0; max-width: none; background: none; }
  h2 { break-after: avoid; }
}
"""


def report(
    title: str,
    before: Pattern,
    after: Pattern,
    *,
    lead: str = "",
    changes: Sequence[Change] = (),
    findings: Sequence[Finding] = (),
) -> str:
    """Write a page that shows the pieces of a pattern before and after.

    Args:
        title: what was done, as a heading.
        before: the pattern as it was.
        after: the same pieces as they are, in the same plane. Pieces that stand in only one of the two are left out.
        lead: a few words under the heading.
        changes: the figures to list, in order.
        findings: what to look at.

    Returns:
        A whole HTML document. The drawings are at a fifth of true size.

    >>> page = report("Nothing done", Pattern(), Pattern())
    >>> page.startswith("<!DOCTYPE html>"), "<table" in page
    (True, False)
    """
    old = {piece.id: piece for piece in before.pieces}
    pairs = [(old[piece.id], piece) for piece in after.pieces if piece.id in old]
    body = [f"<h1>{escape(title)}</h1>"]
    if lead:
        body.append(f"<p>{escape(lead)}</p>")
    body.append(_legend(has_other=any(piece.counterpart is not None for _old, piece in pairs)))
    if findings:
        body += [f"<h2>{escape(_('To look at'))}</h2>", finding_list(findings)]
    if changes:
        body += [f"<h2>{escape(_('Figures'))}</h2>", _figures(changes)]
    if pairs:
        body += [f"<h2>{escape(_('Pieces, at a fifth of true size'))}</h2>", '<div class="pieces">']
        body += [_figure(was, is_now) for was, is_now in pairs]
        body.append("</div>")
    return document(title, body)


def document(title: str, body: Sequence[str]) -> str:
    """Write a whole page around some HTML; it asks nothing of the network and fits both screen and paper.

    Args:
        title: what the browser's window is called.
        body: the HTML, piece by piece.
    """
    return "\n".join(
        [
            "<!DOCTYPE html>",
            f'<html lang="{language()}">',
            "<head>",
            '<meta charset="utf-8">',
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">",
            '<meta name="viewport" content="width=device-width">',
            f"<title>{escape(title)}</title>",
            f"<style>{_STYLE}</style>",
            "</head>",
            "<body>",
            *body,
            "</body>",
            "</html>",
            "",
        ]
    )


def _legend(*, has_other: bool) -> str:
    entries = [("before", _("before")), ("after", _("after"))]
    if has_other:
        entries.append(("other", _("after: cut line")))
    items = "".join(
        f'<li><svg aria-hidden="true" viewBox="0 0 64 12"><path class="{kind}" d="M0 6L64 6"/></svg>{escape(name)}</li>'
        for kind, name in entries
    )
    return f'<ul class="legend">{items}</ul>'


def _figure(before: Piece, after: Piece) -> str:
    caption = f"<b>{escape(after.label)}</b>"
    details = _cutting(after)
    if details:
        caption += f"<br>{escape(details)}"
    return f"<figure><figcaption>{caption}</figcaption>\n{draw_piece(before, after)}\n</figure>"


def _cutting(piece: Piece) -> str:
    cut = piece.cut
    parts = [_("cut {count}").format(count=cut.count)]
    if cut.mirrored:
        parts.append(_("mirrored"))
    if cut.on_fold:
        parts.append(_("on the fold at {edge}").format(edge=cut.on_fold))
    if cut.stabilised:
        parts.append(_("stabilised"))
    return ", ".join(parts)


def _figures(changes: Sequence[Change]) -> str:
    heads = (
        (_("piece"), ""),
        (_("what"), ""),
        (_("before"), "figure"),
        (_("after"), "figure"),
        (_("change"), "figure"),
    )
    rows = ["<table>", "<tr>" + "".join(_cell("th", text, kind) for text, kind in heads) + "</tr>"]
    for change in changes:
        what = f"{change.edge}: {change.what}" if change.edge else change.what
        cells = [
            _cell("td", change.piece),
            _cell("td", what),
            _cell("td", _amount(change.before, change.unit), "figure"),
            _cell("td", _amount(change.after, change.unit), "figure"),
            _cell("td", _share_of(change), "figure"),
        ]
        rows.append(f"<tr>{''.join(cells)}</tr>")
    return "\n".join([*rows, "</table>"])


def _cell(tag: str, text: str, kind: str = "") -> str:
    attribute = f' class="{kind}"' if kind else ""
    return f"<{tag}{attribute}>{escape(text)}</{tag}>"


def _amount(value: float, unit: str) -> str:
    if unit == "mm":
        return f"{format_length(value)} = {format_length(value, 'in')}"
    if unit == "mm2":
        return format_area(value)
    return format_share(value) if unit == "ratio" else f"{value:.0f}"


def _share_of(change: Change) -> str:
    if change.unit not in ("mm", "mm2") or change.before == 0.0:
        return ""
    return format_share(change.after / change.before - 1.0)


def finding_list(findings: Sequence[Finding]) -> str:
    """Write findings as an HTML list, in the order given."""
    items = []
    for finding in findings:
        where = ", ".join(part for part in (finding.piece, finding.edge) if part)
        kind = _("Caution") if finding.severity == "caution" else _("Note")
        said = " ".join(part for part in (finding.message, finding.advice) if part)
        head = f'<span class="{finding.severity}">{escape(kind)}</span>'
        items.append(f"<li>{head} – {escape(where + ': ' if where else '')}{escape(said)}</li>")
    return "\n".join(['<ul class="findings">', *items, "</ul>"])
