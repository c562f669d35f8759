"""How often a closed line that crosses itself goes round what lies beside each of its stretches.

At every crossing the number changes by one, up or down by the side from which the other part comes. So the numbers
follow from each other along the line, however small the loops are: nothing has to be measured between two parts
that lie nearer to each other than any measure.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import Place
from crossgrain.kernel.meetings.crossing import Crossing
from crossgrain.kernel.path import Path
from crossgrain.tolerances import ROUND_OFF


def windings_along(line: Path, crossings: Sequence[Crossing]) -> Mapping[Place, int] | None:
    """Return how often a closed line goes round what lies on the inner side of it, as against its very first stretch.

    The inner side is the right of the direction of travel as seen on the page; on the other side it is one less.

    Args:
        line: a closed path.
        crossings: all places where it meets itself.

    Returns:
        For each place where the line meets itself, on either part, the number for the stretch that begins there, less
        that for the stretch before the first place. None where the crossings contradict each other, or where parts
        run along each other or meet three at a place: then it must be found out otherwise.

    >>> from crossgrain.kernel.meetings.crossing import self_crossings
    >>> bow = Path.polygon([(0, 0), (10, 10), (10, 0), (0, 10)])
    >>> windings_along(bow, self_crossings(bow))
    {Place(index=0, t=0.5): -1, Place(index=2, t=0.5): 0}
    """
    steps: dict[Place, int] = {}
    for crossing in crossings:
        if crossing.kind == "overlap" or crossing.a in steps or crossing.b in steps or crossing.a == crossing.b:
            return None
        side = 0 if crossing.kind == "touch" else _side(line, crossing)
        if side is None:
            return None
        steps[crossing.a], steps[crossing.b] = -side, side
    number = 0
    before: dict[Place, int] = {}
    after: dict[Place, int] = {}
    for place in sorted(steps):
        before[place] = number
        number += steps[place]
        after[place] = number
    crossed = (crossing for crossing in crossings if crossing.kind == "cross")
    if any(before[one.b] != after[one.a] or after[one.b] != before[one.a] for one in crossed):
        return None
    return after


def _side(line: Path, crossing: Crossing) -> int | None:
    """Return 1 where the later part goes over to the inner side of the earlier one, else -1; None if unclear."""
    (back, ahead), (_from, to) = _arms(line, crossing.a), _arms(line, crossing.b)
    if back is None or ahead is None or to is None:
        return None
    whole = math.tau
    behind, over = ((math.atan2(*_turned(arm, ahead)) % whole) for arm in (back, to))
    if min(abs(over - behind), over, whole - over) <= ROUND_OFF:
        return None
    return 1 if over < behind else -1


def _arms(line: Path, place: Place) -> tuple[Point | None, Point | None]:
    """Return the directions back and ahead in which a line leaves one of its places."""
    segment = line.segments[place.index]
    if 0.0 < place.t < 1.0:
        x, y = segment.derivative(place.t)
        return ((-x, -y), (x, y)) if (x, y) != (0.0, 0.0) else (None, None)
    number = place.index + (place.t == 1.0)
    arriving = line.segments[number - 1].end_tangent
    leaving = line.segments[number % len(line.segments)].start_tangent
    return None if arriving is None else (-arriving[0], -arriving[1]), leaving


def _turned(arm: Point, ahead: Point) -> Point:
    """Return sine and cosine, not of unit size, of the turn from one direction to another."""
    return ahead[0] * arm[1] - ahead[1] * arm[0], ahead[0] * arm[0] + ahead[1] * arm[1]
