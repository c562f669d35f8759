"""What is noted of the corners of a closed line, to find them again after editing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from crossgrain.kernel.affine import Point
from crossgrain.kernel.area import winding
from crossgrain.kernel.corners import turns_at
from crossgrain.kernel.length import Place, distance_of, path_length, point_at
from crossgrain.kernel.path import Path
from crossgrain.tolerances import CORNER_TURN


@dataclass(frozen=True, slots=True, kw_only=True)
class Remembered:
    """The corners of a closed line, as they can be found again.

    Args:
        shares: where each corner stands, as a share of the line's length from its start, 0 to 1, **in the direction
            in which the edges follow one another**; rising, but for one step over the line's start.
        turns_rad: the turn at each corner, positive where the line bulges outwards, whichever way it is travelled.
        against: whether the edges follow one another against the line's own direction.
        places: where the corners stood in the drawing, mm, or none. Only hints: to choose between readings that lengths
            and turns cannot tell apart, as on a rectangle, and to carry smooth corners along.
    """

    shares: tuple[float, ...]
    turns_rad: tuple[float, ...]
    against: bool = False
    places: tuple[Point, ...] = ()

    @property
    def true_corners(self) -> tuple[int, ...]:
        """The numbers of the corners that can be seen by their turn."""
        return tuple(number for number, turn in enumerate(self.turns_rad) if abs(turn) >= CORNER_TURN)


def remember(line: Path, places: Sequence[Place], *, against: bool = False) -> Remembered:
    """Note what is needed to find corners again.

    Args:
        line: a closed line, travelled in the direction in which the edges follow one another.
        places: where the corners lie on it, in that order.
        against: whether that direction is against the one in which the line is drawn.

    Returns:
        Shares, turns and places of the corners.

    >>> square = Path.polygon([(0, 0), (100, 0), (100, 100), (0, 100)])
    >>> remember(square, [Place(0, 0.0), Place(2, 0.0)]).shares
    (0.0, 0.5)
    """
    total = path_length(line)
    sign = 1.0 if winding(line) >= 0.0 else -1.0
    along = [distance_of(line, place) for place in places]
    return Remembered(
        shares=tuple(position / total for position in along),
        turns_rad=tuple(sign * turn for turn in turns_at(line, along)),
        against=against,
        places=tuple(point_at(line, place) for place in places),
    )
