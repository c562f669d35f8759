"""The parallel of one run at a distance that changes along it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from crossgrain.errors import GeometryError
from crossgrain.kernel.length import path_length
from crossgrain.kernel.parallels.line_beside import blended_beside
from crossgrain.kernel.parallels.parallel import Strand
from crossgrain.kernel.path import Path
from crossgrain.kernel.profile import Profile
from crossgrain.kernel.segment import Segment
from crossgrain.kernel.spans import Floats
from crossgrain.language import _
from crossgrain.tolerances import COINCIDENT, LEANING


def changing_strand(
    run: Sequence[Segment],
    stations: Sequence[tuple[float, float]],
    accuracy: float,
    *,
    begins: float = 0.0,
    backwards: bool = False,
) -> Strand:
    """Draw the parallel of a run of segments at distances given at stations and blended between them.

    Args:
        run: segments that follow each other; they may turn at their nodes.
        stations: places along a measure, mm, rising, each with the distance there along the normal, mm. Before the
            first and behind the last the distance stays what it is.
        accuracy: the distance from the true line that is not exceeded, mm, above 0.
        begins: where on that measure the run begins, mm.
        backwards: whether the run goes backwards along it.

    Returns:
        The strand. Where it begins or ends between stations it leans against its run there, and says so.

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
    profile = Profile([along for along, _mm in stations], [mm for _along, mm in stations])
    way = -1.0 if backwards else 1.0

    def blend(s: Floats) -> tuple[Floats, Floats]:
        distance, slope = profile(begins + way * s)
        return distance, way * slope

    inside = sorted((way * (along - begins), mm) for along, mm in stations)
    places = [(along, mm) for along, mm in inside if COINCIDENT < along < length - COINCIDENT]
    (at_start, at_end), slopes = (values.tolist() for values in blend(np.array([0.0, length])))
    beside = blended_beside(
        line, [0.0, *(s for s, _mm in places), length], [at_start, *(mm for _s, mm in places), at_end], blend, accuracy
    )
    first, last = run[0].start_tangent, run[-1].end_tangent
    if first is None or last is None:
        raise GeometryError(_("A segment has no length."), position=run[0].start)
    leans = (abs(slopes[0]) > LEANING, abs(slopes[1]) > LEANING)
    ends = (run[0].start, run[-1].end, first, last, at_start, at_end)
    return Strand(beside.segments, *ends, tuple(line.segments), leans)
