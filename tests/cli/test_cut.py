"""``crossgrain cut``: what it writes, what it lists, what it says, and what it leaves alone."""

from __future__ import annotations

import re
from dataclasses import fields
from importlib import import_module
from pathlib import Path

import pytest

from cli.drawings import write_bare, write_marked
from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import COMMON
from crossgrain.cli.program import COMMANDS
from crossgrain.model.girths import OPENING
from crossgrain.operations.cutting import Cutting
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

SAMPLES = Path(__file__).parent.parent.parent / "samples"
TROUSERS = SAMPLES / "trousers.svg"
OF_FILES = {"beside", "page", "fabric"}
"""The options that name a file to write or to read."""


@pytest.fixture
def marked(tmp_path, capsys):
    path = write_marked(tmp_path)
    capsys.readouterr()
    return path


@pytest.fixture
def to_cut(marked, tmp_path, capsys):
    target = tmp_path / "to-cut.svg"
    assert call(capsys, "allow", marked, "-o", target, "--width", "10mm", "--edge", "hem=30mm").code == Exit.FINE
    return target


class TestOptions:
    def test_every_field_is_an_option_and_every_option_a_field(self):
        options = {one.name for one in import_module(COMMANDS["cut"].module).command.params} - COMMON - OF_FILES
        assert options == {field.name for field in fields(Cutting)}

    def test_an_option_that_is_not_given_leaves_the_default(self):
        given = import_module(COMMANDS["cut"].module).command.make_context("cut", ["in.svg"]).params
        for field in fields(Cutting):
            assert given[field.name] in (None, field.default)
        assert Cutting().opening == OPENING

    def test_every_option_is_told_on_its_page(self):
        text = (SAMPLES.parent / "docs" / "cut-pieces.md").read_text(encoding="utf-8")
        for one in import_module(COMMANDS["cut"].module).command.params:
            if one.name not in COMMON:
                assert any(f"{option} " in text or f"`{option}`" in text for option in one.opts), one.opts

    @pytest.mark.parametrize(
        ("words", "code", "said"),
        [
            (["--beside"], Exit.USAGE, "--beside goes with -o"),
            (["--gap", "20"], Exit.USAGE, "has no unit"),
            (["--efficiency", "75"], Exit.USAGE, "has no unit"),
            (["--efficiency", "120%"], Exit.REFUSED, "cannot end in pieces"),
            (["--width-of-cloth", "0mm"], Exit.REFUSED, "has no width"),
            (["--tape", "brim"], Exit.REFUSED, "No piece has an edge named brim. There are: hem, inseam, side, waist."),
        ],
    )
    def test_each_slip_gets_one_sentence_and_writes_nothing(self, capsys, marked, tmp_path, words, code, said):
        page = tmp_path / "list.html"
        result = call(capsys, "cut", marked, "--list", page, *words)
        assert (result.code, result.out) == (code, "")
        assert said in result.err
        assert not page.exists()


class TestHowManyPieces:
    @pytest.mark.parametrize("pieces", [(), ("front",), ("back", "front"), ("back leg",)])
    def test_those_named_or_all_are_laid_out(self, capsys, to_cut, tmp_path, pieces):
        target = tmp_path / "out.svg"
        result = call(capsys, "cut", to_cut, "-o", target, *(w for id in pieces for w in ("--piece", id)), "--json")
        assert result.code == Exit.FINE, result.err
        wanted = {"back leg": ["back"]}.get(pieces[0] if pieces else "", sorted(pieces) or ["back", "front"])
        assert sorted(row["id"] for row in result.data["rows"]) == wanted
        drawn = re.findall(r'id="cut-(\w+)-1"', target.read_text(encoding="utf-8"))
        assert sorted(drawn) == wanted

    def test_a_bare_outline_is_laid_out_without_allowance(self, capsys, tmp_path):
        bare, target = write_bare(tmp_path), tmp_path / "out.svg"
        result = call(capsys, "cut", bare, "-o", target, "--piece", "front")
        assert result.code == Exit.FINDINGS
        assert "crossgrain allow" in result.err
        assert "no allowance" in target.read_text(encoding="utf-8")

    def test_an_empty_drawing_is_refused(self, capsys, tmp_path):
        empty = tmp_path / "empty.svg"
        empty.write_text('<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"/>', encoding="utf-8")
        result = call(capsys, "cut", empty, "-o", tmp_path / "out.svg")
        assert (result.code, result.out) == (Exit.REFUSED, "")
        assert "no outlines" in result.err

    def test_one_piece_that_cannot_be_read_is_refused_with_all(self, capsys, to_cut, tmp_path):
        """What is cut without one of its pieces is spoilt cloth."""
        text = to_cut.read_text(encoding="utf-8").replace('crossgrain:edges="waist side hem inseam"', "", 1)
        broken, target = tmp_path / "broken.svg", tmp_path / "out.svg"
        broken.write_text(text, encoding="utf-8")
        assert call(capsys, "cut", broken, "-o", target).code == Exit.REFUSED
        assert not target.exists()


