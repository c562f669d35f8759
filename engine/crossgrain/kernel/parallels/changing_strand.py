"""The parallel of one run at a distance that changes along it."""

from __future__ import annotations

from collections.abc import Sequence

from crossgrain.errors import GeometryError
from crossgrain.kernel.length import path_length
from crossgrain.kernel.parallels.line_beside import line_beside
from crossgrain.kernel.parallels.parallel import Strand
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Segment
from crossgrain.language import _
from crossgrain.tolerances import COINCIDENT


def changing_strand(run: Sequence[Segment], stations: Sequence[tuple[float, float]], accuracy: float) -> Strand:
    """Draw the parallel of a run of segments at distances given at stations and blended between them.

    Args:
        run: segments that follow each other; they may turn at their nodes.
        stations: places along the run, mm, rising, each with the distance there along the normal, mm.
        accuracy: the distance from the true line that is not exceeded, mm, above 0.

    Returns:
        The strand. At its ends it runs as the run does: before the first station and behind the last the distance
        stays what it is.

    Raises:
        CollapseError: a bend that is tighter than the distance beside it.
        AccuracyError: a run that cannot be followed so closely.

    >>> from crossgrain.kernel.segment import Line
    >>> strand = changing_strand([Line((0.0, 0.0), (100.0, 0.0))], [(0.0, 10.0), (100.0, 25.0)], 0.01)
    >>> strand.segments[0].start, strand.segments[-1].end
    ((0.0, -10.0), (100.0, -25.0))
    """
    line = Path.joined(run)
    length = path_length(line)
    places = list(stations)
    if places[0][0] > COINCIDENT:
        places.insert(0, (0.0, places[0][1]))
    if places[-1][0] < length - COINCIDENT:
        places.append((length, places[-1][1]))
    alongs = [min(along, length) for along, _mm in places]
    beside = line_beside(line, alongs, [mm for _along, mm in places], accuracy)
    first, last = run[0].start_tangent, run[-1].end_tangent
    if first is None or last is None:
        raise GeometryError(_("A segment has no length."), position=run[0].start)
    return Strand(
        beside.segments, run[0].start, run[-1].end, first, last, places[0][1], places[-1][1], tuple(line.segments)
    )
