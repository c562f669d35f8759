"""Between a drawing and the pattern in it: read its pieces, and write back those that an operation altered."""

from __future__ import annotations

import contextlib
import math
from collections.abc import Iterable, Sequence
from itertools import accumulate

from crossgrain.errors import CrossgrainError, DocumentError, OpenOutlineError
from crossgrain.kernel.length import Place, distance_of, path_length, place_at, point_at, segment_length
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import CutInstruction, Piece, listed
from crossgrain.svg.drawing import Drawing
from crossgrain.svg.markup import is_marked, read_piece, write_piece
from crossgrain.svg.names import crossgrain
from crossgrain.svg.redraw import counterpart, follows, redraw
from crossgrain.svg.shape import Shape
from crossgrain.svg.writer import add_path, set_outline
from crossgrain.tolerances import CLOSING_GAP, COINCIDENT

_MOST_LISTED = 12


def pattern_of(drawing: Drawing, ids: Sequence[str] = ()) -> Pattern:
    """Read the pieces of a drawing.

    Args:
        drawing: the drawing.
        ids: the ids of outlines, marked or bare, or the names of marked pieces, in any order; none for every marked
            outline that is not hidden.

    Returns:
        The pieces, in the order in which they stand in the drawing. A bare outline is a piece with one nameless edge,
        whose grain runs up and down the page.

    Raises:
        DocumentError: no such shape, no marked outline, several lines in one shape, or facts that cannot be read.
        OpenOutlineError: a line that does not close; the message says where its ends are.
        GeometryError: a corner that cannot be found again.
    """
    return Pattern(pieces=tuple(_piece_of(drawing, shape) for shape in _outlines(drawing, ids)))


def readable_pattern(drawing: Drawing, ids: Sequence[str] = ()) -> tuple[Pattern, tuple[Finding, ...]]:
    """Read the pieces that can be read, and say of the others why they cannot; else as :func:`pattern_of`.

    Returns:
        The pieces that were read, and a finding for each that was not.

    Raises:
        DocumentError: no such shape, or no marked outline.
    """
    pieces, findings = [], []
    for shape in _outlines(drawing, ids):
        try:
            pieces.append(_piece_of(drawing, shape))
        except CrossgrainError as error:
            findings.append(
                Finding(
                    piece=error.piece or shape.id,
                    message=error.message,
                    advice=error.advice,
                    edge=error.edge or "",
                    position=error.position,
                )
            )
    return Pattern(pieces=tuple(pieces)), tuple(findings)


def marked_pieces(drawing: Drawing) -> tuple[Piece, ...]:
    """Return all marked pieces of a drawing that can be read; none where none is marked."""
    found = []
    for shape in _marked(drawing):
        with contextlib.suppress(CrossgrainError):
            found.append(_piece_of(drawing, shape))
    return tuple(found)


def _marked(drawing: Drawing) -> list[Shape]:
    return [
        shape
        for shape in drawing.shapes
        if is_marked(shape.element) and not (shape.hidden or shape.cloned or follows(shape.element))
    ]


def _outlines(drawing: Drawing, ids: Sequence[str]) -> list[Shape]:
    """Return the outlines that are named, or all that are marked, in the order of the drawing."""
    if ids:
        named = list({id(shape): shape for shape in (_named(drawing, name) for name in ids)}.values())
        for shape in named:
            if follows(shape.element):
                raise DocumentError(
                    _("{id} only shows what belongs to another outline.").format(id=shape.id),
                    advice=_("Name the outline itself."),
                )
        order = {id(shape): number for number, shape in enumerate(drawing.shapes)}
        return sorted(named, key=lambda shape: order[id(shape)])
    marked = _marked(drawing)
    if not marked:
        raise _nothing_marked(drawing)
    return marked


def update(drawing: Drawing, before: Pattern, after: Pattern) -> None:
    """Write the pieces that an operation altered back into the drawing, and draw their marks.

    As :func:`write_pieces` with :func:`draw_marks` after it.
    """
    draw_marks(drawing, write_pieces(drawing, before, after))


