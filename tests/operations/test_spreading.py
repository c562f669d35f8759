"""The sum law: what a girth of the body grows by, all pieces together grow by, in every size and at every level.

Outside checks, each with its source: a gore lesson of 1918, quartering, a teaching chart for trousers, the uneven
waists of a published size table.
"""

import cmath
import math
from dataclasses import replace
from pathlib import Path as File

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.checks.pattern import check_pattern
from crossgrain.checks.sizes import check_sizes
from crossgrain.errors import ParameterError, SelfCrossingError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.length import distance_of, path_length
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import CutInstruction, Edge, Pattern, Piece
from crossgrain.model.girths import depth_frame, girth_along, girth_at
from crossgrain.model.levels import depths_of_levels, depths_on_pieces
from crossgrain.model.sizes.body_sizes import BodySizes
from crossgrain.model.sizes.grade_directions import directions
from crossgrain.model.sizes.grade_point import place_of
from crossgrain.model.sizes.grade_rules import Shift
from crossgrain.model.sizes.seam_match import SeamMatch
from crossgrain.model.sizes.spread import GirthSpread, LengthSpread, Spread
from crossgrain.notation.body_sizes import read_body_sizes
from crossgrain.notation.grade_points import read_grade_point
from crossgrain.notation.grade_rules import read_grade_rules
from crossgrain.notation.measures import read_measures
from crossgrain.notation.spread import read_spread
from crossgrain.operations.following import Following, follow
from crossgrain.operations.grading import Grading, grade, grade_sizes, grade_to_body
from crossgrain.operations.spreading import Spreading, spread
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from pieces import moved, upright_pieces

SAMPLES = File(__file__).parent.parent.parent / "samples"
INCH = 25.4
LEVELS = ("hip", "thigh", "knee")
WITHIN = 0.05
"""What the sum law allows, mm."""


@pytest.fixture(scope="module")
def trousers():
    return pattern_of(read_drawing(SAMPLES / "trousers.svg"))


@pytest.fixture(scope="module")
def bodies():
    return read_body_sizes((SAMPLES / "bodies-astm-d5585.csv").read_text("utf-8"), "bodies")


@pytest.fixture(scope="module")
def rules():
    return read_grade_rules((SAMPLES / "grade-rules.toml").read_text("utf-8"), "rules")


@pytest.fixture(scope="module")
def graded(trousers, rules):
    return {size: outcome.value for size, outcome in grade_sizes(trousers, rules, rules.sizes).items()}


def worn(pattern):
    return [piece for piece in pattern.pieces if not piece.cut.stabilised]


def shares(texts):
    return tuple((read_grade_point(point), share) for point, share in texts.items())


def grown_at(base, now, depths, rise):
    """How much all pieces grow in girth at a level that has come to lie ``rise`` higher above the hem, mm."""
    total = []
    for old, new in zip(worn(base), worn(now), strict=True):
        below = depth_frame(old).of(old.edge("hem").line.start)[1] - depths[old.id]
        depth = depth_frame(new).of(new.edge("hem").line.start)[1] - below - rise
        total.append(girth_at([new], depth).girth - girth_at([old], depths[old.id]).girth)
    return math.fsum(total)


