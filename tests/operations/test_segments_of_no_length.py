"""What editors leave in outlines, a segment that is a point, is looked past: results are those of the plain outline."""

import math
from dataclasses import replace
from pathlib import Path as File

import numpy as np
import pytest

from crossgrain.errors import ParameterError
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line, ended_at, started_at
from crossgrain.model import Edge
from crossgrain.notation.stations import read_basting
from crossgrain.operations.dart_trueing import DartTrueing, true_darts
from crossgrain.operations.following import Following, follow
from crossgrain.operations.lengthening import Lengthening, lengthen
from crossgrain.operations.take_in import Basting, TakeIn, take_in
from crossgrain.operations.trueing import Trueing, true
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

SAMPLES = File(__file__).parent.parent.parent / "samples"
LEVELS = (("hip", 200.0), ("knee", 602.0))


def taken(pattern, seam, *texts):
    at = tuple(Basting(station=station, amount=amount) for station, amount in map(read_basting, texts))
    return take_in(pattern, TakeIn(seam=seam, at=at, levels=LEVELS))


DONE = {
    "take in": lambda pattern: taken(pattern, "side", "waist=3mm", "hip=12mm", "knee=0mm", "80%=4mm", "hem=0mm"),
    "let out": lambda pattern: taken(pattern, "inseam", "crotch=-6mm", "knee=0mm", "hem=-2mm"),
    "true, at the hem": lambda pattern: true(pattern, Trueing(seam="side")),
    "true, at the waist": lambda pattern: true(pattern, Trueing(seam="side", give="waist")),
    "true, along": lambda pattern: true(pattern, Trueing(seam="inseam", give="along")),
    "true, of a piece and its copy": lambda pattern: true(pattern, Trueing(seam="seat")),
    "true darts": lambda pattern: true_darts(pattern, DartTrueing()),
    "follow": lambda pattern: follow(true_darts(pattern, DartTrueing()).value, Following()),
    "lengthen": lambda pattern: lengthen(pattern, Lengthening(by=20.0, depth=550.0)),
    "shorten": lambda pattern: lengthen(pattern, Lengthening(by=-20.0, depth=550.0)),
    "lengthen along the line": lambda pattern: lengthen(pattern, Lengthening(by=20.0, at="hem", keep="line")),
}


@pytest.fixture(scope="module")
def plain():
    return pattern_of(read_drawing(SAMPLES / "trousers-untrued.svg"))


def dotted(edge, size, kind):
    """An edge with a segment of no length at either end."""
    first, *rest = edge.line.segments
    (x, y), (u, v) = edge.line.start, edge.line.end
    p, q = (x + size, y), (u - size, v)
    segments = [started_at(first, p), *rest]
    segments[-1] = ended_at(segments[-1], q)
    ends = ((edge.line.start, p), (q, edge.line.end))
    before, after = (Line(*end) if kind == "line" else Cubic(end[0], end[0], end[1], end[1]) for end in ends)
    return replace(edge, line=Path((before, *segments, after)))


@pytest.mark.parametrize("kind", ["line", "cubic"])
@pytest.mark.parametrize("size", [0.0, 1e-153, 1e-9])
@pytest.mark.parametrize("name", DONE)
def test_the_result_is_that_of_the_plain_outline(plain, name, size, kind):
    odd = plain.with_pieces(
        [replace(piece, edges=tuple(dotted(edge, size, kind) for edge in piece.edges)) for piece in plain.pieces]
    )
    wanted, found = (DONE[name](pattern).value for pattern in (plain, odd))
    assert wanted != plain
    for old, want, now in zip(odd.pieces, wanted.pieces, found.pieces, strict=True):
        if want == plain.piece(want.id):
            assert now is old  # a piece that is left alone keeps even its odd segments
            continue
        for edge in want.edges:
            pairs = zip(edge.line.segments, now.edge(edge.name).line.segments, strict=True)
            gaps = [math.dist(p, q) for one, other in pairs for p, q in zip(one.controls, other.controls, strict=True)]
            assert np.max(gaps) < 1e-4


@pytest.mark.parametrize("name", ["take in", "true, at the hem", "true darts", "lengthen"])
def test_an_edge_that_is_a_point_gets_one_sentence(plain, name):
    back = plain.piece("back")
    x, y = back.edges[0].line.start
    point = Edge(name="nothing", line=Path((Line((x, y), (x, y)),)))
    odd = plain.with_pieces([replace(back, edges=(point, *back.edges))])
    with pytest.raises(ParameterError, match="A line is a single point") as caught:
        DONE[name](odd)
    assert (caught.value.piece, caught.value.edge) == ("back", "nothing")
