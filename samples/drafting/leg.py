"""What front and back share: the lower leg, how the seams leave waist and crotch, and the notches."""

from __future__ import annotations

import math
from dataclasses import dataclass

from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic
from crossgrain.model import Edge, Notch
from crossgrain.model.marking.sewing_marks import Crease
from drafting.curve import bow, meeting, towards

DOWN: Point = (0.0, 1.0)

CREASE = Crease(edge="hem")
"""The front is pressed from the middle of the hem to the waist (common practice)."""

TIP_OPENING_RAD = math.radians(5.0)
"""At the crotch point the front is this much more than square and the back this much less, so that the two crotch
lines run into each other smoothly and the back one stays deep."""

TAPER_SHARE = 0.5
"""Where, between knee and hem, the tangent of the seam at the knee meets the plumb line from the hem."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shank:
    """One seam from the knee down, and the direction in which it leaves the knee."""

    line: Cubic
    knee_slope: float
    """Millimetres sideways for each mm down, at the knee."""

    @property
    def at_knee(self) -> Point:
        """The direction of the seam at the knee, downwards; not of unit length."""
        return (self.knee_slope, 1.0)


def shank(knee: Point, hem: Point) -> Shank:
    """Draw a seam from the knee to the hem, plumb at the hem so that the corner there is square."""
    slope = (hem[0] - knee[0]) / (TAPER_SHARE * (hem[1] - knee[1]))
    return Shank(line=bow(knee, (slope, 1.0), hem, DOWN), knee_slope=slope)


def side_lean(corner: Point, hip: Point) -> Point:
    """Return the direction in which a side seam leaves the waist, to come plumb at the hip.

    Its tangent meets the plumb line of the hip at six tenths of the depth.
    """
    return towards(corner, (hip[0], corner[1] + 0.6 * (hip[1] - corner[1])))


def inseam_direction(tip: Point, knee: Point, at_knee: Point, share: float = 0.62) -> Point:
    """Return the direction in which an inseam leaves the crotch point.

    Its tangent meets the tangent at the knee at a share of the height between.
    """
    height = tip[1] + share * (knee[1] - tip[1])
    return towards(tip, meeting(knee, at_knee, (0.0, height), (1.0, 0.0)))


def leg_notches(edges: tuple[Edge, ...]) -> tuple[Notch, ...]:
    """Notch the side seam at hip and knee and the inseam at the knee: at the nodes drafted there."""
    line = {edge.name: edge.line for edge in edges}
    side = [path_length(Path((segment,))) for segment in line["side"].segments]
    inseam = [path_length(Path((segment,))) for segment in line["inseam"].segments]
    return (
        Notch(edge="side", share=side[0] / sum(side)),
        Notch(edge="side", share=(side[0] + side[1]) / sum(side)),
        Notch(edge="inseam", share=inseam[0] / sum(inseam)),
    )
