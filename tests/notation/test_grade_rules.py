"""What stands in a file of rules, of bodies and of shares is read, and what cannot be is said with its place."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import DocumentError, InputError, ParameterError
from crossgrain.model.sizes.grade_point import GradePoint
from crossgrain.model.sizes.grade_rules import GradeRule, GradeRules, Toward
from crossgrain.model.sizes.seam_match import SeamMatch
from crossgrain.notation.body_sizes import read_body_sizes
from crossgrain.notation.grade_points import (
    read_grade_point,
    read_sizes,
    read_steps,
    write_grade_point,
    write_steps,
)
from crossgrain.notation.grade_rules import read_grade_rules, write_grade_rules
from crossgrain.notation.measures import read_measures
from crossgrain.notation.spread import read_spread

SIZES = ("34", "36", "38", "40", "42")
HEAD = 'sizes = ["34", "36", "38", "40", "42"]\nbase = "38"\n'
names = st.sampled_from(["waist", "side", "hem", "centre"])
points = st.one_of(
    st.builds(GradePoint, piece=st.sampled_from(["front", "left front"]), edge=names, meets=names),
    st.builds(GradePoint, piece=st.just("back"), edge=names, level=st.sampled_from(["hip", "knee"])),
    st.builds(GradePoint, piece=st.just("back"), edge=names, share=st.integers(0, 100).map(lambda k: k / 100.0)),
    st.builds(GradePoint, piece=st.just("back"), edge=names, notch=st.integers(1, 9)),
    st.builds(GradePoint, piece=st.just("back"), edge=names, dart=st.integers(1, 9)),
)
amounts = st.integers(-400000, 400000).map(lambda tenths: tenths / 1e4)


@given(points)
def test_a_point_that_is_written_is_read(point):
    assert read_grade_point(write_grade_point(point)) == point


@given(st.lists(amounts, min_size=5, max_size=5), st.integers(0, 4))
def test_moves_that_are_written_are_read(moves, base):
    moves[base] = 0.0
    text = write_steps(moves, SIZES)
    read = read_steps(text, SIZES, base) if isinstance(text, str) else None
    if read is not None:
        assert read == pytest.approx(tuple(moves), abs=1e-9)
    else:
        rule = GradeRule(point=GradePoint(piece="p", edge="a", meets="b"), along=tuple(moves), across=(0.0,) * 5)
        again = read_grade_rules(write_grade_rules(GradeRules(sizes=SIZES, base=SIZES[base], rules=(rule,))), "r")
        assert again.rules[0].along == pytest.approx(tuple(moves), abs=1e-9)


@given(st.lists(st.tuples(points, amounts), min_size=1, max_size=4, unique_by=lambda one: one[0]))
def test_rules_that_are_written_are_read(given_points):
    whole = GradeRules(
        name="„skirt“", sizes=SIZES, base="38", by="hip_girth", stays=("belt",), levels=(("hip", 200.0),),
        rules=tuple(GradeRule(point=p, along=(0.0, 0.0, 0.0, by, 0.0), across=(-by, 0.0, 0.0, 0.0, 1.0), by="hip_girth")
                    for p, by in given_points),
        toward=(Toward(piece="sleeve", across="back", along="wrist"),),
        measures=(("hip_girth", (900.0, 940.0, 980.0, 1020.0, 1070.0)),), edges=(("waist_girth", "waist"),),
        matches=(SeamMatch(seam="side", at=GradePoint(piece="back", edge="waist", meets="side")),),
    )  # fmt: skip
    assert read_grade_rules(write_grade_rules(whole, ("made by hand",)), "r.toml") == whole


@pytest.mark.parametrize("line", ["", "stays = []\n"])
def test_no_piece_need_stay(line):
    assert read_grade_rules(f"{HEAD}{line}[moves]\n", "r.toml").stays == ()


class TestSteps:
    def test_one_amount_is_every_step(self):
        assert read_steps("4 mm", SIZES, 2) == (-8.0, -4.0, 0.0, 4.0, 8.0)

    def test_ranges_say_the_step_that_leads_to_a_size(self):
        """The issue's own example: four millimetres up to 38, six from there on."""
        assert read_steps("34-38: 4 mm, 40–42: 6 mm", SIZES, 2) == (-8.0, -4.0, 0.0, 6.0, 12.0)
        assert read_steps("34-40: 4,5 mm, 42: 6 mm", SIZES, 0) == (0.0, 4.5, 9.0, 13.5, 19.5)

    @pytest.mark.parametrize(
        ("text", "said"),
        [
            ("34-38: 4 mm", "step from size 38 to 40 is not given"),
            ("34-40: 4 mm, 40-42: 5 mm", "step to size 40 is given twice"),
            ("34-44: 4 mm", "no size 44"),
            ("42-34: 4 mm", "runs backwards"),
            ("34-42: 4", "no unit"),
            ("4", "no unit"),
            (": 4 mm", "no range"),
        ],
    )
    def test_what_cannot_be_read(self, text, said):
        with pytest.raises(InputError, match=said):
            read_steps(text, SIZES, 2)

    def test_names_of_sizes_may_have_dashes_and_spaces(self):
        sizes = ("62-68", "74-80", "86-92", "8 petite")
        assert read_sizes("62-68", sizes) == ("62-68",)
        assert read_sizes("62-68-86-92", sizes) == sizes[:3]
        assert read_sizes("74-80, 8 petite", sizes) == ("74-80", "8 petite")
        text = "62-68: 4 mm, 74-80 – 86-92: 5 mm, 8 petite: 6 mm"
        assert read_steps(text, sizes, 1) == (-5.0, 0.0, 5.0, 11.0)
        with pytest.raises(ParameterError, match="There is no size 62"):
            read_sizes("62-86", sizes)

    def test_sizes_wanted(self):
        assert read_sizes("36-40", SIZES) == ("36", "38", "40")
        assert read_sizes("42, 34", SIZES) == ("34", "42")
        with pytest.raises(ParameterError, match="no size 44"):
            read_sizes("36-44", SIZES)
        with pytest.raises(ParameterError, match="runs backwards"):
            read_sizes("40-36", SIZES)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (HEAD, "“moves” is no table"),
        (HEAD.replace('base = "38"', 'base = ["36", "38"]') + "[moves]\n", "Two bases are named"),
        (HEAD + 'base = "36"\n[moves]\n', "“base” is said a second time. Keep one"),
        (HEAD + '[moves]\n"f: a/b" = { across = [\n"1 mm",\n] }\n"f: a/b" = { across = [\n"1 mm",\n] }',
         "“f: a/b” is said a second time"),
        (HEAD + "[moves]\n[levels]\n[moves]\n", "“moves” is said a second time"),
        (HEAD + '[moves]\n"front: waist/side" = "4 mm"', "“front: waist/side” does not say in which.*across = "),
        (HEAD.replace('base = "38"', 'base = "39"') + "[moves]\n", "base 39 is none of the sizes"),
        (HEAD.replace('"36", "38"', '"38", "36"') + "[moves]\n", "not in order"),
        (HEAD + '[moves]\n"waist/side" = { across = "4 mm" }', "names no point"),
        (HEAD + '[moves]\n"front: waist side" = { across = "4 mm" }', "names no point"),
        (HEAD + '[moves]\n"front: waist/side" = { across = "4" }', "front: waist/side.*no unit"),
        (HEAD + '[moves]\n"front: waist/side" = { across = 4 }', "without a unit"),
        (HEAD + '[moves]\n"front: waist/side" = { sideways = "4 mm" }', "“sideways” is not known"),
        (HEAD + '[moves]\n"front: waist/side" = { across = ["4 mm"] }', "lists 1 moves for 5 sizes"),
        (HEAD + '[moves]\n"f: waist/side" = { across = ["1 mm","1 mm","1 mm","1 mm","1 mm"] }', "moves in the base"),
        (HEAD + '[moves]\n[measures]\nhip_girth = ["90 cm"]', "lists 1 figures for 5 sizes"),
        (HEAD + '[moves]\n[measures]\nhip_girth = ["90", "91 cm", "92 cm", "93 cm", "94 cm"]', "no unit"),
        (HEAD + '[moves]\n"f: a/b" = { across = "1 mm", by = "x_girth" }\n[measures]\nhip_girth = '
         '["1 m","1 m","1 m","1 m","1 m"]', "follows x_girth, which is not given"),
        ('sizes = ["S", " "]\nbase = "S"\n[moves]\n', "A size has no name"),
        ('sizes = ["XL", "3XL", "2XL"]\nbase = "XL"\n[moves]\n', "2XL stands after 3XL"),
        (HEAD + "[moves]\n[move]\n", "“move” is not known"),
        (HEAD + '[moves]\n[[match]]\nseam = "side"\nat = "back: waist/seat"\n', "match 1: .*at no end of"),
    ],
)  # fmt: skip
def test_rules_that_cannot_be_read(text, said):
    with pytest.raises(DocumentError, match=said):
        read_grade_rules(text, "rules.toml")


