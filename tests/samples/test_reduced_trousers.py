"""The main job on the sample trousers: narrowed for a stretchier cloth, with allowances, as a tailor checks them."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
import shapely
from drafting.trousers import trousers

from crossgrain.kernel.area import signed_area
from crossgrain.kernel.length import path_length, place_at, point_at
from crossgrain.kernel.path import Path
from crossgrain.model import Edge, Pattern, Piece, Width
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.operations.allowance import Allowance, allow, strip
from crossgrain.operations.reduction import Reduction, reduce
from outline_widths import apart, dense, distances, node_turns, widths
from pieces import moved

BEFORE = trousers()
LEGS = ("front-left", "front-right", "back")

SHARES = (0.08, 0.12, 0.2)


@pytest.fixture(scope="module", params=SHARES)
def narrowed(request):
    return request.param, reduce(BEFORE, Reduction(by=request.param)).value


def length(pattern, piece, edge):
    return path_length(pattern.piece(piece).edge(edge).line)


@pytest.mark.parametrize("edge", ["side", "inseam", "hem", "crotch"])
def test_the_two_fronts_stay_as_long_as_each_other(narrowed, edge):
    """The zip extension on the left one only must not show anywhere else."""
    _by, after = narrowed
    assert length(after, "front-left", edge) == pytest.approx(length(after, "front-right", edge), abs=0.05)


def test_the_zip_extension_stays_five_millimetres(narrowed):
    _by, after = narrowed
    assert length(after, "front-left", "step") == pytest.approx(5.0, abs=0.01)
    waist = after.piece("front-left").edge("waist").line.segments[0]
    assert path_length(Path((waist,))) == pytest.approx(5.0, abs=0.01)
    [hold] = after.piece("front-left").holds
    assert (hold.edge, hold.width, hold.start, hold.end) == ("centre", 5.0, 0.0, 1.0)


def test_every_leg_loses_its_share_at_every_level_below_its_waist(narrowed):
    by, after = narrowed
    for name, clear in (("front-left", 245.0), ("front-right", 10.0), ("back", -5.0)):
        levels = np.linspace(clear, 1030.0, 150)
        old, new = BEFORE.piece(name), after.piece(name)
        assert widths(new, levels) == pytest.approx((1.0 - by) * widths(old, levels), abs=0.01), name
    levels = np.linspace(7.0, 160.0, 100)
    old, new = BEFORE.piece("front-left"), after.piece("front-left")
    assert widths(new, levels) == pytest.approx((1.0 - by) * widths(old, levels), abs=0.01)


def test_below_the_zip_the_width_misses_by_no_more_than_documented(narrowed):
    by, after = narrowed
    levels = np.linspace(161.5, 245.0, 100)
    off = widths(after.piece("front-left"), levels) - (1.0 - by) * widths(BEFORE.piece("front-left"), levels)
    assert np.abs(off).max() <= 5.0 * by + 0.01


def test_a_quarter_of_the_girth_taken_comes_from_each_half_piece(narrowed):
    """Trade practice of quartering: fronts and backs give in proportion to their widths, here at hip and knee."""
    by, after = narrowed
    for level in (230.0, 602.0):
        taken = {name: float((widths(BEFORE.piece(name), [level]) - widths(after.piece(name), [level]))[0])
                 for name in ("front-right", "back")}  # fmt: skip
        girth = 2.0 * sum(float(widths(BEFORE.piece(name), [level])[0]) for name in taken)
        assert 2.0 * sum(taken.values()) == pytest.approx(by * girth, abs=0.04)


def test_the_dart_of_the_back_is_sewn_as_before(narrowed):
    _by, after = narrowed
    old, new = BEFORE.piece("back"), after.piece("back")
    (first, tip, last), (new_first, new_tip, new_last) = (dart_points(p, p.darts[0]) for p in (old, new))
    assert new.darts[0].width == old.darts[0].width
    assert math.dist(new_first, new_last) == pytest.approx(math.dist(first, last), abs=0.01)
    assert new_tip[1] == pytest.approx(tip[1], abs=0.01)
    for end, new_end in ((first, new_first), (last, new_last)):
        assert math.dist(new_end, new_tip) == pytest.approx(math.dist(end, tip), abs=0.02)


def test_seams_run_as_smoothly_as_before(narrowed):
    _by, after = narrowed
    for name in LEGS:
        for edge in after.piece(name).edges:
            if edge.name == "waist" and name != "front-right":
                continue  # the dart's mouth and the zip extension are corners of the waist
            before = max(map(abs, node_turns(BEFORE.piece(name).edge(edge.name).line)), default=0.0)
            assert max(map(abs, node_turns(edge.line)), default=0.0) <= max(0.1, before), (name, edge.name)


def test_few_nodes_are_added(narrowed):
    _by, after = narrowed
    added = {name: len(after.piece(name).line.segments) - len(BEFORE.piece(name).line.segments) for name in LEGS}
    assert added["front-right"] == 0
    assert added["front-left"] <= 4
    assert added["back"] <= 7


def test_notches_stay_at_their_level_and_still_match(narrowed):
    _by, after = narrowed
    for name in LEGS:
        for old, new in zip(BEFORE.piece(name).notches, after.piece(name).notches, strict=True):
            was, now = (
                point_at(line, place_at(line, notch.share * path_length(line)))
                for line, notch in (
                    (BEFORE.piece(name).edge(old.edge).line, old),
                    (after.piece(name).edge(new.edge).line, new),
                )
            )
            assert now[1] == pytest.approx(was[1], abs=0.01)


def test_the_stiff_pieces_are_left_and_found():
    outcome = reduce(BEFORE, Reduction(by=0.08))
    stiff = ("waistband", "fly facing", "fly guard")
    assert tuple(finding.piece for finding in outcome.findings) == stiff
    for name in stiff:
        assert outcome.value.piece(name) == BEFORE.piece(name)


# --- allowances ---------------------------------------------------------------------------------------------------

HEM_AND_SEAT = Allowance(width=10.0, edges=(("hem", Width.of(30.0)), ("seat", Width.of(25.0))))


@pytest.fixture(scope="module", params=["as drafted", "narrowed"])
def to_cut(request):
    return allow(BEFORE if request.param == "as drafted" else reduce(BEFORE, Reduction(by=0.12)).value, HEM_AND_SEAT)


def test_cut_lines_keep_each_edges_distance_away_from_corners(to_cut):
    for piece in to_cut.value.pieces:
        corners = [edge.line.start for edge in piece.edges]
        most = max(edge.allowance.most for edge in piece.edges)
        for edge in piece.edges:
            points = [
                point for point in dense(edge.line, 2.0) if min(math.dist(point, c) for c in corners) > 1.6 * most
            ]
            if len(points) == 0:
                assert path_length(edge.line) < 4.0 * most, (piece.id, edge.name)
                continue
            gaps = distances(np.array(points), piece.counterpart)
            assert np.abs(gaps - edge.allowance.start).max() <= 0.011, (piece.id, edge.name)


def test_every_edge_has_the_width_it_should(to_cut):
    for piece in to_cut.value.pieces:
        for edge in piece.edges:
            on_fold = edge.name == piece.cut.on_fold
            assert edge.allowance.start == {"hem": 30.0, "seat": 25.0}.get(edge.name, 0.0 if on_fold else 10.0)


def test_cut_lines_need_few_nodes(to_cut):
    """Two short lines at a corner, and far fewer than a buffered polyline."""
    for piece in to_cut.value.pieces:
        assert len(piece.counterpart.segments) <= len(piece.line.segments) + 2 * len(piece.edges)
        if piece.id in LEGS:
            buffered = shapely.Polygon(dense(piece.line)[:-1]).simplify(0.01).buffer(10.0, join_style="mitre")
            assert 3 * len(piece.counterpart.segments) <= len(buffered.exterior.coords)


def test_cut_lines_go_round_their_pieces_and_do_not_cross_themselves(to_cut):
    for piece in to_cut.value.pieces:
        cut = shapely.Polygon(dense(piece.counterpart)[:-1])
        assert cut.is_valid
        assert cut.buffer(1e-3).contains(shapely.Polygon(dense(piece.line)[:-1]))


def test_nothing_of_the_fly_guard_lies_beyond_its_fold(to_cut):
    guard = to_cut.value.piece("fly-guard")
    fold = max(x for x, _y in guard.edge("fold").line.nodes)
    assert max(x for x, _y in guard.counterpart.nodes) == pytest.approx(fold, abs=1e-9)


def test_mirrored_fronts_have_mirrored_cut_lines():
    """But for the zip extension: below it and at side, hem and inseam the two cut lines are mirror images."""
    from crossgrain.kernel.affine import Affine

    new = allow(BEFORE, HEM_AND_SEAT).value
    flip = Affine.scaling(-1.0, 1.0)
    left = moved(new.piece("front-left"), flip).counterpart
    right = [p for p in dense(new.piece("front-right").counterpart) if p[1] > 185.0 or p[0] > 30.0]
    assert distances(np.array(right), left).max() <= 0.02


@pytest.mark.parametrize("width", [6.0, 10.0, 15.0])
@pytest.mark.parametrize("name", [piece.id for piece in BEFORE.pieces])
def test_allowing_and_stripping_gives_the_stitch_line_back(name, width):
    piece = replace(BEFORE.piece(name), cut=replace(BEFORE.piece(name).cut, on_fold=""))
    [new] = allow(Pattern(pieces=(piece,)), Allowance(width=width)).value.pieces
    assert new.counterpart is not None
    bare = Piece(id=name, edges=(Edge(name="", line=Path(new.counterpart.segments)),), outline="cut")
    [back] = strip(Pattern(pieces=(bare,)), Allowance(width=width)).value.pieces
    assert back.counterpart is not None
    assert apart(back.counterpart, piece.line) <= 0.02
    assert abs(signed_area(back.counterpart)) == pytest.approx(abs(signed_area(piece.line)), rel=1e-4)


def cut_edges(line):
    """The runs of a closed line between its corners of more than 40°, from the first corner on."""
    segments = line.segments
    turns = node_turns(Path((segments[-1], *segments)))
    at = [k for k, turn in enumerate(turns) if abs(turn) > 40.0]
    segments = segments[at[0] :] + segments[: at[0]]
    starts = [k - at[0] for k in at] + [len(segments)]
    return [Path(segments[a:b]) for a, b in pairwise(starts)]


def test_stripping_each_edge_of_the_right_front_by_its_own_width():
    by_edge = Allowance(width=10.0, edges=(("hem", Width.of(30.0)),))
    [new] = allow(Pattern(pieces=(BEFORE.piece("front-right"),)), by_edge).value.pieces
    runs = cut_edges(new.counterpart)
    assert len(runs) == 5  # centre and crotch go on from each other
    hem = max(range(5), key=lambda k: sum(y for _x, y in runs[k].nodes) / len(runs[k].nodes))
    edges = tuple(Edge(name="hem" if k == hem else f"seam {k}", line=line) for k, line in enumerate(runs))
    cut = Piece(id="front", edges=edges, outline="cut")
    [back] = strip(Pattern(pieces=(cut,)), by_edge).value.pieces
    assert apart(back.counterpart, new.line) <= 0.02
