"""Check that the two sides of a seam are of one length, in all and from notch to notch."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Final

from crossgrain.checks.checked import Checked
from crossgrain.checks.eased import SeamEase, eased, is_more_than
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.model.seams.walking import Stop, Walk
from crossgrain.tolerances import SEAM_MATCH

_HARDLY_SEWN: Final = 0.05
"""Edges that differ by more than this share of their length may not be sewn to each other at all. Cloth eases in by
less (common practice: 2 to 4 %)."""


def check_lengths(walks: Iterable[Walk], eases: Sequence[SeamEase] = ()) -> Checked:
    """Compare the sides of each seam.

    Args:
        walks: the seams, walked.
        eases: what ease is meant.

    Returns:
        A finding for each seam whose sides differ by more than 0.5 mm from what is meant; where they agree in all, one
        for each stretch between notches that differs by more, unless a notch that has slipped explains it.
    """
    return Checked(findings=tuple(finding for one in walks for finding in _findings(one, eased(one, eases))))


def _findings(walk: Walk, ease: float) -> list[Finding]:
    if walk.pair.is_copy:
        return []
    first, second = walk.lengths
    if abs(second - first - ease) > SEAM_MATCH:
        return [_whole(walk, [stretch for stretch in _stretches(walk) if abs(stretch[2]) > SEAM_MATCH], ease)]
    off = [stretch for stretch in _stretches(walk) if is_more_than(stretch[2], ease)]
    slipped = {stop[0].along for stop in walk.partners if is_slipped(walk, *stop, ease)}
    return [_stretch(walk, *one) for one in off if not {one[0][0], one[1][0]} & slipped]


def is_slipped(walk: Walk, first: Stop, second: Stop, ease: float) -> bool:
    """Tell whether a notch lies elsewhere on the second side than on the first, from whichever end one measures."""
    gap = second.along - first.along
    return is_more_than(gap, ease) and is_more_than(walk.lengths[1] - walk.lengths[0] - gap, ease)


_Stretch = tuple[tuple[float, float], tuple[float, float], float]


def _stretches(walk: Walk) -> list[_Stretch]:
    """Return the stretches between partners: from and to, on either side, and how much longer the second one is."""
    at = [(0.0, 0.0), *((a.along, b.along) for a, b in walk.partners), walk.lengths]
    return [(p, q, (q[1] - p[1]) - (q[0] - p[0])) for p, q in pairwise(at)]


def _whole(walk: Walk, off: list[_Stretch], ease: float) -> Finding:
    (first, second), (one, other) = walk.lengths, walk.sides
    gap, is_second = abs(second - first), second > first
    longer, shorter = (other, one) if is_second else (one, other)
    message = _("It is {gap:.1f} mm longer on {longer} ({long:.1f} mm) than on {shorter} ({short:.1f} mm).").format(
        gap=gap,
        longer=longer.piece.label,
        shorter=shorter.piece.label,
        long=max(first, second),
        short=min(first, second),
    )
    if ease:
        message += " " + _("{ease:.1f} mm of ease on {eased} are meant.").format(
            ease=abs(ease), eased=(other if ease > 0.0 else one).piece.label
        )
    if walk.partners and off:
        parts = [
            _("{part} {gap:+.1f} mm").format(
                part=_part(walk, *stretch[:2]), gap=stretch[2] if is_second else -stretch[2]
            )
            for stretch in off
        ]
        message += " " + _("From notch to notch: {parts}.").format(parts="; ".join(parts))
    worst = max(off or _stretches(walk), key=lambda stretch: abs(stretch[2]))
    return Finding(
        piece=one.piece.label,
        edge=walk.pair.name,
        message=message,
        advice=_advice(walk.pair.name, gap, min(first, second)),
        position=walk.place(0, (worst[0][0] + worst[1][0]) / 2.0),
    )


def _advice(name: str, gap: float, length: float) -> str:
    true = _("True it: crossgrain true IN.svg -o OUT.svg --seam {seam}.").format(seam=name)
    if gap <= _HARDLY_SEWN * length:
        return true
    return _("If they are not sewn to each other, give them names of their own or say --not-sewn {seam}.").format(
        seam=name
    ) + (" " + true)


def _stretch(walk: Walk, start: tuple[float, float], end: tuple[float, float], gap: float) -> Finding:
    one, other = walk.sides
    longer, shorter = (other, one) if gap > 0.0 else (one, other)
    return Finding(
        piece=one.piece.label,
        edge=walk.pair.name,
        message=_("{part} is {gap:.1f} mm longer on {longer} than on {shorter}.").format(
            part=_part(walk, start, end), gap=abs(gap), longer=longer.piece.label, shorter=shorter.piece.label
        ),
        advice=_("Move a notch, or true the seam: crossgrain true IN.svg -o OUT.svg --seam {seam}.").format(
            seam=walk.pair.name
        ),
        position=walk.place(0, (start[0] + end[0]) / 2.0),
    )


def _part(walk: Walk, start: tuple[float, float], end: tuple[float, float]) -> str:
    first = walk.end_name(0) if start == (0.0, 0.0) else _("{along:.0f} mm").format(along=start[0])
    last = walk.end_name(1) if end == walk.lengths else _("{along:.0f} mm").format(along=end[0])
    return _("{first} to {last}").format(first=first, last=last)
