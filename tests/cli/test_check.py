"""``crossgrain check``: what it finds on the samples, how it says it, and what it leaves as it was."""

from __future__ import annotations

import pathlib
import re
import shutil

import pytest
from lxml import etree

from cli.drawings import write_bare, write_marked
from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

SAMPLES = pathlib.Path(__file__).parents[2] / "samples"
TRUE, UNTRUED = SAMPLES / "trousers.svg", SAMPLES / "trousers-untrued.svg"

BOTH = "left front, right front"
PUT_THERE = [
    ("back", "waist", "With its dart folded the edge dips by 10.4°"),
    (BOTH, "side", f"It is 6.8 mm longer on {BOTH} (1046.8 mm) than on back (1040.1 mm)."),
    (BOTH, "inseam", f"It is 4.9 mm longer on {BOTH} (766.0 mm) than on back (761.0 mm)."),
    (BOTH, "side", "Sewn to back, the waist dips by 15.1°"),
    (BOTH, "inseam", "Sewn to back, the crotch/seat peaks by 15.8°"),
    ("back", "seat", "The waist meets the seat at 92.2° instead of 90°"),
]
"""What the samples' own page says is wrong with the first draft: lengths, waist and crotch; and what follows from its
straight waist, at the dart and at the centre back. Both fronts have the same figures, and are named together."""


class TestSamples:
    def test_the_true_one_has_none(self, capsys):
        result = call(capsys, "check", TRUE)
        assert (result.code, result.out) == (Exit.FINE, "")
        assert result.err.endswith("Nothing was found.\n")

    def test_nor_has_it_on_the_body_and_in_the_cloth_it_was_drafted_for(self, capsys):
        words = ["--body", SAMPLES / "body-size-10.toml", "--fabric", SAMPLES / "cloth-drafted-for.toml"]
        result = call(capsys, "check", TRUE, *words)
        assert result.code == Exit.FINE, result.out
        assert re.search(r"hip +985\.1 mm +961\.\d mm +-23\.\d mm +2\.5 %", result.out)
        assert "pressure, estimate" in result.out
        assert "Tension and pressure are estimates" in result.err

    def test_the_first_draft_has_those_put_there(self, capsys):
        result = call(capsys, "check", UNTRUED, "--json")
        assert result.code == Exit.FINDINGS
        found = [(one["piece"], one["edge"], one["message"]) for one in result.data["findings"]]
        assert len(found) == len(PUT_THERE)
        for (piece, edge, message), (its_piece, its_edge, words) in zip(found, PUT_THERE, strict=True):
            assert (piece, edge) == (its_piece, its_edge)
            assert message.startswith(words), message
        for one in result.data["findings"]:
            assert one["advice"]
            assert one["position"]

    def test_trueing_its_seams_and_its_band_leaves_the_dart(self, capsys, tmp_path):
        drawing = UNTRUED
        for seam in ("side", "inseam", "seat"):
            target = tmp_path / f"{seam}.svg"
            assert call(capsys, "true", drawing, "-o", target, "--seam", seam).code == Exit.FINE
            drawing = target
        target = tmp_path / "band.svg"
        assert call(capsys, "follow", drawing, "-o", target).code == Exit.FINE
        drawing = target
        [left] = call(capsys, "check", drawing, "--json").data["findings"]
        assert "dart" in left["message"]

    def test_ease_that_was_trued_to_is_meant(self, capsys, tmp_path):
        eased, plain = tmp_path / "eased.svg", tmp_path / "plain.svg"
        words = ["--seam", "side", "--ease", "back=4mm between 20% and 60%"]
        assert call(capsys, "true", TRUE, "-o", eased, *words).code == Exit.FINE
        assert call(capsys, "check", eased).code == Exit.FINE
        plain.write_text(eased.read_text(encoding="utf-8").replace("back=4mm between", "back=1mm between"))
        findings = call(capsys, "check", plain, "--json").data["findings"]
        assert [(one["piece"], one["edge"]) for one in findings] == [(BOTH, "side")]
        assert "1.0 mm of ease on back are meant." in findings[0]["message"]

    def test_a_corner_of_the_true_one_moved_by_hand(self, capsys, tmp_path):
        """The right front's side corner raised by 3 mm: its side is longer, and the waist is off at that seam alone."""
        text = TRUE.read_text(encoding="utf-8")
        [corner] = re.findall(r"707\.6752,151(?:\.0+)? ", text) or [None]
        moved = tmp_path / "moved.svg"
        moved.write_text(text.replace(corner, "707.6752,148 "), encoding="utf-8")
        findings = call(capsys, "check", moved, "--json").data["findings"]
        assert {(one["piece"], one["edge"]) for one in findings} == {("right front", "side")}
        assert re.match(r"It is (2\.9|3\.\d) mm longer on right front", findings[0]["message"])

    @pytest.mark.parametrize("name", ["traced-front.svg", "bare-front.svg"])
    def test_a_bare_outline_needs_its_id_and_is_said_to_have_no_names(self, capsys, name):
        refused = call(capsys, "check", SAMPLES / name)
        assert (refused.code, refused.out) == (Exit.REFUSED, "")
        id = re.search(r"the drawing has: (\S+)\.", refused.err)[1]
        result = call(capsys, "check", SAMPLES / name, "--piece", id)
        assert result.code == Exit.FINE
        assert "the edges have no names yet" in result.err


