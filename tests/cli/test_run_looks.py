"""``check`` and ``sheets`` as steps of a recipe: what is found is in the report and the exit code, what is printed
stands beside the result, whole or not at all."""

from __future__ import annotations

import contextlib
import json
import shutil
import subprocess

import pytest

from cli.drawings import write_marked
from cli.folders import SAMPLES, contents
from cli.program import call
from crossgrain import files
from crossgrain.batch import work
from crossgrain.cli.exits import Exit
from crossgrain.files import write_parts

ALLOW = '[[step]]\ndo = "allow"\nwidth = "10mm"\n'
CHECK = '[[step]]\ndo = "check"\n'
SHEETS = '[[step]]\ndo = "sheets"\n'
CUT = '[[step]]\ndo = "cut"\n'


@pytest.fixture
def folder(tmp_path, capsys):
    (tmp_path / "in").mkdir()
    shutil.move(write_marked(tmp_path), tmp_path / "in" / "legs.svg")
    return tmp_path


def run(capsys, folder, recipe, *words):
    (folder / "r.toml").write_text(recipe, encoding="utf-8")
    return call(capsys, "run", folder / "r.toml", folder / "in", "-o", folder / "out", "--jobs", "1", *words)


def states(result):
    return {one["name"]: one["state"] for one in result.data}


def data(folder):
    return json.loads((folder / "out" / "report.json").read_text(encoding="utf-8"))["drawings"]


def results(folder):
    found = contents(folder / "out")
    return {name: data for name, data in found.items() if not name.startswith((".crossgrain", "report"))}


class TestCheck:
    @pytest.fixture
    def untrue(self, tmp_path):
        (tmp_path / "in").mkdir()
        for name in ("trousers.svg", "trousers-untrued.svg"):
            shutil.copy(SAMPLES / name, tmp_path / "in")
        return tmp_path

    def test_it_finds_what_the_command_finds_and_says_so_by_the_exit_code(self, untrue, capsys):
        result = run(capsys, untrue, CHECK)
        assert result.code == Exit.FINDINGS, result.err
        by_command = call(capsys, "check", untrue / "in" / "trousers-untrued.svg", "--json").data
        untrued, true = data(untrue)
        assert [one["message"] for one in untrued["findings"]] == [one["message"] for one in by_command["findings"]]
        assert untrued["findings"]
        assert not true["findings"]
        unworn, *unchecked = by_command["unchecked"]
        assert [[sentence] for sentence in unchecked] == untrued["tables"][-1]["rows"] == true["tables"][-1]["rows"]
        assert result.err.count(unworn) == 1

    def test_what_is_up_to_date_is_still_to_be_looked_at(self, untrue, capsys):
        first = run(capsys, untrue, CHECK, "--json")
        again = run(capsys, untrue, CHECK, "--json")
        assert (first.code, again.code) == (Exit.FINDINGS, Exit.FINDINGS)
        assert set(states(again).values()) == {"kept"}
        assert {one["name"]: one["findings"] for one in again.data} == {
            one["name"]: one["findings"] for one in first.data
        }

    def test_a_drawing_that_is_only_looked_at_comes_out_as_it_was(self, untrue, capsys):
        run(capsys, untrue, CHECK)
        assert results(untrue) == contents(untrue / "in")

    def test_it_looks_at_the_pieces_as_they_are_at_that_step(self, untrue, capsys):
        true = '[[step]]\ndo = "true"\nseam = "side"\n'
        run(capsys, untrue, CHECK)
        before = len(data(untrue)[0]["findings"])
        run(capsys, untrue, true + CHECK)
        assert len(data(untrue)[0]["findings"]) < before

    def test_the_body_and_the_cloth_are_the_recipes(self, untrue, capsys):
        text = CHECK + 'body = "{body}"\nfabric = "{cloth}"\n'
        for name in ("body-size-10.toml", "cloth-softer.toml"):
            shutil.copy(SAMPLES / name, untrue)
        result = run(capsys, untrue, text, "--with", "body=body-size-10.toml", "--cloths", "cloth-softer.toml")
        assert result.code == Exit.FINDINGS, result.err
        words = ("--body", untrue / "body-size-10.toml", "--fabric", untrue / "cloth-softer.toml", "--json")
        by_command = call(capsys, "check", untrue / "in" / "trousers.svg", *words).data
        found = {one["name"]: one for one in data(untrue)}["cloth-softer/trousers.svg"]
        assert [one["message"] for one in found["findings"]] == [one["message"] for one in by_command["findings"]]
        assert "hip" in str(found["tables"])
        assert "estimates by a simple law" in (untrue / "out" / "report.html").read_text(encoding="utf-8")
        (untrue / "body-size-10.toml").write_text((SAMPLES / "body-size-12.toml").read_text())
        result = run(
            capsys, untrue, text, "--with", "body=body-size-10.toml", "--cloths", "cloth-softer.toml", "--json"
        )
        assert "kept" not in states(result).values()

    def test_an_outline_that_cannot_be_read_is_found_and_stops_nothing(self, untrue, capsys):
        path = untrue / "in" / "trousers.svg"
        call(capsys, "check", path)
        text = path.read_text(encoding="utf-8")
        assert 'Z"' in text
        path.write_text(text.replace('Z"', '"', 1), encoding="utf-8")
        result = run(capsys, untrue, CHECK)
        assert result.code == Exit.FINDINGS, result.err
        assert "The outline is open" in str(data(untrue)[1]["findings"])

    def test_a_copy_with_marks_is_no_part_of_a_recipe(self, folder, capsys):
        result = run(capsys, folder, CHECK + 'mark = "marks.svg"\n')
        assert result.code == Exit.REFUSED
        assert "r.toml, line 2: " in result.err
        assert "--mark is for one drawing" in result.err

    def test_a_cloth_without_a_body_has_its_line(self, folder, capsys):
        result = run(capsys, folder, CHECK + 'fabric = "x.toml"\n')
        assert result.code == Exit.REFUSED
        assert "r.toml, line 2: --fabric goes with --body" in result.err


