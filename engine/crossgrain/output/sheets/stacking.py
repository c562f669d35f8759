"""Make blocks of what is cut: a piece with all that is drawn of it, in one size or in several over each other."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.bounds import bounds
from crossgrain.kernel.length import path_length, places_at, point_at
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.model.cutting.cut_plan import CutPiece, CutPlan
from crossgrain.model.cutting.lettering import BASELINE, LEADING
from crossgrain.model.cutting.line_looks import LOOKS, LineLook
from crossgrain.model.cutting.line_words import SIZE
from crossgrain.model.cutting.piece_label import PieceLabel
from crossgrain.model.sizes.size_look import size_look
from crossgrain.output.sheets.ink import Block, Ink, Lettering, Purpose, Stroke

_SIZE_WORD: Final = 3.0
"""Height of the word that says which size a line is, mm."""

_PAPER: Final = "#ffffff"

_EVERY: Final = 220.0
"""From one such word to the next along a line, mm: less than a page."""


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A piece in one size, and the map from its own plan to where the first size of it lies."""

    piece: CutPiece
    number: int
    size: str
    onto: Affine


def blocks_of(plan: CutPlan, *, thicker: float = 1.0) -> tuple[Block, ...]:
    """Return a block for each piece of a plan.

    Args:
        plan: what is cut.
        thicker: how many times wider the lines are.
    """
    return tuple(Block(ink=tuple(_thick(_piece_ink(piece), thicker)), regions=(piece.outer,)) for piece in plan.pieces)


def stacked_blocks(plans: Sequence[tuple[str, CutPlan]], *, thicker: float = 1.0) -> tuple[Block, ...]:
    """Return a block for each piece, all its sizes over each other.

    Pieces are the same piece where their names agree. They lie as their drawings hold them, as graded sizes do; where a
    drawing has it in another place, middle over middle.

    Args:
        plans: the name of each size and what is cut of it.
        thicker: how many times wider the lines are.
    """
    found: dict[tuple[str, int, str, bool], list[_Drawn]] = {}
    for number, (size, plan) in enumerate(plans):
        for piece in plan.pieces:
            key = (piece.piece.label, piece.number, piece.material, piece.is_template)
            stack = found.setdefault(key, [])
            onto = _onto(stack[0].piece, piece) if stack else Affine()
            stack.append(_Drawn(piece, number, size, onto))
    return tuple(
        Block(
            ink=tuple(_thick(_stack_ink(stack), thicker)),
            regions=tuple(one.piece.outer.mapped(one.onto) for one in stack),
        )
        for stack in found.values()
    )


def _onto(first: CutPiece, other: CutPiece) -> Affine:
    """Return the map that lays another size over the first."""
    as_drawn = other.move.inverse().then(first.move)
    box, own = bounds(first.outer), bounds(other.outer.mapped(as_drawn))
    x, y = own.centre
    if box.left <= x <= box.right and box.top <= y <= box.bottom:
        return as_drawn
    (x, y), (ox, oy) = box.centre, bounds(other.outer).centre
    return Affine.translation(x - ox, y - oy)


def _piece_ink(piece: CutPiece) -> Iterator[Ink]:
    yield from _outlines(piece, Affine(), LOOKS["scissors"], LOOKS["stitch"])
    yield from _marks(piece, Affine())
    yield from _label_ink(piece.label, Affine())
    for word in piece.words:
        yield Lettering(text=word.text, at=word.at, height=SIZE, angle_rad=word.angle_rad, middle=True)


def _stack_ink(stack: Sequence[_Drawn]) -> Iterator[Ink]:
    for one in stack:
        cut, stitch = cut_look(one.number), stitch_look(one.number)
        yield from (replace(ink, size=one.size) for ink in _outlines(one.piece, one.onto, cut, stitch))
        # The grain of the first size stands for all: others would lie over it.
        for ink in _marks(one.piece, one.onto, colour=cut.colour, grain=one is stack[0]):
            yield ink if one is stack[0] and ink.look.colour == LOOKS["grain"].colour else replace(ink, size=one.size)
        yield from _size_words(one, len(stack))
    least = min(stack, key=lambda one: abs(signed_area(one.piece.outer)))
    yield from _label_ink(_of_all(least, [one.size for one in stack]), least.onto)


