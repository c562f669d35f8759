"""Lengthen or shorten: open or close pieces along the grain at a level."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from crossgrain.errors import ParameterError
from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.length import point_at_share
from crossgrain.kernel.spans import Complexes, Floats
from crossgrain.kernel.warp import Map
from crossgrain.language import _, level_key, level_word
from crossgrain.model.edge_lengths import edge_lengths
from crossgrain.model.girths import HEM, WAIST, depth_frame
from crossgrain.model.levels import depths_of_levels, depths_on_pieces
from crossgrain.model.marking.carried_marks import with_marks_carried
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.moved_piece import moved_piece
from crossgrain.model.outcome import Change, Finding, Outcome, counterpart_gone
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece, listed
from crossgrain.model.screened_pieces import with_screened_pieces
from crossgrain.model.seams.moved_edge import with_moved_edge
from crossgrain.tolerances import COINCIDENT

BLEND = 100.0
"""Over what length a piece is opened where nothing is said, mm: half above the level, half below it. Closing takes as
much more as is closed, below, so that it undoes opening at the same level."""

Keep = Literal["hem-width", "line"]

_HALVINGS, _STEPS = 8, 6
"""After so many halvings of where it may be, so many steps of Newton's method find the last digit, however much is
closed: the opened depth grows everywhere."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengthening:
    """How much longer pieces become, and where.

    Args:
        by: mm; negative shortens.
        at: the name of a level; ``hem`` is the lower end of the pieces. Empty where ``depth`` is given.
        depth: how far below the waist of the body, mm, instead.
        keep: ``hem-width`` opens the piece at the level, so that all below it goes down as it is; ``line`` leaves the
            seams where they are and lets the hem slide along them.
        blend: over what length it is opened, or what is left of the length over which it is closed, mm, above 0.
        levels: names of levels with their depths below the waist, mm.
    """

    by: float
    at: str = ""
    depth: float | None = None
    keep: Keep = "hem-width"
    blend: float = BLEND
    levels: tuple[tuple[str, float], ...] = ()

    def __post_init__(self) -> None:
        if not math.isfinite(self.by):
            raise ParameterError(_("An amount is not a number."))
        if bool(self.at) == (self.depth is not None):
            raise ParameterError(
                _("Where the pieces become longer is a level or a depth, one of the two."),
                advice=_("Give the hem, a level as knee, or a depth as 550mm."),
            )
        if not 0.0 < self.blend < math.inf:
            raise ParameterError(_("A blend is a length above zero."), advice=_("Give, say, 40 mm."))


def lengthen(pattern: Pattern, lengthening: Lengthening) -> Outcome[Pattern]:
    """Make every piece that crosses a level longer or shorter there, all by the same amount along the grain.

    Keeping the hem's width, what lies above the level stays, what lies below goes down by the amount, and between them
    edges are stretched along the grain, with a blend that leaves no kink and does the same to every piece at the same
    depth: so pairs still match. Keeping the line, the hem slides along the seams, which are cut or drawn on as they
    were going.

    Args:
        pattern: the pieces; stabilised ones stay as they are.
        lengthening: where and by how much.

    Returns:
        The pattern. The length changes by the amount exactly; curves lie within 0.01 mm of the true image.

    Raises:
        ParameterError: a level that is not known or that no piece crosses; one so near to the waist or the hem that
            the blend would reach into it; no hem.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import Edge
    >>> lines = Path.polygon([(0, 0), (200, 0), (200, 900), (0, 900)]).segments
    >>> edges = tuple(Edge(name=n, line=Path((line,))) for n, line in zip(("waist", "side", "hem", "inseam"), lines))
    >>> pattern = Pattern(pieces=(Piece(id="front", edges=edges),))
    >>> lengthen(pattern, Lengthening(by=-25.0, depth=550.0)).value.pieces[0].edge("hem").line.start
    (200.0, 875.0)
    """
    drawn, pattern = pattern, with_screened_pieces(pattern)
    if level_key(lengthening.at) == HEM:  # by the word of the language, too
        lengthening = replace(lengthening, at=HEM)
    pieces = [piece for piece in pattern.pieces if piece.goes_round]
    depths: dict[str, float] = {}
    if lengthening.at not in ("", HEM):
        _depth(pattern, lengthening)  # a level that is not known is a slip, even where the hem slides whatever it is
    if lengthening.keep == "line" or lengthening.at == HEM:
        wanted = [piece for piece in pieces if HEM in piece.edge_names]
        where = _("a hem")
    else:
        depth = _depth(pattern, lengthening)
        depths = depths_on_pieces(pattern, depth)
        wanted = [piece for piece in pieces if piece.id in depths]
        where = (
            _("the level {level}").format(level=lengthening.at)
            if lengthening.depth is None
            else _("the level {depth:.0f} mm below the waist").format(depth=lengthening.depth)
        )
    if not wanted:
        raise ParameterError(
            _("No piece has {where}.").format(where=where),
            piece=listed(piece.label for piece in pieces),
            advice=_("Give another level."),
        )
    if not lengthening.by:
        return Outcome(value=drawn)
    changed = [_longer(piece, lengthening, depths.get(piece.id)) for piece in wanted]
    changes: list[Change] = []
    findings: list[Finding] = []
    for old, new in zip(wanted, changed, strict=True):
        changes += [_down(old, new), *edge_lengths(old, new)]
        findings += counterpart_gone(old)
    return Outcome(value=drawn.with_pieces(changed), changes=tuple(changes), findings=tuple(findings))


