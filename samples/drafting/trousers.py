"""The whole pattern, trued or as first drafted."""

from __future__ import annotations

from crossgrain.model import Pattern
from drafting.back import back_lines, right_back
from drafting.band import waistband
from drafting.body import BODY, levels, measures
from drafting.fly import fly_facing, fly_guard
from drafting.front import front_lines, left_front, right_front


def trousers(*, trued: bool = True) -> Pattern:
    """Draft the six pieces for the wardrobe group's base size.

    All pieces are drawn as they are chalked, on the wrong side of the cloth: the right front has its centre on the
    left of the page. The grain runs down the page.
    """
    size, level = measures(BODY), levels(BODY)
    lines = front_lines(size, level)
    right = right_front(lines)
    back = right_back(back_lines(size, level, lines, trued=trued))
    return Pattern(
        pieces=(left_front(right), right, back, waistband(right, back), fly_facing(lines), fly_guard()),
    )
