"""After the main job, made narrower by 12 % and taken in at three stations, the sample trousers are made true again.

The checks are the judge; angles and lengths are measured once more on their own, on polylines by shapely.
"""

import math
from pathlib import Path as File

import numpy as np
import pytest
import shapely

from crossgrain.checks.pattern import check_pattern
from crossgrain.model import Pattern
from crossgrain.notation.stations import read_basting
from crossgrain.operations.dart_trueing import DartTrueing, true_darts
from crossgrain.operations.following import Following, follow
from crossgrain.operations.reduction import Reduction, reduce
from crossgrain.operations.take_in import Basting, TakeIn, take_in
from crossgrain.operations.trueing import Trueing, true
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

SAMPLES = File(__file__).parent.parent.parent / "samples"
STRETCHING = ("front-left", "front-right", "back")
STATIONS = ("waist=0mm", "20%=10mm", "hem=6mm")


@pytest.fixture(scope="module")
def fitted():
    """The trousers before they are trued: the stabilised pieces do not stretch, and are not reduced."""
    pattern = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
    cut = Pattern(pieces=tuple(pattern.piece(id) for id in STRETCHING))
    pattern = pattern.with_pieces(reduce(cut, Reduction(by=0.12)).value.pieces)
    at = tuple(Basting(station=station, amount=amount) for station, amount in map(read_basting, STATIONS))
    return take_in(pattern, TakeIn(seam="side", at=at)).value


@pytest.fixture(scope="module")
def trued(fitted):
    pattern = fitted
    for seam in ("side", "inseam", "seat"):
        pattern = true(pattern, Trueing(seam=seam)).value
    return follow(true_darts(pattern, DartTrueing()).value, Following()).value


def polyline(piece, edge):
    line = piece.edge(edge).line
    return shapely.LineString([s.point(t) for s in line.segments for t in np.linspace(0.0, 1.0, 2000)])


def angle(piece, one, other):
    """The angle between two edges at their corner, degrees, by chords 0.02 mm long."""
    a, b = polyline(piece, one), polyline(piece, other)
    at = min((shapely.Point(p) for p in (a.coords[0], a.coords[-1])), key=b.distance)
    ways = []
    for line in (a, b):
        from_start = at.distance(shapely.Point(line.coords[0])) < 1e-6
        p = line.interpolate(0.02 if from_start else line.length - 0.02)
        ways.append(complex(p.x - at.x, p.y - at.y))
    return abs(math.degrees(np.angle(ways[0] / ways[1])))


FRONTS = ("front-left", "front-right")
JOINS = (
    *(
        (id, seam, "waist" if seam == "side" else "crotch", seam_end)
        for id in FRONTS
        for seam, seam_end in (("side", "waist"), ("inseam", "seat"))
    ),
    *((id, seam, "hem", "hem") for id in FRONTS for seam in ("side", "inseam")),
)
"""Front, seam, the edge beside it on the front and on the back."""


class TestTrued:
    def test_before_it_was_not_true(self, fitted):
        said = " ".join(finding.message for finding in check_pattern(fitted).findings)
        for word in ("mm longer on", "the waist peaks", "the crotch/seat dips", "With its dart folded", "stabilised"):
            assert word in said

    def test_the_checks_find_only_the_centre_seam_which_was_not_trued(self, trued):
        """A reduction that narrows the rise of the waist tilts it at the centre front too; the centre is a seam too."""
        [finding] = check_pattern(trued).findings
        assert (finding.edge, "the waist peaks by 1.1°" in finding.message) == ("centre", True)
        whole = follow(true(trued, Trueing(seam="centre")).value, Following()).value
        assert check_pattern(whole).findings == ()

    @pytest.mark.parametrize("seam", ["side", "inseam"])
    def test_lengths_by_another_library(self, fitted, trued, seam):
        def mismatch(pattern, id):
            return abs(polyline(pattern.piece(id), seam).length - polyline(pattern.piece("back"), seam).length)

        for id in FRONTS:
            assert mismatch(trued, id) <= 0.5 < mismatch(fitted, id)

    @pytest.mark.parametrize(("id", "seam", "beside", "on_back"), JOINS)
    def test_joins_by_chords(self, trued, id, seam, beside, on_back):
        both = angle(trued.piece(id), seam, beside) + angle(trued.piece("back"), seam, on_back)
        assert both == pytest.approx(180.0, abs=0.5)

    def test_the_middle_of_the_back_is_square_by_chords(self, trued):
        assert angle(trued.piece("back"), "waist", "seat") == pytest.approx(90.0, abs=0.25)

    def test_no_more_nodes_than_promised(self, fitted, trued):
        """Two more at most on a seam's edge; on an edge beside seams one for each end, and two at each dart."""
        for old, now in zip(fitted.pieces, trued.pieces, strict=True):
            if old.id not in STRETCHING:
                continue
            for edge in old.edges:
                more = len(now.edge(edge.name).line.segments) - len(edge.line.segments)
                darts = sum(dart.edge == edge.name for dart in old.darts)
                assert more <= 2 + 2 * darts

    def test_trued_again_nothing_changes(self, trued):
        for seam in ("side", "inseam", "seat"):
            assert true(trued, Trueing(seam=seam)).value == trued
