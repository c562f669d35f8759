"""The other line of a piece, drawn from what the piece holds: the cut line of a stitch line, or the reverse."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from crossgrain.errors import CollapseError, CrossgrainError, GeometryError
from crossgrain.kernel.length import path_length, places_at, run
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.parallels.outline_parallel import MITRE_LIMIT, parallel_of_outline
from crossgrain.kernel.parallels.outline_runs import Changing, Distance
from crossgrain.kernel.parallels.peak import peak
from crossgrain.kernel.parallels.shaped_corner import Join, Way
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.model.cutting.sewn_corner import CornerWay, corner_style
from crossgrain.model.cutting.unsewn import unsewn
from crossgrain.model.cutting.width import Width
from crossgrain.model.cutting.widths_along import mouth, pressed_darts, shut_place, stations_along
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.piece import Edge, Piece
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
    edges = [_peaked(piece, edge) if stitched else [_Part(edge.line, _law(piece, edge))] for edge in _edges(piece)]
    parts = [part for edge in edges for part in edge]
    outline = Path.joined([segment for part in parts for segment in part.line.segments], closed=True)
    distances = [part.distance for part in parts for _segment in part.line.segments]
    joins = _joins(piece, [sum(len(part.line.segments) for part in edge) for edge in edges]) if stitched else None
    try:
        return parallel_of_outline(outline, distances, limit=limit, accuracy=accuracy, joins=joins)
    except GeometryError as error:
        raise _placed(error, piece) from error


class _Part(NamedTuple):
    """A part of an edge, peaks among them, and how far the other line lies from it."""

    line: Path
    distance: Distance


def _edges(piece: Piece) -> tuple[Edge, ...]:
    return piece.edges if piece.outline == "stitch" else unsewn(piece)


def _law(piece: Piece, edge: Edge) -> Distance:
    """Return how far the other line lies from an edge: one number, or one law for all of it."""
    side = 1.0 if piece.outline == "stitch" else -1.0
    width = edge.allowance or Width.of(0.0)
    if width.is_even:
        return side * width.start
    if piece.outline == "cut":
        # The widths are those along the stitch line, which is not drawn yet.
        return Changing(stations=tuple((share, side * mm) for share, mm in width.stations), of_new=True)
    return Changing(stations=stations_along(piece, edge))


def _peaked(piece: Piece, edge: Edge) -> list[_Part]:
    """Return an edge in parts: as it is, but peaked across the mouths of darts that are pressed to a side."""
    law, pressed = _law(piece, edge), pressed_darts(piece, edge)
    if not pressed or edge.allowance is None or not edge.allowance.most:
        return [_Part(edge.line, law)]
    length = path_length(edge.line)
    alongs = [along for dart in pressed for along in mouth(dart, length)]
    if any(after - before <= COINCIDENT for before, after in pairwise((0.0, *alongs, length))):
        raise CollapseError(
            _("The mouth of a dart that is pressed to a side lies at the end of its edge, or in another one."),
            edge=edge.name,
            advice=_("Place it farther from the end, or leave it open."),
        )
    places = places_at(edge.line, (0.0, *alongs, length))
    runs = [run(edge.line, a, b) for a, b in zip(places[::2], places[1::2], strict=True)]
    shut = [shut_place(along, list(zip(alongs[::2], alongs[1::2], strict=True))) for along in (0.0, *alongs[1::2])]
    parts = [_Part(runs[0], law)]
    for dart, before, after, at in zip(pressed, runs, runs[1:], shut[1:], strict=False):
        tip = dart_points(piece, dart)[1]
        try:
            if dart.pressed == "start":
                first, last = peak(before, tip, after.start)
                begin = at - path_length(first)
            else:
                second, start = peak(after.reversed(), tip, before.end)
                first, last = start.reversed(), second.reversed()
                begin = at + path_length(second)
        except GeometryError as error:
            error.edge = edge.name
            raise
        # The halves are images of what lies beside the mouth, travelled there and back: so are their widths.
        parts += [
            _Part(first, _from(law, at, backwards=begin < at)),
            _Part(last, _from(law, begin, backwards=begin > at)),
            _Part(after, _from(law, at)),
        ]
    return parts


def _from(law: Distance, begins: float, *, backwards: bool = False) -> Distance:
    """Return a law of its own for a run that begins at a place of the edge."""
    return Changing(stations=law.stations, begins=begins, backwards=backwards) if isinstance(law, Changing) else law


def _joins(piece: Piece, counts: Sequence[int]) -> dict[int, Join]:
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
            joins[number] = Join(_JOINS[style.way], "before" if style.guide == arriving.name else "after", style.amount)
        number += counts[k]
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
