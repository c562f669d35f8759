"""A place on an outline that has no named edges yet."""

from __future__ import annotations

from dataclasses import dataclass

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import Place, distance_of, path_length, place_at
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.tolerances import SMOOTH_CORNER_SNAP, SPOT_REACH


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineSpot:
    """A node, a share of the length from the start, or a point on or near the line; one of the three.

    Args:
        node: the number of a node, counted from 0 at the line's start, as the editor counts.
        share: 0 to 1.
        point: mm in the drawing.
    """

    node: int | None = None
    share: float | None = None
    point: Point | None = None

    def __post_init__(self) -> None:
        if sum(way is not None for way in (self.node, self.share, self.point)) != 1:
            raise ParameterError(_("A place on an outline is a node, a share or a point, one of the three."))
        if self.share is not None and not 0.0 <= self.share <= 1.0:
            raise ParameterError(
                _("A place at {percent:.4g} % of an outline lies off it.").format(percent=self.share * 100.0),
                advice=_("Give a share from 0 % to 100 %."),
            )

    def on(self, line: Path) -> Place:
        """Return the place on a closed line; the node there, where one lies very near.

        Raises:
            ParameterError: no such node, or a point that lies far from the line.
        """
        if self.node is not None:
            if not 0 <= self.node < len(line.segments):
                raise ParameterError(
                    _("There is no node {node}.").format(node=self.node),
                    advice=_("The outline has nodes 0 to {last}.").format(last=len(line.segments) - 1),
                )
            return Place(self.node, 0.0)
        if self.share is not None:
            place = place_at(line, self.share * path_length(line))
        else:
            assert self.point is not None
            found = nearest(line, self.point)
            place = found.place
            if found.distance > SPOT_REACH:
                raise ParameterError(
                    _("The place given lies {gap:.1f} mm from the outline.").format(gap=found.distance),
                    position=self.point,
                    advice=_("Give a point on the line."),
                )
        return _at_node(line, place)


def _at_node(line: Path, place: Place) -> Place:
    total = path_length(line)
    along = distance_of(line, place)
    starts = [(distance_of(line, Place(number, 0.0)), number) for number in range(len(line.segments))]
    gap, number = min((abs((start - along + total / 2.0) % total - total / 2.0), number) for start, number in starts)
    return Place(number, 0.0) if gap <= SMOOTH_CORNER_SNAP else place
