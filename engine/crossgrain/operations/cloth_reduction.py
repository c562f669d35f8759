"""Reduce by cloth: give each level of a body the girth at which the new cloth does what the old one did."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from crossgrain.errors import AccuracyError, ParameterError
from crossgrain.fabric.body import Body
from crossgrain.fabric.cloth import Cloth
from crossgrain.fabric.comparison import Level, Matching, Row, compare
from crossgrain.fabric.pressure import caution, check_accepted
from crossgrain.kernel.length import path_length
from crossgrain.kernel.profile import Profile
from crossgrain.language import _, level_word
from crossgrain.model.girths import HEM, OPENING, WAIST, depth_frame, depths_of, girth_along, girth_at, waist_depth
from crossgrain.model.lift import on_each_piece
from crossgrain.model.narrowed import narrowed, narrowing_outcome
from crossgrain.model.narrowing import Narrowing
from crossgrain.model.outcome import Change, Finding, Outcome
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece
from crossgrain.tolerances import GIRTH_REACHED, ROUND_OFF, SEAM_MATCH, WHOLE_GARMENT

_ROUNDS = 12
"""Each round takes the error of the girths to some hundredth of itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothReduction:
    """What a pattern is reduced for.

    Args:
        fabric: the cloth it is to be cut from.
        drafted_for: the cloth it was drafted for.
        body: the body that is to wear it.
        matching: what is to be the same in the new cloth.
        opening: the edge along which extensions are held, which lie under the other side.
        accept_pressure: whether pressures above 3.3 kPa are accepted.
    """

    fabric: Cloth
    drafted_for: Cloth
    body: Body
    matching: Matching = field(default_factory=Matching)
    opening: str = OPENING
    accept_pressure: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """A level on the pattern.

    Args:
        level: its girths.
        depth: below the upper end of the side seam, mm.
        edge: the name of the edges along which the girth runs; empty where it runs straight across.
        held: how much of the girth no reduction may change, mm.
    """

    level: Level
    depth: float
    edge: str = ""
    held: float = 0.0

    def girth(self, pieces: Sequence[Piece], opening: str) -> float:
        """Return the girth of pieces at the level, round the same as the body's, mm."""
        found = girth_along(pieces, self.edge, opening) if self.edge else girth_at(pieces, self.depth, opening)
        return found.girth / self.level.limbs


def stations(pattern: Pattern, body: Body, opening: str = OPENING) -> tuple[tuple[Station, ...], tuple[Finding, ...]]:
    """Find the levels of a body on a pattern.

    The waist runs along the edges of that name; where a stabilised piece has such an edge too, it does not stretch. The
    other levels run straight across at their depth below the middle of the waist seam.

    Args:
        pattern: the pattern; its stabilised pieces are no part of a girth.
        body: the body.
        opening: the edge along which extensions are held.

    Returns:
        The levels from the top, and what to say of those that are not found.

    Raises:
        ParameterError: the pieces are part of a garment only.
    """
    pieces = [piece for piece in pattern.pieces if piece.goes_round]
    top = waist_depth(pieces)
    found: list[Station] = []
    findings = []
    for level in body.levels:
        if level.girth is None:
            continue
        waist = depths_of(pieces, WAIST) if level.name == WAIST else None
        if waist is not None:
            girth, depth, edge = girth_along(pieces, WAIST, opening), waist[1], WAIST
        elif level.depth is None:
            findings.append(
                Finding(
                    piece="",
                    message=_("Where the {level} lies is not known, so it is left out.").format(level=level.name),
                    advice=_("Add its height and that of the waist to the body file."),
                )
            )
            continue
        else:
            depth, edge = top + level.depth, ""
            girth = girth_at(pieces, depth, opening)
        if girth.missing or girth.girth <= 0.0:
            findings.append(
                Finding(
                    piece=", ".join(girth.missing),
                    message=_("It does not reach the {level}, which is left out.").format(level=level.name),
                )
            )
            continue
        _check_whole(level.name, girth.girth / level.limbs, level.girth)
        stable = any(piece.cut.stabilised and level.name in piece.edge_names for piece in pattern.pieces)
        found.append(
            Station(
                level=Level(
                    name=level.name,
                    body=level.girth,
                    piece=girth.girth / level.limbs,
                    limbs=level.limbs,
                    is_stable=stable,
                ),
                depth=depth,
                edge=edge,
                held=girth.held / level.limbs,
            )
        )
    return tuple(found), tuple(findings)


