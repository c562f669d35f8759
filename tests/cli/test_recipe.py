"""``crossgrain recipe check`` and ``crossgrain journal``: mistakes before anything runs, and work done by eye again."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from cli.drawings import write_marked
from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.svg.reader import read_drawing

SAMPLES = Path(__file__).parent.parent.parent / "samples"

GOOD = """# Narrow it and draw its cut line.
[variables]
share = "8%"

[[step]]
do = "reduce"
by = "{share}"
piece = "front leg"

[[step]]
do = "allow"
width = "10mm"
edge = ["hem=30mm", "waist=12mm"]
"""


def checked(tmp_path, capsys, text):
    (tmp_path / "r.toml").write_text(text, encoding="utf-8")
    return call(capsys, "recipe", "check", tmp_path / "r.toml")


class TestCheck:
    def test_a_good_one_has_no_mistake(self, tmp_path, capsys):
        result = checked(tmp_path, capsys, GOOD)
        assert (result.code, result.out) == (Exit.FINE, "2 steps, no mistake.\n")

    @pytest.mark.parametrize(
        ("old", "new", "line", "said"),
        [
            ("reduce", "redcue", 6, "There is no step redcue. Did you mean reduce?"),
            ("width =", "widht =", 12, "allow does not know “widht”. Did you mean width?"),
            ('"10mm"', '"10"', 12, "“width”: “10” has no unit"),
            ('"10mm"', "true", 12, "“width”: it wants an amount"),
            ('"10mm"', '["10mm", "12mm"]', 12, "“width”: it can be given only once."),
            ('width = "10mm"', 'strip = "10mm"', 12, "“strip”: it is said by true, or left out."),
            ('"waist=12mm"', '"waist"', 13, "“edge”"),
            ('by = "{share}"', 'output = "x.svg"', 7, "reduce does not know “output”"),
            ('by = "{share}"', "", 6, "Say how much in one way"),
            ('"8%"', '"8 pounds"', 7, "8 pounds"),
            ('by = "{share}"', 'fabric = ""', 7, "“fabric”: it names no file."),
            ('by = "{share}"', 'fabric = "a\\u0000"', 7, "“fabric”: no file can have that name"),
        ],
    )
    def test_each_mistake_has_its_line_and_the_nearest_word(self, tmp_path, capsys, old, new, line, said):
        result = checked(tmp_path, capsys, GOOD.replace(old, new, 1))
        assert result.code == Exit.FINDINGS
        assert f"r.toml, line {line}: " in result.err
        assert said in result.err

    def test_nothing_can_be_done_after_a_sheet_is_made(self, tmp_path, capsys):
        result = checked(tmp_path, capsys, GOOD.replace("[[step]]", '[[step]]\ndo = "cut"\n\n[[step]]', 1))
        assert (result.code, "line 9: Nothing can be done after cut" in result.err) == (Exit.FINDINGS, True)

    def test_all_mistakes_are_said_at_once(self, tmp_path, capsys):
        text = GOOD.replace("piece", "peice").replace("width =", "widht =").replace("hem=30mm", "hem=30")
        assert len(checked(tmp_path, capsys, text).err.splitlines()) == 3

    def test_a_variable_for_whoever_runs_it_is_no_mistake(self, tmp_path, capsys):
        assert checked(tmp_path, capsys, GOOD.replace('share = "8%"', "")).code == Exit.FINE

    def test_a_file_that_is_not_there_is(self, tmp_path, capsys):
        text = '[[step]]\ndo = "reduce"\nby-stretch = "50%"\nfabric = "gone.toml"\n'
        result = checked(tmp_path, capsys, text)
        assert result.code == Exit.FINDINGS
        assert "r.toml, line 4: " in result.err
        assert "gone.toml cannot be read: there is no such file." in result.err

    def test_what_is_wrong_in_a_file_has_the_line_that_names_it(self, tmp_path, capsys):
        (tmp_path / "cloth.toml").write_text("colour = 'red'")
        result = checked(tmp_path, capsys, '[[step]]\ndo = "reduce"\nby-stretch = "50%"\nfabric = "cloth.toml"\n')
        assert "r.toml, line 4: cloth.toml: “colour” is not known" in result.err

    def test_one_step_is_one(self, tmp_path, capsys):
        assert checked(tmp_path, capsys, '[[step]]\ndo = "allow"\nwidth = "1cm"\n').out == "One step, no mistake.\n"

    def test_a_variable_that_no_step_uses_is_a_mistake(self, tmp_path, capsys):
        result = checked(tmp_path, capsys, GOOD.replace("share = ", 'shaer = "1"\nshare = '))
        assert (result.code, "r.toml, line 3: " in result.err, "Did you mean share?" in result.err) == (1, True, True)


def test_the_recipes_of_the_docs_have_no_mistake(tmp_path, capsys):
    page = (SAMPLES.parent / "docs" / "run.md").read_text(encoding="utf-8")
    recipe, included = re.findall(r"```toml\n(.*?)```", page, re.DOTALL)
    (tmp_path / "cut-lines.toml").write_text(included, encoding="utf-8")
    for sample in SAMPLES.glob("*.toml"):
        shutil.copy(sample, tmp_path)
    result = checked(tmp_path, capsys, recipe)
    assert (result.code, result.out, result.err) == (Exit.FINE, "6 steps, no mistake.\n", "")


class TestJournal:
    STEPS = (
        ("reduce", "--by", "8%", "--along", "-1%"),
        ("take-in", "--seam", "side", "--at", "waist=0mm", "--at", "50%=4mm", "--at", "hem=2mm", "--girth"),
        ("true", "--seam", "inseam", "--give", "hem"),
        ("allow", "--width", "10mm", "--edge", "hem=30mm", "--piece", "back leg"),
    )

    def done_by_hand(self, tmp_path, capsys):
        source = now = write_marked(tmp_path)
        for number, (verb, *words) in enumerate(self.STEPS):
            after = tmp_path / f"step-{number}.svg"
            assert call(capsys, verb, now, "-o", after, *words).code in (Exit.FINE, Exit.FINDINGS)
            now = after
        return source, now

    def test_replayed_it_gives_the_same_drawing(self, tmp_path, capsys):
        source, by_hand = self.done_by_hand(tmp_path, capsys)
        recipe = tmp_path / "again.toml"
        assert call(capsys, "journal", by_hand, "-o", recipe).code == Exit.FINE
        # The two marks with which the sample was made stand in its journal too; it has them already.
        text = recipe.read_text(encoding="utf-8")
        assert text.count('do = "mark"') == 2
        recipe.write_text(text[: text.index("[[step]]")] + text[text.index('[[step]]\ndo = "reduce"') :])
        (tmp_path / "in").mkdir()
        shutil.copy(source, tmp_path / "in" / "legs.svg")
        result = call(capsys, "run", recipe, tmp_path / "in", "-o", tmp_path / "out", "--jobs", "1")
        assert result.code in (Exit.FINE, Exit.FINDINGS), result.err
        again, once = (read_drawing(path) for path in (tmp_path / "out" / "legs.svg", by_hand))
        drawn = [[(s.id, s.element.get("d")) for s in drawing.shapes] for drawing in (again, once)]
        assert drawn[0] == drawn[1]
        assert any(d for _id, d in drawn[0])

    def test_what_was_done_to_all_pieces_names_none(self, tmp_path, capsys):
        _source, by_hand = self.done_by_hand(tmp_path, capsys)
        text = call(capsys, "journal", by_hand).out
        part = text[text.index('do = "reduce"') :]
        assert part.count("piece = ") == 1
        assert 'piece = "back"' in part
        assert "girth = true" in part
        assert 'at = ["waist=0mm", "50%=4mm", "hem=2mm"]' in part

    def test_what_is_printed_is_a_recipe_without_mistakes(self, tmp_path, capsys):
        _source, by_hand = self.done_by_hand(tmp_path, capsys)
        assert checked(tmp_path, capsys, call(capsys, "journal", by_hand).out).code == Exit.FINE

    def test_as_data_each_step_says_what_it_does(self, tmp_path, capsys):
        _source, by_hand = self.done_by_hand(tmp_path, capsys)
        assert call(capsys, "journal", by_hand, "--json").data[2] == {"do": "reduce", "by": ["8%"], "along": ["-1%"]}

    def test_an_empty_journal_is_said(self, tmp_path, capsys):
        result = call(capsys, "journal", SAMPLES / "traced-front.svg", "-o", tmp_path / "r.toml")
        assert result.code == Exit.REFUSED
        assert "nothing was done to it yet" in result.err
        assert not (tmp_path / "r.toml").exists()

    @pytest.mark.parametrize("how", ["same", "link"])
    def test_it_is_never_written_over_the_drawing(self, tmp_path, capsys, how):
        _source, by_hand = self.done_by_hand(tmp_path, capsys)
        before, target = by_hand.read_bytes(), by_hand
        if how == "link":
            target = tmp_path / "link.toml"
            target.symlink_to(by_hand)
        result = call(capsys, "journal", by_hand, "-o", target, "--overwrite")
        assert (result.code, "is the drawing itself" in result.err) == (Exit.REFUSED, True)
        assert by_hand.read_bytes() == before

    def test_a_recipe_that_is_there_stays(self, tmp_path, capsys):
        _source, by_hand = self.done_by_hand(tmp_path, capsys)
        (tmp_path / "r.toml").write_text("mine")
        assert call(capsys, "journal", by_hand, "-o", tmp_path / "r.toml").code == Exit.REFUSED
        assert (tmp_path / "r.toml").read_text() == "mine"
