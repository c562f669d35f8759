"""Allow: draw the cut line beside the stitch line, or recover the stitch line inside a cut line."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final, Literal

from crossgrain.errors import ParameterError
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.parallels.outline_parallel import MITRE_LIMIT
from crossgrain.language import _
from crossgrain.model.cutting.other_line import other_line
from crossgrain.model.cutting.sewn_corner import SewnCorner, with_corners
from crossgrain.model.cutting.unshaped_corners import unshaped_corners
from crossgrain.model.cutting.width import Width
from crossgrain.model.cutting.width_set import WidthSet
from crossgrain.model.kept_segments import with_kept_segments
from crossgrain.model.lift import on_each_piece
from crossgrain.model.outcome import Change, Finding, Outcome
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Edge, OutlineKind, Piece, listed
from crossgrain.model.simple_outline import check_simple
from crossgrain.tolerances import ACCURACY

Pressed = Literal["start", "end"] | None
_ALL_CORNERS: Final[tuple[str, ...]] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowance:
    """How much cloth is left outside the stitch line, and how its corners are shaped.

    Args:
        width: at every edge of which nothing else is said, mm, 0 or more; none leaves the widths that the drawing
            holds.
        edges: names of edges with their widths; they go before all else.
        widths: a named set: the widths of classes of seams. They go before ``width``.
        classes: names of edges with the class of seam they are sewn as, kept in the drawing.
        corners: how corners are shaped, kept in the drawing. They go before those of the set.
        pressed: names of edges with the end to which the darts on them are pressed; None for darts that are not.
        limit: how far the point of a mitred corner may lie from its corner, in widths, above 1; longer points are
            cut off square. Another one than the usual is kept in the drawing.
        accuracy: the distance from the true parallel that the new line keeps within, mm, above 0.
    """

    width: float | None = None
    edges: tuple[tuple[str, Width], ...] = ()
    widths: WidthSet | None = None
    classes: tuple[tuple[str, str], ...] = ()
    corners: tuple[SewnCorner, ...] = ()
    pressed: tuple[tuple[str, Pressed], ...] = ()
    limit: float = MITRE_LIMIT
    accuracy: float = ACCURACY

    def __post_init__(self) -> None:
        if self.width is not None:
            Width.of(self.width)
        given: tuple[tuple[str, list[str]], ...] = (
            (_("Edge {name} is given two allowances."), [name for name, _width in self.edges]),
            (_("Edge {name} is given two classes of seam."), [name for name, _class in self.classes]),
            (_("The darts on edge {name} are pressed to two sides."), [name for name, _end in self.pressed]),
        )
        for message, names in given:
            for name in names:
                if names.count(name) > 1:
                    raise ParameterError(message.format(name=name))
        if not self.limit > 1.0:
            raise ParameterError(
                _("A mitre's limit of {limit:.4g} widths cuts into the allowance.").format(limit=self.limit),
                advice=_("Give more than 1."),
            )
        if not 0.0 < self.accuracy < math.inf:
            raise ParameterError(_("An accuracy is a length above zero."), advice=_("Give, say, 0.01 mm."))


def allow(pattern: Pattern, allowance: Allowance) -> Outcome[Pattern]:
    """Draw the cut line of each piece, a width per edge outside its stitch line.

    An edge takes the width given for it by name; else, from the set, that of the class it is sewn as; else the one
    given for all; else the one the drawing holds. The edge on a fold takes none unless it is named.

    Args:
        pattern: pieces whose outline is the stitch line.
        allowance: the widths and corners.

    Returns:
        The pattern with each piece's cut line as its counterpart, the widths kept on its edges and the corners with the
        piece. Away from corners the cut line lies within the accuracy of its true distance. Outside corners are shaped
        as was said, else mitred; inside corners end where the lines cross; where the width changes on a smooth line
        there is a step. The cut edge across a dart's mouth has its peak where the dart is pressed to a side.
        Findings: corners for which a style was given that they do not take.

    Raises:
        ParameterError: no width for an edge, an edge that no piece has, an outline that is the cut line already.
        SelfCrossingError: an outline that crosses itself.
        CollapseError: widths that leave no cut line, or a corner that cannot be shaped so.

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
        allowance: the widths, as for :func:`allow`, and how the corners of the cut line are shaped.

    Returns:
        The pattern with each piece's stitch line as its counterpart. What the allowance's corners hid cannot be known:
        a stitch line comes back with the corners where its edges meet.

    Raises:
        ParameterError: no width for an edge, an edge that no piece has, an outline that is the stitch line.
        SelfCrossingError: an outline that crosses itself.
        CollapseError: widths that leave no stitch line.
    """
    return _beside(pattern, allowance, "cut")


def renew(pattern: Pattern, allowance: Allowance) -> Outcome[Pattern]:
    """Draw the other line of each piece again, from the widths and corners that the drawing holds.

    Args:
        pattern: pieces of either kind.
        allowance: widths and corners that go before those kept; mostly none.

    Returns:
        The pattern. What is the same line as before stays what it was, to the last digit; twice is once. A piece that
        keeps no widths, and is given none, is left alone, with a finding.

    Raises:
        CrossgrainError: as :func:`allow` and :func:`strip` do.

    >>> from crossgrain.kernel.path import Path
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> pattern = Pattern(pieces=(Piece(id="band", edges=(Edge(name="", line=Path(square.segments)),)),))
    >>> once = allow(pattern, Allowance(width=10.0)).value
    >>> renew(once, Allowance()).value == once
    True
    """
    _check_names(pattern, allowance)
    return on_each_piece(pattern, lambda piece: _again(piece, allowance))


def _again(piece: Piece, allowance: Allowance) -> Outcome[Piece]:
    told = _told(piece, allowance)
    if all(_width(piece, edge, allowance) is None or edge.name == piece.cut.on_fold != "" for edge in told.edges):
        message = _("No widths are kept with this piece: its allowance was left as it is.")
        advice = _("Draw it once: crossgrain allow IN.svg -o OUT.svg --piece {id} --width 10mm.").format(id=piece.id)
        return Outcome(value=piece, findings=(Finding(piece=piece.label, message=message, advice=advice),))
    outcome = _one_beside(piece, allowance, piece.outline)
    if outcome.value.counterpart is None or piece.counterpart is None:
        return outcome
    line = with_kept_segments(outcome.value.counterpart, piece.counterpart)
    same = replace(outcome.value, counterpart=line)
    return Outcome(value=piece) if same == piece else replace(outcome, value=same)


def _beside(pattern: Pattern, allowance: Allowance, outline: OutlineKind) -> Outcome[Pattern]:
    _check_names(pattern, allowance)
    return on_each_piece(pattern, lambda piece: _one_beside(piece, allowance, outline))


def _check_names(pattern: Pattern, allowance: Allowance) -> None:
    """Refuse names of edges that no piece has; those in the file of a set are for other patterns, too."""
    there = {name for piece in pattern.pieces for name in piece.edge_names}
    named = [name for pairs in (allowance.edges, allowance.classes, allowance.pressed) for name, _value in pairs]
    for name in (*named, *(name for corner in allowance.corners for name in corner.edges)):
        if name not in there:
            raise ParameterError(
                _("No piece has an edge named {name}.").format(name=name),
                advice=_("There are: {names}.").format(names=listed(sorted(there)) or _("no named edges")),
            )
    if allowance.corners and there == {""}:
        raise ParameterError(
            _("The corners of a bare outline have no names to be styled by."),
            advice=_("Name its edges first: crossgrain mark IN.svg -o OUT.svg --piece ID --edges …."),
        )
    darts = {dart.edge for piece in pattern.pieces for dart in piece.darts}
    for name, _end in allowance.pressed:
        if name not in darts:
            raise ParameterError(
                _("No dart opens on the edge {name}.").format(name=name),
                advice=_("Darts open on: {names}.").format(names=listed(sorted(darts)) or _("no edge")),
            )


def _one_beside(piece: Piece, allowance: Allowance, outline: OutlineKind) -> Outcome[Piece]:
    if piece.outline != outline:
        raise _wrong_outline(outline)
    told = _told(piece, allowance)
    edges = []
    for edge in told.edges:
        width = _width(piece, edge, allowance)
        if width is None:
            raise ParameterError(
                _("No allowance is given."),
                edge=edge.name,
                advice=_("Give a width for all edges, or one for this edge."),
            )
        edges.append(replace(edge, allowance=width))
    told = replace(told, edges=tuple(edges))
    check_simple(piece)
    other = other_line(told, limit=allowance.limit, accuracy=allowance.accuracy)
    before, after = abs(signed_area(piece.line)), abs(signed_area(other))
    what = _("area inside the cut line") if outline == "stitch" else _("area inside the stitch line")
    return Outcome(
        value=replace(told, counterpart=other),
        changes=(Change(piece=piece.label, what=what, before=before, after=after, unit="mm2"),),
        findings=tuple(unshaped_corners(told, allowance.corners)) if outline == "stitch" else (),
    )


def _told(piece: Piece, allowance: Allowance) -> Piece:
    """Return a piece that keeps what was said of its edges, corners and darts."""
    names = {*piece.edge_names}
    classes = dict(allowance.classes)
    in_set = allowance.widths.corners if allowance.widths is not None else ()
    given = with_corners(in_set, allowance.corners)
    if allowance.limit != MITRE_LIMIT and not any(corner.edges == _ALL_CORNERS for corner in given):
        given = (*given, SewnCorner(edges=_ALL_CORNERS, way="mitred", amount=allowance.limit))
    # A bare outline keeps nothing; it is drawn with the limit that was given.
    corners = [corner for corner in given if names != {""} and names.issuperset(corner.edges)]
    pressed = dict(allowance.pressed)
    return replace(
        piece,
        edges=tuple(replace(edge, sewn_as=classes.get(edge.name, edge.sewn_as)) for edge in piece.edges),
        corners=with_corners(piece.corners, tuple(corners)),
        darts=tuple(replace(dart, pressed=pressed.get(dart.edge, dart.pressed)) for dart in piece.darts),
    )


def _width(piece: Piece, edge: Edge, allowance: Allowance) -> Width | None:
    """Return the width of an edge by all that is said of it; None where nothing is."""
    named = dict(allowance.edges)
    if edge.name in named:
        return named[edge.name]
    if edge.name and edge.name == piece.cut.on_fold:
        return Width.of(0.0)
    in_set = allowance.widths.width_of(edge) if allowance.widths is not None else None
    if in_set is not None:
        return in_set
    return Width.of(allowance.width) if allowance.width is not None else edge.allowance


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
