"""Say in a few words beside each piece what its edges are called, what changed, and what to look at."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from typing import Final, Literal

from crossgrain.kernel.area import winding
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.length import point_at_share
from crossgrain.kernel.segment import unit
from crossgrain.language import headed
from crossgrain.model import Change, Edge, Finding, Pattern, Piece
from crossgrain.model.label import Label
from crossgrain.units import format_area, format_length, format_share

_INWARDS: Final = 6.0
"""From an edge to its label, mm: clear of the line and of a notch."""
_NEAR: Final = 0.001
"""The share of an edge over which its direction is taken for a name that is only looked at."""
_LINE: Final = 48
"""Signs in a line of a sentence; it then fits into the width of a trouser leg."""
_NARROW: Final = 150.0
"""A piece narrower than this, mm, has no room for a sentence."""
_LEADING: Final = 11.0
"""From one line to the next, mm."""


def piece_labels(pattern: Pattern, changes: Sequence[Change] = ()) -> tuple[Label, ...]:
    """Return labels that name the edges of each piece, with the figures that changed.

    Args:
        pattern: the pieces as they are.
        changes: what was changed on them.

    Returns:
        One label inside each named edge, and one in the middle of each piece; what changed on no piece by itself, as a
        girth, stands on the first.

    >>> from crossgrain.kernel.path import Path
    >>> line = Path(Path.polygon([(0, 0), (90, 0), (90, 60)]).segments)
    >>> band = Piece(id="p", name="band", edges=(Edge(name="waist", line=line),))
    >>> change = Change(piece="band", edge="waist", what="length", before=250.0, after=240.0)
    >>> piece_labels(Pattern(pieces=(band,)), [change])[0].lines
    ('waist 250.0 → 240.0 mm',)
    """
    labels = []
    for piece in pattern.pieces:
        own = [change for change in changes if change.piece in _about(piece, pattern) and not _is_idle(change)]
        labels += [_edge_label(piece, edge, own) for edge in piece.edges if edge.name]
        lines = [piece.label, *(_words(change) for change in own if not (change.edge and change.piece))]
        place, anchor = _beside(piece)
        labels.append(Label(about=piece.id, lines=tuple(lines), at=place, anchor=anchor))
    return tuple(labels)


def finding_labels(pattern: Pattern, findings: Iterable[Finding], others: Sequence[Label] = ()) -> tuple[Label, ...]:
    """Return labels that say on each piece what to look at, cautions first.

    Args:
        pattern: the pieces as they are.
        findings: what to look at; what is about no piece by itself, as a pressure, stands on the first, and what is
            about pieces that are not there is left out.
        others: labels that are there already; these stand below them.
    """
    labels = []
    ordered = sorted(findings, key=lambda finding: finding.severity != "caution")
    for piece in pattern.pieces:
        lines = [
            line
            for finding in ordered
            if set(finding.piece.split(", ")) & set(_about(piece, pattern))
            for line in textwrap.wrap(_sentence(finding), _LINE)
        ]
        if lines:
            (x, y), anchor = _beside(piece)
            taken = [
                0.0,
                *(len(label.lines) + 1.0 for label in others if label.about == piece.id and label.at == (x, y)),
            ]
            at = (x, y + max(3.0, *taken) * _LEADING)
            labels.append(Label(about=piece.id, lines=tuple(lines), at=at, anchor=anchor, kind="finding"))
    return tuple(labels)


def _is_idle(change: Change) -> bool:
    """Tell whether a girth or seam of the whole pattern stayed as it was: then it need not be read on a piece."""
    return not change.piece and "→" not in _step(change)


def _about(piece: Piece, pattern: Pattern) -> tuple[str, ...]:
    """Return what a change or finding calls a piece; the first of a pattern answers for the whole of it."""
    return (piece.label, piece.id, *([""] if piece is pattern.pieces[0] else []))


def _edge_label(piece: Piece, edge: Edge, changes: Sequence[Change]) -> Label:
    here = point_at_share(edge.line, 0.5)
    before, after = (point_at_share(edge.line, share) for share in (0.5 - _NEAR, 0.5 + _NEAR))
    x, y = unit(after[0] - before[0], after[1] - before[1])
    dx, dy = (-y, x) if winding(piece.line) > 0 else (y, -x)
    steps = [_step(change) for change in changes if change.edge == edge.name and change.piece]
    return Label(
        about=piece.id,
        lines=(" ".join((edge.name, *steps[:1])), *steps[1:]),
        at=(here[0] + _INWARDS * dx, here[1] + _INWARDS * dy + (3.0 if abs(dy) < 0.5 else 6.0 if dy > 0 else 0.0)),
        anchor="start" if dx > 0.5 else "end" if dx < -0.5 else "middle",
    )


def _beside(piece: Piece) -> tuple[tuple[float, float], Literal["start", "middle"]]:
    """Return where words about a whole piece stand: inside it, or where it is narrow, to its right."""
    box = bounds(piece.line)
    if box.width < _NARROW:
        return (box.right + _INWARDS, box.top + 0.4 * box.height), "start"
    return (box.left + box.width / 2.0, box.top + 0.4 * box.height), "middle"


def _words(change: Change) -> str:
    return headed(change.edge, f"{change.what} {_step(change)}")


def _step(change: Change) -> str:
    match change.unit:
        case "mm":
            if format_length(change.before) == format_length(change.after):
                return format_length(change.after)
            before, after = format_length(change.before).removesuffix(" mm"), format_length(change.after)
        case "mm2":
            before, after = format_area(change.before).removesuffix(" cm²"), format_area(change.after)
        case "ratio":
            before, after = format_share(change.before), format_share(change.after)
        case "nodes":
            before, after = f"{change.before:.0f}", f"{change.after:.0f}"
    return f"{before} → {after}"


def _sentence(finding: Finding) -> str:
    return headed(finding.kind, finding.edge, finding.said)
