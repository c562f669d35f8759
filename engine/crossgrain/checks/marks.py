"""Check that what is pressed, stitched, drilled and closed on a piece has its place on it."""

from __future__ import annotations

from collections.abc import Iterator

from crossgrain.checks.checked import Checked
from crossgrain.checks.inside import is_inside
from crossgrain.errors import GeometryError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import path_length, point_at_share
from crossgrain.kernel.meetings.crossing import path_crossings
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.language import _
from crossgrain.model.edge_foot import foot
from crossgrain.model.marking.closing_lines import buttonhole_ends
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.notch_lines import notch_gap
from crossgrain.model.marking.pressing_lines import crease_line
from crossgrain.model.marking.sewing_marks import Topstitching
from crossgrain.model.marking.topstitching_line import topstitching_line
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import Piece
from crossgrain.tolerances import COINCIDENT


def check_marks(piece: Piece) -> Checked:
    """Look over the marks of a piece that no seam tells of.

    Args:
        piece: a piece whose outline does not cross itself.

    Returns:
        A finding for each double or triple notch whose strokes run together at the end of its edge, drill hole outside
        its dart, crease that no longer leads into the piece, button or buttonhole that reaches beyond the stitch line,
        and topstitching that cannot be drawn, leaves the piece or crosses a dart.

    >>> from crossgrain.model import Edge
    >>> from crossgrain.model.marking.sewing_marks import Button
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> button = Button(edge="", share=0.1, diameter=15.0, thickness=3.0, inset=5.0)
    >>> piece = Piece(id="band", edges=(Edge(name="", line=Path(square.segments)),), buttons=(button,))
    >>> check_marks(piece).findings[0].message
    'A button of 15.0 mm, 5.0 mm inside the edge, reaches beyond the piece.'
    """
    return Checked(
        findings=(*_notches(piece), *_drills(piece), *_creases(piece), *_buttons(piece), *_topstitching(piece))
    )


def _notches(piece: Piece) -> Iterator[Finding]:
    for notch in piece.notches:
        line = piece.edge(notch.edge).line
        room = min(notch.share, 1.0 - notch.share) * path_length(line)
        half = (notch.count - 1) / 2.0 * notch_gap(notch.kind)
        if half > room + COINCIDENT:
            yield Finding(
                piece=piece.label,
                edge=notch.edge,
                message=_("The strokes of a notch {room:.1f} mm from the end of the edge run together there.").format(
                    room=room
                ),
                advice=_("Move it along the edge, or make it a single one."),
                position=point_at_share(line, notch.share),
            )


def _drills(piece: Piece) -> Iterator[Finding]:
    for dart in piece.darts:
        if dart.drill >= dart.depth:
            yield Finding(
                piece=piece.label,
                edge=dart.edge,
                message=_("The drill hole {drill:.1f} mm short of the tip lies outside its dart.").format(
                    drill=dart.drill
                ),
                advice=_("Mark it nearer to the tip, as 10 mm short of it."),
                position=dart_points(piece, dart)[1],
            )


def _creases(piece: Piece) -> Iterator[Finding]:
    for crease in piece.creases:
        if crease_line(piece, crease) is None:
            yield Finding(
                piece=piece.label,
                edge=crease.edge,
                message=_("A crease has no way into the piece from there along the grain."),
                advice=_("Look at the grain, or start the crease on an edge across it."),
                position=point_at_share(piece.edge(crease.edge).line, crease.share),
            )


def _buttons(piece: Piece) -> Iterator[Finding]:
    outline = piece.line
    for button in piece.buttons:
        middle = foot(piece, button.edge, button.share).at(0.0, button.inset)
        if not is_inside(outline, middle) or nearest(outline, middle).distance < button.diameter / 2.0 - COINCIDENT:
            yield _beyond(
                piece,
                button.edge,
                middle,
                _("A button of {size:.1f} mm, {inset:.1f} mm inside the edge, reaches beyond the piece.").format(
                    size=button.diameter, inset=button.inset
                ),
            )
    for hole in piece.buttonholes:
        ends = buttonhole_ends(piece, hole)
        if not all(is_inside(outline, end) for end in ends) or path_crossings(Path((Line(*ends),)), outline):
            yield _beyond(
                piece,
                hole.edge,
                foot(piece, hole.edge, hole.share).at(0.0, hole.inset),
                _("A buttonhole of {size:.1f} mm, {inset:.1f} mm inside the edge, reaches beyond the piece.").format(
                    size=hole.length, inset=hole.inset
                ),
            )


def _beyond(piece: Piece, edge: str, at: Point, message: str) -> Finding:
    advice = _("Move it along the edge or farther inside, or take a smaller button.")
    return Finding(piece=piece.label, edge=edge, message=message, advice=advice, position=at)


def _topstitching(piece: Piece) -> Iterator[Finding]:
    for stitching in piece.topstitching:
        try:
            line = topstitching_line(piece, stitching)
        except GeometryError as error:
            yield _stitched(piece, stitching, error.message, error.position)
            continue
        leaving = [one for one in path_crossings(line, piece.line) if one.kind == "cross"]
        if leaving:
            yield _stitched(piece, stitching, _("Its topstitching leaves the piece."), leaving[0].point)
        for dart in piece.darts:
            first, tip, last = dart_points(piece, dart)
            met = path_crossings(line, Path((Line(first, tip), Line(tip, last))))
            if met:
                yield _stitched(piece, stitching, _("Its topstitching runs over a dart."), met[0].point)


def _stitched(piece: Piece, stitching: Topstitching, message: str, at: Point | None) -> Finding:
    advice = _("Give it another width, or other ends.")
    return Finding(piece=piece.label, edge=stitching.edge, message=message, advice=advice, position=at)