class TestSamples:
    def test_the_waists_grow_as_the_uneven_row_of_the_size_table(self, trousers, graded, bodies):
        """ASTM D5585-11e1, curvy, twelve sizes: steps of 3/4 in, 7/8, 1, 1 3/4, 2, 2 1/4 in … not one even step."""
        waists = [size * INCH for size in (23.875, 24.625, 25.375, 26.125, 27, 28, 29, 30.75, 32.5, 34.5, 36.75, 39)]
        assert bodies.measure("waist_girth") == pytest.approx(tuple(waists))
        base = girth_along(worn(trousers), "waist").girth
        for waist, now in zip(waists, graded.values(), strict=True):
            assert girth_along(worn(now), "waist").girth - base == pytest.approx(waist - 29 * INCH, abs=WITHIN)

    @pytest.mark.parametrize("level", LEVELS)
    def test_at_every_level_all_pieces_grow_as_the_body(self, trousers, graded, bodies, rules, level):
        depths = depths_on_pieces(trousers, depths_of_levels(trousers, rules.levels)[level])
        limbs = 1 if level == "hip" else 2
        steps, heights = bodies.steps(f"{level}_girth", "10"), bodies.steps(f"{level}_height", "10")
        for step, rise, now in zip(steps, heights, graded.values(), strict=True):
            assert grown_at(trousers, now, depths, rise) == pytest.approx(limbs * step, abs=limbs * WITHIN)

    def test_seams_match_in_all_twelve_sizes(self, graded):
        rows, checked = check_sizes(graded)
        assert {row.seam for row in rows} >= {"side", "inseam", "crotch"}
        assert all(len(row.differences) == 12 for row in rows)
        assert checked.findings == ()

    @pytest.mark.parametrize("size", ["00", "8", "20"])
    def test_nothing_is_found_in_a_size_that_was_not_in_the_base(self, graded, size):
        """Notches lie on one another, waist and crotch go on over the seams, the dart folds to a smooth edge."""
        assert check_pattern(follow(graded[size], Following()).value).findings == ()

    def test_the_base_is_the_very_drawing(self, trousers, graded):
        assert graded["10"] == trousers

    def test_the_rules_of_the_samples_are_those_that_their_table_and_shares_make(self, trousers, bodies, rules):
        read = read_spread((SAMPLES / "spread-trousers.toml").read_text("utf-8"), "spread")
        few = ("8", "10", "12")
        at = [bodies.sizes.index(size) for size in few]
        table = BodySizes(sizes=few, measures=tuple((n, tuple(v[k] for k in at)) for n, v in bodies.measures))
        made = spread(trousers, Spreading(spread=read, bodies=table, base="10")).value
        wanted = [(rule.point, rule.by, [moves[k] for k in at]) for rule in rules.rules for moves in (rule.across,)]
        found = {(rule.point, rule.by): rule.across for rule in made.rules}
        for point, by, across in wanted:
            if any(across):
                assert found[point, by] == pytest.approx(across, abs=0.01)

    def test_the_front_s_fork_goes_as_the_body_says_and_the_back_s_follows(self, rules):
        """Common practice: what the inseams would differ by is taken up at the crotch point of the back."""
        front, back = (
            [rule for rule in rules.rules if rule.point == read_grade_point(point)]
            for point in ("front: crotch/inseam", "back: seat/inseam")
        )
        thigh = dict(rules.measures)["thigh_girth"]
        (rule,) = front
        assert rule.along == (0.0,) * 12
        assert rule.across == pytest.approx([-0.09 * (value - thigh[6]) for value in thigh])
        downs = [sum(rule.along[k] for rule in back) for k in range(12)]
        assert downs == sorted(downs)
        assert downs[0] < -1.0
        assert downs[-1] > 1.0

    @pytest.mark.parametrize("size", ["00", "20"])
    def test_graded_back_by_as_much_the_pieces_are_themselves(self, trousers, graded, rules, size):
        """Within a millionth of a millimetre. Levels are named by where they have come to lie."""
        depths = {
            name: depths_on_pieces(trousers, depth) for name, depth in depths_of_levels(trousers, rules.levels).items()
        }
        for old in worn(trousers):
            new, (across, down) = graded[size].piece(old.id), directions(old)
            shifts = []
            for shift in rules.shifts(float(rules.index(size))):
                if not shift.point.is_on(old):
                    continue
                point = replace(shift.point, piece=old.id)
                if point.level:
                    here = place_of(old, point.place(old, {name: of[old.id] for name, of in depths.items()}))
                    there = complex(*here) + across * shift.across + down * shift.along
                    line = new.edge(point.edge).line
                    found = nearest(line, (there.real, there.imag))
                    assert found.distance < 1e-3, point.words
                    point = replace(point, level="", share=distance_of(line, found.place) / path_length(line))
                shifts.append(Shift(point=point, across=-shift.across, along=-shift.along))
            again = grade(Pattern(pieces=(new,)), Grading(shifts=tuple(shifts))).value.pieces[0]
            off = [
                abs(complex(*p) - complex(*q))
                for one, other in zip(old.line.segments, again.line.segments, strict=True)
                for p, q in zip(one.controls, other.controls, strict=True)
            ]
            assert max(off) < 1e-6

    def test_a_body_between_sizes_gets_its_own_girths_and_the_base_s_ease(self, trousers, rules, bodies):
        """Waist of nearly size 14, hip of nearly size 8: each level by itself."""
        body = {name: values[6] for name, values in bodies.measures} | {
            "waist_girth": 812.0, "hip_girth": 958.0, "thigh_girth": 600.0, "knee_girth": 352.0,
        }  # fmt: skip
        outcome = grade_to_body(trousers, rules, body)
        # Her waist and thigh are large for her hip: the side seam is hollow there, which is said.
        assert {finding.edge for finding in outcome.findings} == {"side"}
        now = outcome.value
        ease = girth_along(worn(trousers), "waist").girth - 29 * INCH
        assert girth_along(worn(now), "waist").girth == pytest.approx(812.0 + ease, abs=WITHIN)
        for level in LEVELS:
            limbs = 1 if level == "hip" else 2
            depths = depths_on_pieces(trousers, depths_of_levels(trousers, rules.levels)[level])
            step = body[f"{level}_girth"] - bodies.measure(f"{level}_girth")[6]
            assert grown_at(trousers, now, depths, 0.0) == pytest.approx(limbs * step, abs=limbs * WITHIN)

    def test_a_body_beyond_the_sizes_goes_on_as_the_last_step(self, trousers, rules):
        body = {name: values[-1] + (values[-1] - values[-2]) / 2.0 for name, values in rules.measures}
        outcome = grade_to_body(trousers, rules, body)
        now = outcome.value
        beyond = [finding.message for finding in outcome.findings if "beyond size 20" in finding.message]
        growing = [name for name, values in rules.measures if values[-1] > values[-2]]
        assert len(beyond) == len(growing)
        assert beyond[0] == "waist_girth is 1019 mm, beyond size 20 with 991 mm: its step goes on."
        grown = girth_along(worn(now), "waist").girth - girth_along(worn(trousers), "waist").girth
        assert grown == pytest.approx(body["waist_girth"] - 29 * INCH, abs=WITHIN)

    def test_seams_match_for_a_body_whose_girths_fall_in_different_sizes(self, trousers, rules):
        body = {name: values[6] for name, values in rules.measures} | {
            "waist_girth": 870.0, "hip_girth": 930.0, "thigh_girth": 640.0, "knee_girth": 345.0, "hip_height": 861.0,
        }  # fmt: skip
        outcome = grade_to_body(trousers, rules, body)
        assert {finding.edge for finding in outcome.findings} == {"side"}, "hollow at the hip"
        assert check_sizes({"hers": outcome.value})[1].findings == ()
        ease = girth_along(worn(trousers), "waist").girth - 29 * INCH
        assert girth_along(worn(outcome.value), "waist").girth == pytest.approx(870.0 + ease, abs=WITHIN)
        alone = grade_to_body(trousers, replace(rules, matches=()), body).value
        off = check_sizes({"hers": alone})[1].findings
        assert [finding.edge for finding in off] == ["side", "side", "inseam", "inseam"], "left and right"

    def test_a_height_that_is_alike_in_all_sizes_is_said_not_to_be_followed(self, trousers, rules):
        body = {name: values[6] for name, values in rules.measures} | {"thigh_height": 700.0}
        messages = [finding.message for finding in grade_to_body(trousers, rules, body).findings]
        assert messages == ["thigh_height is 700 mm, and the sizes do not tell how to follow it."]

    def test_the_body_file_of_the_samples(self, trousers, rules):
        """Its waist is size 12's to the millimetre, so it is graded to size 12's waist."""
        body = read_measures((SAMPLES / "body-size-12.toml").read_text("utf-8"), "body")
        now = grade_to_body(trousers, rules, body).value
        twelve = grade_sizes(trousers, rules, ["12"])["12"].value
        assert girth_along(worn(now), "waist").girth == pytest.approx(
            girth_along(worn(twelve), "waist").girth, abs=WITHIN
        )