def _of_all(one: _Drawn, sizes: Sequence[str]) -> PieceLabel:
    """Return the words on the smallest size, saying that they are those of all."""
    own, every = (_("size {size}").format(size=size) for size in (one.size, size_range(sizes)))
    lines = tuple((text.replace(own, every), height) for text, height in one.piece.label.lines)
    return replace(one.piece.label, lines=lines)


def _outlines(piece: CutPiece, onto: Affine, cut: LineLook, stitch: LineLook) -> Iterator[Stroke]:
    if piece.stitch is not None:
        yield Stroke(line=piece.stitch.mapped(onto), look=stitch, purpose="stitch-lines")
    if piece.cut is not None:
        yield Stroke(line=piece.cut.mapped(onto), look=cut, purpose="cut-lines")


def _marks(piece: CutPiece, onto: Affine, *, colour: str = "", grain: bool = True) -> Iterator[Stroke]:
    for mark in piece.marks:
        look = LOOKS[mark.kind]
        if mark.kind == "grain":
            if not grain:
                continue
        elif colour:
            look = replace(look, colour=colour)
        yield Stroke(line=mark.line.mapped(onto), look=look, purpose="marks")


def _label_ink(label: PieceLabel, onto: Affine) -> Iterator[Ink]:
    """Write the words on a piece, with their leader where they stand beside it."""
    if label.leader is not None:
        yield Stroke(line=label.leader.mapped(onto), look=LOOKS["leader"], purpose="labels")
    box, angle = label.box, -math.pi / 2.0 if label.turned else 0.0
    down = 0.0
    for text, size in label.lines:
        off = down + BASELINE * size
        at = (box.left + off, box.bottom) if label.turned else (box.left, box.top + off)
        yield Lettering(text=text, at=onto.of(at), height=size, angle_rad=angle)
        down += LEADING * size


def _size_words(one: _Drawn, count: int) -> Iterator[Ink]:
    """Write which size a line is, on the line itself, over and over: each size a little farther than the one before."""
    lines: list[tuple[Path | None, Purpose]] = [(one.piece.cut, "cut-lines"), (one.piece.stitch, "stitch-lines")]
    for line, purpose in lines:
        if line is None:
            continue
        line = line.mapped(one.onto)
        total = path_length(line)
        times = max(1, round(total / _EVERY))
        begin = (one.number + (0.5 if purpose == "cut-lines" else 0.0)) / count
        for place in places_at(line, (total * (k + begin % 1.0) / times for k in range(times))):
            yield from _size_word(one, point_at(line, place), purpose)


def _size_word(one: _Drawn, at: Point, purpose: Purpose) -> Iterator[Ink]:
    """Write a size in a gap of its line."""
    colour, half = cut_look(one.number).colour, 0.3 * _SIZE_WORD * len(one.size)
    (x, y), high = at, 0.5 * _SIZE_WORD
    gap = Path.polygon([(x - half, y - high), (x + half, y - high), (x + half, y + high), (x - half, y + high)])
    yield Stroke(line=gap, look=LineLook(0.1, (), _PAPER), purpose=purpose, size=one.size, filled=True)
    base = (x, y + 0.36 * _SIZE_WORD)
    yield Lettering(
        text=one.size, at=base, height=_SIZE_WORD, purpose=purpose, size=one.size, middle=True, colour=colour
    )


def _thick(ink: Iterable[Ink], times: float) -> Iterator[Ink]:
    for one in ink:
        yield replace(one, look=one.look.thicker(times)) if isinstance(one, Stroke) and times != 1.0 else one


def cut_look(number: int) -> LineLook:
    """Return how the cut line of a size looks among others, sizes counted from 0."""
    # Which of the sizes is the base, the drawings do not say.
    return size_look(number + 1)


def stitch_look(number: int) -> LineLook:
    """Return how the stitch line of a size looks: as its cut line, half as wide.

    >>> stitch_look(0).width / cut_look(0).width
    0.5
    """
    return replace(cut_look(number), width=cut_look(number).width / 2.0)


def size_range(sizes: Sequence[str]) -> str:
    """Return sizes in words: the first to the last.

    >>> size_range(["34"]), size_range(["34", "36", "38"])
    ('34', '34 to 38')
    """
    if len(sizes) < 2:
        return "".join(sizes)
    return _("{first} to {last}").format(first=sizes[0], last=sizes[-1])
