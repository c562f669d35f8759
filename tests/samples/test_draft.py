"""The drafted trousers keep the laws of a pattern, and the sizes they were drafted to.

Each value from outside has its source beside it. *Common practice* marks what drafters do and no document fixes.
"""

from __future__ import annotations

import math
import pathlib
from itertools import pairwise

import pytest
from drafting import body as drafted
from drafting.body import BODY, levels, measures
from drafting.front import ZIP_EXTENSION
from drafting.trousers import trousers
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon

from crossgrain.kernel.affine import Affine
from crossgrain.kernel.length import path_length, segment_length

SAMPLES = pathlib.Path(__file__).parents[2] / "samples"

TRUED = trousers()
UNTRUED = trousers(trued=False)
LEVEL = levels(BODY)
SIZE = measures(BODY)
LEFT, RIGHT, BACK, BAND, FACING, GUARD = TRUED.pieces

BACK_SIDE_FROM_THE_WAIST = BACK.edge("side").line.reversed().segments

PIECES = pytest.mark.parametrize("piece", [*TRUED.pieces, *UNTRUED.pieces[2:3]], ids=lambda piece: piece.id)


def polygon(piece):
    return Polygon([segment.point(t / 200) for segment in piece.line.segments for t in range(200)])


def width_at(piece, y):
    left, _, right, _ = polygon(piece).bounds
    return polygon(piece).intersection(LineString([(left - 1.0, y), (right + 1.0, y)])).length


def middle_at(piece, y):
    left, _, right, _ = polygon(piece).intersection(LineString([(-500.0, y), (500.0, y)])).bounds
    return (left + right) / 2.0


def length(piece, edge):
    return path_length(piece.edge(edge).line)


def parts(piece, edge):
    """The lengths between the nodes of an edge, from the waist or crotch downwards."""
    found = [segment_length(segment) for segment in piece.edge(edge).line.segments]
    return found if piece.edge(edge).line.start[1] < piece.edge(edge).line.end[1] else found[::-1]


def turn(before, after):
    """The turn, in degrees, from the end of one segment to the start of the next; clockwise on the page."""
    (x, y), (u, v) = before.end_tangent, after.start_tangent
    return math.degrees(math.atan2(x * v - y * u, x * u + y * v))


def corner(piece, name):
    """The angle inside the piece, in degrees, where an edge begins."""
    at = piece.edge_names.index(name)
    before, after = piece.edges[at - 1].line.segments[-1], piece.edges[at].line.segments[0]
    clockwise = 1.0 if piece is not LEFT and piece is not FACING else -1.0
    return 180.0 - clockwise * turn(before, after)


class TestBody:
    def test_the_waist_is_the_published_one_nearest_to_a_waist_of_740_mm(self):
        # ASTM D5585-11e1, misses, sizes 00 to 20, waist girth curvy, inches; straight is 1½ in more.
        curvy = [23.875, 24.625, 25.375, 26.125, 27, 28, 29, 30.75, 32.5, 34.5, 36.75, 39]
        published = [25.4 * inches for row in (curvy, [w + 1.5 for w in curvy]) for inches in row]
        assert min(published, key=lambda girth: abs(girth - 740.0)) == pytest.approx(BODY.waist)
        assert published.index(BODY.waist) == 6  # size 10, curvy

    def test_each_estimate_passes_through_the_means_of_its_own_survey(self):
        # A least-squares line passes through the means. openintro bdims, women, n 260: waist 69.80, hip 95.65,
        # knee 35.26 cm. ANSUR II women, n 1986: buttock 1021.2, thigh 616.1 mm.
        assert drafted.hip_from_waist(698.0) == pytest.approx(956.5, abs=0.3)
        assert drafted.knee_from_hip(956.5) == pytest.approx(352.6, abs=0.3)
        assert drafted.thigh_from_hip(1021.2) == pytest.approx(616.1, abs=0.3)

    def test_two_surveys_agree_on_the_thigh(self):
        # The line of ANSUR II at the mean hip of bdims, against the mean thigh of bdims: 57.20 cm.
        assert drafted.thigh_from_hip(956.5) == pytest.approx(572.0, abs=2.0)

    def test_the_hip_is_within_one_step_of_the_table_in_en_13402_3(self):
        # EN 13402-3 women: waist 60–88 and hip 84–112 by 4 cm, so the hip is 24 cm more (from memory).
        assert BODY.hip == pytest.approx(BODY.waist + 240.0, abs=40.0)


