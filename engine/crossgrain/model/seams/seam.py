"""The sides of a seam: one edge of each piece that is sewn together there, all looked at the same way round."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from crossgrain.errors import ParameterError
from crossgrain.kernel.area import winding
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.model.girths import depth_frame
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Edge, Piece, listed


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamSide:
    """One edge of a seam, looked at from the seam's first end.

    The first end is the upper one on the body: of a side seam the waist, of an inseam the crotch.

    Args:
        piece: the piece.
        edge: the edge.
        line: the edge's line from the first end of the seam to its last.
        is_turned: whether that is against the order of the piece's edges.
        first_neighbour: the name of the edge beside it at the first end.
        last_neighbour: the name of the edge beside it at the last end.
    """

    piece: Piece
    edge: Edge
    line: Path
    is_turned: bool
    first_neighbour: str
    last_neighbour: str

    @property
    def inwards(self) -> float:
        """What a distance into the piece is multiplied by to be one along the normal of ``line``: 1 or -1."""
        return float(winding(self.piece.line) * (1 if self.is_turned else -1))

    @property
    def copies(self) -> int:
        """How many such edges the garment has: one for each time the piece is cut, two where it is on a fold."""
        return self.piece.cut.times

    def turned(self) -> SeamSide:
        """Return the same side looked at from the other end."""
        return replace(
            self,
            line=self.line.reversed(),
            is_turned=not self.is_turned,
            first_neighbour=self.last_neighbour,
            last_neighbour=self.first_neighbour,
        )


def sides_of(pattern: Pattern, seam: str) -> tuple[SeamSide, ...]:
    """Find the sides of a seam, each from the same end.

    Ends of one name belong together: where a front's side goes from waist to hem and a back's from hem to waist, the
    back's is turned. Where no name is shared, the end that lies higher on the body is the first.

    Args:
        pattern: the pieces.
        seam: the name of the edges.

    Raises:
        ParameterError: no piece has such an edge, or one has it on a fold, where there is no seam.
    """
    found = pattern.seam(seam)
    if not found:
        names = listed(sorted({name for piece in pattern.pieces for name in piece.edge_names}))
        raise ParameterError(
            _("No piece has an edge named {name}.").format(name=seam),
            advice=_("There are: {names}.").format(names=names)
            if names
            else _("The edges have no names yet; crossgrain mark names them."),
        )
    sides: list[SeamSide] = []
    for piece, edge in found:
        if edge.name == piece.cut.on_fold:
            raise ParameterError(
                _("The edge {name} lies on the fold, so nothing is sewn there.").format(name=seam),
                piece=piece.label,
                advice=_("Name a seam, or the pieces that have one there."),
            )
        side = _as_drawn(piece, edge)
        if _must_turn(side, sides):
            side = side.turned()
        sides.append(side)
    return tuple(sides)


def end_names(sides: Sequence[SeamSide]) -> tuple[frozenset[str], frozenset[str]]:
    """Return the names by which the first and the last end of a seam are known; one that names both names neither."""
    first = frozenset(side.first_neighbour for side in sides)
    last = frozenset(side.last_neighbour for side in sides)
    return first - last, last - first


def not_a_seam(name: str, sides: Sequence[SeamSide], advice: str) -> ParameterError:
    """Return what is said where edges that go on from piece to piece are taken for a seam.

    Args:
        name: the name of the edges.
        sides: the edges.
        advice: what to do instead.
    """
    return ParameterError(
        _("Edges named {name} go on from piece to piece and are not sewn to each other.").format(name=name),
        piece=listed(side.piece.label for side in sides),
        advice=advice,
    )


def layers_round(sides: Sequence[SeamSide]) -> list[int]:
    """Return how many layers of each side go round the body: facings and other stabilised pieces lie under them.

    Of a whole garment their sum is twice the number of its seams of that name.

    Args:
        sides: the sides of a seam.
    """
    if all(side.piece.cut.stabilised for side in sides):
        return [side.copies for side in sides]
    return [0 if side.piece.cut.stabilised else side.copies for side in sides]


def _as_drawn(piece: Piece, edge: Edge) -> SeamSide:
    names = piece.edge_names
    at = names.index(edge.name)
    return SeamSide(
        piece=piece,
        edge=edge,
        line=edge.line,
        is_turned=False,
        first_neighbour=names[at - 1],
        last_neighbour=names[(at + 1) % len(names)],
    )


def _must_turn(side: SeamSide, others: Sequence[SeamSide]) -> bool:
    first = {other.first_neighbour for other in others}
    last = {other.last_neighbour for other in others}
    as_is = (side.first_neighbour in first) + (side.last_neighbour in last)
    turned = (side.first_neighbour in last) + (side.last_neighbour in first)
    if as_is != turned:
        return turned > as_is
    frame = depth_frame(side.piece)
    return frame.of(side.line.end)[1] < frame.of(side.line.start)[1]
