"""Check allowances against the bends of their edges, and the cut line against itself."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import numpy as np

from crossgrain.checks.checked import Checked
from crossgrain.checks.hems import hems_turned_up
from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.curvature import curvatures
from crossgrain.kernel.length import path_length, segment_length
from crossgrain.kernel.meetings.crossing import path_crossings, self_crossings
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.model.cutting.strayed_line import strayed_findings
from crossgrain.model.cutting.width import Width
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import Edge, Piece

_PLACES: Final = 65
"""At how many places of a segment its bend is taken. Between them a smooth bend hardly changes."""


def check_allowances(piece: Piece) -> Checked:
    """Look for bends that are tighter than the allowance on their inner side, and for a cut line that crosses.

    On the inner side of a bend the cut line is shorter than the stitch line; where the radius is less than the width,
    nothing is left of it. Outside a stitch line that is a hollow; inside a cut line, a round.

    Args:
        piece: a piece whose outline does not cross itself.

    Returns:
        A finding for each edge with such a bend, at the tightest place found; one for each end of a hem that does not
        lie flat when it is turned up; one where the cut line meets itself or the stitch line crosses it; and one for
        each edge beside which it does not lie at the width the drawing holds.
    """
    findings = [finding for edge in piece.edges for finding in _bend(piece, edge)]
    return Checked(findings=(*findings, *hems_turned_up(piece), *_cut_line(piece), *strayed_findings(piece)))


def _bend(piece: Piece, edge: Edge) -> Iterator[Finding]:
    if edge.allowance is None or not edge.allowance.most:
        return
    inner = winding(piece.line) * (-1.0 if piece.outline == "stitch" else 1.0)
    tightest, width, place = _tightest(edge.line, inner, edge.allowance)
    if tightest * width <= 1.0:
        return
    yield Finding(
        piece=piece.label,
        edge=edge.name,
        message=_("The allowance of {width:.1f} mm is wider than the bend's radius of {radius:.1f} mm.").format(
            width=width, radius=0.0 if math.isinf(tightest) else 1.0 / tightest
        ),
        advice=_("Make the allowance narrower there, or the bend rounder; as it is, it cannot be clipped flat."),
        position=place,
    )


def _tightest(line: Path, inner: float, width: Width) -> tuple[float, float, Point]:
    """Return where a bend towards one side asks most of a width: its curvature, 1/mm, 0 or more, that width, where."""
    t = np.linspace(0.0, 1.0, _PLACES)
    profile = width.along(path_length(line))
    best, best_width, place, along = 0.0, 0.0, line.start, 0.0
    for segment in line.segments:
        controls = np.repeat([segment.controls], _PLACES, axis=0)
        found = inner * curvatures(controls, t)
        # Changing widths change slowly: halfway along in the parameter is near enough to halfway along the line.
        widths = profile(along + t * segment_length(segment))[0]
        at = int((np.where(widths > 0.0, found, 0.0) * widths).argmax())
        if widths[at] > 0.0 and found[at] * widths[at] > best * best_width:
            best, best_width, place = float(found[at]), float(widths[at]), segment.point(float(t[at]))
        along += segment_length(segment)
    return best, best_width, place


def _cut_line(piece: Piece) -> list[Finding]:
    if piece.counterpart is None:
        return []
    met = next(iter(self_crossings(piece.counterpart)), None)
    names = (_("cut line"), _("stitch line")) if piece.outline == "stitch" else (_("stitch line"), _("cut line"))
    if met is not None:
        message = _("The {line} drawn beside the outline meets itself.").format(line=names[0])
    else:
        met = next((one for one in path_crossings(piece.line, piece.counterpart) if one.kind == "cross"), None)
        message = _("The {line} crosses the {other}.").format(line=names[0], other=names[1])
    if met is None:
        return []
    return [
        Finding(
            piece=piece.label,
            message=message,
            advice=_("Draw it again: crossgrain allow IN.svg -o OUT.svg --renew --piece {id}.").format(id=piece.id),
            position=met.point,
        )
    ]