class TestSeams:
    @pytest.mark.parametrize("front", [LEFT, RIGHT], ids=["left", "right"])
    @pytest.mark.parametrize("edge", ["side", "inseam"])
    def test_front_and_back_are_equal_between_all_notches(self, front, edge):
        assert parts(front, edge) == pytest.approx(parts(BACK, edge), abs=0.01)
        assert length(front, edge) == pytest.approx(length(BACK, edge), abs=0.01)

    @pytest.mark.parametrize("edge", ["side", "inseam"])
    def test_the_notches_meet(self, edge):
        places = [
            sorted(
                (notch.share if piece.edge(edge).line.start[1] < 300.0 else 1.0 - notch.share) * length(piece, edge)
                for notch in piece.notches
                if notch.edge == edge
            )
            for piece in (LEFT, RIGHT, BACK)
        ]
        assert len(places[0]) == (2 if edge == "side" else 1)
        assert places[1] == pytest.approx(places[0], abs=0.01)
        assert places[2] == pytest.approx(places[0], abs=0.01)

    def test_left_and_right_fronts_are_sewn_equal(self):
        for edge in ("crotch", "centre"):
            assert length(LEFT, edge) == pytest.approx(length(RIGHT, edge), abs=0.001)

    def test_the_first_draft_is_not_trued(self):
        back = UNTRUED.piece("back")
        assert abs(length(back, "side") - length(RIGHT, "side")) > 3.0
        assert abs(length(back, "inseam") - length(RIGHT, "inseam")) > 3.0
        assert [piece for piece in UNTRUED.pieces if piece.name != "back"][:2] == [LEFT, RIGHT]


class TestJoins:
    @PIECES
    def test_nodes_inside_an_edge_are_smooth(self, piece):
        opened = {dart.edge for dart in piece.darts}
        for edge in piece.edges:
            # At the mouth of an open dart the waist is broken, so that it is smooth when the dart is sewn.
            most = 6.0 if edge.name in opened else 0.001
            for before, after in pairwise(edge.line.segments):
                assert abs(turn(before, after)) < most

    def test_the_right_centre_runs_smoothly_into_the_crotch(self):
        assert corner(RIGHT, "centre") == pytest.approx(180.0, abs=0.001)

    @pytest.mark.parametrize("piece", [LEFT, RIGHT, BACK], ids=lambda piece: piece.id)
    def test_the_seams_stand_square_on_the_hem(self, piece):
        following = piece.edge_names[(piece.edge_names.index("hem") + 1) % len(piece.edges)]
        assert corner(piece, "hem") == pytest.approx(90.0, abs=0.001)
        assert corner(piece, following) == pytest.approx(90.0, abs=0.001)

    def test_the_waist_stands_square_on_the_centres(self):
        assert corner(LEFT, "waist") == pytest.approx(90.0, abs=0.001)
        assert corner(RIGHT, "waist") == pytest.approx(90.0, abs=0.001)
        assert corner(BACK, "seat") == pytest.approx(90.0, abs=0.001)

    def test_the_waist_is_one_smooth_line_over_the_side_seam(self):
        assert corner(RIGHT, "side") + corner(BACK, "waist") == pytest.approx(180.0, abs=0.001)
        assert corner(RIGHT, "side") + corner(UNTRUED.piece("back"), "waist") > 185.0

    def test_the_crotch_is_one_smooth_line_over_the_inseam(self):
        assert corner(RIGHT, "crotch") + corner(BACK, "inseam") == pytest.approx(180.0, abs=0.001)

    def test_the_waist_is_one_smooth_line_over_the_dart(self):
        first, mouth, last = BACK.edge("waist").line.segments
        (dart,) = BACK.darts
        assert math.dist(mouth.start, mouth.end) == pytest.approx(dart.width, abs=0.001)
        # Sew the dart: turn what lies beyond it about the tip by the angle between the legs.
        angle = 2.0 * math.atan2(dart.width / 2.0, dart.depth)
        (x, y), middle = mouth.start_tangent, mouth.point(0.5)
        tip = (middle[0] - dart.depth * y, middle[1] + dart.depth * x)
        sewn = last.mapped(Affine.rotation(-angle, about=tip))
        assert math.dist(sewn.start, first.end) < 0.001
        assert abs(turn(first, sewn)) < 0.001

    @pytest.mark.parametrize("piece", [LEFT, RIGHT, BACK], ids=lambda piece: piece.id)
    def test_the_side_seam_hangs_plumb_at_the_hip(self, piece):
        first, second, _ = piece.edge("side").line.segments if piece is not BACK else BACK_SIDE_FROM_THE_WAIST
        assert second.start[1] == pytest.approx(LEVEL.hip, abs=2.0)
        assert abs(first.end_tangent[0]) < 1e-9
        assert abs(second.start_tangent[0]) < 1e-9