def test_trousers_of_the_teaching_chart(trousers):
    """A teaching chart (references: Grading and seams), cm per size: waist +5, hip +5, thigh +2, knee +2."""
    read = read_spread((SAMPLES / "spread-trousers.toml").read_text("utf-8"), "spread")
    base = {"waist_girth": 736.6, "hip_girth": 985.1, "thigh_girth": 591.3, "knee_girth": 360.7}
    steps = {"waist_girth": 50.0, "hip_girth": 50.0, "thigh_girth": 20.0, "knee_girth": 20.0}
    heights = {"waist_height": 1053.3, "hip_height": 853.3, "thigh_height": 757.3, "knee_height": 451.3}
    measures = [(name, tuple(value + k * steps[name] for k in (-1, 0, 1))) for name, value in base.items()]
    measures += [(name, (height, height, height)) for name, height in heights.items()]
    table = BodySizes(sizes=("38", "40", "42"), measures=tuple(measures))
    made = spread(trousers, Spreading(spread=read, bodies=table, base="40")).value
    sizes = {size: outcome.value for size, outcome in grade_sizes(trousers, made, made.sizes).items()}
    base_waist = girth_along(worn(trousers), "waist").girth
    for k, now in zip((-1, 0, 1), sizes.values(), strict=True):
        assert girth_along(worn(now), "waist").girth - base_waist == pytest.approx(50.0 * k, abs=WITHIN)
        for level in LEVELS:
            limbs = 1 if level == "hip" else 2
            depths = depths_on_pieces(trousers, depths_of_levels(trousers, made.levels)[level])
            wanted = limbs * steps[f"{level}_girth"] * k
            assert grown_at(trousers, now, depths, 0.0) == pytest.approx(wanted, abs=limbs * WITHIN)
    assert check_sizes(sizes)[1].findings == ()


