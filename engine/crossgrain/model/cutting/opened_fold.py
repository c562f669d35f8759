"""Open out a piece that is cut on a fold: its half and the mirror image of that, joined along the fold."""

from __future__ import annotations

import math
from dataclasses import dataclass

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Segment, started_at, unit
from crossgrain.language import _
from crossgrain.model.piece import Piece
from crossgrain.tolerances import ACCURACY


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenedFold:
    """A piece opened out at its fold, in the plane of its drawing.

    Args:
        outline: the whole outline, from one end of the fold round both halves.
        counterpart: the whole of the other line, or None where none is drawn.
        mirror: the map from the half that is drawn to the other.
    """

    outline: Path
    counterpart: Path | None
    mirror: Affine


def opened_fold(piece: Piece) -> OpenedFold:
    """Return the whole of a piece that is cut on a fold.

    Args:
        piece: a piece with an edge on a fold.

    Returns:
        The lines of the drawn half as they are, without the fold, and their mirror images.

    Raises:
        GeometryError: the fold is not straight, the half reaches over its line, or the other line does not end on it.

    >>> from crossgrain.model.piece import CutInstruction, Edge
    >>> sides = Path.polygon([(0, 0), (35, 0), (35, 170), (0, 170)]).segments
    >>> names = ("waist", "fold", "foot", "centre")
    >>> edges = tuple(Edge(name=n, line=Path((side,))) for n, side in zip(names, sides))
    >>> half = Piece(id="guard", edges=edges, cut=CutInstruction(on_fold="fold"))
    >>> opened_fold(half).outline.nodes
    ((35.0, 170.0), (0.0, 170.0), (0.0, 0.0), (35.0, 0.0), (70.0, 0.0), (70.0, 170.0))
    """
    fold = piece.edge(piece.cut.on_fold).line
    first, last = fold.start, fold.end
    if max(abs(_beside(point, first, last)) for point in flatten(fold, ACCURACY).points.tolist()) > 2.0 * ACCURACY:
        raise GeometryError(
            _("The edge on the fold is not straight."),
            advice=_("Draw it straight, for cloth folds along a line."),
            piece=piece.label,
            edge=piece.cut.on_fold,
        )
    mirror = Affine.mirroring(first, last)
    at = piece.edge_names.index(piece.cut.on_fold)
    rest = [segment for edge in (*piece.edges[at + 1 :], *piece.edges[:at]) for segment in edge.line.segments]
    beside = [_beside(point, first, last) for point in flatten(Path(tuple(rest)), ACCURACY).points.tolist()]
    if min(beside) < -2.0 * ACCURACY and max(beside) > 2.0 * ACCURACY:
        raise GeometryError(
            _("The piece reaches over the line of its own fold, where there is no cloth."),
            advice=_("Look which edge lies on the fold, or draw the half within it."),
            piece=piece.label,
            edge=piece.cut.on_fold,
        )
    return OpenedFold(
        outline=_doubled(rest, mirror),
        counterpart=None if piece.counterpart is None else _other_opened(piece, piece.counterpart, mirror),
        mirror=mirror,
    )


def _other_opened(piece: Piece, line: Path, mirror: Affine) -> Path:
    """Take what lies along the fold out of the other line, and double the rest."""
    fold = piece.edge(piece.cut.on_fold).line
    first, last = fold.start, fold.end

    def lies_on_it(segment: Segment) -> bool:
        return all(abs(_beside(segment.point(t), first, last)) <= ACCURACY for t in (0.0, 0.5, 1.0))

    on = [lies_on_it(segment) for segment in line.segments]
    starts = [k for k in range(len(on)) if on[k - 1] and not on[k]]
    if len(starts) != 1:
        raise GeometryError(
            _("The line around the edge on the fold leaves it, so that it cannot be opened out."),
            advice=_("Draw its allowance again, with none on the fold."),
            piece=piece.label,
            edge=piece.cut.on_fold,
        )
    order = [*range(starts[0], len(on)), *range(starts[0])]
    return _doubled([line.segments[k] for k in order if not on[k]], mirror)


def _doubled(half: list[Segment], mirror: Affine) -> Path:
    """Join a line to its own mirror image, on whose axis it starts and ends."""
    other = [segment.mapped(mirror) for segment in Path(tuple(half)).reversed().segments]
    # The ends on the axis are their own images but for rounding; the drawn half keeps its own to the last digit.
    other[0] = started_at(other[0], half[-1].end)
    other[-1] = started_at(other[-1].reversed(), half[0].start).reversed()
    return Path((*half, *other), True)


def _beside(point: Point | list[float], first: Point, last: Point) -> float:
    """Return how far to one side of the line through two points another lies, mm."""
    x, y = unit(last[0] - first[0], last[1] - first[1])
    return math.fsum((x * (point[1] - first[1]), -y * (point[0] - first[0])))
