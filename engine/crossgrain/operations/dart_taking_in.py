"""Take in or let out at darts: at the mouth by an amount, at the tip by nothing."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from crossgrain.errors import CrossgrainError, ParameterError
from crossgrain.language import _
from crossgrain.model.marking.widened_dart import leg_difference, widened
from crossgrain.model.outcome import Change, Finding, Outcome
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece, listed
from crossgrain.model.seams.handed import Hand, hand_of, parted
from crossgrain.model.seams.station import Station
from crossgrain.tolerances import SEAM_MATCH

DART: Final = "dart"
"""What is said in place of a seam's name where darts are meant that are marked, not cut open."""

TIP: Final = "tip"
"""What the end of a dart in the cloth is called; the other is called by the edge on which the dart opens."""

_LEGS: Final = 2


def are_darts(pattern: Pattern, seam: str) -> bool:
    """Tell whether a seam's name means the darts of a pattern: none of its edges is called so, and it has darts."""
    is_edge = any(seam in piece.edge_names for piece in pattern.pieces)
    return not is_edge and seam in (DART, _("dart")) and any(piece.darts for piece in pattern.pieces)


@dataclass(frozen=True, slots=True, kw_only=True)
class DartTakeIn:
    """What a fitting found for darts.

    Args:
        at: stations with their amounts: the edge on which the darts open, and the tip, where it is 0; mm, positive
            farther out in the cloth on either leg, negative where the dart is let out.
        is_girth: the amounts are what the whole garment is to lose in girth rather than distances.
        only: ``left`` or ``right``: only on that side of the body. A piece that is cut mirrored becomes two.
        earlier: what earlier fittings found, each as ``at`` is; all are added up.
    """

    at: tuple[tuple[Station, float], ...]
    is_girth: bool = False
    only: Hand | None = None
    earlier: tuple[tuple[tuple[Station, float], ...], ...] = ()


def take_in_darts(pattern: Pattern, wanted: DartTakeIn) -> Outcome[Pattern]:
    """Stitch darts wider or narrower at their mouths.

    Legs stay straight and turn about the tip. Stitched ``d`` farther out on either leg, a dart takes ``2d`` more from
    the girth at its mouth.

    Args:
        pattern: the pieces; each of their darts is taken in.
        wanted: the amounts.

    Returns:
        The pattern. Edges stay as they are; the waist is made right across the folded dart by trueing the darts.

    Raises:
        ParameterError: stations that are neither the mouth nor the tip, an amount at the tip, no dart there.
        CollapseError: a mouth that would vanish, or reach beyond its edge or into another dart.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Dart, Edge
    >>> lines = Path.polygon([(0, 0), (200, 0), (200, 300), (0, 300)]).segments
    >>> edges = tuple(Edge(name=n, line=Path((line,))) for n, line in zip(("waist", "side", "foot", "seat"), lines))
    >>> back = Piece(id="back", edges=edges, darts=(Dart(edge="waist", share=0.5, width=24.0, depth=90.0),))
    >>> wanted = DartTakeIn(at=((Station(name="waist"), 3.0), (Station(name="tip"), 0.0)))
    >>> round(take_in_darts(Pattern(pieces=(back,)), wanted).value.pieces[0].darts[0].width, 3)
    30.053
    """
    if wanted.only is not None:
        pattern = parted(pattern, [piece.id for piece in pattern.pieces if piece.darts])
    amounts = _amounts(wanted)
    pieces = [
        piece
        for piece in pattern.pieces
        if any(dart.edge in amounts for dart in piece.darts) and (wanted.only in (None, hand_of(piece)))
    ]
    if not pieces:
        edges = dict.fromkeys(dart.edge for piece in pattern.pieces for dart in piece.darts)
        raise ParameterError(
            _("No dart opens on an edge named {name}.").format(name=listed(amounts)),
            advice=_("Darts open on: {names}.").format(names=listed(edges)),
        )
    if wanted.is_girth:
        amounts = {edge: amount / (_LEGS * _count(pieces, edge)) for edge, amount in amounts.items()}
    changed = [_widened(piece, amounts) for piece in pieces]
    changes, findings = [], []
    for edge, amount in amounts.items():
        lost = _LEGS * _count(pieces, edge) * amount
        what = _("girth of the garment at {station}").format(station=edge)
        changes.append(Change(piece="", edge=DART, what=what, before=0.0, after=-lost))
    for old, new in zip(pieces, changed, strict=True):
        for was, now in zip(old.darts, new.darts, strict=True):
            if was != now:
                what = _("intake of its dart")
                changes.append(Change(piece=old.label, edge=was.edge, what=what, before=was.width, after=now.width))
        findings += _uneven(new)
    return Outcome(value=pattern.with_pieces(changed), changes=tuple(changes), findings=tuple(findings))


def _amounts(wanted: DartTakeIn) -> dict[str, float]:
    """Return how far at the mouths on each edge all fittings go together, mm."""
    out: dict[str, float] = {}
    for station, amount in (one for at in (*wanted.earlier, wanted.at) for one in at):
        if not station.name:
            raise ParameterError(
                _("The legs of a dart stay straight: an amount is known at its mouth, and at its tip it is nothing."),
                advice=_("Say it at the edge on which the dart opens, as waist=3mm; or cut the dart open."),
            )
        if not math.isfinite(amount):
            raise ParameterError(_("An amount is not a number."))
        if station.name in (TIP, _("tip")):
            if amount:
                raise ParameterError(
                    _("The tip of a dart is no place to take in."),
                    advice=_("Say tip=0mm, and mark the dart anew where it is to be longer or shorter."),
                )
            continue
        out[station.name] = math.fsum((out.get(station.name, 0.0), amount))
    if not out:
        raise ParameterError(
            _("No amount is given."), advice=_("Say it at the edge on which the dart opens, as waist=3mm.")
        )
    return out


def _count(pieces: Iterable[Piece], edge: str) -> int:
    """Return how many darts the garment has that open on an edge of a name."""
    return sum(piece.cut.times for piece in pieces for dart in piece.darts if dart.edge == edge)


def _widened(piece: Piece, amounts: dict[str, float]) -> Piece:
    for number, dart in enumerate(piece.darts):
        amount = amounts.get(dart.edge, 0.0)
        if not amount:
            continue
        try:
            new = widened(piece, dart, amount)
        except CrossgrainError as error:
            error.piece, error.edge = piece.label, dart.edge
            raise
        piece = replace(piece, darts=(*piece.darts[:number], new, *piece.darts[number + 1 :]))
    return piece


def _uneven(piece: Piece) -> list[Finding]:
    return [
        Finding(
            piece=piece.label,
            edge=dart.edge,
            message=_("The legs of its dart differ by {gap:.1f} mm now.").format(gap=leg_difference(piece, dart)),
            advice=_("True the darts: crossgrain true IN.svg -o OUT.svg --darts."),
            answered_by="true darts",
        )
        for dart in piece.darts
        if leg_difference(piece, dart) > SEAM_MATCH
    ]