def gore(name, top, foot, length, count):
    """A gore of a skirt: straight seams, its waist up."""
    lines = {
        "waist": Line((0.0, 0.0), (top, 0.0)),
        "side": Line((top, 0.0), (foot, length)),
        "hem": Line((foot, length), (0.0, length)),
        "centre": Line((0.0, length), (0.0, 0.0)),
    }
    edges = tuple(Edge(name=edge, line=Path((line,))) for edge, line in lines.items())
    return Piece(id=name, name=name, edges=edges, cut=CutInstruction(count=count, mirrored=count > 1))


def test_the_gore_lesson_of_1918():
    """The Practical Designer (1918), lesson 120, p. 223: waist 25 to 26 in.

    Half the pattern grows by half an inch: a quarter on each of two gores all the way down, none on the front gore.
    """
    front = replace(gore("front", 60.0, 110.0, 900.0, 1), cut=CutInstruction(on_fold="centre"))
    second = moved(gore("side gore", 80.0, 190.0, 900.0, 2), Affine.translation(300.0, 0.0))
    back = moved(gore("back gore", 90.0, 230.0, 900.0, 2), Affine.translation(700.0, 0.0))
    skirt = Pattern(pieces=(front, second, back))
    gores = {f"{name}: {corner}": 0.25 for name in ("side gore", "back gore") for corner in ("waist/side",)}
    down = {f"{name}: side/hem": 0.25 for name in ("side gore", "back gore")}
    still = {"front: waist/side": 0.0}
    girth = GirthSpread(measure="waist_girth", edges="waist", shares=shares(gores | still), going_along=shares(down))
    table = BodySizes(sizes=("25", "26"), measures=(("waist_girth", (25 * INCH, 26 * INCH)),))
    made = spread(skirt, Spreading(spread=Spread(girths=(girth,)), bodies=table, base="25")).value
    now = grade_sizes(skirt, made, ["26"])["26"].value
    widths = [path_length(piece.edge("waist").line) for piece in skirt.pieces]
    assert [path_length(piece.edge("waist").line) for piece in now.pieces] == pytest.approx(
        [widths[0], widths[1] + 0.25 * INCH, widths[2] + 0.25 * INCH]
    )
    for old, new in zip(skirt.pieces[1:], now.pieces[1:], strict=True):
        for depth in (100.0, 500.0, 899.0):
            assert girth_at([new], depth).girth - girth_at([old], depth).girth == pytest.approx(0.5 * INCH)
    assert now.pieces[0] == skirt.pieces[0]
    assert girth_along(now.pieces, "waist").girth - girth_along(skirt.pieces, "waist").girth == pytest.approx(INCH)


