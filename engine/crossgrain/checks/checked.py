"""What checks give back: what to look at, and what could not be looked at."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from crossgrain.model.outcome import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """The result of one check or of several.

    Args:
        findings: what to look at, each with its place and the next step.
        unchecked: what could not be checked and why, a sentence each. None of it is a fault.
    """

    findings: tuple[Finding, ...] = ()
    unchecked: tuple[str, ...] = ()


def together(parts: Iterable[Checked]) -> Checked:
    """Join the results of several checks, in order.

    >>> together([Checked(unchecked=("No body was given.",)), Checked()]).unchecked
    ('No body was given.',)
    """
    kept = tuple(parts)
    return Checked(
        findings=tuple(finding for part in kept for finding in part.findings),
        unchecked=tuple(dict.fromkeys(sentence for part in kept for sentence in part.unchecked)),
    )