def write_pieces(drawing: Drawing, before: Pattern, after: Pattern) -> tuple[Piece, ...]:
    """Write the pieces that an operation altered back into the drawing, but for their marks.

    An outline that is still the same line keeps its element's path as it stands. The counterpart line of an altered
    piece is drawn again beside it; its marks are gone until :func:`draw_marks` draws them, for whoever does several
    things to a drawing needs them only once. Everything else in the drawing stays as it is.

    Args:
        drawing: the drawing that ``before`` was read from; altered in place.
        before: the pattern as it was read.
        after: the pattern now, with the same pieces or some of them. A piece whose id is new is drawn after the one it
            stands behind.

    Returns:
        The pieces that were altered.

    Raises:
        DocumentError: a piece that was not in the drawing, or one that is drawn through a clone.
    """
    old = {piece.id: piece for piece in before.pieces}
    beside, altered = "", []
    for piece in after.pieces:
        if old.get(piece.id) != piece:
            if piece.id not in old and beside and drawing.element(piece.id) is None:
                _copy(drawing, drawing.shape(beside), piece)
            _write(drawing, drawing.shape(piece.id), piece)
            altered.append(piece)
        beside = piece.id
    return tuple(altered)


def draw_marks(drawing: Drawing, pieces: Iterable[Piece]) -> None:
    """Draw the marks of pieces that were written into a drawing, each beside its outline."""
    for piece in pieces:
        shape = drawing.shape(piece.id)
        redraw(drawing, shape, piece, with_marks=is_marked(shape.element))


def _copy(drawing: Drawing, beside: Shape, piece: Piece) -> None:
    """Draw the outline of a new piece, looking as the one it stands after."""
    # After what is drawn beside that one, so that each outline has its own marks right behind it.
    element = add_path(drawing, beside, [piece.line], id=piece.id, style=beside.element.get("style", ""))
    last = beside.element
    while (following := last.getnext()) is not None and (following is element or follows(following)):
        last = following
    if last is not element:
        last.addnext(element)
    drawing.forget()


def _named(drawing: Drawing, name: str) -> Shape:
    """Find an outline by its id or, where no object has that id, by the name of its piece."""
    if drawing.element(name) is None:
        fitting = [
            shape
            for shape in drawing.shapes
            if shape.element.get(crossgrain("piece")) == name and not (shape.cloned or follows(shape.element))
        ]
        if len(fitting) == 1:
            return fitting[0]
        if fitting:
            raise DocumentError(
                _("{count} pieces are named {name}.").format(count=len(fitting), name=name),
                advice=_("Name the one you mean by its id: {ids}.").format(ids=listed(shape.id for shape in fitting)),
            )
    return drawing.shape(name)


def _piece_of(drawing: Drawing, shape: Shape) -> Piece:
    line = _closed_line(shape)
    is_cut = shape.element.get(crossgrain("outline"), "").strip() == "cut"
    return read_piece(shape.element, shape.id, line, counterpart(drawing, shape, "cut" if is_cut else "stitch"))


def _closed_line(shape: Shape) -> Path:
    """Return the one closed line of a shape, its tiny gaps closed and its empty segments left out."""
    label = shape.element.get(crossgrain("piece")) or shape.id
    paths = [path for path in shape.paths if path_length(path) > COINCIDENT]
    if not paths:
        raise DocumentError(_("{id} draws no line.").format(id=shape.id), advice=_("Name the outline of a piece."))
    if len(paths) > 1:
        raise DocumentError(
            _("{id} consists of {count} separate lines; an outline is one.").format(id=shape.id, count=len(paths)),
            advice=_("Break it apart in the editor, and name the outline."),
            piece=label,
            position=paths[1].start,
        )
    path = paths[0]
    gap = math.dist(path.start, path.end)
    if not path.closed and gap > CLOSING_GAP:
        raise OpenOutlineError(
            _("The outline is open: its ends lie {gap:.2f} mm apart.").format(gap=gap),
            advice=_("Join its two end nodes in the editor."),
            piece=label,
            position=path.end,
        )
    segments = [segment for segment in path.segments if segment_length(segment) > COINCIDENT]
    if len(segments) > 2 and isinstance(segments[-1], Line) and segment_length(segments[-1]) <= CLOSING_GAP:
        # What closes the line here is the gap that "close path" bridged, not an edge.
        del segments[-1]
    return Path.joined(segments, closed=True)


