"""Allow: draw the cut line beside the stitch line, or recover the stitch line inside a cut line."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from crossgrain.errors import ParameterError
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.length import path_length
from crossgrain.kernel.outline_parallel import MITRE_LIMIT, parallel_of_outline
from crossgrain.kernel.outline_runs import Changing
from crossgrain.language import _
from crossgrain.model.lift import on_each_piece
from crossgrain.model.outcome import Change, Outcome
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Edge, OutlineKind, Piece, listed
from crossgrain.model.simple_outline import check_simple
from crossgrain.model.width import Width
from crossgrain.tolerances import ACCURACY


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowance:
    """How much cloth is left outside the stitch line.

    Args:
        width: at every edge that is not named, mm, 0 or more; none leaves the widths that the drawing holds.
        edges: names of edges with their widths.
        limit: how far the point of a mitred corner may lie from its corner, in widths, above 1; longer points are
            cut off square.
        accuracy: the distance from the true parallel that the new line keeps within, mm, above 0.
    """

    width: float | None = None
    edges: tuple[tuple[str, Width], ...] = ()
    limit: float = MITRE_LIMIT
    accuracy: float = ACCURACY

    def __post_init__(self) -> None:
        if self.width is not None:
            Width.of(self.width)
        names = [name for name, _width in self.edges]
        for name in names:
            if names.count(name) > 1:
                raise ParameterError(_("Edge {name} is given two allowances.").format(name=name))
        if not self.limit > 1.0:
            raise ParameterError(
                _("A mitre's limit of {limit:.4g} widths cuts into the allowance.").format(limit=self.limit),
                advice=_("Give more than 1."),
            )
        if not 0.0 < self.accuracy < math.inf:
            raise ParameterError(_("An accuracy is a length above zero."), advice=_("Give, say, 0.01 mm."))


def allow(pattern: Pattern, allowance: Allowance) -> Outcome[Pattern]:
    """Draw the cut line of each piece, a width per edge outside its stitch line.

    An edge takes the width given for it by name; else the width given for all; else the one the drawing holds. The
    edge on a fold takes none unless it is named.

    Args:
        pattern: pieces whose outline is the stitch line.
        allowance: the widths.

    Returns:
        The pattern with each piece's cut line as its counterpart and the widths kept on its edges. Away from corners
        the cut line lies within the accuracy of its true distance. Outside corners are mitred; inside corners end
        where the lines cross; where the width changes on a smooth line there is a step.

    Raises:
        ParameterError: no width for an edge, an edge that no piece has, an outline that is the cut line already.
        SelfCrossingError: an outline that crosses itself.
        CollapseError: widths that leave no cut line.

    >>> from crossgrain.kernel.path import Path
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> pattern = Pattern(pieces=(Piece(id="band", edges=(Edge(name="", line=Path(square.segments)),)),))
    >>> [piece] = allow(pattern, Allowance(width=10.0)).value.pieces
    >>> round(signed_area(piece.counterpart), 6)
    9600.0
    """
    return _beside(pattern, allowance, "stitch")


def strip(pattern: Pattern, allowance: Allowance) -> Outcome[Pattern]:
    """Recover the stitch line of each piece, a width per edge inside its cut line.

    Args:
        pattern: pieces whose outline is the cut line.
        allowance: the widths, as for :func:`allow`.

    Returns:
        The pattern with each piece's stitch line as its counterpart. What the allowance's corners hid cannot be known:
        a stitch line comes back with the corners where its edges meet.

    Raises:
        ParameterError: no width for an edge, an edge that no piece has, an outline that is the stitch line.
        SelfCrossingError: an outline that crosses itself.
        CollapseError: widths that leave no stitch line.
    """
    return _beside(pattern, allowance, "cut")


def _beside(pattern: Pattern, allowance: Allowance, outline: OutlineKind) -> Outcome[Pattern]:
    there = {name for piece in pattern.pieces for name in piece.edge_names}
    for name, _width in allowance.edges:
        if name not in there:
            raise ParameterError(
                _("No piece has an edge named {name}.").format(name=name),
                advice=_("There are: {names}.").format(names=listed(sorted(there)) or _("no named edges")),
            )
    return on_each_piece(pattern, lambda piece: _one_beside(piece, allowance, outline))


def _one_beside(piece: Piece, allowance: Allowance, outline: OutlineKind) -> Outcome[Piece]:
    if piece.outline != outline:
        raise _wrong_outline(outline)
    edges = tuple(replace(edge, allowance=_width(piece, edge, allowance)) for edge in piece.edges)
    check_simple(piece)
    line = piece.line
    side = 1.0 if outline == "stitch" else -1.0
    distances = [distance for edge in edges for distance in _distances(edge, side)]
    other = parallel_of_outline(line, distances, limit=allowance.limit, accuracy=allowance.accuracy)
    changes = (
        Change(
            piece=piece.label,
            what=_("area inside the cut line") if outline == "stitch" else _("area inside the stitch line"),
            before=abs(signed_area(line)),
            after=abs(signed_area(other)),
            unit="mm2",
        ),
    )
    return Outcome(value=replace(piece, edges=edges, counterpart=other), changes=changes)


def _distances(edge: Edge, side: float) -> list[float | Changing]:
    """Return the distance of each segment of an edge: one number, or one law for all of them."""
    width = edge.allowance or Width.of(0.0)
    if width.is_even:
        return [side * width.start] * len(edge.line.segments)
    stations = tuple((share * path_length(edge.line), side * mm) for share, mm in width.stations)
    return [Changing(stations=stations)] * len(edge.line.segments)


def _width(piece: Piece, edge: Edge, allowance: Allowance) -> Width:
    named = dict(allowance.edges)
    if edge.name in named:
        return named[edge.name]
    if edge.name and edge.name == piece.cut.on_fold:
        return Width.of(0.0)
    width = Width.of(allowance.width) if allowance.width is not None else edge.allowance
    if width is None:
        raise ParameterError(
            _("No allowance is given."),
            edge=edge.name,
            advice=_("Give a width for all edges, or one for this edge."),
        )
    return width


def _wrong_outline(wanted: OutlineKind) -> ParameterError:
    if wanted == "stitch":
        return ParameterError(
            _("The outline is marked as the cut line, which has its allowance already."),
            advice=_("Strip it to recover the stitch line, or mark the outline as the stitch line."),
        )
    return ParameterError(
        _("The outline is the stitch line, which has no allowance to strip."),
        advice=_("Mark the outline as the cut line if that is what it is."),
    )
