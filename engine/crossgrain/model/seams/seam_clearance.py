"""Whether a seam that is moved into a piece runs clear of what lies there, and how far it may go."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from crossgrain.errors import CollapseError
from crossgrain.kernel.length import distance_of, path_length, places_at, point_at
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.profile import Profile
from crossgrain.language import _
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.mark_lines import mark_lines
from crossgrain.model.piece import Edge
from crossgrain.model.seams.cut_off import first_cut_off
from crossgrain.model.seams.obstacles import HELD, Obstacle, first_obstacle
from crossgrain.model.seams.seam import SeamSide
from crossgrain.tolerances import COINCIDENT, ON_CREASE

Floats = NDArray[np.float64]

_LOOK: Final = 2.0
"""Between places along a seam at which its way is looked along, mm."""

_NOTHING: Final = 0.05
"""Less than this, mm, prints as nothing, and is."""


def _starts_and_ways(side: SeamSide, along: Sequence[float]) -> tuple[Floats, Floats]:
    """Return points of a seam's line, and the unit direction from each square into the piece; each of shape (n, 2)."""
    starts, ways = [], []
    inwards = side.inwards
    for place in places_at(side.line, along):
        dx, dy = side.line.segments[place.index].derivative(place.t)
        size = inwards * (math.hypot(dx, dy) or 1.0)
        starts.append(point_at(side.line, place))
        ways.append((dy / size, -dx / size))
    return np.array(starts), np.array(ways)


def check_way(side: SeamSide, blend: Profile) -> None:
    """Refuse amounts that would reach what lies inside the piece, or would push there what is held along the seam.

    Args:
        side: the seam on its piece.
        blend: how far inside its line the seam goes, mm, by the distance along it from the seam's first end.

    Raises:
        CollapseError: the seam would reach the grain line, a dart or its tip, a hold or another edge, or what is held
            along it would reach a dart, a hold or another edge.
    """
    piece, name = side.piece, side.edge.name
    total = path_length(side.line)
    # A hair inside its ends too: what begins at the corner itself may be missed there by rounding.
    beside = (ON_CREASE, total - ON_CREASE) if total > 2.0 * ON_CREASE else ()
    along = np.union1d(np.linspace(0.0, total, max(9, math.ceil(total / _LOOK))), beside)
    amounts = np.maximum(blend(along)[0], 0.0)
    starts, ways = _starts_and_ways(side, along.tolist())
    ends = starts + amounts[:, None] * ways
    obstacle = first_obstacle(piece, name, starts, ends)
    if obstacle is not None:
        raise _refused(_("Taken in by {wanted:.1f} mm, the seam would reach {what} there."), obstacle)
    shares = 1.0 - along / total if side.is_turned else along / total
    for hold in piece.holds:
        held = (shares >= hold.start) & (shares <= hold.end)
        if hold.edge != name or not held.any():
            continue
        strip = mark_lines(replace(piece, holds=(hold,)), HELD)[0]
        across = np.subtract(strip.line.segments[0].end, strip.line.segments[0].start)
        obstacle = first_obstacle(piece, name, starts[held] + across, ends[held] + across, ("dart", "hold"))
        if obstacle is not None:
            raise _refused(_("Taken in by {wanted:.1f} mm, what is held along the seam would reach {what}."), obstacle)
    for dart in (dart for dart in piece.darts if dart.edge == name):
        tip = nearest(side.line, dart_points(piece, dart)[1])
        wanted = float(blend(np.array([distance_of(side.line, tip.place)]))[0][0])
        if wanted > tip.distance - COINCIDENT:
            obstacle = Obstacle(_("the tip of its dart"), point_at(side.line, tip.place), wanted, tip.distance)
            raise _refused(_("Taken in by {wanted:.1f} mm, the seam would reach {what} there."), obstacle)


def _refused(sentence: str, obstacle: Obstacle) -> CollapseError:
    return CollapseError(
        sentence.format(wanted=obstacle.wanted, what=obstacle.what),
        position=obstacle.point,
        advice=_possible(obstacle.possible),
    )


def _possible(amount: float) -> str:
    if abs(amount) < _NOTHING:
        return _("The seam has to stay where it is there: 0 mm.")
    if amount < 0.0:
        return _("Let out less than {possible:.1f} mm there.").format(possible=-amount)
    return _("Take in less than {possible:.1f} mm there.").format(possible=amount)


def check_cut_off(side: SeamSide, edges: Sequence[Edge], amounts: Sequence[float]) -> None:
    """Refuse amounts whose corners would slide past a dart or a hold on the edges beside the seam.

    Args:
        side: the seam on its piece.
        edges: the edges of the piece once it has moved.
        amounts: how far inside its line it went, mm, from the seam's first end to its last.

    Raises:
        CollapseError: a mark would be cut off; how much is possible is exact where the edge is straight.
    """
    found = first_cut_off(side.piece, edges, side.edge.name)
    if found is None:
        return
    wanted = amounts[-1 if (found.end == "end") != side.is_turned else 0]
    raise CollapseError(
        _("Moved by {wanted:.1f} mm at that end, the new corner would cut {what} off the {edge}.").format(
            wanted=wanted, what=found.what, edge=found.edge
        ),
        position=found.point,
        advice=_possible(wanted * found.possible),
    )