def _check_whole(level: str, piece: float, body: float) -> None:
    if piece < WHOLE_GARMENT * body:
        raise ParameterError(
            _(
                "The pieces make up {piece:.0f} mm at the {level}, where the body has {body:.0f} mm: some are missing."
            ).format(piece=piece, level=level, body=body),
            advice=_("Take every piece that goes round the body, and say of each how often it is cut."),
        )


def reduce_by_cloth(pattern: Pattern, reduction: ClothReduction) -> Outcome[Pattern]:
    """Narrow every piece by a factor that varies smoothly, and only one way, from level to level.

    The factor is the same on every piece at the same depth, so that seams stay seams. Above the first level and below
    the last it stays as it is there. Holds and dart intakes keep their width.

    Args:
        pattern: the pieces that go round the body, with what is sewn to them.
        reduction: the cloths and the body.

    Returns:
        The pattern, with the girth asked and reached at each level: within 0.1 mm of each other. Stabilised pieces stay
        as they are, and a finding says what they must match now.

    Raises:
        ParameterError: no level is found; pieces are missing; a level for which the firmness must be known; a pressure
            above 3.3 kPa that is not accepted.
        CollapseError: the holds leave too little to narrow.
        AccuracyError: a girth that cannot be reached.
    """
    found, missing = stations(pattern, reduction.body, reduction.opening)
    if not found:
        raise ParameterError(
            _("None of the body's levels is found on the pattern."),
            advice=_("Give the girths and heights of the hip and the thigh in the body file."),
        )
    rows = compare(reduction.drafted_for, reduction.fabric, [one.level for one in found], reduction.matching)
    check_accepted({row.level.name: row.matched.pressure.worst for row in rows}, is_accepted=reduction.accept_pressure)
    asked = [_girth(row) for row in rows]
    factors = [
        1.0 if math.isclose(one, station.level.piece, rel_tol=ROUND_OFF) else one / station.level.piece
        for one, station in zip(asked, found, strict=True)
    ]
    before = [piece for piece in pattern.pieces if piece.goes_round]
    for _round in range(_ROUNDS):
        after = [_under(piece, found, factors) for piece in before]
        reached = [station.girth(after, reduction.opening) for station in found]
        if all(abs(r - a) < GIRTH_REACHED / 10.0 for r, a in zip(reached, asked, strict=True)):
            break
        factors = [
            factor * (1.0 + (a - r) / (station.level.piece - station.held) / factor)
            for factor, a, r, station in zip(factors, asked, reached, found, strict=True)
        ]
    if any(abs(r - a) > GIRTH_REACHED for r, a in zip(reached, asked, strict=True)):
        worst = max(range(len(found)), key=lambda k: abs(reached[k] - asked[k]))
        raise AccuracyError(
            _("At the {level} a girth of {asked:.1f} mm was asked, and {reached:.1f} mm were reached.").format(
                level=found[worst].level.name, asked=asked[worst], reached=reached[worst]
            ),
            advice=_("Leave out a level that lies close to another."),
        )
    return _outcome(pattern, before, after, found, rows, reached, missing)


def _girth(row: Row) -> float:
    if row.girth.value is None:
        raise ParameterError(
            _("At the {level} the girth is only known to lie between {low:.0f} and {high:.0f} mm.").format(
                level=row.level.name, low=row.girth.low, high=row.girth.high
            ),
            advice=row.reasons[-1] if row.reasons else "",
        )
    return row.girth.value


def _under(piece: Piece, found: Sequence[Station], factors: Sequence[float]) -> Piece:
    """Return a piece narrowed by factors at levels."""
    if all(factor == 1.0 for factor in factors):
        return piece
    narrowing = Narrowing(piece, 1.0, free=_profile(piece, found, factors))
    return narrowed(piece, narrowing)


def _profile(piece: Piece, found: Sequence[Station], factors: Sequence[float]) -> Profile:
    """Return the factor in the frame of a piece's grain, where the depth may run either way."""
    gx, gy = piece.grain
    to_depth = depth_frame(piece)
    origin = to_depth.inverse().of((0.0, 0.0))
    down = to_depth.inverse().of((0.0, 1.0))
    zero = gx * origin[0] + gy * origin[1]
    way = 1.0 if gx * (down[0] - origin[0]) + gy * (down[1] - origin[1]) > 0.0 else -1.0
    at = sorted((zero + way * station.depth, factor) for station, factor in zip(found, factors, strict=True))
    return Profile([place for place, _factor in at], [factor for _place, factor in at])


