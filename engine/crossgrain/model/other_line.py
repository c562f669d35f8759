"""The other line of a piece, drawn from what the piece holds: the cut line of a stitch line, or the reverse."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Final

from crossgrain.errors import CrossgrainError, GeometryError
from crossgrain.kernel.length import path_length
from crossgrain.kernel.nearest import nearest
from crossgrain.kernel.outline_parallel import MITRE_LIMIT, parallel_of_outline
from crossgrain.kernel.outline_runs import Changing, Distance
from crossgrain.kernel.path import Path
from crossgrain.kernel.peak import peaked
from crossgrain.kernel.shaped_corner import Join, Way
from crossgrain.model.dart_lines import dart_points
from crossgrain.model.piece import Edge, Piece
from crossgrain.model.sewn_corner import CornerWay, corner_style
from crossgrain.model.unsewn import unsewn
from crossgrain.model.width import Width
from crossgrain.tolerances import ACCURACY, COINCIDENT

_JOINS: Final[Mapping[CornerWay, Way]] = {
    "mitred": "mitre",
    "blunted": "blunt",
    "squared": "square",
    "straight": "straight",
    "mirrored": "mirror",
    "stepped": "step",
}


def other_line(piece: Piece, *, limit: float = MITRE_LIMIT, accuracy: float = ACCURACY) -> Path:
    """Draw the line beside a piece's outline at the widths its edges hold, its corners as they are said to be.

    Args:
        piece: a piece whose outline does not cross itself; an edge that holds no width takes none.
        limit: how far the point of a mitred corner may lie from its corner, in widths.
        accuracy: the distance from the true parallel that is not exceeded, mm.

    Returns:
        Around a stitch line the cut line, with a peak at the mouth of each dart that is pressed to a side; inside a cut
        line the stitch line, which has plain corners. The edge on a fold goes on straight whatever its corners.

    Raises:
        CollapseError: widths that leave no line, or a corner or peak that cannot be drawn; it names the edge.
        AccuracyError: a curve that cannot be followed so closely.

    >>> from crossgrain.kernel.area import signed_area
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> edge = Edge(name="", line=Path(square.segments), allowance=Width.of(10.0))
    >>> round(signed_area(other_line(Piece(id="band", edges=(edge,)))), 6)
    9600.0
    """
    stitched = piece.outline == "stitch"
    edges = piece.edges if stitched else unsewn(piece)
    side = 1.0 if stitched else -1.0
    outline = Path.joined([segment for edge in edges for segment in edge.line.segments], closed=True)
    distances = [distance for edge in edges for distance in _distances(edge, side)]
    try:
        line = parallel_of_outline(
            outline, distances, limit=limit, accuracy=accuracy, joins=_joins(piece) if stitched else None
        )
    except GeometryError as error:
        raise _placed(error, piece) from error
    if stitched:
        for dart in piece.darts:
            width = piece.edge(dart.edge).allowance
            if dart.pressed and width is not None and width.most > 0.0:
                first, tip, last = dart_points(piece, dart)
                try:
                    line = peaked(line, tip, first, last, "first" if dart.pressed == "start" else "last")
                except GeometryError as error:
                    error.edge = dart.edge
                    raise
    return line


def _distances(edge: Edge, side: float) -> list[Distance]:
    """Return the distance of each segment of an edge: one number, or one law for all of them."""
    width = edge.allowance or Width.of(0.0)
    if width.is_even:
        return [side * width.start] * len(edge.line.segments)
    length = path_length(edge.line)
    law = Changing(stations=tuple((share * length, side * mm) for share, mm in width.stations))
    return [law] * len(edge.line.segments)


def _joins(piece: Piece) -> dict[int, Join]:
    """Return how corners are closed that are not mitred as usual, by the number of the segment that leaves them."""
    joins = {}
    number = 0
    for k, leaving in enumerate(piece.edges):
        arriving = piece.edges[k - 1]
        style = corner_style(piece, arriving.name, leaving.name)
        if style is not None and piece.cut.on_fold in (arriving.name, leaving.name) and piece.cut.on_fold:
            # What is cut on a fold must not reach beyond it, nor leave a notch at it.
            joins[number] = Join("straight", "before" if piece.cut.on_fold == arriving.name else "after")
        elif style is not None:
            joins[number] = Join(
                _JOINS[style.way], "before" if style.guide == arriving.name else "after", style.amount
            )
        number += len(leaving.line.segments)
    return joins


def _placed(error: GeometryError, piece: Piece) -> CrossgrainError:
    """Name in an error the edge, or the two edges of the corner, that it came from."""
    if error.edge is None and error.position is not None:
        for k, edge in enumerate(piece.edges):
            if math.dist(edge.line.start, error.position) <= COINCIDENT:
                error.edge = f"{piece.edges[k - 1].name}/{edge.name}" if len(piece.edges) > 1 else edge.name
                break
        else:
            place = error.position
            error.edge = min(piece.edges, key=lambda edge: nearest(edge.line, place).distance).name
    error.edge = error.edge or None
    return error
