"""Tell what follows an edge that has become longer or shorter, and was left as it was."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from crossgrain.errors import CrossgrainError
from crossgrain.language import _
from crossgrain.model.dependents.follows import sewn_length
from crossgrain.model.dependents.traced_edges import traced_edges
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece
from crossgrain.tolerances import SEAM_MATCH


def left_behind(before: Pattern, after: Pattern, others: Iterable[Piece] = ()) -> tuple[str, ...]:
    """Return the pieces and zips that no longer are as long as what they follow, by what was just done.

    Bends of an edge that keeps its length are left to the check.

    Args:
        before: the pieces as they were.
        after: the pieces now.
        others: further pieces of the drawing, which were not touched.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model.dependents.zips import Zip
    >>> from crossgrain.model.piece import Edge
    >>> def front(length):
    ...     lines = Path.polygon([(0, 0), (200, 0), (200, length), (0, length)]).segments
    ...     edges = tuple(Edge(name=n, line=Path((s,))) for n, s in zip(("waist", "side", "hem", "centre"), lines))
    ...     return Pattern(pieces=(Piece(id="front", edges=edges, zips=(Zip(edge="centre"),)),))
    >>> left_behind(front(160.0), front(170.0))
    ('the zip of front',)
    """
    old = {piece.id: piece for piece in before.pieces}
    now = {piece.id: piece for piece in (*others, *after.pieces)}
    changed = {
        (called, edge.name)
        for piece in after.pieces
        if piece.id in old
        for edge in piece.edges
        if edge.name in old[piece.id].edge_names
        and abs(sewn_length(piece, edge.name) - sewn_length(old[piece.id], edge.name)) > SEAM_MATCH
        for called in (piece.id, piece.name)
    }
    pattern = Pattern(pieces=tuple(now.values()))
    return tuple(label for piece in pattern.pieces for label in _left(pattern, piece, old.get(piece.id), changed))


def _left(pattern: Pattern, piece: Piece, was: Piece | None, changed: set[tuple[str, str]]) -> Iterator[str]:
    """Return what of a piece was left: the piece itself, its zips."""

    def is_left(own: str, name: str, edge: str) -> bool:
        return (name, edge) in changed and (was is None or was.edge(own).line == piece.edge(own).line)

    is_off = any(is_left(one.edge, term.piece, term.edge or one.edge) for one in piece.follows for term in one.terms)
    is_beside = any(is_left(one.edge, one.piece, one.traced) for one in piece.traces)
    if is_off or (is_beside and _parts(pattern, piece)):
        yield piece.label
    if any((piece.id, one.edge) in changed for one in piece.zips):
        yield _("the zip of {piece}").format(piece=piece.label)


def _parts(pattern: Pattern, piece: Piece) -> bool:
    """Tell whether a piece parts from what it traces: an edge of which it traces a part may change beside that."""
    try:
        return any(one.off > SEAM_MATCH for one in traced_edges(pattern, piece))
    except CrossgrainError:
        return True  # following it will say why
