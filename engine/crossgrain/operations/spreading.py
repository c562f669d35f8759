"""Spread: make the rules for grading from a table of bodies and from which share of its growth goes where.

Each point moves by its share of what a measure grows from the base to a size. Where a girth runs along edges, as round
a slanted waist, its points move by as much more or less as makes the edges longer by just that; and where a seam is to
match, a corner slides along it until its sides do, so that the seam goes on as it was drawn.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from crossgrain.errors import AccuracyError, GeometryError, ParameterError
from crossgrain.kernel.area import winding
from crossgrain.kernel.length import path_length
from crossgrain.language import _
from crossgrain.model.outcome import Change, Finding, Outcome
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece
from crossgrain.model.screened_pieces import with_screened_pieces
from crossgrain.model.seams.pairing import Pair, pair_edges
from crossgrain.model.sizes.body_sizes import BodySizes
from crossgrain.model.sizes.grade_base import BasePiece, base_pieces, check_points
from crossgrain.model.sizes.grade_point import GradePoint
from crossgrain.model.sizes.grade_rules import GradeRule, GradeRules
from crossgrain.model.sizes.seam_match import SeamMatch, seam_slide
from crossgrain.model.sizes.spread import GirthSpread, Spread
from crossgrain.tolerances import GIRTH_REACHED, SHARES_WHOLE, SPREAD_REACHED

_ROUNDS = 30
_LEAST_SLOPE = 0.2
"""A line that runs to within some 12° of a direction is not moved aside by moves in that direction."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spreading:
    """What rules are made from.

    Args:
        spread: which share goes where.
        bodies: the table of bodies.
        base: the size that the drawing is.
    """

    spread: Spread
    bodies: BodySizes
    base: str


def spread(pattern: Pattern, spreading: Spreading) -> Outcome[GradeRules]:
    """Make rules.

    Args:
        pattern: all pieces of the base.
        spreading: the spread, the bodies, and which of them the drawing is for.

    Returns:
        The rules. Girths along edges and seams that are to match come out within 1e-4 mm. The changes are what each
        girth of all pieces grows by from the base to the largest size.

    Raises:
        ParameterError: shares that do not add up to the whole, with their sum; a point or a measure that is not there;
            a point whose direction outwards cannot be told.
        GeometryError: an outline that turns inside out in a size.
        AccuracyError: a girth along an edge or a seam that cannot be reached.
    """
    return _Spreading(with_screened_pieces(pattern), spreading).outcome()


@dataclass(slots=True)
class _Part:
    """What one measure does to one point, mm in each size."""

    point: GradePoint
    by: str
    across: list[float] = field(default_factory=list)
    along: list[float] = field(default_factory=list)
    girth: GirthSpread | None = None


