"""Keep those segments of a line drawn again that are what they were, to the last digit."""

from __future__ import annotations

import math

from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Segment, started_at
from crossgrain.tolerances import PATH_TEXT

_SAME = 4.0 * PATH_TEXT
"""Control points nearer than this are the same: what a drawing rounds them to, twice, and then some."""


def with_kept_segments(new: Path, old: Path) -> Path:
    """Return a closed line in which every segment that the old line had, too, is that of the old line.

    So a line drawn again from the same outline is the very same line, and one of which a part has changed differs in
    that part only.

    Args:
        new: the line as it was drawn now.
        old: the line as it stood, with coordinates rounded by being written.

    >>> old = Path.polygon([(0, 0), (10, 0), (10, 10)])
    >>> with_kept_segments(Path.polygon([(1e-7, 0), (10, 0), (10, 10)]), old) == old
    True
    """
    if _all_same(new.segments, old.segments):
        return old
    segments = [next((one for one in old.segments if _same(segment, one)), segment) for segment in new.segments]
    out: list[Segment] = []
    for segment in segments:
        out.append(started_at(segment, out[-1].end) if out and segment.start != out[-1].end else segment)
    if out[0].start != out[-1].end:
        out[0] = started_at(out[0], out[-1].end)
    return Path(tuple(out), True)


def _all_same(new: tuple[Segment, ...], old: tuple[Segment, ...]) -> bool:
    """Tell whether two closed runs are one, wherever they start."""
    if len(new) != len(old):
        return False
    for first, one in enumerate(old):
        if _same(new[0], one):
            return all(_same(a, b) for a, b in zip(new, (*old[first:], *old[:first]), strict=True))
    return False


def _same(a: Segment, b: Segment) -> bool:
    return type(a) is type(b) and all(math.dist(p, q) <= _SAME for p, q in zip(a.controls, b.controls, strict=True))
