"""Grading at the command line: a folder of sizes, one size, one body, rules from bodies, and the order of the work."""

from __future__ import annotations

import re
import shutil
from dataclasses import fields

import pytest

from cli.program import call
from cli.test_parameters import own_options
from crossgrain.cli.exits import Exit
from crossgrain.cli.samples import sample
from crossgrain.kernel.length import path_length
from crossgrain.model.girths import girth_along
from crossgrain.operations.grading import Grading
from crossgrain.operations.spreading import Spreading
from crossgrain.svg.journal import entries
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

DONE = (Exit.FINE, Exit.FINDINGS)
INCH = 25.4


@pytest.fixture
def trousers(tmp_path):
    return shutil.copy(sample("trousers.svg"), tmp_path / "trousers.svg")


@pytest.fixture
def measured(trousers):
    """The trousers with the measures of the base's body written on the drawing."""
    text = trousers.read_text(encoding="utf-8")
    assert ">Chalk side up" in text
    trousers.write_text(text.replace(">Chalk side up", ">waist 737 mm, hip 985 mm. Chalk side up"), encoding="utf-8")
    return trousers


@pytest.fixture
def rules():
    return sample("grade-rules.toml")


def pieces(path):
    return pattern_of(read_drawing(path))


def waist(path):
    return girth_along([piece for piece in pieces(path).pieces if not piece.cut.stabilised], "waist").girth


