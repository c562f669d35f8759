"""A named set of widths: how wide the allowance of each class of seam is."""

from __future__ import annotations

from dataclasses import dataclass

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.cutting.sewn_corner import SewnCorner
from crossgrain.model.cutting.width import Width
from crossgrain.model.piece import Edge, listed


@dataclass(frozen=True, slots=True, kw_only=True)
class WidthSet:
    """Widths by class of seam, and which edges are of which class.

    Args:
        name: what the maker calls the set.
        widths: classes of seams with their widths; at least one.
        edges: names of edges with their class; what the drawing says of an edge goes before it.
        otherwise: the class of every other edge; empty where there is none.
        corners: how corners are shaped.

    Raises:
        ParameterError: a class that the set has not.
    """

    name: str = ""
    widths: tuple[tuple[str, Width], ...]
    edges: tuple[tuple[str, str], ...] = ()
    otherwise: str = ""
    corners: tuple[SewnCorner, ...] = ()

    def __post_init__(self) -> None:
        for edge, sewn_as in (*self.edges, *((("", self.otherwise),) if self.otherwise else ())):
            self.width(sewn_as, edge)

    def width(self, sewn_as: str, edge: str = "") -> Width:
        """Return the width of a class.

        Raises:
            ParameterError: there is none of that name.
        """
        for name, width in self.widths:
            if name == sewn_as:
                return width
        raise ParameterError(
            _("The set of widths has no class “{name}”.").format(name=sewn_as),
            edge=edge or None,
            advice=_("There are: {names}.").format(names=listed(name for name, _width in self.widths)),
        )

    def width_of(self, edge: Edge) -> Width | None:
        """Return the width of an edge by what it is sewn as: the drawing's word, the set's, the set's for the rest.

        >>> from crossgrain.kernel.path import Path
        >>> from crossgrain.kernel.segment import Line
        >>> hem = Edge(name="hem", line=Path((Line((0.0, 0.0), (9.0, 0.0)),)))
        >>> WidthSet(widths=(("deep hem", Width.of(40.0)),), edges=(("hem", "deep hem"),)).width_of(hem).most
        40.0
        """
        sewn_as = edge.sewn_as or dict(self.edges).get(edge.name) or self.otherwise
        return self.width(sewn_as, edge.name) if sewn_as else None