class TestOutlines:
    @PIECES
    def test_an_outline_is_simple(self, piece):
        shape = polygon(piece)
        assert shape.is_valid
        assert shape.area > 1000.0

    @PIECES
    def test_nodes_are_few(self, piece):
        assert len(piece.line.nodes) <= 13

    def test_pieces_and_edges_have_their_names(self):
        named = {piece.name: piece.edge_names for piece in TRUED.pieces}
        assert named == {
            "left front": ("waist", "side", "hem", "inseam", "crotch", "step", "centre"),
            "right front": ("waist", "side", "hem", "inseam", "crotch", "centre"),
            "back": ("waist", "seat", "inseam", "hem", "side"),
            "waistband": ("right", "top", "left", "waist"),
            "fly facing": ("waist", "outer", "centre"),
            "fly guard": ("waist", "fold", "foot", "centre"),
        }

    def test_how_often_each_is_cut(self):
        cuts = {piece.name: (piece.cut.count, piece.cut.mirrored, piece.cut.stabilised) for piece in TRUED.pieces}
        assert cuts == {
            "left front": (1, False, False),
            "right front": (1, False, False),
            "back": (2, True, False),
            "waistband": (2, False, True),
            "fly facing": (1, False, True),
            "fly guard": (1, False, True),
        }


class TestZipExtension:
    def test_it_is_all_that_the_left_front_has_more(self):
        mirrored = affinity.scale(polygon(RIGHT), -1.0, 1.0, origin=(0.0, 0.0))
        extra = polygon(LEFT).difference(mirrored.buffer(1e-6))
        assert mirrored.difference(polygon(LEFT).buffer(1e-6)).area < 0.01
        # Common practice: a zip extension of 5 mm, a trouser zip of 15 to 16 cm.
        assert extra.area == pytest.approx(5.0 * length(RIGHT, "centre"), abs=0.1)
        assert 150.0 <= length(RIGHT, "centre") <= 160.0

    def test_it_is_five_millimetres_wide_all_the_way(self):
        edge = LineString(LEFT.edge("centre").line.nodes)
        (centre,) = RIGHT.edge("centre").line.mapped(Affine.scaling(-1.0, 1.0)).segments
        for t in (0.0, 0.25, 0.5, 0.75, 1.0):
            assert edge.distance(Point(centre.point(t))) == pytest.approx(5.0, abs=0.001)

    def test_only_the_left_front_holds_it(self):
        assert [(hold.edge, hold.width, hold.start, hold.end) for hold in LEFT.holds] == [("centre", 5.0, 0.0, 1.0)]
        assert not any(piece.holds for piece in TRUED.pieces if piece is not LEFT)
        assert ZIP_EXTENSION == 5.0


class TestSizes:
    def test_the_waist_is_the_body_and_the_stated_ease(self):
        edges = length(LEFT, "waist") + length(RIGHT, "waist") + 2.0 * length(BACK, "waist")
        girth = edges - 2.0 * BACK.darts[0].width - ZIP_EXTENSION
        assert girth == pytest.approx(BODY.waist + drafted.WAIST_EASE, abs=0.01)

    def test_the_band_is_as_long_as_the_waist_and_its_underlap(self):
        girth = BODY.waist + drafted.WAIST_EASE
        underlap = ZIP_EXTENSION + length(GUARD, "waist")
        assert length(BAND, "waist") == pytest.approx(girth + underlap, abs=0.01)
        places = [(1.0 - notch.share) * length(BAND, "waist") for notch in BAND.notches]
        seam, back = length(RIGHT, "waist"), length(BACK, "waist") - BACK.darts[0].width
        assert places == pytest.approx([seam, seam + back, seam + 2.0 * back, girth], abs=0.01)

    def test_the_hip_is_the_body_and_the_stated_ease(self):
        front, back = width_at(RIGHT, LEVEL.hip), width_at(BACK, LEVEL.hip)
        assert 2.0 * (front + back) == pytest.approx(BODY.hip + drafted.HIP_EASE, abs=0.1)
        # Common practice: a quarter each, the back 10 mm more and the front 10 mm less.
        quarter = (BODY.hip + drafted.HIP_EASE) / 4.0
        assert front == pytest.approx(quarter - 10.0, abs=0.1)
        assert back == pytest.approx(quarter + 10.0, abs=0.1)

    def test_knee_and_hem(self):
        front, back = width_at(RIGHT, LEVEL.knee), width_at(BACK, LEVEL.knee)
        assert front + back == pytest.approx(BODY.knee + drafted.KNEE_EASE, abs=0.05)
        assert back - front == pytest.approx(40.0, abs=0.05)
        # Common practice: a slim hem is 320 to 360 mm round.
        assert 320.0 <= length(RIGHT, "hem") + length(BACK, "hem") <= 360.0

    def test_the_thigh_is_close_and_can_be_put_on(self):
        # At the top of the leg, 25 mm below the crotch. Style: within 4 % of the thigh either way.
        girth = width_at(RIGHT, LEVEL.crotch + 25.0) + width_at(BACK, LEVEL.crotch + 25.0)
        assert girth == pytest.approx(BODY.thigh, rel=0.04)

    def test_the_leg_ends_clear_of_the_floor(self):
        # ANSUR II, 1986 women: mean crotch height 782.3 mm.
        inside = max(y for _, y in RIGHT.line.nodes) - LEVEL.crotch
        assert 10.0 <= 782.3 - inside <= 30.0