class TestWhatIsWritten:
    def test_the_drawing_that_is_read_is_not_changed_and_the_same_bytes_are_written_again(
        self, capsys, to_cut, tmp_path
    ):
        before = to_cut.read_bytes()
        targets = [tmp_path / "1.svg", tmp_path / "2.svg"]
        for target in targets:
            assert call(capsys, "cut", to_cut, "-o", target, "--all").code == Exit.FINE
        assert to_cut.read_bytes() == before
        assert targets[0].read_bytes() == targets[1].read_bytes()

    @pytest.mark.parametrize("beside", [(), ("--beside",)])
    def test_neither_the_drawing_itself_nor_a_file_that_is_there_is_written_over(
        self, capsys, to_cut, tmp_path, beside
    ):
        target = tmp_path / "out.svg"
        target.write_text("mine", encoding="utf-8")
        assert call(capsys, "cut", to_cut, "-o", target, *beside).code == Exit.REFUSED
        assert target.read_text(encoding="utf-8") == "mine"
        assert call(capsys, "cut", to_cut, "-o", target, *beside, "--overwrite").code == Exit.FINE
        before = to_cut.read_bytes()
        assert call(capsys, "cut", to_cut, "-o", to_cut, *beside, "--overwrite").code == Exit.REFUSED
        assert to_cut.read_bytes() == before

    def test_the_name_of_the_cloth_comes_from_its_file_unless_it_is_called_something_else(
        self, capsys, to_cut, tmp_path
    ):
        file = ("--fabric", SAMPLES / "cloth-softer.toml")
        for words, name in ((file, "Olive stretch gabardine"), ((*file, "--cloth", "the olive one"), "the olive one")):
            target = tmp_path / f"{len(words)}.svg"
            assert call(capsys, "cut", to_cut, "-o", target, *words).code == Exit.FINE
            assert f"from {name}" in target.read_text(encoding="utf-8")

    def test_without_a_drawing_to_write_it_only_lists(self, capsys, to_cut, tmp_path):
        files = set(tmp_path.iterdir())
        result = call(capsys, "cut", to_cut)
        assert result.code == Exit.FINE
        assert "Pieces to cut" in result.out
        assert set(tmp_path.iterdir()) == files

    def test_beside_every_line_of_the_drawing_comes_out_and_its_pieces_are_the_same(self, capsys, to_cut, tmp_path):
        target = tmp_path / "out.svg"
        assert call(capsys, "cut", to_cut, "-o", target, "--beside").code == Exit.FINE
        written = iter(target.read_text(encoding="utf-8").splitlines())
        for line in to_cut.read_text(encoding="utf-8").splitlines():
            if "<svg " not in line and line != "</svg>":
                assert any(line in other for other in written), line
        assert pattern_of(read_drawing(target)) == pattern_of(read_drawing(to_cut))

    def test_beside_again_the_layout_is_renewed_in_its_place(self, capsys, to_cut, tmp_path):
        once, twice = tmp_path / "1.svg", tmp_path / "2.svg"
        assert call(capsys, "cut", to_cut, "-o", once, "--beside").code == Exit.FINE
        assert call(capsys, "cut", once, "-o", twice, "--beside").code == Exit.FINE
        assert twice.read_bytes() == once.read_bytes()

    def test_a_cut_line_that_went_comes_again_from_the_widths_the_drawing_holds(self, capsys, to_cut, tmp_path):
        reduced, target = tmp_path / "reduced.svg", tmp_path / "out.svg"
        call(capsys, "reduce", to_cut, "-o", reduced, "--by", "8%")
        assert all(piece.counterpart is None for piece in pattern_of(read_drawing(reduced)).pieces)
        result = call(capsys, "cut", reduced, "-o", target, "--json")
        assert result.code == Exit.FINE, result.err
        assert all(row["has_allowance"] for row in result.data["rows"])
        assert "allowance included: 10 mm, hem 30 mm" in target.read_text(encoding="utf-8")

    def test_the_garment_is_called_as_the_drawing_is_or_as_one_says(self, capsys, to_cut, tmp_path):
        for words, name in (((), "Two legs &amp; a note"), (("--garment", "Tights"), "Tights")):
            target = tmp_path / f"{name[:3]}.svg"
            assert (
                call(capsys, "cut", to_cut, "-o", target, *words, "--size", "12", "--cloth", "jersey").code == Exit.FINE
            )
            text = target.read_text(encoding="utf-8")
            assert f"{name}, size 12" in text
            assert "from jersey" in text


