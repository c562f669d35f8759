"""Check that every seam matches in every size of a range."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from crossgrain.checks.checked import Checked
from crossgrain.checks.eased import SeamEase, eased
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import listed
from crossgrain.model.seams.pairing import pair_edges
from crossgrain.model.seams.walking import walk
from crossgrain.tolerances import SEAM_MATCH

_Key = tuple[str, str, str]
"""A seam: its name, and the labels of the pieces on both sides."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamRow:
    """One seam in all sizes.

    Args:
        seam: the name of the edges.
        first: the label of the piece on one side.
        second: the label of that on the other.
        differences: by how much the second side is longer, mm, by size; a size without the seam is left out.
    """

    seam: str
    first: str
    second: str
    differences: Mapping[str, float]


def check_sizes(
    sizes: Mapping[str, Pattern],
    going_on: Collection[str] = (),
    eases: Mapping[str, tuple[SeamEase, ...]] | None = None,
) -> tuple[tuple[SeamRow, ...], Checked]:
    """Walk every seam in every size.

    Args:
        sizes: the pattern in each size, in order.
        going_on: names of edges that are not sewn to each other, besides waist, hem, neck and armhole.
        eases: what ease is meant in each size.

    Returns:
        The seams, and a finding for each that does not match within 0.5 mm or is not there, with the sizes in which it
        does not. Pieces sewn to their own mirrored copies always match and are left out.

    >>> check_sizes({})
    ((), Checked(findings=(), unchecked=()))
    """
    rows: dict[_Key, dict[str, float]] = {}
    missed: dict[_Key, dict[str, float]] = {}
    eased_seams: set[_Key] = set()
    unchecked: list[str] = []
    for size, pattern in sizes.items():
        pairs = pair_edges(pattern, going_on)
        unchecked += pairs.unchecked
        for pair in pairs.pairs:
            if pair.is_copy:
                continue
            walked = walk(pair)
            first, second = walked.lengths
            ease = eased(walked, (eases or {}).get(size, ()))
            key = (pair.name, pair.first.piece.label, pair.second.piece.label)
            rows.setdefault(key, {})[size] = second - first
            missed.setdefault(key, {})[size] = second - first - ease
            if ease:
                eased_seams.add(key)
    findings = [finding for key, row in missed.items() for finding in _findings(key, row, meant=key in eased_seams)]
    findings += [
        Finding(
            piece=first,
            edge=seam,
            message=_(
                "In size {sizes} it is not there: {first} or {second} is missing, or an edge is called otherwise."
            ).format(sizes=listed(lacking), first=first, second=second),
            advice=_("Grade that size again, or look at its drawing."),
        )
        for (seam, first, second), row in rows.items()
        if (lacking := [size for size in sizes if size not in row])
    ]
    found = tuple(SeamRow(seam=key[0], first=key[1], second=key[2], differences=row) for key, row in rows.items())
    return found, Checked(findings=tuple(findings), unchecked=tuple(dict.fromkeys(unchecked)))


def _findings(key: _Key, row: Mapping[str, float], *, meant: bool) -> Iterator[Finding]:
    """Say of one seam in which sizes a side is too long, for each side once."""
    seam, first, second = key
    for longer, shorter, sign in ((second, first, 1.0), (first, second, -1.0)):
        off = {size: sign * gap for size, gap in row.items() if sign * gap > SEAM_MATCH}
        if not off:
            continue
        everywhere = len(off) == len(row) > 1
        where = _("In every size") if everywhere else _("In size {sizes}").format(sizes=listed(off))
        said = (
            _("{where} it is up to {gap:.1f} mm longer on {longer} than is meant.")
            if meant
            else _("{where} it is up to {gap:.1f} mm longer on {longer} than on {shorter}.")
        )
        yield Finding(
            piece=first,
            edge=seam,
            message=said.format(where=where, gap=max(off.values()), longer=longer, shorter=shorter),
            advice=_("See whether it is so in the base: true that first, with its ease where some is meant.")
            if everywhere
            else _("Alter the rules of its corners, or let grade-rules match the seam."),
        )
