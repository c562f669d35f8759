"""What is pressed, stitched and closed on the drafted trousers fits together when they are sewn."""

from __future__ import annotations

import math
from pathlib import Path as File

import pytest
from drafting.band import UNDERLAP
from drafting.fly import FACING_WIDTH
from drafting.trousers import trousers
from shapely.geometry import Point, Polygon

from crossgrain.kernel.area import signed_area
from crossgrain.kernel.length import path_length, point_at_share
from crossgrain.model.edge_foot import foot
from crossgrain.model.marking.closing_lines import buttonhole_ends, drill_point, loop_strip
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.marking.notch_lines import notch_lines
from crossgrain.model.marking.pressing_lines import crease_line
from crossgrain.model.marking.topstitching_line import template, topstitching_line
from crossgrain.operations.allowance import Allowance, allow
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

SAMPLES = File(__file__).parents[2] / "samples"
PATTERN = trousers()
LEFT, RIGHT, BACK, BAND, FACING, GUARD = PATTERN.pieces


def polygon(line):
    return Polygon([segment.point(t / 100) for segment in line.segments for t in range(100)])


@pytest.mark.parametrize("piece", [LEFT, RIGHT, BACK], ids=lambda piece: piece.id)
def test_a_leg_is_pressed_plumb_from_the_middle_of_the_hem(piece):
    [crease] = piece.creases
    line = crease_line(piece, crease)
    assert line.start == pytest.approx(point_at_share(piece.edge("hem").line, 0.5))
    assert line.end[0] == pytest.approx(line.start[0], abs=1e-6)
    waist = polygon(piece.line).bounds[1]
    # Common practice: the front to the waist, the back no farther than the seat, some 200 mm below the waist.
    assert line.end[1] - waist < 25.0 if piece is not BACK else 180.0 < line.end[1] - waist < 260.0


def test_the_dart_is_drilled_inside_it():
    [dart] = BACK.darts
    assert math.dist(drill_point(BACK, dart), dart_points(BACK, dart)[1]) == pytest.approx(10.0)
    assert polygon(BACK.line).contains(Point(drill_point(BACK, dart)))


def test_button_and_buttonhole_meet_when_the_centres_meet():
    """Closed, the right end of the band lies on the left centre, which is the underlap from its left end."""
    [button], [hole] = BAND.buttons, BAND.buttonholes
    assert hole.inset == pytest.approx(UNDERLAP - button.inset)
    assert (hole.diameter, hole.thickness) == (button.diameter, button.thickness)
    one = foot(BAND, button.edge, button.share).at(0.0, button.inset)
    other = foot(BAND, hole.edge, hole.share).at(0.0, hole.inset)
    assert one[0] == pytest.approx(other[0])
    start, end = buttonhole_ends(BAND, hole)
    assert math.dist(start, end) == pytest.approx(18.0)  # common practice: 15 mm wide and 3 mm thick
    assert min(math.dist(start, other), math.dist(end, other)) == pytest.approx(3.0)


def test_loops_stand_at_the_seams_and_mirror_about_the_centre_back():
    notches = {round(notch.share, 9) for notch in BAND.notches}
    shares = [loop.share for loop in BAND.loops]
    assert len({round(share, 9) for share in shares} & notches) == 3
    length = path_length(BAND.edge("waist").line)
    [centre] = [notch.share for notch in BAND.notches if notch.count == 2]
    off = sorted((share - centre) * length for share in shares)
    assert off == pytest.approx([-one for one in reversed(off)], abs=1e-3)
    assert loop_strip(BAND, BAND.loops[0]) == pytest.approx(70.0)


def test_the_fly_is_stitched_down_on_its_facing_to_the_end_of_the_zip():
    [stitching] = RIGHT.topstitching
    line = topstitching_line(RIGHT, stitching)
    centre = RIGHT.edge("centre").line
    assert stitching.width < FACING_WIDTH
    assert line.end == pytest.approx(centre.start)
    card = template(RIGHT, stitching)
    assert polygon(RIGHT.line).buffer(0.01).contains(polygon(card))
    # As wide as the stitching and as long as the opening, less the corner that the curve cuts off.
    size = stitching.width * path_length(centre)
    assert 0.9 * size < abs(signed_area(card)) < size
    assert LEFT.topstitching == ()


def test_notches_of_the_cut_pieces_meet_on_the_seams():
    """Side and inseam, front to back: each stroke points at the same place of the seam, whatever the allowances are."""
    wide = allow(PATTERN, Allowance(width=10.0)).value
    for name in ("side", "inseam"):
        along = []
        for piece in (wide.piece("front-right"), wide.piece("back")):
            line = piece.edge(name).line
            from_hem = line.start[1] < line.end[1]
            ends = []
            for notch in piece.notches:
                if notch.edge == name:
                    [stroke] = notch_lines(piece, notch)
                    assert path_length(stroke) == pytest.approx(5.0, abs=0.01)
                    ends.append((1.0 - notch.share if from_hem else notch.share) * path_length(line))
            along.append(sorted(ends))
        assert along[0] == pytest.approx(along[1], abs=0.01)


@pytest.mark.parametrize("name", ["trousers.svg", "trousers-untrued.svg"])
def test_the_drawings_show_them(name):
    read = pattern_of(read_drawing(SAMPLES / name))
    assert [len(piece.creases) for piece in read.pieces] == [1, 1, 1, 0, 0, 0]
    assert len(read.piece("waistband").loops) == 5
    text = (SAMPLES / name).read_text(encoding="utf-8")
    for look in ("crease", "loop", "button", "buttonhole", "topstitch", "drill", "fold"):
        assert f'-{look}"' in text
