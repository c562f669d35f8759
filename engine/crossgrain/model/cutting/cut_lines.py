"""The lines of a piece as it is cut: which one the scissors follow, opened out at a fold, upright by its grain."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.path import Path
from crossgrain.model.cutting.opened_fold import opened_fold
from crossgrain.model.girths import HEM, WAIST
from crossgrain.model.marking.mark_lines import MarkKind, MarkLine, mark_lines
from crossgrain.model.piece import Edge, Piece

_PLAINLY = 0.1
"""An edge tells which end of a piece is the upper one when it lies this share of the length off its middle. A band's
lies along the whole of it, and tells nothing."""

_GRAIN: Final[tuple[MarkKind, ...]] = ("grain",)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutLines:
    """The lines of a piece in the plane of its drawing.

    Args:
        piece: the piece.
        stitch: the stitch line, or None where only the cut line is known.
        cut: the cut line, or None where there is none.
        marks: its marks.
        opened: whether these are the lines of the whole of a piece that is drawn as half.
    """

    piece: Piece
    stitch: Path | None
    cut: Path | None
    marks: tuple[MarkLine, ...]
    opened: bool = False

    @property
    def outer(self) -> Path:
        """The cut line, or the stitch line where there is none."""
        line = self.cut or self.stitch
        assert line is not None, "a piece has an outline"
        return line


def cut_lines(piece: Piece) -> CutLines:
    """Return the lines of a piece as it is drawn."""
    is_stitch = piece.outline == "stitch"
    return CutLines(
        piece=piece,
        stitch=piece.line if is_stitch else piece.counterpart,
        cut=piece.counterpart if is_stitch else piece.line,
        marks=mark_lines(piece),
    )


def opened_lines(piece: Piece) -> CutLines:
    """Return the lines of the whole of a piece that is cut on a fold, with its marks on both halves.

    Raises:
        GeometryError: the fold is not straight, or the cut line leaves it.
    """
    whole = opened_fold(piece)
    half = [mark for mark in mark_lines(piece) if mark.kind not in ("grain", "fold")]
    bare = Piece(id=piece.id, edges=(Edge(name="", line=Path(whole.outline.segments)),), grain=piece.grain)
    is_stitch = piece.outline == "stitch"
    return CutLines(
        piece=piece,
        stitch=whole.outline if is_stitch else whole.counterpart,
        cut=whole.counterpart if is_stitch else whole.outline,
        marks=(
            *mark_lines(bare, _GRAIN),
            *half,
            *(MarkLine(kind=mark.kind, line=mark.line.mapped(whole.mirror)) for mark in half),
        ),
        opened=True,
    )


def upright(piece: Piece) -> Affine:
    """Return the turn that lays a piece with its grain down the page, its waist up or its hem down.

    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> lying = Piece(id="p", edges=(Edge(name="", line=Path(square.segments)),), grain=(1.0, 0.0))
    >>> bounds(lying.line.mapped(upright(lying))).height
    100.0
    """
    gx, gy = piece.grain
    turn = Affine(gy, gx, -gx, gy)
    box = bounds(piece.line.mapped(turn))
    for name, way in ((WAIST, 1.0), (HEM, -1.0)):
        if name in piece.edge_names:
            own = bounds(piece.edge(name).line.mapped(turn))
            above = way * (box.centre[1] - own.centre[1]) / box.height
            if abs(above) > _PLAINLY:
                return turn if above > 0.0 else turn.then(Affine(-1.0, 0.0, 0.0, -1.0))
    return turn