class _Spreading:
    def __init__(self, pattern: Pattern, spreading: Spreading) -> None:
        self._pattern, self._spread, self._bodies = pattern, spreading.spread, spreading.bodies
        self._sizes, self._base = spreading.bodies.sizes, spreading.base
        girths, lengths = self._spread.girths, self._spread.lengths
        points = [point for one in girths for point, _share in (*one.shares, *one.going_along, *one.across)]
        points += [point for one in lengths for point, _share in one.shares]
        points += [match.at for match in self._spread.matches]
        check_points(pattern, points)
        self._levels = self._depths()
        self._pieces = base_pieces(pattern, points, self._levels, self._spread.toward)
        for girth in girths:
            self._check_whole(girth)
        self._parts: list[_Part] = []
        for girth in girths:
            steps = self._steps(girth.measure)
            for point, share in (*girth.shares, *girth.going_along):
                outwards = self._outwards(point, girth.edges)
                across = [outwards * share * step for step in steps]
                self._parts.append(_Part(point, girth.measure, across=across, girth=girth))
            self._parts += [
                _Part(point, girth.measure, across=[share * step for step in steps]) for point, share in girth.across
            ]
        for length in lengths:
            steps = self._steps(length.measure)
            self._parts += [
                _Part(point, length.measure, along=[share * step for step in steps]) for point, share in length.shares
            ]
        names = [girth.measure for girth in girths] or [length.measure for length in lengths]
        self._by = "hip_girth" if "hip_girth" in names else names[0]
        nothing = [0.0] * len(self._sizes)
        self._matched = [
            _Part(match.at, self._by_at(match.at), across=list(nothing), along=list(nothing))
            for match in self._spread.matches
        ]

    def outcome(self) -> Outcome[GradeRules]:
        pairs = pair_edges(self._pattern).pairs
        for number in range(len(self._sizes)):
            if self._sizes[number] != self._base:
                self._settle(number, pairs)
        changes = [
            Change(
                piece="",
                what=_("{measure}, from {base} to {size}").format(
                    measure=girth.measure, base=self._base, size=self._sizes[-1]
                ),
                before=self._bodies.measure(girth.measure)[self._sizes.index(self._base)],
                after=self._bodies.measure(girth.measure)[-1],
            )
            for girth in self._spread.girths
        ]
        return Outcome(value=self._rules(), changes=tuple(changes), findings=tuple(self._shrinking()))

    def _shrinking(self) -> Iterator[Finding]:
        """Say where a girth of the table is smaller in the larger size: as a rule two figures have been swapped."""
        for measure in dict.fromkeys(girth.measure for girth in self._spread.girths):
            for (size, value), (after, next_value) in pairwise(
                zip(self._sizes, self._bodies.measure(measure), strict=True)
            ):
                if next_value < value:
                    yield Finding(
                        piece="",
                        message=_(
                            "{measure} is {value:.1f} mm in size {size} and {next:.1f} mm in size {after}."
                        ).format(measure=measure, value=value, size=size, next=next_value, after=after),
                        advice=_("Look at the table of bodies again."),
                    )

    def _rules(self) -> GradeRules:
        nothing = [0.0] * len(self._sizes)
        found: dict[tuple[GradePoint, str], tuple[list[float], list[float]]] = {}
        for part in (*self._parts, *self._matched):
            across, along = found.setdefault((part.point, part.by), (list(nothing), list(nothing)))
            for total, own in ((across, part.across), (along, part.along)):
                for number, value in enumerate(own):
                    total[number] += value
        points = dict.fromkeys(point for point, _by in found)
        return GradeRules(
            name=self._spread.name,
            sizes=self._sizes,
            base=self._base,
            rules=tuple(
                GradeRule(point=point, across=tuple(across), along=tuple(along), by=by)
                for wanted in points
                for (point, by), (across, along) in found.items()
                if point == wanted
            ),
            levels=self._levels,
            toward=self._spread.toward,
            stays=self._spread.stays,
            measures=tuple((name, self._bodies.measure(name)) for name in self._measures()),
            by=self._by,
            edges=tuple((girth.measure, girth.edges) for girth in self._spread.girths if girth.edges),
            matches=self._spread.matches,
        )

    def _measures(self) -> list[str]:
        return list(dict.fromkeys(part.by for part in (*self._parts, *self._matched)))

    def _steps(self, measure: str) -> tuple[float, ...]:
        return self._bodies.steps(measure, self._base)

    def _by_at(self, point: GradePoint) -> str:
        """Return the girth that a corner moves with; what its seam would differ by comes from that."""
        for girth in self._spread.girths:
            if any(point == one for one, _share in (*girth.shares, *girth.going_along, *girth.across)):
                return girth.measure
        return self._by

    def _depths(self) -> tuple[tuple[str, float], ...]:
        if self._base not in self._sizes:
            self._bodies.steps(self._bodies.measures[0][0], self._base)
        out = []
        at = self._sizes.index(self._base)
        for name, depth in self._spread.levels:
            if isinstance(depth, str):
                depth = self._bodies.measure("waist_height")[at] - self._bodies.measure(depth)[at]
            out.append((name, depth))
        return tuple(out)

    def _check_whole(self, girth: GirthSpread) -> None:
        total, parts = 0.0, []
        for point, share in girth.shares:
            copies = sum(
                base.piece.cut.times for base in self._pieces if any(named.point == point for named in base.points)
            )
            total += copies * share
            if share:
                parts.append(f"{copies} × {share * 100.0:g} %")
        if abs(total - girth.whole) > SHARES_WHOLE:
            raise ParameterError(
                _("The shares of {measure} add up to {sum:.4g} %, not to {whole} %: {parts}.").format(
                    measure=girth.measure, sum=total * 100.0, whole=girth.whole * 100, parts=" + ".join(parts) or "0"
                ),
                advice=_("Give shares so that all pieces, each as often as it is cut, make up the whole."),
            )

    def _outwards(self, point: GradePoint, edges: str) -> float:
        """Return the sign of a move across the grain that widens the piece at a point."""
        for base in self._pieces:
            for named in base.points:
                if named.point == point and named.place is not None and base.across is not None:
                    away = (
                        _away_along(base.piece, point, edges)
                        if edges
                        else _away(base, named.place.index, named.place.t)
                    )
                    part = (away * base.across.conjugate()).real
                    if abs(part) > _LEAST_SLOPE * abs(away):
                        return math.copysign(1.0, part)
        raise ParameterError(
            _("Which way {piece} is widened at {point} cannot be told.").format(piece=point.piece, point=point.words),
            advice=_("Say under [toward] towards which edge across counts, or name another point."),
        )

    def _settle(self, number: int, pairs: Sequence[Pair]) -> None:
        """Scale moves along girths that follow edges, and move corners of seams, until a size is as it must be."""
        matches = [(match, part) for match, part in zip(self._spread.matches, self._matched, strict=True)]
        runs = [girth for girth in self._spread.girths if girth.edges]
        if not matches and not runs:
            return
        worst = 0.0
        for _round in range(_ROUNDS):
            new = self._graded(number)
            worst = 0.0
            for girth in runs:
                worst = max(worst, self._scale(girth, number, new))
            for match, part in matches:
                worst = max(worst, self._match(match, part, number, new, pairs))
            if worst <= SPREAD_REACHED:
                return
        if worst > GIRTH_REACHED:
            raise AccuracyError(
                _("Size {size}: a girth along an edge, or a seam, stays {off:.2f} mm off.").format(
                    size=self._sizes[number], off=worst
                ),
                advice=_("Name other corners under [[match]], or leave one of them out."),
            )

    def _graded(self, number: int) -> dict[str, Piece]:
        shifts = self._rules().shifts(float(number))
        try:
            return {base.piece.id: base.graded(shifts) for base in self._pieces}
        except GeometryError as error:
            error.message = _("Size {size}: {message}").format(size=self._sizes[number], message=error.message)
            raise

    def _scale(self, girth: GirthSpread, number: int, new: dict[str, Piece]) -> float:
        worst = 0.0
        step = self._steps(girth.measure)[number]
        for word in dict.fromkeys(point.piece for point, _share in girth.shares):
            pieces = [
                one.piece
                for one in self._pieces
                if girth.edges in one.piece.edge_names and any(named.point.piece == word for named in one.points)
            ]
            wanted = step * sum(share for point, share in girth.shares if point.piece == word)
            own = [part for part in self._parts if part.girth is girth and part.point.piece == word]
            if not pieces or not wanted:
                continue
            grown = [
                path_length(new[piece.id].edge(girth.edges).line) - path_length(piece.edge(girth.edges).line)
                for piece in pieces
            ]
            mean = math.fsum(grown) / len(grown)
            worst = max(worst, abs(wanted - mean))
            moved = math.fsum(abs(part.across[number]) for part in own)
            for part in own:
                # The edges grow by less than their ends move where they slant; what is missing is shared out alike.
                part.across[number] *= 1.0 + (wanted - mean) * math.copysign(1.0, wanted) / moved
        return worst

    def _match(self, match: SeamMatch, part: _Part, number: int, new: dict[str, Piece], pairs: Sequence[Pair]) -> float:
        mean, way = seam_slide(match, self._pieces, new, pairs)
        part.across[number] -= mean * way.real
        part.along[number] -= mean * way.imag
        return abs(mean)


def _away_along(piece: Piece, point: GradePoint, edges: str) -> complex:
    """Return the direction from the other end of an edge to a corner at one of its ends."""
    line = piece.edge(edges).line
    names = piece.edge_names
    at = names.index(edges)
    out = complex(*line.end) - complex(*line.start)
    other = point.meets if point.edge == edges else point.edge
    return out if other == names[(at + 1) % len(names)] else -out


def _away(base: BasePiece, index: int, t: float) -> complex:
    """Return the direction out of a piece at a place of its outline."""
    segments = base.piece.line.segments
    here = complex(*segments[index].derivative(t)) or complex(*(segments[index].start_tangent or (0.0, 0.0)))
    before = complex(*(segments[index - 1].end_tangent or (0.0, 0.0))) if t == 0.0 else 0j
    along = here / (abs(here) or 1.0) + before
    return along * -1j * winding(base.piece.line)
