"""Check the darts of a piece: legs of one length, the tip in the cloth, the edge smooth when the dart is folded."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

from crossgrain.checks.checked import Checked
from crossgrain.checks.inside import is_inside
from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.length import path_length, place_at, point_at
from crossgrain.kernel.meetings.crossing import path_crossings
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.language import _
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.marks import Dart
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import Piece
from crossgrain.tolerances import COINCIDENT, ON_CREASE, SEAM_MATCH, SMOOTH_TURN


def check_darts(piece: Piece) -> Checked:
    """Look over the darts of a piece.

    Args:
        piece: a piece whose outline does not cross itself.

    Returns:
        A finding for each dart whose mouth reaches beyond its edge, whose intake another dart takes too, whose legs
        differ by more than 0.5 mm, whose tip or legs leave the piece, or across which the edge, with the dart folded,
        has a peak or dip of more than 0.5°.
    """
    out: list[Finding] = []
    for dart in piece.darts:
        if _overhang(piece, dart) > COINCIDENT:
            out.append(_beyond(piece, dart))
            continue
        out += _legs(piece, dart)
        out += _tip(piece, dart)
        out += _closing(piece, dart)
    for one, other in combinations(piece.darts, 2):
        out += _shared(piece, one, other)
    return Checked(findings=tuple(out))


def _finding(piece: Piece, dart: Dart, at: Point, message: str, advice: str) -> Finding:
    return Finding(piece=piece.label, edge=dart.edge, message=message, advice=advice, position=at)


def _overhang(piece: Piece, dart: Dart) -> float:
    """Return how far the mouth reaches beyond an end of its edge, mm."""
    return dart.width / 2.0 - min(dart.share, 1.0 - dart.share) * path_length(piece.edge(dart.edge).line)


def _beyond(piece: Piece, dart: Dart) -> Finding:
    return _finding(
        piece,
        dart,
        dart_points(piece, dart)[0],
        _("The mouth of its dart, {width:.1f} mm wide, reaches {over:.1f} mm beyond the edge.").format(
            width=dart.width, over=_overhang(piece, dart)
        ),
        _("Move the dart along the edge, or make it narrower."),
    )


def _legs(piece: Piece, dart: Dart) -> list[Finding]:
    first, tip, last = dart_points(piece, dart)
    one, other = math.dist(first, tip), math.dist(last, tip)
    if abs(one - other) <= SEAM_MATCH:
        return []
    return [
        _finding(
            piece,
            dart,
            last,
            _("The legs of its dart are {one:.1f} and {other:.1f} mm long.").format(one=one, other=other),
            _(
                "Fold the dart, and make the shorter leg as long as the other at the edge; crossgrain true --darts "
                "does it."
            ),
        )
    ]


def _tip(piece: Piece, dart: Dart) -> list[Finding]:
    first, tip, last = dart_points(piece, dart)
    outline = piece.line
    legs = Path((Line(first, tip), Line(tip, last)))
    if not is_inside(outline, tip):
        return [
            _finding(
                piece,
                dart,
                tip,
                _("The tip of its dart lies outside the piece."),
                _("Shorten the dart, or turn it back into the piece."),
            )
        ]
    crossing = next((one for one in path_crossings(legs, outline) if one.kind == "cross"), None)
    if crossing is None:
        return []
    return [
        _finding(
            piece,
            dart,
            crossing.point,
            _("A leg of its dart crosses the outline."),
            _("Shorten the dart, or turn it back into the piece."),
        )
    ]


def _closing(piece: Piece, dart: Dart) -> list[Finding]:
    """Fold the dart: the edge on either side of it, laid together, is to be one smooth line."""
    line = piece.edge(dart.edge).line
    length = path_length(line)
    first, tip, last = dart_points(piece, dart)
    start, end = dart.share * length - dart.width / 2.0, dart.share * length + dart.width / 2.0
    if start < ON_CREASE or end > length - ON_CREASE:
        return []  # it opens at the corner: what it is folded against is another edge
    before, after = (point_at(line, place_at(line, at)) for at in (start - ON_CREASE, end + ON_CREASE))
    side = winding(piece.line)
    angles = (
        side * _turn_to((before[0] - first[0], before[1] - first[1]), (tip[0] - first[0], tip[1] - first[1])),
        side * _turn_to((tip[0] - last[0], tip[1] - last[1]), (after[0] - last[0], after[1] - last[1])),
    )
    # From the edge to the leg through the cloth the turn is against the outline's own.
    cloth = [(-angle) % (2.0 * math.pi) for angle in angles]
    off = sum(cloth) - math.pi
    if abs(off) <= SMOOTH_TURN:
        return []
    sentence = (
        _("With its dart folded the edge dips by {off:.1f}°: {first:.1f}° and {second:.1f}° at the legs.")
        if off > 0.0
        else _("With its dart folded the edge peaks by {off:.1f}°: {first:.1f}° and {second:.1f}° at the legs.")
    )
    return [
        _finding(
            piece,
            dart,
            first,
            sentence.format(off=abs(math.degrees(off)), first=math.degrees(cloth[0]), second=math.degrees(cloth[1])),
            _(
                "Fold the dart the way it is pressed, and draw the edge across it in one smooth line; crossgrain true "
                "--darts does it."
            ),
        )
    ]


def _turn_to(one: Point, other: Point) -> float:
    return math.atan2(one[0] * other[1] - one[1] * other[0], one[0] * other[0] + one[1] * other[1])


def _shared(piece: Piece, one: Dart, other: Dart) -> list[Finding]:
    """Say where two darts take the same cloth: mouths that overlap, or legs that cross."""
    edge = piece.edge(one.edge)
    apart = abs(one.share - other.share) * path_length(edge.line)
    is_shared = one.edge == other.edge and apart < (one.width + other.width) / 2.0 - COINCIDENT
    if not is_shared:
        legs = [Path(tuple(Line(p, q) for p, q in pairwise(dart_points(piece, dart)))) for dart in (one, other)]
        is_shared = any(crossing.kind == "cross" for crossing in path_crossings(*legs))
    if not is_shared:
        return []
    return [
        _finding(
            piece,
            one,
            dart_points(piece, one)[1],
            _("Two of its darts take the same cloth."),
            _("Move them apart, or make one of the two."),
        )
    ]