def _outcome(
    pattern: Pattern,
    before: Sequence[Piece],
    after: Sequence[Piece],
    found: Sequence[Station],
    rows: Sequence[Row],
    reached: Sequence[float],
    missing: Sequence[Finding],
) -> Outcome[Pattern]:
    changes = []
    for station, row, girth in zip(found, rows, reached, strict=True):
        name, now = station.level.name, station.level.piece
        changes += [
            Change(piece="", what=_("girth asked at the {level}").format(level=name), before=now, after=_girth(row)),
            Change(piece="", what=_("girth reached at the {level}").format(level=name), before=now, after=girth),
        ]
        if station.held:
            what = _("held at the {level}").format(level=name)
            changes.append(Change(piece="", what=what, before=station.held, after=station.held))
    new = {piece.id: piece for piece in after}
    each = on_each_piece(
        Pattern(pieces=tuple(before)),
        lambda piece: narrowing_outcome(piece, new[piece.id]) if new[piece.id] is not piece else Outcome(value=piece),
    )
    changes += _seams(before, after)
    value = pattern.with_pieces(after)
    findings = [*missing, *_cautions(rows), *_stabilised(pattern, value), *_pairs(before, after)]
    return Outcome(value=value, changes=(*changes, *each.changes), findings=(*findings, *each.findings))


def _cautions(rows: Sequence[Row]) -> list[Finding]:
    out = []
    for row in rows:
        said = caution(row.matched.pressure.worst, row.level.name)
        if said:
            out.append(Finding(piece="", message=said, severity="caution"))
        if row.verdict in ("not suitable", "cannot be told"):
            reasons = " ".join(reason for reason in row.reasons if reason != said)
            if reasons:
                out.append(Finding(piece="", message=f"{level_word(row.level.name)}: {reasons}", severity="caution"))
    return out


def _seams(before: Sequence[Piece], after: Sequence[Piece]) -> list[Change]:
    """Return what became of the crotch seam, from the front to the back."""
    names = ("crotch", "seat")
    lengths = [
        math.fsum(path_length(edge.line) for piece in pieces for edge in piece.edges if edge.name in names)
        for pieces in (_one_side(before), _one_side(after))
    ]
    if not lengths[0]:
        return []
    return [Change(piece="", what=_("crotch seam, front and back"), before=lengths[0], after=lengths[1])]


def _one_side(pieces: Sequence[Piece]) -> list[Piece]:
    """Return one piece for each set of edges below the waist, so that left and right do not both count."""
    seen: dict[tuple[bool, bool], Piece] = {}
    for piece in pieces:
        key = ("crotch" in piece.edge_names, "seat" in piece.edge_names)
        seen.setdefault(key, piece)
    return list(seen.values())


def _pairs(before: Sequence[Piece], after: Sequence[Piece]) -> list[Finding]:
    """Say which seams fitted before and do not now."""
    names = dict.fromkeys(edge.name for piece in before for edge in piece.edges if edge.name not in ("", WAIST, HEM))
    out = []
    for name in names:
        old, new = (_difference(pieces, name) for pieces in (before, after))
        if new > SEAM_MATCH and new > old + SEAM_MATCH / 10.0:
            out.append(
                Finding(
                    piece="",
                    edge=name,
                    message=_("Its sides differ by {new:.1f} mm now, by {old:.1f} mm before.").format(new=new, old=old),
                    advice=_("True the seam before you cut."),
                )
            )
    return out


def _difference(pieces: Sequence[Piece], name: str) -> float:
    lengths = [path_length(edge.line) for piece in pieces for edge in piece.edges if edge.name == name]
    return max(lengths) - min(lengths)


def _stabilised(old: Pattern, new: Pattern) -> list[Finding]:
    """Say what each stabilised piece is sewn to, and how long that is now."""
    out = []
    for piece in old.pieces:
        if not piece.cut.stabilised:
            continue
        for edge in piece.edge_names:
            partners = [
                girth_along([one for one in pattern.pieces if one.goes_round], edge).girth for pattern in (old, new)
            ]
            if edge and partners[0] and abs(partners[1] - partners[0]) > SEAM_MATCH:
                out.append(
                    Finding(
                        piece=piece.label,
                        edge=edge,
                        message=_(
                            "It is stabilised and was left as it is; the {edge} edges it is sewn to came to "
                            "{old:.1f} mm and come to {new:.1f} mm now."
                        ).format(edge=edge, old=partners[0], new=partners[1]),
                        advice=_("Make it match them."),
                    )
                )
    return out
