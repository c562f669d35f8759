"""What trueing says of a seam: its lengths from notch to notch, before and after, and notches that are alone."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from crossgrain.language import _
from crossgrain.model.outcome import Change, Finding
from crossgrain.model.piece import listed
from crossgrain.model.seams.walking import Walk


def stretches(before: Sequence[Walk], after: Sequence[Walk]) -> list[Change]:
    """Return by how much the sides of seams differed from notch to notch, and differ now.

    Args:
        before: the seams walked before they were changed.
        after: the same seams in the same order, walked now.
    """
    out = []
    for old, new in zip(before, after, strict=True):
        if old.pair.is_copy:
            continue
        label = listed(side.piece.label for side in old.sides)
        for part, was, now in zip(_parts(old), _differences(old), _differences(new), strict=False):
            out.append(Change(piece=label, edge=old.pair.name, what=part, before=was, after=now))
    return out


def _parts(one: Walk) -> list[str]:
    names = [
        one.end_name(0),
        *(_("notch {number}").format(number=k + 1) for k in range(len(one.partners))),
        one.end_name(1),
    ]
    return [
        _("longer on {piece} from {first} to {last}").format(piece=one.sides[1].piece.label, first=first, last=last)
        for first, last in pairwise(names)
    ]


def _differences(one: Walk) -> list[float]:
    stops = [(0.0, 0.0), *((first.along, second.along) for first, second in one.partners), one.lengths]
    return [(q[1] - p[1]) - (q[0] - p[0]) for p, q in pairwise(stops)]


def alone_notches(walks: Sequence[Walk]) -> list[Finding]:
    """Return what to say of notches that have no partner.

    Args:
        walks: the seams, walked.
    """
    return [
        Finding(
            piece=one.sides[which].piece.label,
            edge=one.pair.name,
            message=_("A notch {along:.1f} mm from the {end} has no partner, and was left.").format(
                along=stop.along, end=one.end_name(0)
            ),
            advice=_("Mark one on the other side too, or take it away."),
            position=one.place(which, stop.along),
        )
        for one in walks
        for which, stop in one.alone
    ]
