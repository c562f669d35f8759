"""Grade: make other sizes of the base by moving points of its pieces along and across the grain.

Named points – corners, places and notches on edges, tips of darts – move as told, and corners that are not named stay.
What lies between moves by its share of the way along its edge (common practice among graders); nodes stay as many and
of their kind, handles turn and are scaled with their chords.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from crossgrain.errors import GeometryError
from crossgrain.language import _
from crossgrain.model.edge_lengths import edge_lengths
from crossgrain.model.girths import girth_along
from crossgrain.model.lying_over import lying_over
from crossgrain.model.outcome import Change, Finding, Outcome, counterpart_gone
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece, is_called
from crossgrain.model.screened_pieces import with_screened_pieces
from crossgrain.model.seams.pairing import pair_edges
from crossgrain.model.sizes.body_among_sizes import body_among_sizes
from crossgrain.model.sizes.changed_angles import changed_angles
from crossgrain.model.sizes.changed_bends import changed_bends
from crossgrain.model.sizes.grade_base import BasePiece, base_pieces, check_points
from crossgrain.model.sizes.grade_rules import GradeRules, Shift, Toward, between_sizes
from crossgrain.model.sizes.matched_notches import with_matched_notches
from crossgrain.model.sizes.seam_match import SeamMatch, seam_slide
from crossgrain.model.sizes.spread import limbs_of
from crossgrain.tolerances import BODY_REACHED, GIRTH_REACHED

_ROUNDS = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Grading:
    """How far points move from the base.

    Args:
        shifts: the points and their moves.
        levels: names of levels and their depths below the waist of the body, mm, where points are named by them.
        toward: towards which edges moves count on pieces that do not go by waist, side and hem.
        stays: words of the names of pieces that are the same in every size.
        pieces: ids or names of the pieces that are graded; none means all.
    """

    shifts: tuple[Shift, ...]
    levels: tuple[tuple[str, float], ...] = ()
    toward: tuple[Toward, ...] = ()
    stays: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()


def grade(pattern: Pattern, grading: Grading) -> Outcome[Pattern]:
    """Make another size of a pattern.

    Args:
        pattern: all pieces of the base, also those that are not graded: levels go by them.
        grading: how far points move.

    Returns:
        The pattern. Named points lie where they are told to, to rounding; a piece whose points do not move is the very
        one. Grading it by the negative moves gives the base back within 1e-6 mm.

    Raises:
        ParameterError: a rule for a point that is not there, or for one whose direction cannot be told.
        GeometryError: an outline that turns inside out, with the corner; a straight line that would have to bend.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge, Piece
    >>> from crossgrain.model.sizes.grade_point import GradePoint
    >>> lines = Path.polygon([(0, 0), (200, 0), (200, 600), (0, 600)]).segments
    >>> named = zip(("waist", "side", "hem", "centre"), lines)
    >>> skirt = Piece(id="skirt", edges=tuple(Edge(name=name, line=Path((line,))) for name, line in named))
    >>> points = [GradePoint(piece="skirt", edge=edge, meets="side") for edge in ("waist", "hem")]
    >>> wider = Grading(shifts=tuple(Shift(point=point, across=10.0) for point in points), stays=())
    >>> grade(Pattern(pieces=(skirt,)), wider).value.pieces[0].edge("side").line.nodes
    ((210.0, 0.0), (210.0, 600.0))
    """
    return next(iter(grade_each(pattern, [grading])))


def grade_each(pattern: Pattern, gradings: Sequence[Grading]) -> list[Outcome[Pattern]]:
    """Make several sizes of one base, as :func:`grade` makes one; its points are looked for only once.

    Args:
        pattern: all pieces of the base.
        gradings: one for each size, which differ in their shifts only.

    Raises:
        CrossgrainError: as of :func:`grade`, of the first size that cannot be made.
    """
    return list(_each(pattern, gradings, [""] * len(gradings)))


def _each(pattern: Pattern, gradings: Sequence[Grading], sizes: Sequence[str]) -> Iterator[Outcome[Pattern]]:
    """Make sizes one after another; an error names the size."""
    if not gradings:
        return
    bases = _bases(pattern, gradings[0])
    for grading, size in zip(gradings, sizes, strict=True):
        try:
            yield _outcome(pattern, bases, grading)
        except GeometryError as error:
            if size:
                error.message = _("Size {size}: {message}").format(size=size, message=error.message)
            raise


def grade_to_body(
    pattern: Pattern, rules: GradeRules, body: Mapping[str, float], pieces: tuple[str, ...] = ()
) -> Outcome[Pattern]:
    """Make the size of one body.

    Args:
        pattern: all pieces of the base.
        rules: the rules of the range, with the measures of each size.
        body: measures of the body, mm, by the names that the rules follow.
        pieces: ids or names of the pieces that are graded; none means all.

    Returns:
        The pattern. Girths straight across are the body's plus the ease of the base; those along edges too, within
        0.005 mm, for which their place among the sizes is bettered, since how long a bent edge is hangs on all moves.
        Seams that the rules match agree as in the base, within as much, wherever girths fall among the sizes.

    Raises:
        CrossgrainError: as of :func:`grade`, or a measure that the body or the rules lack.
    """
    found = body_among_sizes(rules, body)
    places, base = dict(found.places), rules.base_index
    known = {name: values for name, values in rules.measures if name in places and name in body}
    bases = _bases(pattern, grading_of(rules, places, pieces))
    matches = [] if pieces else _joined(rules.matches, pattern)
    pairs = pair_edges(pattern).pairs if matches else ()
    slides = dict.fromkeys(matches, 0j)
    runs = [(name, edges) for name, edges in rules.edges if name in known] if not pieces else []
    worn = [piece for piece in pattern.pieces if not piece.cut.stabilised]
    start = {edges: girth_along(worn, edges).girth for _name, edges in runs}
    worst = 0.0
    for _round in range(_ROUNDS):
        outcome = _outcome(pattern, bases, _slid(grading_of(rules, places, pieces), slides))
        now = [piece for piece in outcome.value.pieces if not piece.cut.stabilised]
        worst = 0.0
        for name, edges in runs:
            limbs = limbs_of(name)
            missing = limbs * (body[name] - known[name][base]) - (girth_along(now, edges).girth - start[edges])
            step = limbs * (between_sizes(known[name], places[name] + 1.0) - between_sizes(known[name], places[name]))
            places[name] += missing / step
            worst = max(worst, abs(missing))
        made = {piece.id: piece for piece in outcome.value.pieces}
        for match in matches:
            off, way = seam_slide(match, bases, made, pairs)
            slides[match] -= off * way
            worst = max(worst, abs(off))
        if worst <= BODY_REACHED:
            break
    missed = []
    if worst > GIRTH_REACHED:
        missed = [
            Finding(
                piece="",
                message=_("A girth along edges, or a seam that is to match, stays {off:.1f} mm off.").format(off=worst),
                advice=_("See that all pieces that make it up have rules; true the seam: crossgrain true."),
            )
        ]
    return Outcome(value=pattern, findings=(*found.findings, *missed)).then(outcome)


def _joined(matches: Sequence[SeamMatch], pattern: Pattern) -> list[SeamMatch]:
    """Return the seams that are to match and whose corner is on a piece."""
    return [match for match in matches if any(match.at.is_on(piece) for piece in pattern.pieces)]


def _slid(grading: Grading, slides: Mapping[SeamMatch, complex]) -> Grading:
    """Return a grading in which corners of seams move by so much more across the grain and, imaginary, along it."""
    shifts = {shift.point: shift for shift in grading.shifts}
    for match, by in slides.items():
        before = shifts.get(match.at, Shift(point=match.at))
        shifts[match.at] = replace(before, across=before.across + by.real, along=before.along + by.imag)
    return replace(grading, shifts=tuple(shifts.values()))


def grade_sizes(
    pattern: Pattern, rules: GradeRules, sizes: Sequence[str], pieces: tuple[str, ...] = ()
) -> dict[str, Outcome[Pattern]]:
    """Make sizes of a range.

    Args:
        pattern: all pieces of the base.
        rules: the rules of the range.
        sizes: the names of the sizes wanted.
        pieces: ids or names of the pieces that are graded; none means all.

    Returns:
        The sizes by their names, in the order of the range; the base is the pattern as it is.

    Raises:
        CrossgrainError: as of :func:`grade`; of the sizes that cannot be made, the one nearest to the base is named.
    """
    numbers = sorted((rules.index(size) for size in set(sizes)), key=lambda number: abs(number - rules.base_index))
    gradings = [grading_of(rules, float(number), pieces) for number in numbers]
    made = dict(zip(numbers, _each(pattern, gradings, [rules.sizes[number] for number in numbers]), strict=True))
    return {rules.sizes[number]: made[number] for number in sorted(made)}


def grading_of(rules: GradeRules, places: float | Mapping[str, float], pieces: tuple[str, ...] = ()) -> Grading:
    """Return how far points move at a place among the sizes; see :meth:`GradeRules.shifts`."""
    return Grading(
        shifts=rules.shifts(places), levels=rules.levels, toward=rules.toward, stays=rules.stays, pieces=pieces
    )


def _bases(pattern: Pattern, grading: Grading) -> list[BasePiece]:
    """Find the points of a grading on the pieces that are graded."""
    pattern = with_screened_pieces(pattern)
    wanted = {pattern.piece(name).id for name in grading.pieces}
    points = [shift.point for shift in grading.shifts]
    if wanted:
        chosen = [piece for piece in pattern.pieces if piece.id in wanted]
        points = [point for point in points if any(is_called(piece, point.piece) for piece in chosen)]
    check_points(pattern, points)
    found = base_pieces(pattern, points, grading.levels, grading.toward)
    return [base for base in found if not wanted or base.piece.id in wanted]


def _outcome(drawn: Pattern, bases: Sequence[BasePiece], grading: Grading) -> Outcome[Pattern]:
    changed: list[Piece] = []
    changes: list[Change] = []
    findings: list[Finding] = []
    for base in bases:
        if not base.points:
            findings += _unnamed(base.piece, grading.stays)
            continue
        new = base.graded(grading.shifts)
        if new != base.piece:
            changed.append(new)
            changes += edge_lengths(base.piece, new)
            findings += (*changed_angles(base.piece, new), *changed_bends(base.piece, new))
            findings += counterpart_gone(base.piece)
    value = drawn.with_pieces(changed)
    if changed:
        value = with_matched_notches(drawn, value, _told(bases, drawn))
    findings += lying_over(drawn.pieces, value.pieces)
    return Outcome(value=value, changes=tuple(changes), findings=tuple(findings))


def _told(bases: Sequence[BasePiece], drawn: Pattern) -> set[tuple[str, str, float]]:
    """Return the notches that a rule names, and those of pieces that are not graded."""
    out = {
        (base.piece.id, named.point.edge, named.point.share_of_notch(base.piece))
        for base in bases
        for named in base.points
        if named.point.notch is not None
    }
    graded = {base.piece.id for base in bases if base.points}
    return out | {
        (piece.id, notch.edge, notch.share)
        for piece in drawn.pieces
        if piece.id not in graded
        for notch in piece.notches
    }


def _unnamed(piece: Piece, stays: Sequence[str]) -> list[Finding]:
    if piece.follows or any(is_called(piece, word) for word in stays):
        return []
    return [
        Finding(
            piece=piece.label,
            message=_("No rule names a point of it: it is the same in every size."),
            advice=_("Add rules for it, or name it under “stays”."),
        )
    ]
