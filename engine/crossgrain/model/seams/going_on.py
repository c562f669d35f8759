"""Tell where edges go on smoothly from piece to piece, over a seam.

Which edges go on is what a pattern maker asks at each end of a seam:

* waist with waist, hem with hem, and other edges that are sewn to none of their own name: over the side seam, over the
  inseam, and square to a centre that is cut on a fold or sewn to its own mirrored copy;
* a seam that goes on over another, as a yoke's over a princess seam: the edges of one name that both pieces have, when
  they are sewn to something else;
* the crotch over the inseam, whether front and back call it alike or not: both are sewn to their own left and right.

Where left and right meet at the crotch point, the inseams need not go on: four pieces meet there, and the crotch seam
is the one that is sewn through.
"""

from __future__ import annotations

from crossgrain.model.seams.pairing import Pairs
from crossgrain.model.seams.walking import Walk


def goes_on(walk: Walk, at: int, pairs: Pairs) -> bool:
    """Tell whether the edges beside a seam's first (0) or last (1) end are one line when it is sewn.

    Args:
        walk: the seam, walked; not one of a piece with its own copy.
        at: the end.
        pairs: what is sewn to what.
    """
    (one, other), (first, second) = walk.sides, (ends[at] for ends in walk.ends)
    a, b = one.neighbour(first), other.neighbour(second)
    kinds = pairs.kind(one.piece, a), pairs.kind(other.piece, b)
    if all(kind in ("own copy", "twin") for kind in kinds):
        return not walk.pair.is_twin
    if a != b:
        return False
    if kinds == ("going on", "going on"):
        return True
    return kinds == ("seam", "seam") and not walk.pair.is_twin and not pairs.are_sewn(one.piece, other.piece, a)