def quarters():
    """Half a front and half a back, cut on the fold, with a side that is seen to bend."""
    front = replace(gore("front", 180.0, 240.0, 600.0, 1), cut=CutInstruction(on_fold="centre"))
    return Pattern(pieces=(front, moved(replace(front, id="back", name="back"), Affine.translation(400.0, 0.0))))


def test_quartering():
    """Trade: an inch of girth is a quarter of an inch on each half front and half back."""
    points = {f"{name}: waist/side": 0.25 for name in ("front", "back")}
    down = {f"{name}: side/hem": 0.25 for name in ("front", "back")}
    girth = GirthSpread(measure="hip_girth", shares=shares(points), going_along=shares(down))
    table = BodySizes(sizes=("36", "37"), measures=(("hip_girth", (36 * INCH, 37 * INCH)),))
    made = spread(quarters(), Spreading(spread=Spread(girths=(girth,)), bodies=table, base="36")).value
    assert [rule.across[1] for rule in made.rules] == pytest.approx([0.25 * INCH] * 4)
    now = grade_sizes(quarters(), made, ["37"])["37"].value
    assert girth_at(now.pieces, 300.0).girth - girth_at(quarters().pieces, 300.0).girth == pytest.approx(INCH)


class TestMatching:
    """Two gores whose sides slant; the front alone is to become longer."""

    def made(self, at="back: waist/side", seam="side"):
        front = gore("front", 180.0, 300.0, 600.0, 2)
        skirt = Pattern(pieces=(front, moved(replace(front, id="back", name="back"), Affine.translation(400.0, 0.0))))
        up = shares({"front: waist/side": -1.0, "front: waist/centre": -1.0})
        read = Spread(
            lengths=(LengthSpread(measure="waist_height", shares=up),),
            matches=(SeamMatch(seam=seam, at=read_grade_point(at)),),
        )
        table = BodySizes(sizes=("S", "M"), measures=(("waist_height", (1000.0, 1020.0)),))
        made = spread(skirt, Spreading(spread=read, bodies=table, base="S")).value
        return skirt, grade_sizes(skirt, made, ["M"])["M"].value

    def test_the_corner_slides_along_its_seam_which_goes_on_as_it_was_drawn(self):
        skirt, now = self.made()
        lengths = [path_length(piece.edge("side").line) for piece in now.pieces]
        assert lengths[0] > path_length(skirt.pieces[0].edge("side").line) + 15.0
        assert lengths[1] == pytest.approx(lengths[0], abs=1e-3)
        ways = [
            complex(*edge.end) - complex(*edge.start)
            for edge in (one.pieces[1].edge("side").line for one in (skirt, now))
        ]
        assert abs(cmath.phase(ways[1] / ways[0])) < 1e-6

    @pytest.mark.parametrize(("at", "seam"), [("back: waist/centre", "side"), ("back: side at 40%", "side")])
    def test_a_point_at_no_end_of_the_seam(self, at, seam):
        with pytest.raises(ParameterError, match="at no end of the seam side"):
            self.made(at, seam)

    def test_a_seam_that_is_not_there(self):
        with pytest.raises(ParameterError, match="No seam waist joins back"):
            self.made("back: waist/centre", "waist")