class TestCutList:
    def test_table_page_and_data_say_the_same(self, capsys, tmp_path):
        page = tmp_path / "list.html"
        words = ["cut", TROUSERS, "--tape", "waist", "--width-of-cloth", "1500mm", "--efficiency", "80%"]
        data = call(capsys, *words, "--list", page, "--json").data
        table, html = call(capsys, *words).out, page.read_text(encoding="utf-8")
        assert len(data["rows"]) == 9
        for row in data["rows"]:
            for text in (table, html):
                assert f"{row['area'] / 100:.1f} cm²" in text
                assert row["piece"] in text
        for text in (table, html):
            for said in (
                "estimate",
                "155.0 mm",
                "belt loop",
                "button",
                "tape",
                "mirrored",
                "on the fold",
                "1500 mm",
                "80 %",
            ):
                assert said in text
        assert "default-src 'none'" in html
        assert {(one["kind"], one["count"]) for one in data["notions"]} == {
            ("zip", 1), ("tape", 1), ("tape", 2), ("loop", 5), ("button", 1)
        }  # fmt: skip
        assert all(need["is_estimate"] for need in data["needs"])

    def test_counts_are_those_marked(self, capsys):
        rows = call(capsys, "cut", TROUSERS, "--json").data["rows"]
        counts = {(row["piece"], row["material"]): row["count"] for row in rows}
        assert counts == {
            ("left front", "cloth"): 1, ("right front", "cloth"): 1, ("back", "cloth"): 2,
            ("waistband", "cloth"): 2, ("waistband", "stabiliser"): 2,
            ("fly facing", "cloth"): 1, ("fly facing", "stabiliser"): 1,
            ("fly guard", "cloth"): 1, ("fly guard", "stabiliser"): 1,
        }  # fmt: skip

    def test_a_piece_wider_than_the_cloth_is_a_caution(self, capsys):
        result = call(capsys, "cut", TROUSERS, "--piece", "back", "--width-of-cloth", "300mm")
        assert result.code == Exit.FINDINGS
        assert "Caution: back: It is" in result.err

    @pytest.mark.parametrize(("words", "count"), [((), 7), (("--all",), 13)])
    def test_where_each_piece_lies_is_told_by_its_map(self, capsys, words, count):
        laid = call(capsys, "cut", TROUSERS, *words, "--json").data["laid_out"]
        assert len(laid) == count
        for piece in laid:
            a, b, c, d, _e, _f = piece["matrix"]
            assert abs(a * d - b * c) == pytest.approx(1.0)
            assert piece["mirrored"] is (a * d - b * c < 0.0)
