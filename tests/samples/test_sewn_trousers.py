"""The sample trousers as they are cut: hems mirrored, corners squared, the dart pressed, the seat wide at the waist."""

import math
from pathlib import Path

import numpy as np
import pytest
import shapely

from crossgrain.checks.allowances import check_allowances
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.length import path_length
from crossgrain.kernel.meetings.crossing import path_crossings, self_crossings
from crossgrain.model import Pattern, Width
from crossgrain.notation.corners import read_corner
from crossgrain.notation.width_set import read_width_set
from crossgrain.operations.allowance import Allowance, allow
from crossgrain.operations.reduction import Reduction, reduce
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from outline_widths import dense, distances
from sewn_corners import in_order, shut

SAMPLES = Path(__file__).parents[2] / "samples"
TROUSERS = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
SET = read_width_set((SAMPLES / "widths.toml").read_text(encoding="utf-8"), "widths.toml")
SEAT = Width(stations=((0.0, 25.0), (0.4, 10.0), (1.0, 10.0)))
STRETCHING = ("left front", "right front", "back")


@pytest.fixture(scope="module", params=["as drafted", "narrowed"])
def to_cut(request):
    pattern = TROUSERS
    if request.param == "narrowed":
        stretching = Pattern(pieces=tuple(piece for piece in pattern.pieces if piece.name in STRETCHING))
        pattern = pattern.with_pieces(reduce(stretching, Reduction(by=0.08)).value.pieces)
    asked = Allowance(widths=SET, edges=(("seat", SEAT),), pressed=(("waist", "end"),),
                      corners=(read_corner("seat/inseam=blunted"),))  # fmt: skip
    return allow(pattern, asked).value


def test_away_from_corners_and_darts_every_edge_has_its_width(to_cut):
    for piece in to_cut.pieces:
        corners = [edge.line.start for edge in piece.edges]
        most = max(edge.allowance.most for edge in piece.edges)
        for edge in piece.edges:
            length = path_length(edge.line)
            along, wanted = points_along(edge)
            clear = np.array([min(math.dist(point, c) for c in corners) > 1.6 * most for point in wanted])
            for dart in (dart for dart in piece.darts if dart.edge == edge.name):
                clear &= np.abs(along - dart.share * length) > 1.5 * dart.width
            if not clear.any():
                assert length < 4.0 * most, (piece.id, edge.name)
                continue
            widths = edge.allowance.along(length)(along)[0]
            gaps = distances(wanted, piece.counterpart)
            # Where it changes, the nearest point of the cut line lies aside: nearer by d·d'²/2.
            slack = 0.011 + (0.0 if edge.allowance.is_even else 0.25)
            assert np.abs(gaps - widths)[clear].max() <= slack, (piece.id, edge.name)


def points_along(edge, step=2.0):
    """Points on an edge, and how far along it each lies, mm."""
    line = dense(edge.line, 0.2)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    keep = np.unique(np.searchsorted(along, np.arange(0.0, along[-1], step)))
    return along[keep], line[keep]


def test_no_cut_line_crosses_itself_or_the_stitch_line(to_cut):
    for piece in to_cut.pieces:
        assert not self_crossings(piece.counterpart), piece.id
        assert not [met for met in path_crossings(piece.counterpart, piece.line) if met.kind == "cross"], piece.id


def test_nodes_are_a_thirteenth_of_the_buffers_at_equal_accuracy(to_cut):
    """Against shapely's buffer of a 0.01 mm polyline, mitred, over all the pieces that are curved."""
    ours = theirs = 0
    for piece in to_cut.pieces:
        if piece.name not in STRETCHING:
            continue
        polygon = shapely.Polygon(flatten(piece.line, 0.01).points)
        theirs += (
            shapely.get_num_coordinates(polygon.buffer(10.0, quad_segs=18, join_style="mitre", mitre_limit=3.0)) - 1
        )
        ours += len(piece.counterpart.segments)
    assert ours * 13 <= theirs, (ours, theirs)


def test_the_dart_of_the_back_folded_shut_has_a_straight_cut_edge(to_cut):
    back = to_cut.piece("back")
    cloth, layers = shut(back.counterpart, back)
    assert len(layers) > 20
    line = shapely.linestrings(in_order(cloth, back))
    assert shapely.distance(shapely.points(layers), line).max() <= 0.2


def test_check_finds_nothing(to_cut):
    for piece in to_cut.pieces:
        assert check_allowances(piece).findings == (), piece.id
