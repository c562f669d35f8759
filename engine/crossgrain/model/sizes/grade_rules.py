"""Rules by which a pattern is graded: sizes in order, and how far points of the pieces move in each.

**Along** the grain counts down, from the waist to the hem; **across** it counts towards the side seam. Where a piece
has none of these, or the other way round is meant, :class:`Toward` says towards which edge it counts.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.piece import listed
from crossgrain.model.sizes.grade_point import GradePoint
from crossgrain.model.sizes.seam_match import SeamMatch

LETTERS: Final = ("XXXS", "XXS", "XS", "S", "M", "L", "XL", "XXL", "XXXL")


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """How far a point moves, mm: along the grain, downwards, and across it, towards the side."""

    point: GradePoint
    along: float = 0.0
    across: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class GradeRule:
    """How far one point lies in each size from where it lies in the base.

    Args:
        point: the point.
        along: along the grain, mm, one for each size; 0 at the base.
        across: across the grain, mm, one for each size; 0 at the base.
        by: the measure of the body that this follows, as ``hip_girth``; empty for that of the whole set.
    """

    point: GradePoint
    along: tuple[float, ...]
    across: tuple[float, ...]
    by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Toward:
    """Towards which edges moves count on the pieces of a name.

    Args:
        piece: a word of their names.
        across: the edge across the grain; empty for ``side``.
        along: the edge along the grain; empty for ``hem``, or away from the waist.
    """

    piece: str
    across: str = ""
    along: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class GradeRules:
    """A whole set of rules.

    Args:
        name: of the range.
        sizes: their names, in order from the smallest.
        base: the size that the drawing is.
        rules: several at one point add up.
        levels: names of levels and their depths below the waist of the body, mm.
        toward: the directions of pieces that do not go by waist, side and hem.
        stays: words of the names of pieces that are the same in every size.
        measures: measures of the body in each size, mm, by their names in ISO 8559-1.
        by: the measure that rules follow which name none.
        edges: girths that run along edges, as the waist, with the name of these.
        matches: seams that are to agree for a body whose girths fall in different sizes; in the sizes the rules hold.
    """

    name: str = ""
    sizes: tuple[str, ...]
    base: str
    rules: tuple[GradeRule, ...] = ()
    levels: tuple[tuple[str, float], ...] = ()
    toward: tuple[Toward, ...] = ()
    stays: tuple[str, ...] = ()
    measures: tuple[tuple[str, tuple[float, ...]], ...] = ()
    by: str = ""
    edges: tuple[tuple[str, str], ...] = ()
    matches: tuple[SeamMatch, ...] = ()

    def __post_init__(self) -> None:
        check_order(self.sizes)
        if self.base not in self.sizes:
            raise ParameterError(
                _("The base {base} is none of the sizes.").format(base=self.base),
                advice=_("The sizes are: {names}.").format(names=listed(self.sizes)),
            )
        known = dict(self.measures)
        for rule in self.rules:
            for moves in (rule.along, rule.across):
                if len(moves) != len(self.sizes):
                    raise ParameterError(
                        _("{point}: {count} moves are given for {sizes} sizes.").format(
                            point=rule.point.words, count=len(moves), sizes=len(self.sizes)
                        ),
                        advice=_("Give one for each size, that of the base 0 mm."),
                    )
                if moves[self.base_index] != 0.0:
                    raise ParameterError(
                        _("{point} moves in the base size {base}.").format(point=rule.point.words, base=self.base),
                        advice=_("The base is the drawing as it is: write 0 mm for it."),
                    )
            if rule.by and known and rule.by not in known:
                raise ParameterError(
                    _("{point} follows {measure}, which is not given for the sizes.").format(
                        point=rule.point.words, measure=rule.by
                    ),
                    advice=_("Add it under [measures]."),
                )

    @property
    def base_index(self) -> int:
        """The number of the base among the sizes."""
        return self.sizes.index(self.base)

    def index(self, size: str) -> int:
        """Return the number of a size.

        Raises:
            ParameterError: there is none of that name.
        """
        if size not in self.sizes:
            raise ParameterError(
                _("There is no size {name}.").format(name=size),
                advice=_("The sizes are: {names}.").format(names=listed(self.sizes)),
            )
        return self.sizes.index(size)

    def shifts(self, places: float | Mapping[str, float]) -> tuple[Shift, ...]:
        """Return how far points move.

        Args:
            places: where among the sizes, counted from 0; between two sizes, part of the way; beyond the last, as the
                last step goes on. One for all, or one for each measure.

        Returns:
            One shift for each point, in the order of the rules.
        """
        out: dict[GradePoint, Shift] = {}
        for rule in self.rules:
            place = places if isinstance(places, int | float) else places[rule.by or self.by]
            before = out.get(rule.point, Shift(point=rule.point))
            out[rule.point] = Shift(
                point=rule.point,
                along=before.along + between_sizes(rule.along, place),
                across=before.across + between_sizes(rule.across, place),
            )
        return tuple(out.values())


def between_sizes(values: tuple[float, ...], place: float) -> float:
    """Return a value between two sizes, or beyond the last as the last step goes on.

    >>> between_sizes((-4.0, 0.0, 6.0), 1.5), between_sizes((-4.0, 0.0, 6.0), 3.0), between_sizes((-4.0, 0.0), -1.0)
    (3.0, 12.0, -8.0)
    """
    if len(values) == 1:
        return values[0]
    at = min(max(int(place // 1), 0), len(values) - 2)
    part = place - at
    return values[at] if part == 0.0 else values[at] + part * (values[at + 1] - values[at])


def place_among(values: tuple[float, ...], value: float) -> float | None:
    """Return where among the sizes a measure falls: the inverse of :func:`between_sizes`; None where they do not rise.

    >>> place_among((70.0, 74.0, 80.0), 77.0), place_among((70.0, 74.0, 80.0), 86.0), place_among((5.0, 5.0), 6.0)
    (1.5, 3.0, None)
    """
    if len(values) < 2 or any(not low < high for low, high in pairwise(values)):
        return None
    at = max((k for k in range(len(values) - 1) if values[k] <= value), default=0)
    return at + (value - values[at]) / (values[at + 1] - values[at])


def check_order(sizes: tuple[str, ...]) -> None:
    """Refuse sizes that are not in order from the smallest: numbers, letters as S, M, L; other names only differ."""
    if len(sizes) < 2:
        raise ParameterError(_("There is only one size."), advice=_("Name the sizes in order, the base among them."))
    if "" in (size.strip() for size in sizes):
        raise ParameterError(_("A size has no name."), advice=_("Name each size, or take it out."))
    for before, after in pairwise(sizes):
        ranks = size_rank(before), size_rank(after)
        if ranks[0] is not None and ranks[1] is not None and not ranks[0] < ranks[1]:
            raise ParameterError(
                _("Size {after} stands after {before}: the sizes are not in order.").format(after=after, before=before),
                advice=_("Name each once, from the smallest to the largest."),
            )
    for size in sizes:
        if sizes.count(size) > 1:
            raise ParameterError(
                _("Size {size} is named twice.").format(size=size), advice=_("Name each size once, in order.")
            )


def size_rank(size: str) -> tuple[int, float, float] | None:
    """Return where a size stands among those of its kind, numbers or letters; None where its name does not tell.

    Of ``00`` and ``0`` the longer is the smaller.

    >>> sorted(["L", "0", "10", "00", "2", "S"], key=size_rank)
    ['00', '0', '2', '10', 'S', 'L']
    >>> sorted(["XL", "4XL", "M", "2XS"], key=size_rank)
    ['2XS', 'M', 'XL', '4XL']
    """
    if re.fullmatch(r"[0-9]{1,6}", size):
        value = float(size)
        return (0, value, -float(len(size)) if value == 0.0 else 0.0)
    letters = size.upper()
    if more := re.fullmatch(r"([2-9])X([SL])", letters):
        # 2XL is XXL, 3XS is XXXS.
        many = float(more[1])
        return (1, LETTERS.index("L") + many if more[2] == "L" else LETTERS.index("S") - many, 0.0)
    return (1, float(LETTERS.index(letters)), 0.0) if letters in LETTERS else None