def _write(drawing: Drawing, shape: Shape, piece: Piece) -> None:
    if shape.cloned:
        raise DocumentError(
            _("{id} is a clone, which cannot be altered.").format(id=shape.id),
            advice=_("Unlink the clone in the editor, or name the object it copies."),
            piece=piece.label,
        )
    drawn = _drawn_line(shape)
    starts = [0.0, *accumulate(path_length(edge.line) for edge in piece.edges)][:-1]
    line, against, offset = piece.line, False, 0.0
    same = _same_line(drawn, line) if drawn is not None else None
    if same is None:
        set_outline(shape, [line])
    else:
        line, against, offset = same
    if is_marked(shape.element) or _has_facts(piece):
        total = path_length(line)
        places = tuple(_settled(line, place_at(line, (offset + start) % total)) for start in starts)
        write_piece(shape.element, piece, line, places, against=against)
    redraw(drawing, shape, piece, with_marks=False)


def _drawn_line(shape: Shape) -> Path | None:
    try:
        return _closed_line(shape)
    except (DocumentError, OpenOutlineError):
        return None


def _same_line(drawn: Path, line: Path) -> tuple[Path, bool, float] | None:
    """Tell whether two closed lines are one, but for their start, their direction and nodes on the line.

    Returns:
        The drawn line in the direction of the other, whether that is against its own, and how far along it the other
        starts, mm; None for different lines.
    """
    total = path_length(drawn)
    if abs(path_length(line) - total) > COINCIDENT:
        return None
    lengths = [segment_length(segment) for segment in line.segments]
    ends = [0.0, *accumulate(lengths)]
    for against in (False, True):
        way = drawn.reversed() if against else drawn
        offset = _distance_to(way, line.start)
        if offset is not None and all(
            math.dist(point_at(way, place_at(way, (offset + along) % total)), segment.start) <= COINCIDENT
            and math.dist(
                point_at(way, place_at(way, (offset + along + length / 2.0) % total)),
                point_at(Path((segment,)), place_at(Path((segment,)), length / 2.0)),
            )
            <= COINCIDENT
            for along, length, segment in zip(ends, lengths, line.segments, strict=False)
        ):
            return way, against, offset
    return None


def _distance_to(line: Path, point: tuple[float, float]) -> float | None:
    """Return how far along a line a point on it lies, mm; None where it does not lie on it."""
    found = nearest(line, point)
    return distance_of(line, found.place) if found.distance <= COINCIDENT else None


def _settled(line: Path, place: Place) -> Place:
    if place.t == 1.0:
        return Place((place.index + 1) % len(line.segments), 0.0)
    return place


def _has_facts(piece: Piece) -> bool:
    """Tell whether a piece holds anything that a bare outline does not."""
    return bool(
        piece.name
        or piece.edge_names != ("",)
        or piece.outline != "stitch"
        or piece.grain != (0.0, 1.0)
        or piece.cut != CutInstruction()
    )


def _nothing_marked(drawing: Drawing) -> DocumentError:
    ids = [shape.id for shape in drawing.shapes if not (shape.hidden or follows(shape.element))]
    if not ids:
        return DocumentError(
            _("{drawing} has no outlines in it.").format(drawing=drawing.name),
            advice=_("Draw the pieces as paths."),
        )
    shown = listed(ids[:_MOST_LISTED]) + (" …" if len(ids) > _MOST_LISTED else "")
    return DocumentError(
        _("No piece is marked in {drawing}.").format(drawing=drawing.name),
        advice=_("Name an outline by its id with --piece; the drawing has: {ids}.").format(ids=shown),
    )