class TestCommonPractice:
    def test_the_back_rise_is_longer_and_slanted(self):
        front = length(RIGHT, "centre") + length(RIGHT, "crotch")
        assert 50.0 < length(BACK, "seat") - front < 100.0
        (x, y), (u, v) = BACK.edge("seat").line.nodes[:2]
        assert 8.0 <= math.degrees(math.atan2(u - x, v - y)) <= 12.0

    def test_the_forks(self):
        tip = RIGHT.edge("crotch").line.start
        assert -tip[0] == pytest.approx(BODY.hip / 20.0, abs=5.0)
        seat, point = BACK.edge("seat").line.segments[0], BACK.edge("seat").line.end
        across = seat.start[0] + (LEVEL.hip - seat.start[1]) / (seat.end[1] - seat.start[1]) * (
            seat.end[0] - seat.start[0]
        )
        assert point[0] - across == pytest.approx(BODY.hip / 10.0, abs=12.0)

    def test_the_back_crotch_point_lies_lower(self):
        drop = BACK.edge("seat").line.end[1] - RIGHT.edge("crotch").line.start[1]
        assert 5.0 <= drop <= 10.0

    def test_the_back_crotch_is_scooped_and_the_front_shallow(self):
        def depth(piece, edge, segment):
            curve = piece.edge(edge).line.segments[segment]
            chord = LineString([curve.start, curve.end])
            return max(chord.distance(Point(curve.point(t / 50))) for t in range(51))

        assert 10.0 < depth(RIGHT, "crotch", 0) < 20.0
        assert depth(BACK, "seat", 1) > depth(RIGHT, "crotch", 0) + 2.0

    def test_knee_and_hem_are_centred_on_the_crease(self):
        for piece in (RIGHT, BACK):
            assert middle_at(piece, LEVEL.hem - 0.01) == pytest.approx(middle_at(piece, LEVEL.knee), abs=0.01)
        # The crease of the front halves it at the level of the fork.
        assert middle_at(RIGHT, LEVEL.crotch - 0.01) == pytest.approx(middle_at(RIGHT, LEVEL.knee), abs=5.0)

    def test_the_centre_front_leans_and_dips_a_little(self):
        end, top = RIGHT.edge("crotch").line.nodes[1], RIGHT.edge("centre").line.end
        assert 0.0 <= top[0] - end[0] <= 10.0
        assert 5.0 <= top[1] <= 10.0

    def test_the_dart(self):
        (dart,) = BACK.darts
        assert 20.0 <= dart.width <= 25.0
        assert 90.0 <= dart.depth <= 120.0
        assert 0.4 <= dart.share <= 0.6

    def test_the_front_is_narrower_than_the_back_at_every_level(self):
        for y in (LEVEL.hip, LEVEL.crotch, LEVEL.knee, LEVEL.hem - 0.01):
            assert width_at(RIGHT, y) < width_at(BACK, y)


def test_the_readme_says_what_was_drafted():
    rows = {
        cells[0]: cells[1:]
        for line in (SAMPLES / "README.md").read_text(encoding="utf-8").splitlines()
        if len(cells := [cell.strip() for cell in line.strip("|").split("|")]) in (3, 4)
    }
    body = {"waist": BODY.waist, "hip": BODY.hip, "thigh": BODY.thigh, "knee": BODY.knee}
    for name, girth in body.items():
        assert rows[f"body {name}"][0].startswith(f"{girth:.1f} mm")
    waist = length(BACK, "waist") - BACK.darts[0].width
    widths = {
        "waist, dart sewn": (length(RIGHT, "waist"), waist, 2.0),
        "hip": (width_at(RIGHT, LEVEL.hip), width_at(BACK, LEVEL.hip), 2.0),
        "thigh, 25 mm below the crotch": (width_at(RIGHT, LEVEL.crotch + 25), width_at(BACK, LEVEL.crotch + 25), 1.0),
        "knee": (width_at(RIGHT, LEVEL.knee), width_at(BACK, LEVEL.knee), 1.0),
        "hem": (length(RIGHT, "hem"), length(BACK, "hem"), 1.0),
    }
    for name, (front, back, times) in widths.items():
        said = [float(cell) for cell in rows[name]]
        assert said == pytest.approx([front, back, times * (front + back)], abs=0.06), name
    seams = f"{length(RIGHT, 'side'):.1f}, {length(RIGHT, 'inseam'):.1f}"
    assert rows["side seam, inseam"][:2] == [seams, seams]
