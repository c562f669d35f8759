"""The parallel of one run at a distance that changes along it, and the line whose parallel a run is."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from crossgrain.errors import AccuracyError, CollapseError, GeometryError
from crossgrain.kernel.length import path_length
from crossgrain.kernel.parallels.line_beside import blended_beside
from crossgrain.kernel.parallels.outer_blend import OuterBlend
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
    return _strand(run, line, beside, (at_start, at_end), slopes)


def strand_inside(run: Sequence[Segment], stations: Sequence[tuple[float, float]], accuracy: float) -> Strand:
    """Draw the line whose parallel a run of segments is, at distances that change along that line.

    Args:
        run: segments that follow each other; they may turn at their nodes.
        stations: places along the line that is drawn, mm from beside the run's start, rising, each with the distance
            there, square to that line; all of one sign. They may lie before its start and behind its end.
        accuracy: the distance from the true line that is not exceeded, mm, above 0.

    Returns:
        The strand.

    Raises:
        CollapseError: a bend that is tighter than the distance beside it, or distances that change too fast: by more
            than some 0.4 mm per mm.

    >>> from crossgrain.kernel.segment import Line
    >>> strand = strand_inside([Line((0.0, -10.0), (100.0, -10.0))], [(0.0, -10.0), (100.0, -10.0)], 0.01)
    >>> strand.segments[0].start, strand.segments[-1].end
    ((0.0, 0.0), (100.0, 0.0))
    """
    line = Path.joined(run)
    length = path_length(line)
    places, distances = [along for along, _mm in stations], [mm for _along, mm in stations]
    outwards = -1.0 if min(distances) < 0.0 else 1.0
    blend = OuterBlend(line, places, distances, outwards, on_new=True)
    if blend.is_steep:
        raise _too_steep(run)
    ends, slopes = (values.tolist() for values in blend(np.array([0.0, length])))
    cuts = [0.0, *(s for s in blend.on_old(places).tolist() if COINCIDENT < s < length - COINCIDENT), length]
    try:
        beside = blended_beside(line, cuts, blend(np.array(cuts))[0].tolist(), blend, accuracy, outwards=outwards)
    except AccuracyError as error:
        raise _too_steep(run) from error
    return _strand(run, line, beside, (ends[0], ends[1]), slopes)


def _too_steep(run: Sequence[Segment]) -> CollapseError:
    return CollapseError(
        _("The width changes so fast along this edge that its stitch line cannot be found."),
        position=run[0].start,
        advice=_("Let it change over a longer stretch of the edge."),
    )


def _strand(
    run: Sequence[Segment], line: Path, beside: Path, distances: tuple[float, float], slopes: Sequence[float]
) -> Strand:
    first, last = run[0].start_tangent, run[-1].end_tangent
    if first is None or last is None:
        raise GeometryError(_("A segment has no length."), position=run[0].start)
    leans = (abs(slopes[0]) > LEANING, abs(slopes[1]) > LEANING)
    return Strand(beside.segments, run[0].start, run[-1].end, first, last, *distances, tuple(line.segments), leans)
