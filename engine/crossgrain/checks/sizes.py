"""Check that every seam matches in every size of a range."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from crossgrain.checks.checked import Checked
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.model.pattern import Pattern
from crossgrain.model.seams.pairing import pair_edges
from crossgrain.model.seams.walking import walk
from crossgrain.tolerances import SEAM_MATCH


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


def check_sizes(sizes: Mapping[str, Pattern], going_on: Collection[str] = ()) -> tuple[tuple[SeamRow, ...], Checked]:
    """Walk every seam in every size.

    Args:
        sizes: the pattern in each size, in order.
        going_on: names of edges that are not sewn to each other, besides waist, hem, neck and armhole.

    Returns:
        The seams, and a finding for each size in which one does not match within 0.5 mm. Pieces sewn to their own
        mirrored copies always match and are left out.

    >>> check_sizes({})
    ((), Checked(findings=(), unchecked=()))
    """
    rows: dict[tuple[str, str, str], dict[str, float]] = {}
    findings: list[Finding] = []
    unchecked: list[str] = []
    for size, pattern in sizes.items():
        pairs = pair_edges(pattern, going_on)
        unchecked += pairs.unchecked
        for pair in pairs.pairs:
            if pair.is_copy:
                continue
            first, second = walk(pair).lengths
            key = (pair.name, pair.first.piece.label, pair.second.piece.label)
            rows.setdefault(key, {})[size] = second - first
            if abs(second - first) > SEAM_MATCH:
                findings.append(
                    Finding(
                        piece=key[1],
                        edge=pair.name,
                        message=_("Size {size}: it is {gap:.1f} mm longer on {longer} than on {shorter}.").format(
                            size=size,
                            gap=abs(second - first),
                            longer=key[2] if second > first else key[1],
                            shorter=key[1] if second > first else key[2],
                        ),
                        advice=_("Alter the rules of its corners, or let grade-rules match the seam."),
                    )
                )
    found = tuple(SeamRow(seam=key[0], first=key[1], second=key[2], differences=row) for key, row in rows.items())
    return found, Checked(findings=tuple(findings), unchecked=tuple(dict.fromkeys(unchecked)))