class TestTable:
    def test_the_table_and_the_json_say_the_same_with_the_same_numbers(self, capsys):
        table = call(capsys, "check", UNTRUED).out
        for one in call(capsys, "check", UNTRUED, "--json").data["findings"]:
            [row] = [line for line in table.splitlines() if re.match(rf" *{one['number']} ", line)]
            assert one["message"] in row
            assert one["advice"] in row
            assert f"{one['position'][0]:.0f}, {one['position'][1]:.0f}" in row

    def test_what_cannot_be_checked_is_no_finding(self, capsys):
        result = call(capsys, "check", TRUE, "--json")
        assert result.code == Exit.FINE
        for sentence in result.data["unchecked"]:
            assert f"Not checked: {sentence}\n" in result.err
        assert any("--body" in sentence for sentence in result.data["unchecked"])

    def test_pieces_that_are_named(self, capsys):
        result = call(capsys, "check", UNTRUED, "--piece", "right front", "--piece", "back", "--json")
        assert {one["piece"] for one in result.data["findings"]} == {"right front", "back"}

    def test_part_of_a_garment_has_no_girths(self, capsys):
        result = call(capsys, "check", TRUE, "--piece", "back", "--body", SAMPLES / "body-size-10.toml")
        assert result.code == Exit.FINE
        assert "Not checked: Girths and ease: The pieces make up" in result.err


class TestMark:
    def test_each_finding_is_marked_with_its_number(self, capsys, tmp_path):
        target = tmp_path / "marked.svg"
        assert call(capsys, "check", UNTRUED, "--mark", target).code == Exit.FINDINGS
        layer = layer_of(target)
        assert layer.get("{http://www.inkscape.org/namespaces/inkscape}groupmode") == "layer"
        texts = [" ".join(group.itertext()).split() for group in layer]
        assert [words[0] for words in texts] == [str(number) for number in range(1, len(PUT_THERE) + 1)]
        for words, (_piece, _edge, said) in zip(texts, PUT_THERE, strict=True):
            assert " ".join(words[1:]).startswith(said)

    def test_the_pieces_are_as_they_were_and_checking_again_finds_the_same(self, capsys, tmp_path):
        first, second = tmp_path / "1.svg", tmp_path / "2.svg"
        call(capsys, "check", UNTRUED, "--mark", first)
        assert pattern_of(read_drawing(first)) == pattern_of(read_drawing(UNTRUED))
        lines = iter(first.read_text(encoding="utf-8").splitlines())
        assert all(line in lines for line in UNTRUED.read_text(encoding="utf-8").splitlines() if "</svg>" not in line)
        call(capsys, "check", first, "--mark", second)
        assert second.read_bytes() == first.read_bytes()

    def test_where_nothing_is_left_the_layer_is_empty(self, capsys, tmp_path):
        shown, clean = tmp_path / "shown.svg", tmp_path / "clean.svg"
        call(capsys, "check", UNTRUED, "--mark", shown)
        words = ["--piece", "fly guard", "--mark", clean]
        assert call(capsys, "check", shown, *words).code == Exit.FINE
        assert len(layer_of(clean)) == 0

    def test_marks_keep_clear_of_each_other(self, capsys, tmp_path):
        target = tmp_path / "marked.svg"
        call(capsys, "check", UNTRUED, "--mark", target)
        dots = [(float(c.get("cx")), float(c.get("cy"))) for c in layer_of(target).iter("{*}circle")]
        assert len(dots) == len(PUT_THERE)
        for number, (x, y) in enumerate(dots):
            assert all(abs(x - u) > 11.0 or abs(y - v) > 11.0 for u, v in dots[:number])

    def test_a_file_that_is_there_stays_unless_it_may_go(self, capsys, tmp_path):
        target = tmp_path / "mine.svg"
        target.write_text("mine", encoding="utf-8")
        result = call(capsys, "check", UNTRUED, "--mark", target)
        assert (result.code, target.read_text(encoding="utf-8")) == (Exit.REFUSED, "mine")
        assert call(capsys, "check", UNTRUED, "--mark", target, "--overwrite").code == Exit.FINDINGS
        assert target.read_text(encoding="utf-8").startswith("<?xml")

    def test_never_the_drawing_itself(self, capsys, tmp_path):
        own = tmp_path / "own.svg"
        shutil.copy(UNTRUED, own)
        assert call(capsys, "check", own, "--mark", own, "--overwrite").code == Exit.REFUSED
        assert own.read_bytes() == UNTRUED.read_bytes()