def _depth(pattern: Pattern, lengthening: Lengthening) -> float:
    if lengthening.depth is not None:
        return depths_of_levels(pattern, [("", lengthening.depth)])[""]
    depths = depths_of_levels(pattern, lengthening.levels)
    level = lengthening.at if lengthening.at in depths else level_key(lengthening.at)
    if level not in depths:
        raise ParameterError(
            _("There is no level named {name}.").format(name=lengthening.at),
            advice=_("Known are: {names}. Say how deep it lies, or name a body file.").format(
                names=listed((HEM, *map(level_word, depths)))
            ),
        )
    return depths[level]


def _longer(piece: Piece, lengthening: Lengthening, depth: float | None) -> Piece:
    frame = depth_frame(piece)
    down = frame.inverse().of_vector((0.0, lengthening.by))
    if lengthening.keep == "line":
        moved = piece.edge(HEM).line.mapped(Affine.translation(*down))
        edges = with_moved_edge(piece, HEM, moved)

        def place(edge: str, share: float) -> Point:
            x, y = point_at_share(piece.edge(edge).line, share)
            return (x + down[0], y + down[1]) if edge == HEM else (x, y)

        return with_marks_carried(piece, edges, place, lambda dart: dart_points(piece, dart)[1])
    stretch = lengthening.blend + max(0.0, -lengthening.by)
    top = depth - lengthening.blend / 2.0 if depth is not None else _hem_depth(piece) - stretch
    _check_room(piece, (top, top + stretch), lengthening)
    return moved_piece(piece, _opened(frame, top, lengthening))


def _hem_depth(piece: Piece) -> float:
    return bounds(piece.edge(HEM).line.mapped(depth_frame(piece))).top


def _check_room(piece: Piece, between: tuple[float, float], lengthening: Lengthening) -> None:
    """Refuse a level so near to waist or hem that the blend would reach into it, where less than all of it moves."""
    frame, (top, bottom) = depth_frame(piece), between
    ends = {edge.name: bounds(edge.line.mapped(frame)) for edge in piece.edges if edge.name in (WAIST, HEM)}
    over = {name: box.bottom - top if name == WAIST else bottom - box.top for name, box in ends.items()}
    name, worst = max(over.items(), key=lambda item: item[1], default=("", 0.0))
    if worst <= COINCIDENT:
        return
    is_at_hem = lengthening.at == HEM
    blend = math.floor(lengthening.blend - (worst if is_at_hem else 2.0 * worst))
    if is_at_hem:
        advice = _("Give a blend of at most {blend} mm.") if blend > 0 else _("Change it by less.")
    elif blend > 0:
        advice = _("Give a level {more} mm farther from it, a blend of at most {blend} mm, or the hem.")
    else:
        advice = _("Give a level {more} mm farther from it, or the hem.")
    raise ParameterError(
        _("{by:.0f} mm opened or closed over a blend of {blend:.0f} mm reach {over:.0f} mm beyond the {edge}.").format(
            by=abs(lengthening.by), blend=lengthening.blend, over=math.ceil(worst), edge=name
        ),
        piece=piece.label,
        edge=name,
        position=point_at_share(piece.edge(name).line, 0.5),
        advice=advice.format(more=math.ceil(worst), blend=blend),
    )


def _opened(frame: Affine, top: float, lengthening: Lengthening) -> Map:
    """Return the map that opens the plane along the grain from a depth on, or its inverse, which closes it."""
    origin, (dx, dy) = complex(*frame.inverse().of((0.0, 0.0))), frame.inverse().of_vector((0.0, 1.0))
    down = complex(dx, dy)
    blend, by = lengthening.blend, abs(lengthening.by)

    def opening(point: Complexes, direction: Complexes) -> tuple[Complexes, Complexes]:
        depth = ((point - origin) * np.conj(down)).real
        t = np.clip((depth - top) / blend, 0.0, 1.0)
        falls = (direction * np.conj(down)).real
        return point + by * _eased(t) * down, direction + 6.0 * t * (1.0 - t) * by / blend * falls * down

    def closing(point: Complexes, direction: Complexes) -> tuple[Complexes, Complexes]:
        depth = ((point - origin) * np.conj(down)).real
        low, high = np.zeros_like(depth), np.ones_like(depth)
        for _halving in range(_HALVINGS):
            t = (low + high) / 2.0
            is_above = top + blend * t + by * _eased(t) < depth
            low, high = np.where(is_above, t, low), np.where(is_above, high, t)
        t = (low + high) / 2.0
        for _step in range(_STEPS):
            t = np.clip(t - (top + blend * t + by * _eased(t) - depth) / (blend + 6.0 * t * (1.0 - t) * by), low, high)
        t = np.where(depth <= top, 0.0, np.where(depth >= top + blend + by, 1.0, t))
        steeper = 6.0 * t * (1.0 - t) * by / blend
        falls = (direction * np.conj(down)).real
        return point - by * _eased(t) * down, direction - steeper / (1.0 + steeper) * falls * down

    return opening if lengthening.by > 0.0 else closing


def _eased(t: Floats) -> Floats:
    """Return the smooth step from 0 to 1 that starts and ends level, 3t² - 2t³."""
    return t * t * (3.0 - 2.0 * t)


def _down(old: Piece, new: Piece) -> Change:
    """Return how long a piece is along its grain, before and after."""
    frame = depth_frame(old)
    before, after = (bounds(piece.line.mapped(frame)) for piece in (old, new))
    return Change(
        piece=old.label,
        what=_("length along the grain"),
        before=before.bottom - before.top,
        after=after.bottom - after.top,
    )
