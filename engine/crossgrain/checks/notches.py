"""Check that the notches of a seam meet: at the same distances, of the same kind, none alone."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from crossgrain.checks.checked import Checked
from crossgrain.checks.eased import SeamEase, eased
from crossgrain.checks.lengths import is_slipped
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.model.seams.walking import Stop, Walk
from crossgrain.tolerances import SEAM_MATCH


def check_notches(walks: Iterable[Walk], eases: Sequence[SeamEase] = ()) -> Checked:
    """Compare the notches of each seam.

    Where the sides themselves differ in length, where each notch lies is said with that.

    Args:
        walks: the seams, walked.
        eases: what ease is meant.

    Returns:
        A finding for each notch that lies more than 0.5 mm elsewhere on the other side, is of another kind there, or
        has no partner.
    """
    return Checked(
        findings=tuple(
            finding for one in walks if not one.pair.is_copy for finding in _findings(one, eased(one, eases))
        )
    )


def _findings(walk: Walk, ease: float) -> list[Finding]:
    one, other = (side.piece.label for side in walk.sides)
    is_even = abs(walk.lengths[1] - walk.lengths[0] - ease) <= SEAM_MATCH
    out = []
    for first, second in walk.partners:
        if is_even and is_slipped(walk, first, second, ease):
            out.append(
                _finding(
                    walk,
                    0,
                    first,
                    _(
                        "The notch {first:.1f} mm from the {end} on {one} lies {second:.1f} mm from it on {other}."
                    ).format(first=first.along, second=second.along, end=walk.end_name(0), one=one, other=other),
                    _("Move the one that is wrong; crossgrain true moves notches to match."),
                )
            )
        if first.count != second.count:
            out.append(
                _finding(
                    walk,
                    0,
                    first,
                    _("The notch {along:.1f} mm from the {end} is {first} on {one} and {second} on {other}.").format(
                        along=first.along,
                        end=walk.end_name(0),
                        first=_kind(first),
                        second=_kind(second),
                        one=one,
                        other=other,
                    ),
                    _("Give both the same kind, or the pieces may be sewn in wrongly."),
                )
            )
    for which, stop in walk.alone:
        has, lacks = (one, other) if which == 0 else (other, one)
        out.append(
            _finding(
                walk,
                which,
                stop,
                _("The notch {along:.1f} mm from the {end} on {has} has no partner on {lacks}.").format(
                    along=stop.along, end=walk.end_name(0), has=has, lacks=lacks
                ),
                _("Mark one there, or take this one away."),
            )
        )
    return out


def _finding(walk: Walk, which: int, stop: Stop, message: str, advice: str) -> Finding:
    return Finding(
        piece=walk.sides[which].piece.label,
        edge=walk.pair.name,
        message=message,
        advice=advice,
        position=walk.place(which, stop.along),
    )


def _kind(stop: Stop) -> str:
    return {1: _("single"), 2: _("double"), 3: _("triple")}[stop.count]
