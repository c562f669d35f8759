"""One flat pattern piece: its outline as named edges, and its marks."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Final, Literal

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.model.cutting.sewn_corner import SewnCorner
from crossgrain.model.cutting.width import Width
from crossgrain.model.dependents.follows import Follows
from crossgrain.model.dependents.traces import Traces
from crossgrain.model.dependents.zips import Zip
from crossgrain.model.marking.marks import Dart, Hold, Notch
from crossgrain.model.marking.sewing_marks import Button, Buttonhole, Crease, Loop, Topstitching

OutlineKind = Literal["stitch", "cut"]

MARKS: Final = ("notches", "darts", "holds", "creases", "loops", "buttons", "buttonholes", "topstitching")
"""The fields of a piece that hold the marks on its edges."""

ON_EDGES: Final = (*MARKS, "follows", "traces", "zips")
"""Those that hold anything said of one of its edges by its name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutInstruction:
    """How many of a piece are cut, and from what.

    Args:
        count: how many, 1 or more.
        mirrored: whether every second one is cut the other way round.
        on_fold: the name of the edge laid on a fold of the cloth, or none.
        stabilised: whether it is cut in, or backed with, cloth that does not stretch.
    """

    count: int = 1
    mirrored: bool = False
    on_fold: str = ""
    stabilised: bool = False

    def __post_init__(self) -> None:
        if self.count < 1:
            raise ParameterError(_("A piece is cut at least once."), advice=_("Give a count of 1 or more."))

    @property
    def times(self) -> int:
        """How often what is drawn is in the garment: as often as it is cut, and twice where it is cut on a fold.

        >>> CutInstruction(count=2, mirrored=True).times, CutInstruction(on_fold="centre").times
        (2, 2)
        """
        return self.count * (2 if self.on_fold else 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """A run of the outline between two corners.

    Args:
        name: the name, unique on the piece; empty on the single edge of a bare outline.
        line: the run itself, open, in the order in which the edges are named.
        allowance: the width of cloth outside it; None where none was given.
        sewn_as: the class of seam it is sewn as, by its name in a set of widths; empty where none was said.
    """

    name: str
    line: Path
    allowance: Width | None = None
    sewn_as: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One flat pattern piece.

    The outline is its edges end to end. They stand in the order in which they were named, so on a mirrored piece
    the outline's winding is negative. A bare outline is one nameless edge that starts and ends at one point.

    Args:
        id: the id of the path in the drawing, unique in a pattern.
        name: what the maker calls it; empty on a bare outline.
        edges: at least one, each starting where the one before it ends, the last ending where the first starts.
        outline: ``stitch`` or ``cut``: which line the outline is.
        grain: unit vector of the lengthwise direction, in the plane of the drawing.
        cut: how many are cut, and from what.
        follows: which of its edges are as long as those of other pieces.
        traces: which of its edges are drawn after a part of another piece's edge.
        zips: which of its edges close with a zip.
        corners: how the corners of its cut line are shaped; those of which nothing is said are mitred.
        counterpart: the other of the two lines, where it has been drawn: the cut line of a piece whose outline is
            the stitch line, or the reverse.
    """

    id: str
    name: str = ""
    edges: tuple[Edge, ...]
    outline: OutlineKind = "stitch"
    grain: Point = (0.0, 1.0)
    cut: CutInstruction = field(default_factory=CutInstruction)
    notches: tuple[Notch, ...] = ()
    darts: tuple[Dart, ...] = ()
    holds: tuple[Hold, ...] = ()
    creases: tuple[Crease, ...] = ()
    loops: tuple[Loop, ...] = ()
    buttons: tuple[Button, ...] = ()
    buttonholes: tuple[Buttonhole, ...] = ()
    topstitching: tuple[Topstitching, ...] = ()
    follows: tuple[Follows, ...] = ()
    traces: tuple[Traces, ...] = ()
    zips: tuple[Zip, ...] = ()
    corners: tuple[SewnCorner, ...] = ()
    counterpart: Path | None = None

    def __post_init__(self) -> None:
        if not self.edges:
            raise ParameterError(_("A piece has no edges."), piece=self.id)
        names = [edge.name for edge in self.edges]
        for name in names:
            if names.count(name) > 1:
                raise ParameterError(
                    _("Two edges of one piece are both named {name}.").format(name=name),
                    advice=_("Give each edge a name of its own."),
                    piece=self.label,
                )
        for name in {mark.edge for kind in ON_EDGES for mark in getattr(self, kind)}:
            self.edge(name)
        for name in {name for corner in self.corners for name in corner.edges}:
            self.edge(name)

    @property
    def label(self) -> str:
        """The name, or the id where it has none: what messages call the piece."""
        return self.name or self.id

    @property
    def goes_round(self) -> bool:
        """Whether it goes round the body by itself: it stretches, and is not drawn after a piece that it lies on."""
        return not (self.cut.stabilised or self.traces)

    @property
    def line(self) -> Path:
        """The whole outline as one closed path."""
        return Path(tuple(segment for edge in self.edges for segment in edge.line.segments), True)

    @property
    def edge_names(self) -> tuple[str, ...]:
        """The names of the edges, in order."""
        return tuple(edge.name for edge in self.edges)

    def edge(self, name: str) -> Edge:
        """Find an edge by its name.

        Raises:
            ParameterError: the piece has none of that name.
        """
        for edge in self.edges:
            if edge.name == name:
                return edge
        raise ParameterError(
            _("There is no edge named {name}.").format(name=name),
            advice=_("Its edges are: {names}.").format(names=listed(self.edge_names) or _("not named yet")),
            piece=self.label,
        )


def is_called(piece: Piece, word: str) -> bool:
    """Tell whether a maker who says a word may mean a piece: by its id, its name or a word of its name.

    >>> from crossgrain.kernel.path import Path
    >>> edge = Edge(name="", line=Path(Path.polygon([(0, 0), (9, 0), (9, 9)]).segments))
    >>> is_called(Piece(id="p1", name="left front", edges=(edge,)), "front")
    True
    """
    return word in (piece.id, piece.name, *piece.name.split())


def listed(names: Iterable[str]) -> str:
    """Join the names that are not empty with commas."""
    return ", ".join(name for name in names if name)