class TestLaws:
    @given(upright_pieces(darts=True), st.lists(st.floats(4.0, 60.0), min_size=1, max_size=3), st.floats(0.0, 1.0))
    @settings(max_examples=15)
    def test_with_curves_darts_and_uneven_steps_the_waist_along_its_edge_grows_by_just_the_step(self, piece, ups, part):
        waists = [700.0]
        for up in ups:
            waists.append(waists[-1] + round(up, 1))
        sizes = tuple(str(30 + 2 * k) for k in range(len(waists)))
        table = BodySizes(sizes=sizes, measures=(("waist_girth", tuple(waists)),))
        leg = replace(piece, cut=CutInstruction(count=2, mirrored=True))
        side, centre = part * 0.5, (1.0 - part) * 0.5
        girth = GirthSpread(
            measure="waist_girth",
            edges="waist",
            shares=shares({"leg: waist/side": side, "leg: centre/waist": centre}),
            going_along=shares({"leg: side/hem": side, "leg: inseam/centre": centre, "leg: hem/inseam": centre}),
        )
        made = spread(Pattern(pieces=(leg,)), Spreading(spread=Spread(girths=(girth,)), bodies=table, base="30")).value
        base = girth_along([leg], "waist").girth
        for size, waist in zip(sizes, waists, strict=True):
            now = grade_sizes(Pattern(pieces=(leg,)), made, [size])[size].value
            assert girth_along(now.pieces, "waist").girth - base == pytest.approx(waist - 700.0, abs=WITHIN)


class TestRefusals:
    TABLE = BodySizes(sizes=("S", "M"), measures=(("hip_girth", (900.0, 940.0)),))

    def made(self, texts, table=TABLE, **more):
        girth = GirthSpread(measure="hip_girth", shares=shares(texts), **more)
        return spread(quarters(), Spreading(spread=Spread(girths=(girth,)), bodies=table, base="S"))

    def test_shares_that_do_not_add_up_show_their_sum(self):
        with pytest.raises(ParameterError, match=r"hip_girth add up to 90 %, not to 100 %: 2 × 25 % \+ 2 × 20 %"):
            self.made({"front: waist/side": 0.25, "back: waist/side": 0.20})

    def test_a_missing_column(self):
        with pytest.raises(ParameterError, match=r"no column hip_girth.*bust_girth"):
            self.made(
                {"front: waist/side": 0.25, "back: waist/side": 0.25},
                table=BodySizes(sizes=("S", "M"), measures=(("bust_girth", (900.0, 940.0)),)),
            )

    def test_a_corner_that_is_not_there(self):
        with pytest.raises(ParameterError, match=r"waist/inseam, which is not there"):
            self.made({"front: waist/inseam": 0.25, "back: waist/side": 0.25})

    def test_a_base_that_is_not_there(self):
        girth = GirthSpread(measure="hip_girth", shares=shares({"front: waist/side": 0.25, "back: waist/side": 0.25}))
        with pytest.raises(ParameterError, match=r"no size L.*S, M"):
            spread(quarters(), Spreading(spread=Spread(girths=(girth,)), bodies=self.TABLE, base="L"))

    def test_the_first_size_that_turns_inside_out_is_named_with_the_corner(self):
        heights = (1000.0, 1500.0, 2000.0, 2500.0)
        table = BodySizes(sizes=("S", "M", "L", "XL"), measures=(("waist_height", heights),))
        lengths = (
            LengthSpread(measure="waist_height", shares=shares({"front: waist/side": 1.0, "front: waist/centre": 1.0})),
        )
        made = spread(quarters(), Spreading(spread=Spread(lengths=lengths), bodies=table, base="S")).value
        assert list(grade_sizes(quarters(), made, ["M"])) == ["M"]
        with pytest.raises(SelfCrossingError, match=r"Size L: .*inside out at waist/side\."):
            grade_sizes(quarters(), made, ["S", "M", "L", "XL"])
