"""What is drawn on a sheet, before any programme writes it: lines and words, each on its layer."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Final, Literal, get_args

from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.bounds import Box, bounds
from crossgrain.kernel.path import Path
from crossgrain.model.cutting.lettering import BASELINE, text_width
from crossgrain.model.cutting.line_looks import LineLook

Purpose = Literal["stitch-lines", "cut-lines", "marks", "labels", "joins"]
PURPOSES: Final[tuple[Purpose, ...]] = get_args(Purpose)
"""What layers are for, from the lowest to the one on top."""

INK: Final = "#1d1d1b"
PALE: Final = "#8a8a86"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line.

    Args:
        line: in mm.
        look: how it is drawn.
        purpose: the layer it is on.
        size: the size it belongs to; empty for what belongs to all.
        filled: whether it is an area of its colour instead of a line.
    """

    line: Path
    look: LineLook
    purpose: Purpose
    size: str = ""
    filled: bool = False

    @property
    def box(self) -> Box:
        """The box around it, mm."""
        return bounds(self.line)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lettering:
    """One line of words.

    Args:
        text: the words.
        at: where their base line begins, mm.
        height: of the letters, mm: what SVG calls ``font-size``.
        purpose: the layer they are on.
        size: the size they belong to; empty for what belongs to all.
        angle_rad: the turn of the base line, clockwise as seen on the page.
        middle: whether ``at`` is the middle of the base line instead.
        colour: as ``#rrggbb``.
    """

    text: str
    at: Point
    height: float
    purpose: Purpose = "labels"
    size: str = ""
    angle_rad: float = 0.0
    middle: bool = False
    colour: str = INK

    @property
    def box(self) -> Box:
        """A box that holds it, mm."""
        width = text_width(self.text, self.height)
        left = -width / 2.0 if self.middle else 0.0
        top, bottom = -BASELINE * self.height, 0.3 * self.height
        corners = ((left, top), (left + width, top), (left + width, bottom), (left, bottom))
        turn = Affine.rotation(self.angle_rad).then(Affine.translation(*self.at))
        return bounds(Path.polygon([turn.of(corner) for corner in corners]))


Ink = Stroke | Lettering


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """What is laid out as a whole: a piece in all its sizes, or a page of words.

    Args:
        ink: what is drawn, mm.
        regions: closed lines within which paper is needed.
        is_head: whether it is one of the first pages rather than a piece.
        box: around all that is drawn, mm.
    """

    ink: tuple[Ink, ...]
    regions: tuple[Path, ...]
    is_head: bool = False
    box: Box = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "box", box_around(self.ink, self.regions))


def box_around(ink: Iterable[Ink], regions: Iterable[Path] = ()) -> Box:
    """Return the box around what is drawn and the regions, mm."""
    return Box.around([*(one.box for one in ink), *map(bounds, regions)])


def ruled(
    points: Iterable[Point],
    width: float = 0.2,
    *,
    purpose: Purpose = "labels",
    colour: str = INK,
    dashes: tuple[float, ...] = (),
    closed: bool = False,
    filled: bool = False,
) -> Stroke:
    """Return straight lines from point to point.

    >>> ruled([(0, 0), (5, 0)]).box
    Box(left=0.0, top=0.0, right=5.0, bottom=0.0)
    """
    whole = Path.polygon(list(points))
    line = whole if closed else Path(whole.segments[:-1])
    return Stroke(line=line, look=LineLook(width, dashes, colour), purpose=purpose, filled=filled)


def rectangle(box: Box, width: float = 0.2, **how: object) -> Stroke:
    """Return the outline of a box."""
    corners = ((box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom))
    return ruled(corners, width, closed=True, **how)  # type: ignore[arg-type]
