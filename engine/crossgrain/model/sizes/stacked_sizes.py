"""All sizes of a pattern on top of each other, to be looked at."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.bounds import Box, bounds
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.language import _
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece, listed
from crossgrain.model.sizes.grade_base import dart_number
from crossgrain.model.sizes.grade_directions import directions
from crossgrain.model.sizes.grade_point import GradePoint, place_of
from crossgrain.model.sizes.grade_rules import GradeRules
from crossgrain.model.sizes.size_names import SizeName, size_names

_GAP: Final = 30.0
"""Between pieces that have been moved apart, mm: room for the names of the sizes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StackedPiece:
    """One piece in one size.

    Args:
        id: of its path in the base.
        outline: where it lies in the stack, mm.
        lines: its darts.
        names: where its size is written on its line; none where all sizes of the piece are alike.
    """

    id: str
    outline: Path
    lines: tuple[Path, ...]
    names: tuple[SizeName, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StackedSize:
    """One size.

    Args:
        name: its name.
        from_base: how many sizes it lies from the base; 0 for the base itself.
        pieces: its pieces.
    """

    name: str
    from_base: int
    pieces: tuple[StackedPiece, ...]


def stacked(
    sizes: Mapping[str, Pattern],
    base: str,
    at: Sequence[GradePoint] = (),
    *,
    apart: bool = False,
    rules: GradeRules | None = None,
) -> tuple[StackedSize, ...]:
    """Lay all sizes of each piece on top of each other.

    Args:
        sizes: the pattern in each size, from the smallest; the base among them or not.
        base: the name of the base.
        at: points that lie on one another in all sizes; pieces of which none is named lie as they were graded.
        apart: move pieces to the side that would lie over their neighbours.
        rules: those by which the sizes were made, which tell where a level lies in each.

    Raises:
        ParameterError: a point that is on no piece, or a level that no rule moves.

    >>> stacked({}, "38")
    ()
    """
    if not sizes:
        return ()
    names, first = list(sizes), next(iter(sizes.values()))
    for point in at:
        if not any(point.is_on(piece) for piece in first.pieces):
            raise ParameterError(
                _("Nothing can be stacked at {point} of {piece}: it is not there.").format(
                    point=point.words, piece=point.piece
                ),
                advice=_("The drawing has: {names}.").format(names=listed(piece.label for piece in first.pieces)),
            )
    middle = names.index(base) if base in names else 0
    columns = [
        _column(names, [list(sizes.values())[k].pieces[number] for k in range(len(names))], middle, at, rules)
        for number in range(len(first.pieces))
    ]
    if apart:
        columns = _apart(columns)
    return tuple(
        StackedSize(
            name=name,
            from_base=number - middle if base in names else number + 1,
            pieces=tuple(column[number] for column in columns),
        )
        for number, name in enumerate(names)
    )


def box_of(stack: Sequence[StackedSize]) -> Box:
    """Return the box around all sizes, mm."""
    return _around([piece for size in stack for piece in size.pieces])


def _column(
    names: Sequence[str], pieces: Sequence[Piece], middle: int, at: Sequence[GradePoint], rules: GradeRules | None
) -> list[StackedPiece]:
    """Return one piece in all sizes."""
    moves = [(0.0, 0.0)] * len(pieces)
    point = next((one for one in at if one.is_on(pieces[middle])), None)
    if point is not None and point.level:
        moves = _level_back(names, pieces[middle], point, rules)
    elif point is not None:
        lies = [_stands(piece, point) for piece in pieces]
        x, y = lies[middle]
        moves = [(x - here[0], y - here[1]) for here in lies]
    shifts = [Affine.translation(*move) for move in moves]
    edges = [[edge.line.mapped(by) for edge in piece.edges] for piece, by in zip(pieces, shifts, strict=True)]
    out = []
    for piece, by, named in zip(pieces, shifts, size_names(names, edges), strict=True):
        darts = [dart_points(piece, dart) for dart in piece.darts]
        lines = tuple(Path(tuple(Line(p, q) for p, q in pairwise(points))).mapped(by) for points in darts)
        out.append(StackedPiece(id=piece.id, outline=piece.line.mapped(by), lines=lines, names=named))
    return out


def _stands(piece: Piece, point: GradePoint) -> Point:
    """Return where a point of a piece lies, mm; no level."""
    number = dart_number(piece, point)
    if number is not None:
        return dart_points(piece, piece.darts[number])[1]
    place = point.place(piece, {})
    assert place is not None, "what is no dart has a place"
    return place_of(piece, place)


def _level_back(names: Sequence[str], piece: Piece, point: GradePoint, rules: GradeRules | None) -> list[Point]:
    """Return the moves that lay a level of all sizes on itself: those of its rule, the other way.

    How deep a level of the body lies in another size, only the rules tell.
    """
    told = [] if rules is None else [rule.point for rule in rules.rules if rule.point.is_on(piece)]
    if rules is None or not any((one.edge, one.level) == (point.edge, point.level) for one in told):
        raise ParameterError(
            _("Nothing can be stacked at {point} of {piece}, for no rule moves it.").format(
                point=point.words, piece=point.piece
            ),
            advice=_("Name a corner, a notch, or a level that the rules name on this edge."),
        )
    across, down = directions(piece, rules.toward)
    out = []
    for name in names:
        by = 0j
        for shift in rules.shifts(float(rules.index(name))):
            if shift.point in told and (shift.point.edge, shift.point.level) == (point.edge, point.level):
                by = (across or 0j) * shift.across + down * shift.along
        out.append((-by.real, -by.imag))
    return out


def _apart(columns: Sequence[Sequence[StackedPiece]]) -> list[list[StackedPiece]]:
    """Move pieces to the right that would lie over those to their left."""
    boxes = [_around(column) for column in columns]
    placed: list[Box] = []
    out: list[list[StackedPiece]] = [[] for _column in columns]
    for number in sorted(range(len(columns)), key=lambda k: boxes[k].left):
        box = boxes[number]
        beside = [one.right + _GAP for one in placed if one.top < box.bottom and one.bottom > box.top]
        by = max([0.0, *(right - box.left for right in beside)])
        placed.append(Box(box.left + by, box.top, box.right + by, box.bottom))
        out[number] = [_shifted(piece, by) for piece in columns[number]]
    return out


def _shifted(piece: StackedPiece, by: float) -> StackedPiece:
    shift = Affine.translation(by, 0.0)
    return StackedPiece(
        id=piece.id,
        outline=piece.outline.mapped(shift),
        lines=tuple(line.mapped(shift) for line in piece.lines),
        names=tuple(replace(name, at=shift.of(name.at)) for name in piece.names),
    )


def _around(pieces: Sequence[StackedPiece]) -> Box:
    boxes = [bounds(piece.outline) for piece in pieces]
    return Box(
        min(box.left for box in boxes),
        min(box.top for box in boxes),
        max(box.right for box in boxes),
        max(box.bottom for box in boxes),
    )