class TestWhatIsNotRight:
    def test_an_outline_that_cannot_be_read_is_a_finding_and_the_rest_is_checked(self, capsys, tmp_path):
        bare = write_bare(tmp_path)
        result = call(capsys, "check", bare, "--piece", "open", "--piece", "eight", "--piece", "front", "--json")
        assert result.code == Exit.FINDINGS
        assert sorted(one["piece"] for one in result.data["findings"]) == ["eight", "open"]
        said = {one["piece"]: one["message"] for one in result.data["findings"]}
        assert "The outline is open" in said["open"]
        assert said["eight"] == "The outline meets itself."

    def test_a_piece_whose_grain_was_taken_away(self, capsys, tmp_path):
        marked = write_marked(tmp_path)
        text = marked.read_text(encoding="utf-8")
        marked.write_text(re.sub(r' crossgrain:grain="[^"]*"', "", text, count=1), encoding="utf-8")
        findings = call(capsys, "check", marked, "--json").data["findings"]
        assert [one["piece"] for one in findings if "grain" in one["message"]] == ["front leg"]

    def test_a_journal_that_cannot_be_read_stops_nothing(self, capsys, tmp_path):
        drawing = tmp_path / "in.svg"
        assert call(capsys, "true", TRUE, "-o", drawing, "--seam", "side", "--ease", "back=4mm").code == Exit.FINE
        text = drawing.read_text(encoding="utf-8")
        drawing.write_text(text.replace("back=4mm", "back=4 spoons"), encoding="utf-8")
        result = call(capsys, "check", drawing)
        assert result.code == Exit.FINDINGS
        assert "Not checked: Whether ease is meant" in result.err

    @pytest.mark.parametrize(
        ("words", "code", "said"),
        [
            (["--fabric", "cloth-softer.toml"], Exit.USAGE, "--fabric goes with --body"),
            (["--body", "nowhere.toml"], Exit.REFUSED, "nowhere.toml cannot be read"),
            (["--body", "cloth-softer.toml"], Exit.REFUSED, "cloth-softer.toml"),
            (["--body", "body-size-10.toml", "--fabric", "body-size-10.toml"], Exit.REFUSED, "body-size-10.toml"),
            (["--piece", "nobody"], Exit.REFUSED, "nobody"),
        ],
    )
    def test_what_is_given_must_be_right(self, capsys, monkeypatch, words, code, said):
        monkeypatch.chdir(SAMPLES)
        result = call(capsys, "check", TRUE, *words)
        assert (result.code, result.out) == (code, "")
        assert said in result.err
        assert "Traceback" not in result.err


def layer_of(path):
    [layer] = etree.parse(path).getroot().findall("*[@{urn:crossgrain:1}layer='findings']")
    return layer
