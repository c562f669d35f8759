"""What pages for the browser are made of: the page itself, pieces before and after, findings.

A page stands alone. It fetches nothing, and says so to the browser; it prints on A4 and reads in grey.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Final

from crossgrain.language import _, headed, language
from crossgrain.model import Finding, Piece
from crossgrain.output.piece_drawing import draw_piece

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
td.state { white-space: nowrap; }
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
a { color: inherit; }
pre { font: 8pt/1.35 monospace; white-space: pre-wrap; }
h1, h2, p, li, pre, td.name { overflow-wrap: anywhere; }
.findings li { margin-bottom: 1.5mm; max-width: 150mm; }
.caution { font-weight: bold; }
@media print {
  @page { size: A4; margin: 12mm; }
  body { padding: 0; max-width: none; background: none; }
  h2 { break-after: avoid; }
}
"""


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


def legend() -> str:
    """Write which line of :func:`piece_figure` is which."""
    entries = [("before", _("before")), ("after", _("after")), ("other", _("after: cut line"))]
    items = "".join(
        f'<li><svg aria-hidden="true" viewBox="0 0 64 12"><path class="{kind}" d="M0 6L64 6"/></svg>{escape(name)}</li>'
        for kind, name in entries
    )
    return f'<ul class="legend">{items}</ul>'


def piece_figure(before: Piece, after: Piece) -> str:
    """Show a piece before, dashed, and after, solid, under its name and how it is cut.

    Args:
        before: the piece as it was.
        after: the same piece as it is, in the same plane.
    """
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


def finding_list(findings: Sequence[Finding]) -> str:
    """Write findings as an HTML list, in the order given."""
    items = []
    for finding in findings:
        head = f'<span class="{finding.severity}">{escape(finding.kind)}</span>'
        said = headed(finding.where, finding.said)
        items.append(f"<li>{head} – {escape(said)}</li>")
    return "\n".join(['<ul class="findings">', *items, "</ul>"])
