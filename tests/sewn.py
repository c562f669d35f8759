"""Fronts and backs that hypothesis draws, true by construction: sewn at side and inseam, crotch and seat.

Both legs of the front and of the back share their side line and their inseam line, mirrored; waist and hem are square
to them; at the crotch point the front's angle is as much over 90° as the back's is under.
"""

import math
from dataclasses import dataclass, replace

from hypothesis import strategies as st

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import CutInstruction, Edge, Notch, Pattern, Piece
from pieces import against, moved, smooth_run

TWICE = CutInstruction(count=2, mirrored=True)


@dataclass(frozen=True)
class Leg:
    """What one leg piece is drawn to; mm and radians. The side lies at the right, the waist is at y = 0."""

    name: str
    middle: str
    waist: float
    hip: float
    hem: float
    rise: float
    length: float
    top: float
    fork: float
    open_rad: float
    notches: tuple[Notch, ...] = ()
    raised: float = 0.0
    """How much higher the waist lies than the partner's."""
    tilted: float = 0.0
    """How much lower the waist lies at the centre than at the side."""

    def piece(self):
        side = [
            Line((self.waist, -self.raised), (self.waist, 0.0)) if self.raised else None,
            *smooth_run(
                [
                    ((self.waist, 0.0), (0.0, 1.0)),
                    ((self.hip, self.rise), (0.0, 1.0)),
                    ((self.hem, self.length), (0.0, 1.0)),
                ]
            ),
        ]
        tip = (-self.fork, self.rise + 60.0)
        lean = math.atan2(self.hem - self.fork, self.length)
        up = (math.sin(lean), -math.cos(lean))
        inseam = smooth_run([((-self.hem, self.length), (0.0, -1.0)), (tip, up)])
        # From the inseam, which arrives upwards, the crotch turns clockwise by what its angle leaves of 180°.
        turn = math.pi / 2.0 - self.open_rad
        out = (up[0] * math.cos(turn) - up[1] * math.sin(turn), up[0] * math.sin(turn) + up[1] * math.cos(turn))
        bend, reach = (-self.top, self.rise - 20.0), 0.45 * (self.fork - self.top)
        crotch = [
            Cubic(tip, (tip[0] + out[0] * reach, tip[1] + out[1] * reach), (bend[0], bend[1] + 40.0), bend),
            Line(bend, (-self.top, self.tilted - self.raised)),
        ]
        start, end = (-self.top, self.tilted - self.raised), (self.waist, -self.raised)
        lines = {
            "waist": [Line(start, end)],
            "side": [segment for segment in side if segment],
            "hem": [Line((self.hem, self.length), (-self.hem, self.length))],
            "inseam": inseam,
            self.middle: crotch,
        }
        return Piece(
            id=self.name,
            name=self.name,
            edges=tuple(Edge(name=name, line=Path(tuple(line))) for name, line in lines.items()),
            cut=TWICE,
            notches=self.notches,
        )

    def length_of_side(self):
        return path_length(self.piece().edge("side").line)

    def first_notch(self):
        """How far from the waist the first notch lies, mm."""
        return min(notch.share for notch in self.notches) * self.length_of_side()

    def with_notch_at(self, along, count=1):
        """A notch on the side, mm below the partner's waist, wherever this one's lies."""
        share = (along + self.raised) / self.length_of_side()
        return replace(self, notches=(*self.notches, Notch(edge="side", share=share, count=count)))


@st.composite
def legs(draw):
    """Draw a front and a back that match, with notches on the side at the same distances."""

    def size(low, high):
        return round(draw(st.floats(low, high)), 2)

    shared = {
        "waist": size(70, 100),
        "hip": size(110, 140),
        "hem": size(50, 80),
        "rise": size(180, 230),
        "length": size(700, 1000),
        "fork": size(120, 150),
    }
    opening = draw(st.floats(-0.15, 0.15))
    front = Leg(name="front", middle="crotch", top=size(60, 75), open_rad=opening, **shared)
    back = Leg(name="back", middle="seat", top=size(80, 100), open_rad=-opening, **shared)
    at = draw(st.lists(st.integers(2, 13), max_size=3, unique=True))
    for place in sorted(at):
        count = draw(st.sampled_from([1, 2, 3]))
        front, back = (leg.with_notch_at(40.0 * place, count) for leg in (front, back))
    return front, back


@st.composite
def untrue(draw):
    """Draw a front and a back that are out of true at the waist: one raised by up to 12 mm, the other tilted."""
    front, back = draw(legs())
    raised = round(draw(st.floats(0.0, 12.0)), 2)
    tilted = round(draw(st.floats(-10.0, 10.0)), 2)
    if draw(st.booleans()):
        return replace(front, raised=raised, tilted=tilted), back
    return front, replace(back, raised=raised, tilted=tilted)


def sewn(front, back):
    """The pattern of both, the back mirrored as it lies beside the front."""
    return Pattern(
        pieces=(front.piece(), moved(back.piece(), Affine(-1.0, 0.0, 0.0, 1.0, 600.0, 0.0))),
    )


def lying(draw, pattern):
    """The same pieces, each drawn either way round, mirrored, turned and moved as it may lie on the table."""
    out = []
    for piece in pattern.pieces:
        way = draw(st.booleans())
        mirror = Affine.scaling(-1.0 if draw(st.booleans()) else 1.0, 1.0)
        angle = draw(st.floats(-math.pi, math.pi))
        lies = mirror.then(Affine.rotation(angle)).then(Affine.translation(draw(st.floats(-500, 500)), 0.0))
        out.append((moved(against(piece) if way else piece, lies), lies))
    return Pattern(pieces=tuple(piece for piece, _lies in out)), {piece.label: lies for piece, lies in out}
