"""The commands on cloth: what they print and write, on the samples and on what they must refuse."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import click
import pytest
from lxml import etree

from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.cli.fabric import FABRIC_COMMANDS
from crossgrain.files import read_cloth_file
from crossgrain.svg.journal import entries
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from sheet_reading import text_of

SAMPLES = Path(__file__).parents[2] / "samples"
OLD, SOFTER, FIRMER, PULLED = (
    SAMPLES / f"cloth-{name}.toml" for name in ("drafted-for", "softer", "firmer", "hand-pulled")
)
BODY, TROUSERS = SAMPLES / "body-size-12.toml", SAMPLES / "trousers.svg"
WORN = ("--body", BODY, "--girth", "hip=961mm", "--girth", "thigh=597mm")
ESTIMATE = "estimates by a simple law, not measurements"


class TestManners:
    @pytest.mark.parametrize("name", FABRIC_COMMANDS)
    def test_help_begins_with_an_example_and_every_option_says_what_it_is_for(self, capsys, name):
        result = call(capsys, "fabric", name, "--help")
        assert result.code == Exit.FINE
        assert result.out.startswith(f"Example: crossgrain fabric {name} ")
        command = import_module(FABRIC_COMMANDS[name].module).command
        assert command.help.startswith(FABRIC_COMMANDS[name].summary)
        assert all(option.help for option in command.params if isinstance(option, click.Option))

    def test_comparing_needs_neither_geometry_nor_scipy(self):
        program = (
            "import sys; from crossgrain.cli import main\n"
            f"code = main(['fabric', 'compare', {str(OLD)!r}, {str(SOFTER)!r}, '--json'])\n"
            "sys.exit(' '.join({'scipy', 'shapely', 'lxml', 'kurbopy', 'pint'} & set(sys.modules)) or int(code))"
        )
        result = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
        assert result.returncode == 0, result.stderr


class TestShow:
    def test_figures_and_the_curve(self, capsys, tmp_path):
        svg = tmp_path / "curve.svg"
        result = call(capsys, "fabric", "show", SOFTER, "--svg", svg)
        assert result.code == Exit.FINE
        for text in ("20.0 %", "2.2 %", "89.0 %", "0.98 N/cm", "It stretches 0.15 as far along as across."):
            assert text in result.out
        root = etree.fromstring(svg.read_bytes())
        assert len(root.findall(".//{*}circle")) == 3

    def test_data(self, capsys):
        data = call(capsys, "fabric", "show", SOFTER, "--json").data
        cross = data["directions"]["cross"]
        assert cross["stretch"] == pytest.approx(0.2)
        assert [point["strain"] for point in cross["readings"]] == pytest.approx([0.114, 0.166, 0.2])
        assert [one["strain"] for one in cross["firmness"]] == [0.05, 0.1, 0.15, 0.2]
        assert data["directions"]["along"]["firmness"][3]["tension"]["is_beyond"]
        assert data["directions"]["along"]["firmness"][3]["tension"]["high"] is None

    def test_pulled_by_hand(self, capsys):
        result = call(capsys, "fabric", "show", PULLED)
        assert "0.98 … 6.00 N/cm" in result.out
        assert "A test settles it" in result.err


class TestCompare:
    def test_at_the_levels_of_a_body(self, capsys):
        result = call(capsys, "fabric", "compare", OLD, SOFTER, *WORN)
        assert result.code == Exit.FINE
        assert "take in" in result.out
        assert ESTIMATE in result.err
        assert "licensed practice" in result.err

    def test_data_and_the_pattern(self, capsys):
        data = call(capsys, "fabric", "compare", OLD, SOFTER, "--body", BODY, "--pattern", TROUSERS, "--json").data
        assert [row["level"]["name"] for row in data["levels"]] == ["waist", "hip", "thigh", "knee"]
        hip = data["levels"][1]
        assert hip["girth"]["value"] == pytest.approx(hip["level"]["body"] / (1.0 + hip["matched"]["strain"]))
        assert hip["per_seam"]["value"] == pytest.approx(-hip["change"]["value"] / 4.0)
        assert (hip["verdict"], data["levels"][3]["verdict"]) == ("take in", "fits as it is")
        assert "table 13.5" in data["pressure_bands_source"]
        assert "estimates" in data["estimate"]

    def test_the_pieces_named_make_up_the_girths(self, capsys):
        words = ["fabric", "compare", OLD, SOFTER, "--body", BODY, "--pattern", TROUSERS, "--json"]
        worn = [word for id in ("left front", "right front", "back") for word in ("--piece", id)]
        whole, part = (call(capsys, *words, *more).data["levels"] for more in ([], worn))
        assert [row["level"]["is_stable"] for row in whole] == [True, False, False, False]
        assert [row["level"]["is_stable"] for row in part] == [False] * 4, "the band is not among them"
        result = call(capsys, *words, *worn[:2])
        assert result.code == Exit.REFUSED
        assert "some are missing" in result.err

    def test_without_a_body_at_a_few_stretches(self, capsys):
        data = call(capsys, "fabric", "compare", OLD, FIRMER, "--json").data
        assert [row["strain"] for row in data["strains"]] == pytest.approx([0.02, 0.05, 0.1, 0.15, 0.2])
        assert all(row["girth_ratio"]["value"] > 1.0 for row in data["strains"])

    def test_a_page_with_both_curves_and_a_bar_per_level(self, capsys, tmp_path):
        page = tmp_path / "page.html"
        assert call(capsys, "fabric", "compare", OLD, SOFTER, *WORN, "--html", page).code == Exit.FINE
        text = page.read_text(encoding="utf-8")
        assert text.count("<rect") == 2 * 3
        assert "Olive stretch gabardine instead of Black twill" in text
        assert ESTIMATE.split(",")[0] in text
        assert "http" not in text.replace("http://www.w3.org/2000/svg", "").replace("http-equiv", "")
        assert call(capsys, "fabric", "compare", OLD, SOFTER, *WORN, "--html", page).code == Exit.REFUSED

    def test_a_range_where_the_firmness_is_unknown(self, capsys):
        result = call(capsys, "fabric", "compare", OLD, PULLED, *WORN)
        assert result.code == Exit.FINDINGS
        assert "cannot be told" in result.out
        assert "A test settles it" in result.err

    def test_a_pressure_asked_for_brings_its_caution(self, capsys):
        words = ["fabric", "compare", OLD, SOFTER, *WORN, "--match", "pressure", "--pressure", "1.5kPa"]
        result = call(capsys, *words)
        assert result.code == Exit.FINDINGS
        assert "JAMA" in result.err

    @pytest.mark.parametrize(
        ("words", "code", "said"),
        [
            (["--girth", "hip=96cm"], Exit.USAGE, "add --body"),
            (["--body", BODY], Exit.REFUSED, "--girth hip=96cm"),
            (["--body", BODY, "--girth", "calf=96cm"], Exit.REFUSED, "has no calf"),
            (["--pressure", "1kPa"], Exit.REFUSED, "goes with matching pressure"),
            (["--body", BODY, "--girth", "hip=96"], Exit.USAGE, "has no unit"),
        ],
    )
    def test_what_says_nothing(self, capsys, words, code, said):
        result = call(capsys, "fabric", "compare", OLD, SOFTER, *words)
        assert (result.code, result.out) == (code, "")
        assert said in result.err

    def test_cloth_files_that_cannot_be_read(self, capsys, tmp_path):
        bad = tmp_path / "bad.toml"
        bad.write_text("[cross]\nstrip_width = 5\n", encoding="utf-8")
        for path, said in ((bad, "without a unit"), (tmp_path / "no.toml", "cannot be read"), (TROUSERS, "cannot be")):
            result = call(capsys, "fabric", "compare", OLD, path)
            assert result.code == Exit.REFUSED
            assert said in result.err
            assert "Traceback" not in result.err


class TestLearn:
    WORDS = ("--drafted-for", OLD, "--body", BODY, "--girth", "hip=961mm", "--fitted", "hip=93.2cm")

    def test_a_point_is_added_and_the_file_else_stays(self, capsys, tmp_path):
        target = tmp_path / "learned.toml"
        result = call(capsys, "fabric", "learn", SOFTER, "-o", target, *self.WORDS)
        assert result.code == Exit.FINE
        assert "off by -1.6 %" in result.out
        assert target.read_text(encoding="utf-8").startswith(SOFTER.read_text(encoding="utf-8").rstrip("\n"))
        data = call(capsys, "fabric", "compare", OLD, target, "--body", BODY, "--girth", "hip=961mm", "--json").data
        assert data["levels"][0]["girth"]["value"] == pytest.approx(932.0, abs=0.5)

    def test_in_place(self, capsys, tmp_path):
        own = tmp_path / "own.toml"
        own.write_bytes(SOFTER.read_bytes())
        data = call(capsys, "fabric", "learn", own, "--in-place", *self.WORDS, "--json").data
        assert data["was_off_by"] == pytest.approx(-0.0159, abs=5e-4)
        assert len(read_cloth_file(own).cross.learned) == 1

    @pytest.mark.parametrize(
        ("words", "said"), [((), "Say where to write"), (("--in-place", "-o", "x.toml"), "Say where to write")]
    )
    def test_where_to_write_is_asked(self, capsys, tmp_path, monkeypatch, words, said):
        monkeypatch.chdir(tmp_path)
        result = call(capsys, "fabric", "learn", SOFTER, *words, *self.WORDS)
        assert result.code == Exit.USAGE
        assert said in result.err
        assert os.listdir(tmp_path) == []


class TestSheets:
    def test_the_gauge(self, capsys, tmp_path):
        target = tmp_path / "gauge.svg"
        result = call(capsys, "fabric", "gauge", "-o", target, "--benchmark", OLD)
        assert result.code == Exit.FINE
        assert "Black twill" in target.read_text(encoding="utf-8")

    def test_the_chart(self, capsys, tmp_path):
        target = tmp_path / "chart.html"
        words = ("--drafted-for", OLD, "--body", BODY, "--pattern", TROUSERS, "--json")
        result = call(capsys, "fabric", "chart", "-o", target, *words)
        assert result.code == Exit.FINE
        assert len(result.data["chart"]["cells"]) == 8
        text = target.read_text(encoding="utf-8")
        assert "Hang 1500 g on a strip 5 cm wide" in text
        assert "as it is" in text

    def test_both_as_pdf(self, capsys, tmp_path):
        gauge, chart = tmp_path / "gauge.pdf", tmp_path / "chart.PDF"
        assert call(capsys, "fabric", "gauge", "-o", gauge, "--benchmark", OLD).code == Exit.FINE
        assert "Black twill" in text_of(gauge)
        words = ("--drafted-for", OLD, "--body", BODY, "--pattern", TROUSERS)
        assert call(capsys, "fabric", "chart", "-o", chart, *words).code == Exit.FINE
        text = text_of(chart)
        for said in ("Hang 1500 g on a strip 5 cm wide", "as it is", "the gauge reads", "pressure, about", "Caution: "):
            assert said in text
        assert call(capsys, "fabric", "gauge", "-o", gauge).code == Exit.REFUSED

    def test_a_load_beyond_the_test(self, capsys, tmp_path):
        target = tmp_path / "chart.html"
        words = ("--drafted-for", OLD, *WORN, "--load", "4kg")
        assert call(capsys, "fabric", "chart", "-o", target, *words).code == Exit.REFUSED
        assert not target.exists()


class TestReduce:
    BY_CLOTH = ("--fabric", SOFTER, "--drafted-for", OLD, "--body", BODY)

    def test_by_cloth(self, capsys, tmp_path):
        target = tmp_path / "out.svg"
        result = call(capsys, "reduce", TROUSERS, "-o", target, *self.BY_CLOTH, "--json")
        assert result.code == Exit.FINDINGS  # the waistband is too small for this body
        changes = {change["what"]: change["after"] for change in result.data["changes"]}
        for level in ("waist", "hip", "thigh", "knee"):
            reached, asked = changes[f"girth reached at the {level}"], changes[f"girth asked at the {level}"]
            assert reached == pytest.approx(asked, abs=0.1)
        assert ESTIMATE in result.err
        parameters = dict(entries(read_drawing(target))[-1].parameters)
        assert parameters["fabric"] == str(SOFTER)
        old, new = (pattern_of(read_drawing(path)) for path in (TROUSERS, target))
        assert new.piece("front-left").holds[0].width == old.piece("front-left").holds[0].width == 5.0

    def test_by_stretch_is_the_same_as_the_share_it_comes_to(self, capsys, tmp_path):
        one, other = tmp_path / "1.svg", tmp_path / "2.svg"
        pieces = ("--piece", "back")
        words = ("--by-stretch", "50%", "--fabric", PULLED)
        assert call(capsys, "reduce", TROUSERS, "-o", one, *pieces, *words).code == Exit.FINE
        assert call(capsys, "reduce", TROUSERS, "-o", other, *pieces, "--by", f"{100 / 11:.12f}%").code == Exit.FINE
        new, same = (pattern_of(read_drawing(path)).piece("back") for path in (one, other))
        for (x, y), (u, v) in zip(new.line.nodes, same.line.nodes, strict=True):
            assert (x, y) == (pytest.approx(u, abs=1e-5), pytest.approx(v, abs=1e-5))

    @pytest.mark.parametrize(
        ("words", "said"),
        [
            ((), "in one way"),
            (("--by", "8%", "--by-stretch", "50%"), "in one way"),
            (("--by", "8%", "--body", BODY), "in one way"),
            (("--body", BODY), "goes with two cloths"),
            (("--by-stretch", "50%"), "add --fabric"),
            (("--by", "8%", "--match", "tension"), "--match does not go with --by"),
            ((*BY_CLOTH, "--along", "2%"), "--along does not go with --body"),
            (("--by-stretch", "50%", "--fabric", SOFTER, "--accept-pressure"), "--accept-pressure does not go"),
        ],
    )
    def test_ways_that_exclude_each_other(self, capsys, tmp_path, words, said):
        result = call(capsys, "reduce", TROUSERS, "-o", tmp_path / "out.svg", *words)
        assert (result.code, result.out) == (Exit.USAGE, "")
        assert said in " ".join(result.err.split())
        assert os.listdir(tmp_path) == []

    def test_a_range_writes_nothing(self, capsys, tmp_path):
        words = ("--fabric", PULLED, "--drafted-for", OLD, "--body", BODY)
        result = call(capsys, "reduce", TROUSERS, "-o", tmp_path / "out.svg", *words)
        assert result.code == Exit.REFUSED
        assert "A test settles it" in result.err
        assert os.listdir(tmp_path) == []


def test_data_is_valid_json_without_numbers_that_are_none(capsys):
    for words in (("show", PULLED), ("compare", OLD, PULLED), ("compare", PULLED, OLD, *WORN)):
        out = call(capsys, "fabric", *words, "--json").out
        assert "Infinity" not in out
        assert json.loads(out)
