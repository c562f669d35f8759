"""What is cut: every piece laid out as it is cut, the list of them, and what else the garment needs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.bounds import Box, bounds
from crossgrain.kernel.path import Path
from crossgrain.model.cutting.line_words import LineWord
from crossgrain.model.cutting.piece_label import PieceLabel
from crossgrain.model.marking.mark_lines import MarkLine
from crossgrain.model.piece import Piece

Material = Literal["cloth", "stabiliser"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPiece:
    """One piece as it is laid out. Its lines are those of the drawing, moved, turned and mirrored and nothing else.

    Args:
        piece: the piece as it stands in the drawing.
        number: which of its copies it is, from 1.
        copies: how many of it are laid out.
        material: what it is cut from; the paper that stands for all is of cloth.
        move: from the drawing to the layout, mm: no more than a turn, a shift and, on a mirrored copy, a mirror.
        opened: whether it is the whole of a piece that is drawn as half.
        is_template: whether it is no piece, but the card along which a line of stitching is traced.
        stitch: the stitch line, or None where only the cut line is known.
        cut: the cut line, or None where there is none.
        marks: the lines of its marks.
        label: the words on it.
        words: what the lines are, along them.
    """

    piece: Piece
    number: int = 1
    copies: int = 1
    material: Material = "cloth"
    move: Affine
    opened: bool = False
    is_template: bool = False
    stitch: Path | None = None
    cut: Path | None = None
    marks: tuple[MarkLine, ...] = ()
    label: PieceLabel
    words: tuple[LineWord, ...] = ()

    @property
    def outer(self) -> Path:
        """The line along which the scissors go: the cut line, or the stitch line where there is none."""
        line = self.cut or self.stitch
        assert line is not None, "a piece has an outline"
        return line

    @property
    def mirrored(self) -> bool:
        """Whether it is laid out the other way round than it is drawn."""
        return self.move.determinant < 0.0

    @property
    def extent(self) -> Box:
        """The box around all that is drawn of it, mm; on paper no other piece comes into it."""
        return around(self.outer, self.stitch, self.marks, self.label)


def around(outer: Path, stitch: Path | None, marks: tuple[MarkLine, ...], label: PieceLabel) -> Box:
    """Return the box around the lines, marks and words of a piece, mm."""
    lines = [outer, *([] if stitch is None else [stitch]), *(mark.line for mark in marks)]
    lines += [] if label.leader is None else [label.leader]
    return Box.around((label.box, *map(bounds, lines)))


@dataclass(frozen=True, slots=True, kw_only=True)
class CutRow:
    """One line of the cut list: a piece, and how it is cut from one material.

    Args:
        id: of the piece.
        piece: its label.
        material: what it is cut from.
        count: how many.
        mirrored: whether every second one is cut the other way round.
        on_fold: the edge laid on a fold of the cloth, or none.
        has_allowance: whether the area is that inside the cut line.
        area: of one as it is cut, opened out where it is cut on a fold, mm².
        across: its extent across the grain, opened out, mm.
        along: its extent along the grain, mm.
    """

    id: str
    piece: str
    material: Material
    count: int
    mirrored: bool
    on_fold: str
    has_allowance: bool
    area: float
    across: float
    along: float

    @property
    def total(self) -> float:
        """The area of all of them, mm²."""
        return self.count * self.area


NotionKind = Literal["zip", "tape", "loop", "button"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Notion:
    """Something that is bought or cut beside the pieces.

    Args:
        kind: what it is.
        what: the same in words, with where it goes.
        count: how many.
        each: the length of one, or a button's diameter, mm.
        piece: the label of the piece that tells it.
        edge: the edge, or none.
    """

    kind: NotionKind
    what: str
    count: int
    each: float
    piece: str = ""
    edge: str = ""

    @property
    def total(self) -> float | None:
        """The length of all, mm; None for what is counted."""
        return None if self.kind == "button" else self.count * self.each


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothNeed:
    """How much of a material is needed: an estimate, no lay.

    Args:
        material: what it is.
        area: of all pieces cut from it, mm².
        width: of the cloth, mm.
        efficiency: the share of the cloth that ends in pieces, a ratio.
        length: what that comes to, and no less than the longest piece, mm.
    """

    material: Material
    area: float
    width: float
    efficiency: float
    length: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlan:
    """Pieces laid out for cutting.

    Args:
        garment: what it is called; empty where nobody said.
        pieces: as they are laid out, mm from the upper left corner of the sheet.
        width: of the sheet, mm.
        height: of the sheet, mm.
        headings: words on the sheet, each with the place of its first letter.
        rows: the cut list.
        notions: what else is needed.
        needs: how much of each material is needed, estimated.
    """

    garment: str = ""
    pieces: tuple[CutPiece, ...] = ()
    width: float
    height: float
    headings: tuple[tuple[str, Point], ...] = ()
    rows: tuple[CutRow, ...] = ()
    notions: tuple[Notion, ...] = ()
    needs: tuple[ClothNeed, ...] = ()
