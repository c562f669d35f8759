"""Whether a piece has room beside one of its edges where that bends."""

from __future__ import annotations

from crossgrain.errors import CollapseError
from crossgrain.kernel.area import winding
from crossgrain.kernel.path import Path
from crossgrain.kernel.strip import Guide
from crossgrain.language import _
from crossgrain.model.piece import Piece

_LEAST_ROOM = 0.05
"""What is left of the length of a strip's inner side, as a share of that of its edge, where it is drawn anew: less, and
it is all but a point."""


def check_fits(piece: Piece, name: str, guide: Guide) -> None:
    """Raise an error where a piece is as wide as the radius in which an edge of it bends, on the inner side.

    There every place on the far side is as near to another place of the edge, and what lies beside what cannot be told.

    Args:
        piece: the piece.
        name: the edge.
        guide: the guide of its line.

    Raises:
        CollapseError: it is; the error says where, and both figures.

    >>> from crossgrain.model import Edge
    >>> lines = Path.polygon([(0, 0), (300, 0), (300, 40), (0, 40)]).segments
    >>> edges = tuple(Edge(name=n, line=Path((line,))) for n, line in zip(("waist", "end", "top", "start"), lines))
    >>> check_fits(Piece(id="band", edges=edges), "waist", Guide.of(edges[0].line))  # straight: there is room
    """
    at = piece.edge_names.index(name)
    others = [*piece.edges[at + 1 :], *piece.edges[:at]]
    if not others:
        return
    rest = Path.joined([segment for edge in others for segment in edge.line.segments])
    # Inside lies on the other side of the normal where the outline's winding is positive.
    radius, width, place = guide.tightest(rest, -winding(piece.line))
    if width > (1.0 - _LEAST_ROOM) * radius:
        raise CollapseError(
            _(
                "It bends with a radius of {radius:.1f} mm there, and the piece is {width:.1f} mm wide inside the bend."
            ).format(radius=radius, width=width),
            piece=piece.label,
            edge=name,
            position=place,
            advice=_("Make the piece narrower than the radius there, or draw it anew from the edges it is sewn to."),
        )
