"""Lay pieces out on a sheet, with the words that are written on them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.bounds import Box
from crossgrain.kernel.laid_boxes import laid_boxes
from crossgrain.kernel.meetings.crossing import path_crossings
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.model.cutting.cut_lines import CutLines, upright
from crossgrain.model.cutting.cut_plan import CutPiece, Material, around
from crossgrain.model.cutting.line_words import LineWord, line_word
from crossgrain.model.cutting.piece_label import PieceLabel, labelled
from crossgrain.model.marking.mark_lines import MarkLine

MARGIN: Final = 20.0
"""Around everything on the sheet, mm."""

HEAD: Final = 140.0
"""Kept at the top of the sheet for its title, its legend and the square that shows true scale, mm."""

NARROWEST: Final = 460.0
"""No sheet is narrower than its head, mm."""

_HEADING: Final = 22.0
"""Kept over the pieces of one material for its name, mm."""

_OVER = Affine.scaling(-1.0, 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Copy:
    """One copy of a piece that is to be laid out.

    Args:
        lines: of the piece.
        words: what is written on it, the largest line first.
        number: which copy it is, from 1.
        copies: how many there are.
        mirrored: whether it is the other way round than it is drawn.
        material: what it is cut from.
        is_template: whether it is a card to trace along.
    """

    lines: CutLines
    words: tuple[str, ...]
    number: int = 1
    copies: int = 1
    mirrored: bool = False
    material: Material = "cloth"
    is_template: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Pieces in their places, the size of the sheet, and the words over each material."""

    pieces: tuple[CutPiece, ...]
    width: float
    height: float
    headings: tuple[tuple[str, Point], ...] = ()


@dataclass(frozen=True, slots=True)
class _Standing:
    """A copy upright, before it has its place: how it is turned, its words, and the box around all that is drawn."""

    copy: Copy
    turn: Affine
    label: PieceLabel
    words: tuple[LineWord, ...]
    box: Box


def laid_out(groups: Iterable[tuple[str, float, Sequence[Copy]]], gap: float) -> Sheet:
    """Lay copies of pieces out, all grains upright.

    Args:
        groups: the copies that are laid out together, with the words over them (no words for none) and how wide the
            room for them is, mm.
        gap: the least distance between two, with all that is drawn of them, mm.

    Returns:
        The sheet. A group without copies takes no room.
    """
    pieces: list[CutPiece] = []
    headings: list[tuple[str, Point]] = []
    right, top = 0.0, HEAD
    for heading, width, copies in groups:
        if not copies:
            continue
        if heading:
            headings.append((heading, (MARGIN, top + 0.6 * _HEADING)))
            top += _HEADING
        standing = [_standing(copy) for copy in copies]
        corners = laid_boxes([(one.box.width, one.box.height) for one in standing], width, gap)
        for one, (x, y) in zip(standing, corners, strict=True):
            pieces.append(_placed(one, MARGIN + x - one.box.left, top + y - one.box.top))
            right = max(right, MARGIN + x + one.box.width)
        top = max(y + one.box.height for one, (_x, y) in zip(standing, corners, strict=True)) + top + max(gap, MARGIN)
    return Sheet(
        pieces=tuple(pieces),
        width=math.ceil(max(right + MARGIN, NARROWEST)),
        height=math.ceil(top),
        headings=tuple(headings),
    )


def _standing(copy: Copy) -> _Standing:
    turn = upright(copy.lines.piece)
    if copy.mirrored:
        turn = turn.then(_OVER)
    outer = copy.lines.outer.mapped(turn)
    stitch = copy.lines.stitch and copy.lines.stitch.mapped(turn)
    marks = _mapped(copy.lines.marks, turn)
    words = _line_words(outer, stitch)
    sewn = [stitch] if stitch is not None and stitch != outer else []
    label = labelled(copy.words, outer, ([mark.line for mark in marks], sewn, [word.room for word in words]))
    return _Standing(copy, turn, label, words, around(outer, stitch, marks, label))


def _line_words(outer: Path, stitch: Path | None) -> tuple[LineWord, ...]:
    """Say along the lines what they are; the cut line only where its word fits between it and the stitch line."""
    if stitch == outer:
        return tuple(filter(None, (line_word(_("stitch line"), outer),)))
    word = line_word(_("cut line"), outer)
    if stitch is None:
        return tuple(filter(None, (word,)))
    if word is not None and path_crossings(word.room, stitch):
        word = None
    return tuple(filter(None, (word, line_word(_("stitch line"), stitch))))


def _placed(one: _Standing, dx: float, dy: float) -> CutPiece:
    """Put a copy in its place, its lines straight from those of the drawing."""
    copy, lines = one.copy, one.copy.lines
    move = one.turn.then(Affine.translation(dx, dy))

    def moved(line: Path | None) -> Path | None:
        return None if line is None else line.mapped(move)

    return CutPiece(
        piece=lines.piece,
        number=copy.number,
        copies=copy.copies,
        material=copy.material,
        move=move,
        opened=lines.opened,
        is_template=copy.is_template,
        stitch=moved(lines.stitch),
        cut=moved(lines.cut),
        marks=_mapped(lines.marks, move),
        label=one.label.moved(dx, dy),
        words=tuple(replace(word, at=(word.at[0] + dx, word.at[1] + dy)) for word in one.words),
    )


def _mapped(marks: Iterable[MarkLine], affine: Affine) -> tuple[MarkLine, ...]:
    return tuple(MarkLine(kind=mark.kind, line=mark.line.mapped(affine)) for mark in marks)