class TestRange:
    @pytest.fixture
    def folder(self, capsys, tmp_path, trousers, rules):
        out = tmp_path / "sizes"
        words = ["--sizes", "8-12", "--stack-at", "front: waist/centre"]
        result = call(capsys, "grade", trousers, "--rules", rules, "-o", out, *words)
        assert result.code in DONE
        assert "Lengths in each size" in result.out
        return out

    def test_a_drawing_for_each_size_and_one_with_all(self, folder):
        names = {"trousers-8.svg", "trousers-10.svg", "trousers-12.svg", "trousers-all-sizes.svg"}
        assert {path.name for path in folder.iterdir()} == names

    def test_the_base_size_is_the_very_file(self, folder, trousers):
        assert (folder / "trousers-10.svg").read_bytes() == trousers.read_bytes()

    def test_what_is_written_on_the_drawing_names_the_size(self, folder):
        """“Slim trousers, base size” stands over the samples: in size 12 that would be a trap."""
        texts = {size: (folder / f"trousers-{size}.svg").read_text("utf-8") for size in ("8", "10", "12")}
        assert "Slim trousers, base size<" in texts["10"]
        assert "Slim trousers, size 8<" in texts["8"]
        assert "Slim trousers, size 12<" in texts["12"]
        assert not any("base size" in texts[size] for size in ("8", "12"))

    def test_measures_of_the_base_on_the_drawing_are_said_once(self, capsys, tmp_path, measured, rules):
        result = call(capsys, "grade", measured, "--rules", rules, "-o", tmp_path / "out", "--sizes", "8-12")
        assert result.err.count("waist_girth 737 mm is that of the base") == 1

    def test_a_piece_that_reaches_beyond_the_page_is_said(self, capsys, tmp_path, trousers, rules):
        """The band of size 20 is half as long again, and stands at the upper edge."""
        said = "Note: waistband: It reaches beyond the page now."
        for number, words in enumerate((("--sizes", "18-20"), ("--size", "20"))):
            out = tmp_path / f"{number}.svg"
            assert said in call(capsys, "grade", trousers, "--rules", rules, "-o", out, *words).err
        result = call(capsys, "grade", trousers, "--rules", rules, "-o", tmp_path / "8.svg", "--size", "8")
        assert "beyond the page" not in result.err

    def test_what_is_found_in_some_sizes_names_them(self, capsys, tmp_path, measured, rules):
        """In the largest sizes of the samples the hip moves far up and the thigh stays: the side seam waves."""
        result = call(capsys, "grade", measured, "--rules", rules, "-o", tmp_path / "out", "--sizes", "14-20")
        assert "Note: back, side: Size 18, 20: It bends back and forth as it does not in the base." in result.err
        assert result.err.count("bends back and forth") == 3
        assert "Note: at x 40.0 mm, y 60.4 mm: The drawing says" in result.err, "in all of them"

    def test_sizes_whose_files_would_be_one_are_refused(self, capsys, tmp_path, trousers):
        alike = tmp_path / "alike.toml"
        move = '"front: waist/side" = { across = "5 mm" }'
        alike.write_text(f'sizes = ["S/M", "S-M", "L"]\nbase = "L"\n[moves]\n{move}\n', encoding="utf-8")
        result = call(capsys, "grade", trousers, "--rules", alike, "-o", tmp_path / "out")
        assert result.code == Exit.REFUSED
        assert "Size S-M and another would both be written as trousers-S-M.svg." in result.err
        assert not (tmp_path / "out").exists()

    def test_a_size_in_which_nothing_moves_is_named_all_the_same(self, capsys, tmp_path, trousers):
        flat = tmp_path / "flat.toml"
        moves = '"front: waist/side" = { across = "10: 5 mm, 12: 0 mm" }'
        flat.write_text(f'sizes = ["8", "10", "12"]\nbase = "10"\n[moves]\n{moves}\n', encoding="utf-8")
        assert call(capsys, "grade", trousers, "--rules", flat, "-o", tmp_path / "out").code in DONE
        assert "Slim trousers, size 12<" in (tmp_path / "out" / "trousers-12.svg").read_text("utf-8")

    def test_the_band_follows_in_each_size(self, folder):
        """Dart intake out, 35 mm of overlap and the 5 mm of the extension in, as the drawing says."""
        for size in ("8", "10", "12"):
            pattern = pieces(folder / f"trousers-{size}.svg")
            band = path_length(pattern.piece("waistband").edge("waist").line)
            own = [piece for piece in pattern.pieces if not piece.cut.stabilised]
            assert band == pytest.approx(girth_along(own, "waist").girth + 35.0 + 5.0, abs=1e-3)

    def test_what_each_drawing_went_through_stands_in_its_journal(self, folder):
        (entry,) = entries(read_drawing(folder / "trousers-12.svg"))
        assert entry.operation == "grade"
        assert dict(entry.parameters)["size"] == "12"

    def test_every_seam_of_every_size_is_walked_in_one_table(self, capsys, folder):
        result = call(capsys, "check", folder)
        assert result.code == Exit.FINE
        rows = call(capsys, "check", folder, "--json").data
        assert rows["sizes"] == ["8", "10", "12"]
        assert {row["seam"] for row in rows["seams"]} >= {"side", "inseam", "crotch"}
        assert all(abs(gap) < 0.5 for row in rows["seams"] for gap in row["differences"].values())

    def test_a_seam_that_does_not_match_in_a_size_is_found(self, capsys, folder, tmp_path):
        other = tmp_path / "other.svg"
        assert call(capsys, "lengthen", folder / "trousers-12.svg", "-o", other, "--piece", "back", "--at", "400mm",
                    "--by", "4mm").code in DONE  # fmt: skip
        shutil.move(other, folder / "trousers-12.svg")
        result = call(capsys, "check", folder)
        assert result.code == Exit.FINDINGS
        assert "In size 12 it is" in result.err
        assert "size 8" not in result.err

    def test_a_size_whose_drawing_is_broken_is_found(self, capsys, folder):
        broken = folder / "trousers-12.svg"
        broken.write_text(broken.read_text("utf-8").replace(" Z", "", 3), encoding="utf-8")
        (folder / "notes.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"/>', "utf-8")
        result = call(capsys, "check", folder)
        assert result.code == Exit.FINDINGS
        assert "Note: trousers-12.svg: It cannot be checked:" in result.err
        assert "Not checked: notes.svg" in result.err
        broken.write_text("<svg", encoding="utf-8")
        assert call(capsys, "check", folder).code == Exit.FINDINGS

    def test_nothing_is_written_where_one_file_is_there_already(self, capsys, tmp_path, trousers, rules):
        out = tmp_path / "sizes"
        out.mkdir()
        (out / "trousers-12.svg").write_text("mine", encoding="utf-8")
        words = ["grade", trousers, "--rules", rules, "-o", out, "--sizes", "8-12"]
        result = call(capsys, *words)
        assert result.code == Exit.REFUSED
        assert "trousers-12.svg is there already" in result.err
        assert [path.name for path in out.iterdir()] == ["trousers-12.svg"]
        assert call(capsys, *words, "--overwrite").code in DONE
        assert (out / "trousers-12.svg").read_text("utf-8") != "mine"

    def test_the_drawing_itself_is_never_written_over(self, capsys, tmp_path, trousers, rules):
        named = shutil.copy(trousers, tmp_path / "a.svg")
        shutil.copy(named, tmp_path / "a-12.svg")
        call(capsys, "grade", named, "--rules", rules, "-o", tmp_path / "x", "--sizes", "12")
        result = call(capsys, "grade", tmp_path / "a-12.svg", "--rules", rules, "-o", trousers, "--sizes", "12")
        assert result.code == Exit.REFUSED
        assert "is no folder" in result.err

    def test_a_folder_that_cannot_be_made_leaves_nothing(self, capsys, tmp_path, trousers, rules):
        (tmp_path / "file").write_text("mine", encoding="utf-8")
        out = tmp_path / "file" / "sizes"
        result = call(capsys, "grade", trousers, "--rules", rules, "-o", out, "--sizes", "12")
        assert result.code == Exit.REFUSED
        assert "cannot be written" in result.err
        assert {path.name for path in tmp_path.iterdir()} == {"file", "trousers.svg"}

    def test_a_folder_without_drawings(self, capsys, tmp_path):
        (tmp_path / "empty").mkdir()
        result = call(capsys, "check", tmp_path / "empty")
        assert result.code == Exit.REFUSED
        assert "without drawings" in result.err


class TestOneSize:
    def test_one_size_is_what_the_folder_holds(self, capsys, tmp_path, trousers, rules):
        one = tmp_path / "12.svg"
        assert call(capsys, "grade", trousers, "--rules", rules, "--size", "12", "-o", one).code in DONE
        call(capsys, "grade", trousers, "--rules", rules, "--sizes", "12", "-o", tmp_path / "all")
        assert pieces(one) == pieces(tmp_path / "all" / "trousers-12.svg")

    def test_only_the_pieces_named_change(self, capsys, tmp_path, trousers, rules):
        one = tmp_path / "12.svg"
        words = ["--piece", "back", "--size", "12"]
        assert call(capsys, "grade", trousers, "--rules", rules, "-o", one, *words).code in DONE
        before, after = pieces(trousers), pieces(one)
        assert [new == old for old, new in zip(before.pieces, after.pieces, strict=True)].count(False) == 1
        assert after.piece("back") != before.piece("back")
        assert "Slim trousers, base size<" in one.read_text("utf-8"), "most of its pieces are of that size still"

    def test_a_body_whose_waist_and_hip_fall_in_different_sizes(self, capsys, tmp_path, trousers, rules):
        body, one = tmp_path / "body.toml", tmp_path / "one.svg"
        body.write_text(
            'waist_girth = "32 in"\nhip_girth = "96 cm"\nthigh_girth = "58 cm"\nknee_girth = "35.5 cm"\n', "utf-8"
        )
        result = call(capsys, "grade", trousers, "--rules", rules, "--to-body", body, "-o", one)
        assert result.code == Exit.FINDINGS
        assert "The body has no waist_height" in result.err
        assert waist(one) - waist(trousers) == pytest.approx(3 * INCH, abs=0.05)

    def test_a_body_whose_hip_lies_less_deep(self, capsys, tmp_path, trousers, rules):
        """Waist and end of the opening then move unlike, and the centre no longer goes on quite straight."""
        body, one = tmp_path / "body.toml", tmp_path / "one.svg"
        text = sample("body-size-12.toml").read_text("utf-8")
        body.write_text(text.replace('hip_height = "862.3 mm"', 'hip_height = "870 mm"'), encoding="utf-8")
        assert call(capsys, "grade", trousers, "--rules", rules, "--to-body", body, "-o", one).code in DONE
        assert waist(one) - waist(trousers) == pytest.approx(1.75 * INCH, abs=0.05)

    def test_what_is_written_on_one_drawing_names_its_size_or_its_body(self, capsys, tmp_path, measured, rules):
        out = tmp_path / "one.svg"
        assert call(capsys, "grade", measured, "--rules", rules, "--size", "12", "-o", out).code in DONE
        assert "Slim trousers, size 12<" in out.read_text("utf-8")
        body = tmp_path / "ada.toml"
        body.write_text(
            sample("body-size-12.toml").read_text("utf-8").replace('name = "Size 12"', 'name = "Ada"'), encoding="utf-8"
        )
        result = call(capsys, "grade", measured, "--rules", rules, "--to-body", body, "-o", tmp_path / "ada.svg")
        assert "Slim trousers, Ada<" in (tmp_path / "ada.svg").read_text("utf-8")
        assert "waist_girth 737 mm is that of the base" in result.err

    def test_all_sizes_over_the_pieces_leave_them(self, capsys, tmp_path, trousers, rules):
        one = tmp_path / "stacked.svg"
        words = ["--stacked", "--sizes", "8-12", "-o", one]
        assert call(capsys, "grade", trousers, "--rules", rules, *words).code in DONE
        assert pieces(one) == pieces(trousers)

    @pytest.mark.parametrize(
        "words",
        [
            ["--size", "12", "--stacked"],
            ["--size", "12", "--sizes", "8-12"],
            ["--size", "12", "--stack-at", "front: waist/side"],
            ["--sizes", "8-12", "--in-place"],
        ],
    )
    def test_ways_that_do_not_go_together(self, capsys, tmp_path, trousers, rules, words):
        into = [] if "--in-place" in words else ["-o", tmp_path / "x.svg"]
        assert call(capsys, "grade", trousers, "--rules", rules, *into, *words).code == Exit.USAGE

    def test_an_option_for_each_field_and_what_the_rules_hold(self):
        """Points, levels, directions and what stays stand in the file of rules; pieces are --piece."""
        held = {"shifts", "levels", "toward", "stays", "pieces"}
        assert {field.name for field in fields(Grading)} == held
        assert set(own_options("grade")) == {"rules", "sizes", "size", "to_body", "stacked", "stack_at"}
        assert {field.name for field in fields(Spreading)} == {"spread", "bodies", "base"}
        assert set(own_options("grade-rules")) == {"shares", "bodies", "base"}


class TestBadInput:
    @pytest.mark.parametrize(
        ("rule", "said"),
        [
            ('"front: waist/inseam" = { across = "4 mm" }', "waist/inseam, which is not there"),
            ('"cape: waist/side" = { across = "4 mm" }', "no piece of that name"),
            ('"front: waist/side" = { across = "4" }', "no unit"),
            ('"front: hem/inseam" = { across = "300 mm" }', "Size 40: Its outline turns inside out at "),
        ],
    )
    def test_rules_that_cannot_be_followed_write_nothing(self, capsys, tmp_path, trousers, rule, said):
        path = tmp_path / "r.toml"
        path.write_text(f'sizes = ["38", "40", "42"]\nbase = "38"\n[moves]\n{rule}\n', encoding="utf-8")
        result = call(capsys, "grade", trousers, "--rules", path, "-o", tmp_path / "out")
        assert result.code == Exit.REFUSED
        assert said in result.err
        assert not (tmp_path / "out").exists()


class TestRulesFromBodies:
    BODIES = "size,waist_girth (in),hip_girth (cm)\n28,28,95\n29,29,98.5\n30,30 1/4,103\n"
    SPREAD = (
        '[[girth]]\nmeasure = "hip_girth"\n'
        'shares = {{ "front: waist/side" = "{front} %", "back: waist/side" = "25 %" }}\n'
    )

    def made(self, capsys, tmp_path, trousers, bodies=BODIES, front=25):
        (tmp_path / "b.csv").write_text(bodies, encoding="utf-8")
        (tmp_path / "s.toml").write_text(self.SPREAD.format(front=front), encoding="utf-8")
        out = tmp_path / "r.toml"
        words = ["--bodies", tmp_path / "b.csv", "--spread", tmp_path / "s.toml", "--base", "29", "-o", out]
        return call(capsys, "grade-rules", trousers, *words), out

    def test_they_are_written_and_grade(self, capsys, tmp_path, trousers):
        result, out = self.made(capsys, tmp_path, trousers)
        assert result.code == Exit.FINE
        assert 'base = "29"' in out.read_text("utf-8")
        assert call(capsys, "grade", trousers, "--rules", out, "-o", tmp_path / "out").code in DONE

    def test_shares_that_do_not_add_up(self, capsys, tmp_path, trousers):
        result, out = self.made(capsys, tmp_path, trousers, front=20)
        assert result.code == Exit.REFUSED
        assert "add up to 90 %, not to 100 %" in result.err
        assert not out.exists()

    def test_several_spreads_make_one_set_of_rules(self, capsys, tmp_path, trousers):
        _result, _out = self.made(capsys, tmp_path, trousers)
        other = tmp_path / "knee.toml"
        other.write_text(
            '[[length]]\nmeasure = "waist_girth"\nshares = { "front: waist/centre" = "-10 %" }\n', encoding="utf-8"
        )
        words = ["--bodies", tmp_path / "b.csv", "--spread", tmp_path / "s.toml", "--spread", other]
        both = tmp_path / "both.toml"
        result = call(capsys, "grade-rules", trousers, *words, "--base", "29", "-o", both)
        assert result.code == Exit.FINE
        text = both.read_text("utf-8")
        assert "s.toml, knee.toml" in text
        assert '"front: waist/side"' in text
        assert '"front: waist/centre" = { along = ["2.54mm", "0mm", "-3.175mm"]' in text

    def test_spreads_that_contradict_each_other(self, capsys, tmp_path, trousers):
        _result, _out = self.made(capsys, tmp_path, trousers)
        for name, depth in (("one", 200), ("two", 210)):
            text = self.SPREAD.format(front=25) + f'[levels]\nhip = "{depth} mm"\n'
            (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
        words = ["--bodies", tmp_path / "b.csv", "--spread", tmp_path / "one.toml", "--spread", tmp_path / "two.toml"]
        result = call(capsys, "grade-rules", trousers, *words, "--base", "29", "-o", tmp_path / "both.toml")
        assert result.code == Exit.REFUSED
        assert "Two spreads place the hip at different depths." in result.err

    def test_a_girth_that_gets_smaller_in_a_larger_size_is_said(self, capsys, tmp_path, trousers):
        bodies = "size,waist_girth (in),hip_girth (cm)\n28,28,95\n29,29,98.5\n30,30 1/4,98\n"
        result, out = self.made(capsys, tmp_path, trousers, bodies=bodies)
        assert result.code == Exit.FINDINGS
        assert "hip_girth is 985.0 mm in size 29 and 980.0 mm in size 30." in result.err
        assert out.exists()

    @pytest.mark.parametrize(
        ("bodies", "said"),
        [
            ("size,waist_girth (in)\n28,28\n29,29\n", "no column hip_girth"),
            ("size,hip_girth\n28,95\n29,98\n", "no unit"),
            ("size,hip_girth (cm)\n28,95\n30,98\n", "no size 29"),
        ],
    )
    def test_tables_that_cannot_be_used(self, capsys, tmp_path, trousers, bodies, said):
        result, out = self.made(capsys, tmp_path, trousers, bodies=bodies)
        assert result.code == Exit.REFUSED
        assert said in result.err
        assert not out.exists()


class TestWithTheRest:
    """The order: grade the base first; then reduce for the cloth; what fittings found is replayed on the size."""

    def test_grade_then_reduce_is_narrower_by_the_same_share_of_each_size(self, capsys, tmp_path, trousers, rules):
        for size in ("8", "12"):
            graded, reduced = tmp_path / f"{size}.svg", tmp_path / f"{size}-reduced.svg"
            call(capsys, "grade", trousers, "--rules", rules, "--size", size, "-o", graded)
            assert call(capsys, "reduce", graded, "-o", reduced, "--by", "8%", "--piece", "back").code in DONE
            data = [call(capsys, "measure", path, "--json", "--piece", "back").data for path in (graded, reduced)]
            widths = [one["pieces"][0]["widths"][1]["width"] for one in data]
            assert widths[1] / widths[0] == pytest.approx(0.92, abs=1e-3)

    def test_the_other_way_round_the_steps_would_be_too_wide_for_the_cloth(self, capsys, tmp_path, trousers, rules):
        """Steps of the body are not reduced with it: so the order matters, and the docs state it."""
        first, second = tmp_path / "a.svg", tmp_path / "b.svg"
        call(capsys, "grade", trousers, "--rules", rules, "--size", "20", "-o", tmp_path / "g.svg")
        call(capsys, "reduce", tmp_path / "g.svg", "-o", first, "--by", "8%", "--piece", "front-right")
        call(capsys, "reduce", trousers, "-o", tmp_path / "r.svg", "--by", "8%", "--piece", "front-right")
        call(capsys, "grade", tmp_path / "r.svg", "--rules", rules, "--size", "20", "-o", second)
        one, other = (path_length(pieces(path).piece("front-right").edge("waist").line) for path in (first, second))
        assert other - one == pytest.approx(0.08 * 63.5, abs=0.5)

    def test_a_fitting_of_the_base_is_replayed_on_another_size(self, capsys, tmp_path, trousers, rules):
        record = tmp_path / "record.toml"
        words = ["--seam", "side", "--at", "waist=0mm", "--at", "20%=10mm", "--at", "hem=4mm"]
        assert call(capsys, "fitting", "add", record, *words).code == Exit.FINE
        graded, fitted = tmp_path / "14.svg", tmp_path / "14-fitted.svg"
        call(capsys, "grade", trousers, "--rules", rules, "--size", "14", "-o", graded)
        assert call(capsys, "take-in", graded, "-o", fitted, "--from", record).code in DONE
        hems = [path_length(pieces(path).piece("back").edge("hem").line) for path in (graded, fitted)]
        assert hems[0] - hems[1] == pytest.approx(4.0, abs=0.05)
        assert [entry.operation for entry in entries(read_drawing(fitted))] == ["grade", "take-in"]

    def test_allowances_are_drawn_again_by_the_widths_that_the_size_has_kept(self, capsys, tmp_path, trousers, rules):
        drawn, graded, again = (tmp_path / f"{name}.svg" for name in ("drawn", "graded", "again"))
        assert call(capsys, "allow", trousers, "-o", drawn, "--width", "10mm", "--edge", "hem=30mm").code in DONE
        result = call(capsys, "grade", drawn, "--rules", rules, "--size", "12", "-o", graded)
        assert result.code == Exit.FINDINGS
        assert "no longer fits and was taken away" in result.err
        assert [piece.id for piece in pieces(graded).pieces if piece.counterpart] == ["fly-guard"]
        assert call(capsys, "allow", graded, "-o", again, "--renew").code in DONE
        assert all(piece.counterpart for piece in pieces(again).pieces)
        assert {edge.allowance.most for edge in pieces(again).piece("back").edges if edge.allowance} == {10.0, 30.0}

    @pytest.mark.parametrize("title", ["Slim trousers, base size", "Slim trousers"])
    def test_what_is_cut_says_once_which_size_it_is(self, capsys, tmp_path, trousers, rules, title):
        text = trousers.read_text("utf-8")
        trousers.write_text(text.replace("<title>Slim trousers, base size<", f"<title>{title}<"), encoding="utf-8")
        graded, sheet = tmp_path / "graded.svg", tmp_path / "sheet.svg"
        call(capsys, "grade", trousers, "--rules", rules, "--size", "12", "-o", graded)
        call(capsys, "allow", graded, "--in-place", "--width", "10mm")
        call(capsys, "cut", graded, "-o", sheet)
        text = sheet.read_text("utf-8").replace(f"<title>{title}</title>", "")
        labels = re.findall(r">([^<]*Slim trousers[^<]*)<", text)
        assert labels
        assert all(label.count("size 12") == 1 for label in labels)

    def test_a_recipe_does_it_for_each_size_of_the_rules(self, capsys, tmp_path, trousers, rules):
        """Grade, then reduce for the cloth: the steps of one recipe, in this order."""
        (tmp_path / "in").mkdir()
        shutil.move(trousers, tmp_path / "in" / "trousers.svg")
        shutil.copy(rules, tmp_path / "rules.toml")
        recipe = tmp_path / "recipe.toml"
        recipe.write_text(
            '[[step]]\ndo = "grade"\nrules = "rules.toml"\nsize = "{size}"\n[[step]]\ndo = "reduce"\nby = "8%"\n'
            'piece = "back"\n[[step]]\ndo = "take-in"\nfrom = "record.toml"\n',
            encoding="utf-8",
        )
        words = ["--seam", "side", "--at", "waist=0mm", "--at", "20%=10mm", "--at", "hem=4mm"]
        assert call(capsys, "fitting", "add", tmp_path / "record.toml", *words).code == Exit.FINE
        result = call(capsys, "run", recipe, tmp_path / "in", "-o", tmp_path / "out", "--sizes", "8-12", "--jobs", "1")
        assert result.code in DONE
        found = sorted((tmp_path / "out").rglob("*.svg"))
        assert len(found) == 3
        for path in found:
            assert [entry.operation for entry in entries(read_drawing(path))] == ["grade", "reduce", "take-in"]
        step = tmp_path / "step.svg"
        for size, path in zip(("10", "12", "8"), found, strict=True):
            assert call(capsys, "grade", tmp_path / "in" / "trousers.svg", "--rules", rules, "--size", size, "-o", step,
                        "--overwrite").code in DONE  # fmt: skip
            call(capsys, "reduce", step, "--in-place", "--by", "8%", "--piece", "back")
            hems = [path_length(pieces(one).piece("back").edge("hem").line) for one in (step, path)]
            assert hems[0] - hems[1] == pytest.approx(4.0, abs=0.05)

    def test_the_outputs_of_a_recipe_are_walked_by_their_folders(self, capsys, tmp_path, trousers, rules):
        for size in ("8", "12"):
            (tmp_path / "out" / size).mkdir(parents=True)
            words = ["--rules", rules, "--size", size, "-o", tmp_path / "out" / size / "trousers.svg"]
            assert call(capsys, "grade", trousers, *words).code in DONE
        result = call(capsys, "check", tmp_path / "out", "--json")
        assert result.code == Exit.FINE
        assert result.data["sizes"] == ["8", "12"]
        shutil.copy(trousers, tmp_path / "out" / "8" / "again.svg")
        assert call(capsys, "check", tmp_path / "out", "--json").data["sizes"] == [
            "12/trousers",
            "8/again",
            "8/trousers",
        ]

    def test_a_step_of_a_recipe_makes_one_drawing(self, capsys, tmp_path, trousers, rules):
        recipe = tmp_path / "recipe.toml"
        recipe.write_text(f'[[step]]\ndo = "grade"\nrules = "{rules}"\n', encoding="utf-8")
        (tmp_path / "in").mkdir()
        shutil.move(trousers, tmp_path / "in" / "trousers.svg")
        result = call(capsys, "run", recipe, tmp_path / "in", "-o", tmp_path / "out")
        assert result.code == Exit.REFUSED
        assert "give size or to-body" in result.err
