"""Check that the garment can be put on: what is closed passes the hip, and the hem passes the foot."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from crossgrain.checks.checked import Checked, together
from crossgrain.fabric.body import Body
from crossgrain.fabric.cloth import Cloth
from crossgrain.fabric.comparison import USED_AT_MOST
from crossgrain.kernel.affine import Point
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.length import path_length, places_at, point_at_share, run
from crossgrain.language import _
from crossgrain.model.girths import HEM, INSEAM, OPENING, WAIST, depth_frame, girth_along, girth_at, waist_depth
from crossgrain.model.outcome import Finding
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece
from crossgrain.tolerances import COINCIDENT

_LEVELS: Final = 32
"""At how many levels between the opening's end and the hip the girth is taken."""

_LEGS: Final = 2


def check_dressing(pattern: Pattern, body: Body, cloth: Cloth | None, opening: str = OPENING) -> Checked:
    """Look whether hip and foot pass, the cloth stretched by 80 % of its stretch at most (common practice).

    Pulled up to its place, the closed part of the garment below an opening passes the hip. How far the opening goes is
    told by what is held along its edge, as a zip extension.

    Args:
        pattern: the pattern; its stabilised pieces, and facings that trace, are no part of a girth.
        body: the body.
        cloth: the cloth; None where that is not told: it is then taken not to stretch.
        opening: the edge along which extensions are held.

    Returns:
        A finding where something does not pass; what the drawing, the body or the cloth leave open is said.
    """
    pieces = [piece for piece in pattern.pieces if piece.goes_round and piece.outline == "stitch"]
    return together([_hip(pieces, pattern, body, cloth, opening), _foot(pieces, body, cloth)])


@dataclass(frozen=True, slots=True, kw_only=True)
class _Passage:
    """What has to pass where.

    Args:
        what: in words, with the place.
        girth: of the garment there, unstretched, mm.
        needed: girth of what has to pass, mm.
        is_stable: whether what is sewn there does not stretch.
        piece: the label of a piece, and on it a place to show.
        advice: what to do.
    """

    what: str
    girth: float
    needed: float
    is_stable: bool = False
    piece: str = ""
    edge: str = ""
    at: Point | None = None
    advice: str = ""


def _judged(passage: _Passage, cloth: Cloth | None) -> Checked:
    if passage.girth >= passage.needed:
        return Checked()
    share = passage.needed / passage.girth - 1.0
    figures = {
        "what": passage.what,
        "girth": passage.girth,
        "needed": passage.needed,
        "share": share * 100.0,
    }
    if cloth is None and not passage.is_stable:
        return Checked(
            unchecked=(
                _(
                    "{what}: {girth:.0f} mm have to pass {needed:.0f} mm, which asks for {share:.1f} % of stretch; "
                    "give --fabric."
                ).format(**figures),
            )
        )
    usable = 0.0 if passage.is_stable or cloth is None else USED_AT_MOST * cloth.cross.stretch
    if share <= usable:
        return Checked()
    message = (
        _("{what}: {girth:.0f} mm do not stretch, and have to pass {needed:.0f} mm.")
        if passage.is_stable
        else _("{what}: {girth:.0f} mm stretch to {reach:.0f} mm at most, and have to pass {needed:.0f} mm.")
    )
    return Checked(
        findings=(
            Finding(
                piece=passage.piece,
                edge=passage.edge,
                message=message.format(**figures, reach=passage.girth * (1.0 + usable)),
                advice=passage.advice,
                position=passage.at,
            ),
        )
    )


def _hip(pieces: Sequence[Piece], pattern: Pattern, body: Body, cloth: Cloth | None, opening: str) -> Checked:
    hip = next((level for level in body.levels if level.name == "hip"), None)
    if hip is None or hip.girth is None:
        return Checked(unchecked=(_("Whether the waist passes the hip: the body file has no hip_girth."),))
    waist = girth_along(pieces, WAIST, opening).girth
    if waist <= 0.0:
        return Checked(unchecked=(_("Whether the waist passes the hip: no edge is named waist."),))
    ends = list(_opening_ends(pieces, opening))
    if not ends:
        sentence = _(
            "Whether the waist passes the hip: the drawing does not say how it opens, for nothing is held along "
            "“{edge}”. Closed, its {waist:.0f} mm would have to pass {hip:.0f} mm."
        )
        return Checked(unchecked=(sentence.format(edge=opening, waist=waist, hip=hip.girth),))
    depth, piece, at = max(ends, key=lambda end: end[0])
    last = depth if hip.depth is None else max(waist_depth(pieces) + hip.depth, depth)
    found = [girth_at(pieces, depth + (last - depth) * k / _LEVELS, opening) for k in range(_LEVELS + 1)]
    girths = [one.girth for one in found if not one.missing and one.girth > 0.0]
    if not girths:
        return Checked(unchecked=(_("Whether the waist passes the hip: not every piece reaches the opening's end."),))
    passage = _Passage(
        what=_("Closed below its opening"),
        girth=min(girths),
        needed=hip.girth,
        piece=piece.label,
        edge=opening,
        at=at,
        advice=_("Make the opening longer, or choose a cloth that stretches farther."),
    )
    return _judged(passage, cloth)


def _opening_ends(pieces: Sequence[Piece], opening: str) -> Iterator[tuple[float, Piece, Point]]:
    """Return how far down each opening goes that begins at the waist, mm, with its piece and its lower end."""
    for piece in pieces:
        frame = depth_frame(piece)
        for hold in piece.holds:
            if hold.edge != opening or WAIST not in piece.edge_names:
                continue
            line = piece.edge(opening).line
            length = path_length(line)
            held = run(line, *places_at(line, (hold.start * length, hold.end * length)))
            lower = max((held.start, held.end), key=lambda point: frame.of(point)[1])
            upper = held.end if lower == held.start else held.start
            if bounds(piece.edge(WAIST).line).grown(COINCIDENT).meets(bounds(held)) and upper in (line.start, line.end):
                yield bounds(held.mapped(frame)).bottom, piece, lower


def _foot(pieces: Sequence[Piece], body: Body, cloth: Cloth | None) -> Checked:
    with_hem = [piece for piece in pieces if HEM in piece.edge_names]
    girth = girth_along(pieces, HEM).girth / _LEGS
    if girth <= 0.0:
        return Checked(unchecked=(_("Whether the hem passes the foot: no edge is named hem."),))
    if not any(INSEAM in piece.edge_names for piece in pieces):
        return Checked(unchecked=(_("Whether the hem passes the foot: it is asked of pieces with an inseam."),))
    if body.heel_girth is None:
        return Checked(
            unchecked=(_("Whether the hem passes the foot: the body file has no heel_girth, round heel and instep."),)
        )
    passage = _Passage(
        what=_("The hem of one leg"),
        girth=girth,
        needed=body.heel_girth,
        is_stable=any(piece.cut.stabilised and HEM in piece.edge_names for piece in pieces),
        piece=with_hem[0].label,
        edge=HEM,
        at=point_at_share(with_hem[0].edge(HEM).line, 0.5),
        advice=_("Let the hem out, or open it by a slit or a zip."),
    )
    return _judged(passage, cloth)
