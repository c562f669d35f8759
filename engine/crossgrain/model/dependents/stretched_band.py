"""A band whose edge becomes longer or shorter, stretch by stretch, and which keeps its width."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import distance_of, path_length, point_at_share
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.kernel.rescale import Rescale
from crossgrain.kernel.spans import Floats
from crossgrain.kernel.strip import Guide, Kept, strip_map
from crossgrain.kernel.warp import Map, moved_point, warped
from crossgrain.language import _
from crossgrain.model.dependents.fitting_strip import check_fits
from crossgrain.model.marking.carried_marks import with_marks_carried
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.moved_piece import moved_edges
from crossgrain.model.piece import Piece
from crossgrain.model.simple_outline import check_simple
from crossgrain.tolerances import LENGTH_REACHED

_STEPS = 20


def stretched_band(piece: Piece, name: str, old: Sequence[float], new: Sequence[float]) -> Piece:
    """Make an edge longer or shorter between places on it, and let the piece go with it.

    Kept are: every distance from the edge, measured square to it, so the band's width; the angles at the edge's ends;
    and how the edge bends, by its radius at every place. So a ring's part stays a part of the same ring, of another
    angle, and a straight band stays straight. What lies beside the edge becomes longer or shorter in the same ratio as
    the edge there. Not kept is therefore the turn of the whole edge, from one end to the other, which grows with its
    length. Of an edge traced by hand, which turns at its nodes, a smooth line in its middle stands in.

    The middle of the edge keeps its direction, and its start its place; of a piece cut on a fold beside an end of the
    edge, the fold stays where it is.

    Args:
        piece: the piece.
        name: its edge.
        old: where stretches meet on the edge, mm from its start, from 0 to its length.
        new: where they are to meet.

    Returns:
        The piece. Every stretch has its new length within 1e-6 mm; other curves lie within 0.01 mm of their true image.
        Notches, loops and all other marks keep their share of the stretch they lie on, or beside.

    Raises:
        CollapseError: the piece is as wide as the radius of the edge on the inner side of a bend.
        GeometryError: a stretch of no length; a length that is not reached.

    >>> from crossgrain.model import Edge
    >>> lines = Path.polygon([(0, 0), (300, 0), (300, 40), (0, 40)]).segments
    >>> edges = tuple(Edge(name=n, line=Path((line,))) for n, line in zip(("waist", "end", "top", "start"), lines))
    >>> band = stretched_band(Piece(id="band", edges=edges), "waist", [0.0, 100.0, 300.0], [0.0, 90.0, 280.0])
    >>> [(round(x, 6), round(y, 6)) for x, y in (edge.line.start for edge in band.edges)]
    [(0.0, 0.0), (280.0, 0.0), (280.0, 40.0), (0.0, 40.0)]
    """
    line = piece.edge(name).line
    guide = Guide.of(line)
    check_fits(piece, name, guide)
    shares = np.asarray(old) / old[-1]
    points = [point_at_share(line, min(float(share), 1.0)) for share in shares]
    places = guide.located(np.array([complex(*point) for point in points]))[0]
    kept = _kept(piece, name)
    # A first try as if the edge were its guide; then each joint is moved by what it misses.
    wanted = places + (np.asarray(new) - np.asarray(old))
    for _step in range(_STEPS):
        rescale = Rescale(places, wanted)
        longer = guide.lengthened(rescale, kept)
        move = strip_map(guide, longer, rescale)
        missed = np.asarray(new) - _reached(line, points, move)
        if float(np.abs(missed).max()) <= LENGTH_REACHED:
            break
        wanted = wanted + missed
    else:
        raise GeometryError(
            _("The edge cannot be brought to its length within a millionth of a millimetre."),
            piece=piece.label,
            edge=name,
            advice=_("Draw it anew from the edges it is sewn to."),
        )
    evenly = strip_map(guide, longer, rescale.evenly)

    def place(edge: str, share: float) -> Point:
        return moved_point(point_at_share(piece.edge(edge).line, share), evenly)

    edges = moved_edges(piece, move)
    out = with_marks_carried(piece, edges, place, lambda dart: moved_point(dart_points(piece, dart)[1], evenly))
    check_simple(out)
    return out


def _reached(line: Path, points: Sequence[Point], move: Map) -> Floats:
    """Return how far from the start of the moved line, as it is drawn, places on it lie now, mm."""
    drawn = Path.joined([part for parts in warped(line.segments, move) for part in parts])
    inner = [distance_of(drawn, nearest(drawn, moved_point(point, move)).place) for point in points[1:-1]]
    return np.array([0.0, *inner, path_length(drawn)])


def _kept(piece: Piece, name: str) -> Kept:
    names = piece.edge_names
    at = names.index(name)
    if piece.cut.on_fold and piece.cut.on_fold == names[at - 1]:
        return "start"
    if piece.cut.on_fold and piece.cut.on_fold == names[(at + 1) % len(names)]:
        return "end"
    return "middle"
