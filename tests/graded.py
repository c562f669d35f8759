"""Pieces that are graded, by as few words as the tests can be written in, and ways to look at them."""

import math
from dataclasses import replace

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import CutInstruction, Edge, Piece
from crossgrain.model.seams.side import corner_angles
from crossgrain.model.sizes.grade_point import GradePoint
from crossgrain.operations.grading import Grading, grade
from pieces import one


def at(edge, meets="", piece="leg", **where):
    return GradePoint(piece=piece, edge=edge, meets=meets, **where)


def corner(piece, edge, meets):
    ends = [{piece.edges[k - 1].name, piece.edges[k].name} for k in range(len(piece.edges))]
    return complex(*piece.edges[ends.index({edge, meets})].line.start)


def graded(piece, *shifts, **more):
    return grade(one(piece), Grading(shifts=tuple(shifts), **more)).value.pieces[0]


def back(shifts):
    return tuple(replace(shift, along=-shift.along, across=-shift.across) for shift in shifts)


def controls(piece):
    return [complex(*point) for segment in piece.line.segments for point in segment.controls]


def skirt(**more):
    """A half front of a skirt: fold on the left, side slightly flared and curved, hem curved and square to both."""
    lines = {
        "waist": [Cubic((0.0, 12.0), (60.0, 12.0), (140.0, 6.0), (180.0, 0.0))],
        "side": [
            Cubic((180.0, 0.0), (205.0, 70.0), (225.0, 130.0), (228.0, 200.0)),
            Line((228.0, 200.0), (240.0, 600.0)),
        ],
        "hem": [Cubic((240.0, 600.0), (160.0, 602.4), (80.0, 612.0), (0.0, 612.0))],
        "fold": [Line((0.0, 612.0), (0.0, 12.0))],
    }
    edges = tuple(Edge(name=name, line=Path(tuple(line))) for name, line in lines.items())
    cut = CutInstruction(count=1, on_fold="fold")
    return Piece(id="skirt", name="skirt", edges=edges, cut=cut, **more)


def angle(piece, number):

    return math.degrees(corner_angles(piece)[number])


PLACINGS = {
    "as drawn": Affine.rotation(0.0),
    "turned": Affine.rotation(math.radians(37.0)),
    "mirrored": Affine.scaling(-1.0, 1.0),
    "mirrored and turned": Affine.scaling(-1.0, 1.0).then(Affine.rotation(math.radians(-116.0))),
}