class TestSheets:
    def test_they_stand_beside_the_result_and_are_what_the_command_prints(self, folder, capsys):
        result = run(capsys, folder, ALLOW + SHEETS)
        assert result.code in (Exit.FINE, Exit.FINDINGS), result.err
        assert set(results(folder)) == {"legs.svg", "legs.pdf"}
        call(capsys, "sheets", folder / "out" / "legs.svg", "-o", folder / "by-hand.pdf")
        assert (folder / "out" / "legs.pdf").read_bytes() == (folder / "by-hand.pdf").read_bytes()

    def test_after_cut_they_print_the_pieces_themselves(self, folder, capsys):
        run(capsys, folder, ALLOW + SHEETS)
        pdf = results(folder)["legs.pdf"]
        run(capsys, folder, ALLOW + CUT + SHEETS)
        again = results(folder)
        assert again["legs.pdf"] == pdf
        assert b"cut" in again["legs.svg"]

    def test_they_say_of_which_size_and_cloth_they_are(self, tmp_path, capsys):
        (tmp_path / "in").mkdir()
        for name, place in (("trousers.svg", "in"), ("grade-rules.toml", "."), ("cloth-softer.toml", ".")):
            shutil.copy(SAMPLES / name, tmp_path / place)
        step = '[[step]]\ndo = "grade"\nrules = "grade-rules.toml"\nsize = "{size}"\n'
        sheets = SHEETS + 'paper = "projector"\nfabric = "cloth-softer.toml"\npiece = "back"\n'
        result = run(capsys, tmp_path, step + ALLOW + sheets, "--sizes", "8")
        assert result.code in (Exit.FINE, Exit.FINDINGS), result.err
        text = subprocess.run(
            ["pdftotext", tmp_path / "out" / "8" / "trousers-projector.pdf", "-"],
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        assert "Olive stretch gabardine" in text
        assert "Slim trousers, size 8" in text

    def test_two_papers_are_two_files(self, folder, capsys):
        run(capsys, folder, ALLOW + SHEETS + 'paper = "a4"\n' + SHEETS + 'paper = "projector"\n')
        assert set(results(folder)) == {"legs.svg", "legs-a4.pdf", "legs-projector.pdf"}

    def test_two_of_one_name_are_refused_with_the_line(self, folder, capsys):
        (folder / "r.toml").write_text(SHEETS + "\n" + SHEETS)
        result = call(capsys, "recipe", "check", folder / "r.toml")
        assert (result.code, "r.toml, line 5: " in result.err) == (Exit.FINDINGS, True)
        assert run(capsys, folder, SHEETS + "\n" + SHEETS).code == Exit.REFUSED
        assert not (folder / "out").exists()

    def test_drawings_that_differ_in_their_ending_only_have_a_file_each(self, folder, capsys):
        import gzip

        plain = (folder / "in" / "legs.svg").read_bytes()
        (folder / "in" / "legs.svgz").write_bytes(gzip.compress(plain.replace(b"front leg", b"another leg")))
        run(capsys, folder, ALLOW + SHEETS)
        found = results(folder)
        assert set(found) == {"legs.svg", "legs.svgz", "legs.svg.pdf", "legs.svgz.pdf"}
        assert found["legs.svg.pdf"] != found["legs.svgz.pdf"]

    @pytest.mark.parametrize("how", ["gone", "altered"])
    def test_they_count_in_what_is_up_to_date(self, folder, capsys, how):
        run(capsys, folder, ALLOW + SHEETS)
        pdf = folder / "out" / "legs.pdf"
        whole = pdf.read_bytes()
        assert states(run(capsys, folder, ALLOW + SHEETS, "--json")) == {"legs.svg": "kept"}
        if how == "gone":
            pdf.unlink()
            assert states(run(capsys, folder, ALLOW + SHEETS, "--json"))["legs.svg"] in ("done", "found")
            assert pdf.read_bytes() == whole
        else:
            pdf.write_bytes(b"by hand")
            result = run(capsys, folder, ALLOW + SHEETS, "--json")
            assert states(result) == {"legs.svg": "refused"}
            assert "legs.pdf was altered since it was written" in result.data[0]["message"]
            assert pdf.read_bytes() == b"by hand"
            run(capsys, folder, ALLOW + SHEETS, "--overwrite")
            assert pdf.read_bytes() == whole

    def test_a_file_that_no_run_has_written_stays(self, folder, capsys):
        (folder / "out").mkdir()
        (folder / "out" / "legs.pdf").write_bytes(b"mine")
        result = run(capsys, folder, ALLOW + SHEETS, "--json")
        assert states(result) == {"legs.svg": "refused"}
        assert results(folder) == {"legs.pdf": b"mine"}

    def test_those_of_an_earlier_recipe_go_unless_they_were_altered(self, folder, capsys):
        two = ALLOW + SHEETS + SHEETS + 'paper = "a0"\n'
        run(capsys, folder, two)
        (folder / "out" / "legs-a0.pdf").write_bytes(b"by hand")
        run(capsys, folder, ALLOW)
        assert set(results(folder)) == {"legs.svg", "legs-a0.pdf"}

    def test_what_the_drawing_lacks_is_found(self, folder, capsys):
        result = run(capsys, folder, SHEETS)
        by_command = call(capsys, "sheets", folder / "in" / "legs.svg", "-o", folder / "x.pdf")
        assert result.code == by_command.code == Exit.FINDINGS
        assert data(folder)[0]["findings"][0]["message"] in by_command.err

    def test_an_unknown_paper_has_its_line_before_anything_runs(self, folder, capsys):
        (folder / "r.toml").write_text(SHEETS + 'paper = "a9"\n')
        result = call(capsys, "recipe", "check", folder / "r.toml")
        assert (result.code, "r.toml, line " in result.err, "a9" in result.err) == (Exit.FINDINGS, True, True)

    @pytest.mark.parametrize("broken", ["legs.svg.json", "legs.pdf", "legs.svg", "never"])
    def test_broken_off_between_the_files_it_goes_on_and_nothing_is_taken_for_the_makers(
        self, folder, capsys, monkeypatch, broken
    ):
        class KilledError(BaseException):
            pass

        def killed_at(path, *words, **more):
            if path.name == broken:
                raise KilledError
            write_parts(path, *words, **more)

        run(capsys, folder, ALLOW + SHEETS)
        for width in ("11mm", "12mm", "14mm"):
            recipe = ALLOW.replace("10mm", width) + SHEETS
            with monkeypatch.context() as patch:
                patch.setattr(work, "write_parts", killed_at)
                patch.setattr(files, "write_parts", killed_at)
                with contextlib.suppress(KilledError):
                    run(capsys, folder, recipe)
        result = run(capsys, folder, recipe, "--json")
        assert states(result)["legs.svg"] in ("done", "found", "kept"), result.data
        whole = results(folder)
        shutil.rmtree(folder / "out")
        run(capsys, folder, recipe)
        assert results(folder) == whole


class TestOrder:
    def test_nothing_is_done_to_the_pieces_after_cut_but_they_may_be_looked_at(self, folder, capsys):
        assert run(capsys, folder, ALLOW + CUT + CHECK + SHEETS).code in (Exit.FINE, Exit.FINDINGS)
        for after in (ALLOW, CUT):
            result = run(capsys, folder, CUT + after)
            assert result.code == Exit.REFUSED
            assert "r.toml, line 4: Nothing can be done after cut" in result.err