class TestBodies:
    def test_units_stand_beside_the_name_or_the_figure(self):
        read = read_body_sizes(
            "# source\nsize;waist_girth [in];hip_girth\n8;28 1/2;95,5 cm\n10;29;37 1/2 in\n", "t.csv"
        )
        assert read.sizes == ("8", "10")
        assert read.measure("waist_girth") == pytest.approx((723.9, 736.6))
        assert read.measure("hip_girth") == pytest.approx((955.0, 952.5))

    @pytest.mark.parametrize(
        ("text", "said"),
        [
            ("", "no sizes"),
            ("size,hip_girth (mm)", "no sizes"),
            ("hip_girth (mm),size\n900,8\n940,10", "first column"),
            ("size,hip_girth\n8,900\n10,940", r"t.csv, 8, hip_girth.*no unit"),
            ("size,hip_girth (mm)\n8,900\n10", "line 3: 0 figures for 1 columns"),
            ("size,hip_girth (mm)\n8,900\n10,", "hip_girth is missing"),
            ("size,hip_girth (mm),hip_girth (mm)\n8,900,900\n10,940,940", "there twice"),
            ("size,Hip Girth\n8,900\n10,940", "no name of a measure"),
            ("size,hip_girth (mm)\n10,940\n8,900", "not in order"),
            ("size,hip_girth (stone)\n8,900\n10,940", "no unit for this"),
            ("size,hip_girth (mm)\n8,900\n10,-940", r"t.csv, 10: hip_girth is -940\."),
            ("size,hip_girth (mm)\n8,0\n10,940", r"t.csv, 8: hip_girth is 0\."),
        ],
    )
    def test_what_cannot_be_read(self, text, said):
        with pytest.raises(DocumentError, match=said):
            read_body_sizes(text, "t.csv")

    def test_one_body(self):
        assert read_measures('name = "x"\nwaist_girth = "29 in"', "b.toml") == {"waist_girth": pytest.approx(736.6)}
        with pytest.raises(DocumentError, match="no measure"):
            read_measures('waist = "29 in"', "b.toml")
        with pytest.raises(DocumentError, match="without a unit"):
            read_measures("waist_girth = 29", "b.toml")
        with pytest.raises(DocumentError, match="“waist_girth” is zero"):
            read_measures('waist_girth = "0 mm"', "b.toml")
        with pytest.raises(DocumentError, match="No measure is given"):
            read_measures('name = "x"', "b.toml")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "Nothing is spread"),
        ('[[girth]]\nmeasure = "hip"\nshares = {}', "hip is no girth"),
        ('[[girth]]\nmeasure = "hip_girth"', "“shares” is no table"),
        ('[[girth]]\nmeasure = "hip_girth"\nshares = { "front: side" = "5 %" }', "girth 1, shares.*names no point"),
        ('[[girth]]\nmeasure = "hip_girth"\nshares = { "front: a/b" = "5" }', "no unit"),
        ('[[girth]]\nmeasure = "hip_girth"\nshares = { "front: a/b" = "5 %" }\npart = "x"', "“part” is not known"),
    ],
)
def test_a_spread_that_cannot_be_read(text, said):
    with pytest.raises(DocumentError, match=said):
        read_spread(text, "s.toml")
